"""The way to a round, through it and to its summary."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING

from fieldapp.book.label_line import LabelLine
from fieldapp.husbandry.vocabulary import DAYS
from fieldapp.rounds.beginning import under_way
from fieldapp.rounds.due import DueLine
from fieldapp.rounds.giving import Did
from fieldapp.rounds.otherwise import Otherwise
from fieldapp.rounds.planning import Plan
from fieldapp.rounds.reasons import say_why
from fieldapp.rounds.round import Round, Tapped
from fieldapp.rounds.starting import Start
from fieldapp.rounds.strokes_given import Strokes
from fieldapp.rounds.summary import Flagged
from fieldapp.rounds.timers import minutes
from fieldapp.screens import (
    choose_pages,
    number_page,
    others_page,
    otherwise_pages,
    plan_pages,
    round_page,
    start_page,
    summary_page,
    times_page,
)
from fieldapp.screens.keys import Act
from fieldapp.screens.theme import Role
from fieldapp.words import Phrase, say

if TYPE_CHECKING:
    from fieldapp.screens.flow import Flow

_ASKED: dict[Did, Callable[[str], Phrase]] = {
    "out": lambda number: say("Hive {number}: how many came out?", number=number),
    "moved": lambda number: say("Hive {number}: how many were moved?", number=number),
}


class RoundFlow:
    """Shows these pages; `flow` shows all others."""

    def __init__(self, flow: Flow) -> None:
        self.flow = flow

    def goes_on(self) -> bool:
        """Show the next hive of the round that this phone was in; False where there is none."""
        round_ = under_way(self.flow.kit.notebook)
        if round_ is not None:
            self.round(round_)
        return round_ is not None

    def of_line(self, line: DueLine) -> None:
        """Begin the round that a line of the agenda asks for."""
        self.prepare(Start.for_line(self.flow.kit.notebook, line.line))

    def choose_apiary(self) -> None:
        """Ask where."""
        self.flow.show_page(lambda: choose_pages.apiary_page(self))

    def round_at(self, apiary: str) -> None:
        """Ask with what, in this apiary."""
        start = Start.at(self.flow.kit.notebook, apiary)
        self.flow.show_page(lambda: choose_pages.treatment_page(self, start))

    def prepare(self, start: Start) -> None:
        """Ask what is still open about a round, in this order: label, amount, cautions."""
        start.use_last()
        if start.first_use and not start.label_asked:
            self.flow.show_page(lambda: choose_pages.label_page(self, start))
        elif len(start.amounts) > 1 and not start.amount_asked:
            self.ask_amount(start)
        else:
            start.settle_amount()
            start.settle_lot()
            self.flow.show_page(lambda: start_page.page(self, start))

    def ask_amount(self, start: Start) -> None:
        """Ask how much each hive gets."""
        self.flow.show_page(lambda: choose_pages.amount_page(self, start))

    def own(self, start: Start) -> None:
        """Ask for a treatment from its label, then go on with it."""

        def done(identity: str) -> None:
            start.treatment = identity
            self.prepare(start)

        self.flow.own.new(done, lambda: self.round_at(start.apiary))

    def plan(self, start: Start) -> None:
        """Show the keeper's own plan in steps."""
        plan = replace(start.plan) if start.plan else Plan.of(start.treatment, start.body)
        self.flow.show_page(lambda: plan_pages.page(self, start, plan))

    def ask_days(self, start: Start) -> None:
        """Ask for the period on the label in hand, in days."""

        def take(days: int) -> None:
            start.label_says(LabelLine(days))
            self.prepare(start)

        self.flow.show_page(
            lambda: number_page.page(
                self.flow,
                say("Days on the label"),
                DAYS,
                take,
                back=lambda: self.prepare(start),
                gloves=True,
            )
        )

    def begin(self, start: Start) -> None:
        """Write the round's beginning and show its first hive."""
        self.flow.kit.locate()
        self.round(start.begin())

    def round(self, round_: Round, told: Phrase | None = None) -> None:
        """Show the next hive."""
        self.flow.show_page(lambda: round_page.page(self, round_, told))
        self.flow.soon(round_.ready_next)

    def tap_hive(self, round_: Round, hive: str) -> None:
        """Log a hive, after asking for what the dose is counted by."""
        if round_.counts:
            self.flow.show_page(lambda: round_page.counted_page(self, round_, hive))
        elif round_.task == "pieces" and not round_.pieces_in(hive):
            self.ask_pieces(round_, hive)
        else:
            self.answered(round_, round_.tap(hive))

    def counted(self, round_: Round, hive: str, number: float) -> None:
        """Log a hive with what was counted."""
        self.answered(round_, round_.tap(hive, number))

    def answered(self, round_: Round, tapped: Tapped) -> None:
        """Answer a tap by picture, vibration and, if wanted, voice."""
        self.flow.call_out(tapped.did)
        self.round(round_)

    def undo(self, round_: Round) -> None:
        """Take the last tap back."""
        tapped = round_.undo()
        self.flow.kit.devices.vibration.undo()
        self.round(round_, tapped.did if tapped is not None else None)

    def ask_pieces(self, round_: Round, hive: str) -> None:
        """Log a hive with as many pieces as the keeper says: nobody knows how many are in."""

        def take(number: int) -> None:
            self.answered(round_, round_.tap(hive, number))

        asked = _ASKED[round_.giving.did](round_.spot(hive).number)
        self._number(asked, otherwise_pages.MOST_PIECES, take, lambda: self.round(round_))

    def not_like_that(self, round_: Round, hive: str) -> None:
        """Ask what was otherwise."""
        other = Otherwise(round_, hive)
        self.flow.show_page(lambda: otherwise_pages.otherwise_page(self, other))

    def why_skipped(self, round_: Round, hive: str) -> None:
        """Ask why a hive is passed over."""
        self.flow.show_page(lambda: otherwise_pages.why_page(self, round_, hive))

    def other_amount(self, other: Otherwise) -> None:
        """Ask how much it was: pieces by their number, all else in steps."""
        if other.by_pieces:
            number = other.round.spot(other.hive).number
            self._number(
                say("Hive {number}: how many went in?", number=number),
                otherwise_pages.MOST_PIECES,
                lambda n: self.answered(other.round, other.other_amount(n)),
                partial(self.not_like_that, other.round, other.hive),
            )
        else:
            steps = otherwise_pages.Steps(other)
            self.flow.show_page(lambda: otherwise_pages.amount_page(self, steps))

    def other_strokes(self, other: Otherwise, strokes: Strokes) -> None:
        """Ask how many strokes it was, by place."""
        steps = otherwise_pages.StrokeSteps(other, strokes)
        self.flow.show_page(lambda: otherwise_pages.strokes_page(self, steps))

    def how_many(self, other: Otherwise) -> None:
        """Ask how many pieces it was."""
        self._pieces(
            other,
            _ASKED[other.round.giving.did],
            otherwise_pages.MOST_PIECES,
            lambda n: self.answered(other.round, other.other_number(n)),
        )

    def how_many_lost(self, other: Otherwise) -> None:
        """Ask how many are lost, then how that is known."""

        def take(number: int) -> None:
            self.flow.show_page(lambda: otherwise_pages.seen_page(self, other, number))

        most = other.inside or otherwise_pages.MOST_PIECES
        self._pieces(
            other, lambda number: say("Hive {number}: how many lost?", number=number), most, take
        )

    def how_many_found(self, other: Otherwise) -> None:
        """Ask how many more there were than should be."""
        self._pieces(
            other,
            lambda number: say("Hive {number}: how many more?", number=number),
            otherwise_pages.MOST_PIECES,
            lambda n: self.answered(other.round, other.found(n)),
        )

    def _pieces(
        self,
        other: Otherwise,
        asked: Callable[[str], Phrase],
        most: int,
        take: Callable[[int], None],
    ) -> None:
        number = other.round.spot(other.hive).number
        back = partial(self.not_like_that, other.round, other.hive)
        self._number(asked(number), most, take, back)

    def _number(self, asked: Phrase, most: int, take: Callable[[int], None], back: Act) -> None:
        numbers = range(1, most + 1)
        self.flow.show_page(lambda: otherwise_pages.number_page(self, asked, numbers, take, back))

    # -- timers

    def timed(self) -> list[tuple[Role, Phrase]]:
        """Return the timers that run, with their signs; the page is shown anew each second."""
        found = self.flow.kit.timers.running()
        return [("late" if each.left == 0 else "due", each.words) for each in found]

    def time_left(self, round_: Round, hive: str) -> Phrase | None:
        """Return how long a hive's timer still runs; None where it has none."""
        if round_.timer(hive) is None:
            return None
        left = next(each.left for each in self.flow.kit.timers.running() if each.hive == hive)
        return say("{time} left", time=minutes(left))

    def times(self, start: Start) -> None:
        """Ask how long it takes at a hive, in steps."""
        self.flow.show_page(lambda: times_page.page(self, start))

    def others(self, apiary: str) -> None:
        """Ask for a round that treats nothing: pieces, boards, looks, counts."""
        self.flow.show_page(lambda: others_page.page(self, apiary))

    def out_of_order(self, round_: Round) -> None:
        """Show all hives of the round."""
        self.flow.show_page(lambda: round_page.grid_page(self, round_))

    def summary(self, round_: Round) -> None:
        """Show what the round came to so far."""
        self.flow.show_page(lambda: summary_page.page(self, round_, ended=False))

    def ask_why(self, round_: Round, flagged: Flagged, *, ended: bool) -> None:
        """Ask why some of the round was otherwise than its label has it."""
        self.flow.show_page(lambda: summary_page.why_page(self, round_, flagged, ended=ended))

    def say_why(self, round_: Round, flagged: Flagged, why: str, *, ended: bool) -> None:
        """Keep a reason beside the records, and show the summary again."""
        say_why(self.flow.kit.notebook, flagged.given, why)
        self.flow.show_page(lambda: summary_page.page(self, round_, ended=ended))

    def end_round(self, round_: Round) -> None:
        """Log the end, and show what the round came to and what comes next."""
        round_.end()
        self.flow.kit.devices.position.stop()
        self.flow.show_page(lambda: summary_page.page(self, round_, ended=True))
        self.flow.soon(self._after_round)

    def _after_round(self) -> None:
        self.flow.kit.reminders.check()
        self.flow.kit.notebook.keep()
