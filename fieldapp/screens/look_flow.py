"""The way through looks: the forms of one hive, and rounds of looking."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING

from fieldapp.husbandry.answers import Line
from fieldapp.rounds.due import Asks
from fieldapp.rounds.look_after import DayAfter
from fieldapp.rounds.look_form import Form
from fieldapp.rounds.look_inside import LookInside
from fieldapp.rounds.look_pieces import PiecesByNumber
from fieldapp.rounds.look_round import LookRound, under_way
from fieldapp.rounds.spots import Spot
from fieldapp.screens import look_pages, look_round_page
from fieldapp.screens.keys import Act
from fieldapp.words import Phrase

if TYPE_CHECKING:
    from fieldapp.screens.flow import Flow

Done = Callable[[Phrase], None]


class LookFlow:
    """Shows these pages; `flow` shows all others."""

    def __init__(self, flow: Flow) -> None:
        self.flow = flow

    def goes_on(self) -> bool:
        """Show the next hive of the round that this phone was in; False where there is none."""
        looking = under_way(self.flow.kit.notebook)
        if looking is not None:
            self.round(looking)
        return looking is not None

    # -- one hive

    def inside(self, hive: str, back: Act, done: Done | None = None) -> None:
        """Ask what is seen and done inside."""
        form = LookInside(self.flow.kit.notebook, hive)
        self.form(form, back, done, photos_for=form.kept_as)

    def day_after(self, hive: str, back: Act, done: Done | None = None) -> None:
        """Ask what is seen the day after."""
        form = DayAfter(self.flow.kit.notebook, hive)
        self.form(form, back, done, photos_for=form.kept_as)

    def pieces(self, hive: str, back: Act, done: Done | None = None) -> None:
        """Ask for pieces by number."""
        self.form(PiecesByNumber(self.flow.kit.notebook, hive), back, done)

    def form(
        self, form: Form, back: Act, done: Done | None = None, *, photos_for: str | None = None
    ) -> None:
        """Show a form; when it is saved, go back, or to what `done` shows.

        `photos_for` is the name under which photos wait with it, None where it takes none.
        """

        def save() -> None:
            told = form.save()
            self.flow.call_out(told)
            if done is None:
                back()
            else:
                done(told)

        self.flow.show_page(
            lambda: look_pages.form_page(self.flow, form, save, back, photos_for=photos_for)
        )

    # -- a round

    def begin(self, line: Line) -> None:
        """Begin the round that a line asks for."""
        self.flow.kit.locate()
        self.round(LookRound.begin(self.flow.kit.notebook, line))

    def begin_at(self, apiary: str, asks: Asks) -> None:
        """Begin a round of all hives of an apiary."""
        self.flow.kit.locate()
        self.round(LookRound.at(self.flow.kit.notebook, apiary, asks))

    def round(self, round_: LookRound, told: Phrase | None = None) -> None:
        """Show the next hive."""
        self.flow.show_page(lambda: look_round_page.page(self, round_, told))

    def ask(self, round_: LookRound, hive: str) -> None:
        """Show what this round asks at a hive."""
        back = partial(self.round, round_)

        def done(told: Phrase) -> None:
            round_.done(hive, told)
            self.round(round_)

        if round_.asks == "look":
            self.inside(hive, back, done)
        elif round_.asks == "day after":
            self.day_after(hive, back, done)
        elif round_.at_once:
            self.flow.call_out(round_.tap(hive))
            self.round(round_)
        elif round_.asks == "pieces":
            self.form(round_.pieces(hive), back, done)
        else:
            self.flow.counts.begin(hive, back, done, board_out=round_.asks == "board")

    def hive(self, round_: LookRound, hive: str) -> None:
        """Show a hive of the round."""
        self.flow.hives.hive(hive, partial(self.round, round_))

    def grid(self, round_: LookRound) -> None:
        """Show all hives of the round."""
        self.flow.show_page(lambda: look_round_page.grid_page(self, round_))

    def why(self, round_: LookRound, spot: Spot) -> None:
        """Ask why a hive is passed over."""
        self.flow.show_page(lambda: look_round_page.why_page(self, round_, spot))

    def skip(self, round_: LookRound, hive: str, why: str) -> None:
        """Pass a hive over."""
        round_.skip(hive, why)
        self.round(round_)

    def undo(self, round_: LookRound) -> None:
        """Take the last hive back."""
        told = round_.undo()
        self.flow.kit.devices.vibration.undo()
        self.round(round_, told)

    def end(self, round_: LookRound) -> None:
        """End the round, and show what is due."""
        round_.end()
        self.flow.kit.devices.position.stop()
        self.flow.kit.reminders.check()
        self.flow.due()
