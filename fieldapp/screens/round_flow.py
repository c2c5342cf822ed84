"""The way to a round, through it and to its summary."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from fieldapp.book.label_line import LabelLine
from fieldapp.rounds.due import DueLine
from fieldapp.rounds.planning import Plan
from fieldapp.rounds.round import Round, Tapped
from fieldapp.rounds.starting import Start, under_way
from fieldapp.screens import (
    choose_pages,
    number_page,
    plan_pages,
    round_page,
    start_page,
    summary_page,
)
from fieldapp.words import Phrase, say

if TYPE_CHECKING:
    from fieldapp.screens.flow import Flow


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
        start.use_last_amount()
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
                say("days"),
                take,
                back=lambda: self.prepare(start),
            )
        )

    def begin(self, start: Start) -> None:
        """Write the round's beginning and show its first hive."""
        self.flow.kit.locate()
        self.round(start.begin())

    def round(self, round_: Round, told: Phrase | None = None) -> None:
        """Show the next hive."""
        self.flow.show_page(lambda: round_page.page(self, round_, told))

    def tap_hive(self, round_: Round, hive: str) -> None:
        """Log a hive, after asking for what the dose is counted by."""
        if round_.counts:
            self.flow.show_page(lambda: round_page.counted_page(self, round_, hive))
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

    def not_like_that(self, round_: Round, hive: str) -> None:
        """Ask what was otherwise."""
        self.flow.show_page(lambda: round_page.otherwise_page(self, round_, hive))

    def why_skipped(self, round_: Round, hive: str) -> None:
        """Ask why a hive is passed over."""
        self.flow.show_page(lambda: round_page.why_page(self, round_, hive))

    def other_amount(self, round_: Round, hive: str) -> None:
        """Ask how much it was."""
        steps = round_page.Steps(round_, hive)
        self.flow.show_page(lambda: round_page.amount_page(self, steps))

    def out_of_order(self, round_: Round) -> None:
        """Show all hives of the round."""
        self.flow.show_page(lambda: round_page.grid_page(self, round_))

    def summary(self, round_: Round) -> None:
        """Show what the round came to so far."""
        self.flow.show_page(lambda: summary_page.page(self, round_, ended=False))

    def end_round(self, round_: Round) -> None:
        """Log the end, and show what the round came to and what comes next."""
        round_.end()
        self.flow.kit.devices.position.stop()
        self.flow.kit.reminders.check()
        self.flow.show_page(lambda: summary_page.page(self, round_, ended=True))
