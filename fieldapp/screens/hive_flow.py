"""The way through hives: which, one, its history, corrections, voids and words."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from fieldapp.husbandry.vocabulary import HIVES
from fieldapp.rounds.desk_form import BookForm
from fieldapp.rounds.hive_correction import Correction, PutRight
from fieldapp.rounds.hive_record import RecordView
from fieldapp.rounds.setup import Setup, add_hives
from fieldapp.screens import (
    choose_pages,
    desk_pages,
    hive_pages,
    hive_record_pages,
    look_pages,
    number_page,
    places_page,
    premises_flow,
    setup_pages,
    stock_flow,
)
from fieldapp.screens.keys import Act
from fieldapp.words import say

if TYPE_CHECKING:
    from fieldapp.screens.flow import Flow


class HiveFlow:
    """Shows these pages; `flow` shows all others."""

    def __init__(self, flow: Flow) -> None:
        self.flow = flow

    def at(self, apiary: str) -> None:
        """Show the hives of an apiary."""
        self.flow.show_page(lambda: hive_pages.list_page(self.flow, apiary))

    def hive(self, hive: str, back: Act) -> None:
        """Show one hive."""
        self.flow.show_page(lambda: hive_pages.page(self.flow, hive, back))

    def choose(self) -> None:
        """Ask whose hives to show."""
        self.flow.show_page(lambda: choose_pages.hives_page(self.flow.rounds))

    def places(self, back: Act) -> None:
        """Show the apiaries, to add to them."""
        self.flow.show_page(lambda: places_page.page(self.flow, back))

    def add(self, apiary: str, again: Act) -> None:
        """Ask how many hives more stand at an apiary, and write them down."""

        def take(number: int) -> None:
            add_hives(self.flow.kit.notebook, apiary, number)
            self.flow.kit.devices.vibration.tap()
            again()

        asked, unit = say("How many hives more?"), HIVES
        self.flow.show_page(
            lambda: number_page.page(self.flow, asked, unit, take, back=again, least=1, most=999)
        )

    def add_apiary(self, back: Act) -> None:
        """Ask for one more apiary."""
        setup = Setup(self.flow.kit.notebook)
        self.flow.show_page(lambda: setup_pages.country_page(self.flow, setup, back))

    def history(self, hive: str, back: Act) -> None:
        """Show every record of a hive."""
        self.flow.show_page(lambda: hive_record_pages.history_page(self, hive, back))

    def record(self, hive: str, root: str, back: Act) -> None:
        """Show one record."""
        self.flow.show_page(lambda: hive_record_pages.record_page(self, hive, root, back))

    def settle(self, view: RecordView, at: int, back: Act) -> None:
        """Take the keeper's answer which version holds."""
        view.settle(at)
        back()

    def why_void(self, view: RecordView, again: Act, done: Act) -> None:
        """Ask why a record is taken back."""
        self.flow.show_page(lambda: hive_record_pages.why_void_page(self, view, again, done))

    def void(self, view: RecordView, why: str, done: Act) -> None:
        """Take a record back."""
        Correction(self.flow.kit.notebook, view.entry).void(why)
        self.flow.kit.devices.vibration.undo()
        done()

    def correct(self, view: RecordView, again: Act) -> None:
        """Ask what is otherwise; then why."""
        kind = view.entry.root.kind
        if kind in stock_flow.KINDS:
            self.flow.stock.correct(view.entry, again)
        elif kind == "harvest":
            self.flow.harvests.correct(view.entry, again)
        elif kind in premises_flow.KINDS:
            self.flow.premises.correct(view.entry, again)
        else:
            self._form(Correction(self.flow.kit.notebook, view.entry), again)

    def put_right(self, form: BookForm, again: Act) -> None:
        """Ask what is otherwise in a record of the books; then why."""
        asked = partial(self.put_right, form, again)
        why = partial(self._why, form, asked, again)
        self.flow.show_page(
            lambda: desk_pages.form_page(self.flow, form, why, again, act_words=say("Go on"))
        )

    def _form(self, correction: Correction, again: Act) -> None:
        form = partial(self._form, correction, again)
        why = partial(self._why, correction, form, again)
        self.flow.show_page(
            lambda: look_pages.form_page(self.flow, correction, why, again, act_words=say("Go on"))
        )

    def _why(self, correction: PutRight, form: Act, again: Act) -> None:
        self.flow.show_page(
            lambda: hive_record_pages.why_correct_page(self, correction, form, again)
        )

    def write(self, correction: PutRight, why: str, done: Act) -> None:
        """Write the correction with its reason."""
        correction.why = why
        correction.save()
        self.flow.kit.devices.vibration.tap()
        done()

    def words(self, view: RecordView, again: Act) -> None:
        """Ask for words to add to a record."""
        self.flow.show_page(lambda: hive_record_pages.words_page(self, view, again))
