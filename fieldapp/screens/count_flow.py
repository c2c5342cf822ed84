"""The way through a count, and to what the counts of a hive say."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from fieldapp.husbandry.vocabulary import BEES
from fieldapp.rounds.count import Counting, Way
from fieldapp.rounds.count_survey import apiary_told, trend_told
from fieldapp.rounds.count_told import CountsTold
from fieldapp.rounds.count_verdict import verdict
from fieldapp.screens import count_pages, number_page
from fieldapp.screens.keys import Act
from fieldapp.screens.page import Page
from fieldapp.words import Phrase, say

if TYPE_CHECKING:
    from fieldapp.screens.flow import Flow


class CountFlow:
    """Shows these pages; `flow` shows all others."""

    def __init__(self, flow: Flow) -> None:
        self.flow = flow
        self._done: Callable[[Phrase], None] = lambda _: None

    def counts(self, hive: str, back: Act) -> None:
        """Show the counts of a hive."""

        def shows() -> Page:
            counts = CountsTold(self.flow.kit.notebook, hive)
            judged = verdict(self.flow.kit.notebook, counts)
            beside = [*trend_told(counts), *apiary_told(self.flow.kit.notebook, counts)]
            return count_pages.counts_page(self, counts, judged, beside, back)

        self.flow.show_page(shows)

    def begin(
        self,
        hive: str,
        back: Act,
        done: Callable[[Phrase], None] | None = None,
        *,
        board_out: bool = False,
    ) -> None:
        """Begin a count, or go on with one that was left; `done` is called when it is saved."""
        counting = Counting(self.flow.kit.notebook, hive, board_out=board_out)
        self._done = done or (lambda _: self.counts(hive, back))
        if counting.way is None:
            self.flow.show_page(lambda: count_pages.way_page(self, counting, back))
        elif counting.mites:
            self.tally(counting, back)
        else:
            self.before(counting, back)

    def take_way(self, counting: Counting, way: Way, back: Act) -> None:
        """Take the way of counting."""
        counting.take_way(way)
        self.before(counting, back)

    def before(self, counting: Counting, back: Act) -> None:
        """Show whether it can answer."""

        def shows() -> Page:
            if counting.left == 0:
                counting.end_shake()
                self.flow.call_out(say("Shaken long enough"))
            if counting.left is not None:
                self.flow.until(self.flow.kit.notebook.clock.monotonic() + 1)
            return count_pages.before_page(self, counting, back)

        self.flow.show_page(shows)

    def tally(self, counting: Counting, back: Act) -> None:
        """Count mites."""
        self.flow.show_page(lambda: count_pages.tally_page(self, counting, back))

    def count_one(self, counting: Counting) -> None:
        """Count one mite more, and let the hand feel it."""
        counting.add(1)
        self.flow.kit.devices.vibration.tap()
        self.flow.again()

    def bees(self, counting: Counting, back: Act) -> None:
        """Ask for the bees, or for the part of the board."""
        if counting.way is not None and counting.way.way == "drop":
            self.part(counting, back)
        else:
            self.flow.show_page(lambda: count_pages.bees_page(self, counting, back))

    def measured(self, counting: Counting, name: str, back: Act) -> None:
        """Take the bees by a measure."""
        counting.measured(name)
        self.meaning(counting, back)

    def bees_not_known(self, counting: Counting, back: Act) -> None:
        """Leave the bees not known."""
        counting.not_known()
        self.meaning(counting, back)

    def ask_bees(self, counting: Counting, back: Act) -> None:
        """Ask for the bees counted."""

        def take(bees: int) -> None:
            counting.counted(bees)
            self.meaning(counting, back)

        self._number(say("Bees counted"), BEES, take, counting, back)

    def ask_grams(self, counting: Counting, back: Act) -> None:
        """Ask for the grams of bees."""

        def take(grams: int) -> None:
            counting.weighed(grams)
            self.meaning(counting, back)

        self._number(say("Bees weighed"), say("g"), take, counting, back)

    def part(self, counting: Counting, back: Act) -> None:
        """Ask how much of the board was counted."""
        self.flow.show_page(lambda: count_pages.part_page(self, counting, back))

    def take_part(self, counting: Counting, share: float, back: Act) -> None:
        """Take the part of the board."""
        counting.take("board_part", share)
        self.flow.show_page(lambda: count_pages.days_page(self, counting, back))

    def take_days(self, counting: Counting, days: int, back: Act) -> None:
        """Take the days the board was in."""
        counting.take("days", days)
        self.meaning(counting, back)

    def meaning(self, counting: Counting, back: Act) -> None:
        """Show what the count says."""
        self.flow.show_page(lambda: count_pages.meaning_page(self, counting, back))

    def save(self, counting: Counting) -> None:
        """Write the count."""
        told = counting.save()
        self.flow.kit.devices.vibration.tap()
        self._done(told)

    def _number(
        self,
        asked: Phrase,
        unit: Phrase,
        take: Callable[[int], None],
        counting: Counting,
        back: Act,
    ) -> None:
        self.flow.show_page(
            lambda: number_page.page(
                self.flow,
                asked,
                unit,
                take,
                back=lambda: self.bees(counting, back),
                gloves=True,
            )
        )
