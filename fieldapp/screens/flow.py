"""Which page follows which. The only place that knows the way through the program."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from fieldapp.rounds.choosing import LabelLine
from fieldapp.rounds.due import DueLine
from fieldapp.rounds.errors import RoundsError
from fieldapp.rounds.kit import Kit
from fieldapp.rounds.look_round import under_way as looking_under_way
from fieldapp.rounds.planning import Plan
from fieldapp.rounds.round import Round, Tapped
from fieldapp.rounds.setup import Setup
from fieldapp.rounds.starting import Start, under_way
from fieldapp.screens import (
    aid_pages,
    choose_pages,
    due_page,
    hive_pages,
    home_page,
    number_page,
    papers_pages,
    plan_pages,
    question_pages,
    round_page,
    setup_pages,
    start_page,
    summary_page,
    trouble_page,
)
from fieldapp.screens.applicator_flow import ApplicatorFlow
from fieldapp.screens.bench_flow import BenchFlow
from fieldapp.screens.count_flow import CountFlow
from fieldapp.screens.hive_flow import HiveFlow
from fieldapp.screens.look import Look
from fieldapp.screens.look_flow import LookFlow
from fieldapp.screens.options_flow import OptionsFlow
from fieldapp.screens.page import Page
from fieldapp.screens.stage import Stage
from fieldapp.screens.theme import THEMES
from fieldapp.words import Phrase, say

Shows = Callable[[], Page]


class Flow:
    """Shows pages on the stage and passes on what the keeper does with them."""

    def __init__(self, kit: Kit, look: Look, stage: Stage) -> None:
        self.kit = kit
        self.look = look
        self.stage = stage
        self.options = OptionsFlow(self)
        self.bench = BenchFlow(self)
        self.applicators = ApplicatorFlow(self)
        self.counts = CountFlow(self)
        self.looks = LookFlow(self)
        self.hive_records = HiveFlow(self)
        stage.first_aid = self.first_aid
        self._shows: Shows = self._due
        self._told_until: float | None = None
        self._located = False

    # -- the way in

    def start_up(self) -> None:
        """Show the first page: first start, the round under way, or what is due."""
        setup = Setup(self.kit.notebook)
        if setup.needed:
            self.first_start(setup)
        elif (round_ := under_way(self.kit.notebook)) is not None:
            self.round(round_)
        elif (looking := looking_under_way(self.kit.notebook)) is not None:
            self.looks.round(looking)
        else:
            self.due()

    def due(self) -> None:
        """Show what is due."""
        self.show_page(self._due)

    def _due(self) -> Page:
        return due_page.page(self)

    def first_start(self, setup: Setup) -> None:
        """Ask who keeps the records."""
        if setup.keepers():
            self.show_page(lambda: setup_pages.who_page(self, setup))
        else:
            self.ask_name(setup)

    def ask_name(self, setup: Setup) -> None:
        """Ask for the name of a new keeper."""
        self.show_page(lambda: setup_pages.name_page(self, setup))

    # -- to a round

    def line(self, line: DueLine) -> None:
        """Begin the round of a line, or show what stands behind it."""
        if line.walked:
            self.prepare(Start.for_line(self.kit.notebook, line.line))
        else:
            self.show_page(lambda: due_page.line_page(self, line))

    def choose_apiary(self) -> None:
        """Ask where."""
        self.show_page(lambda: choose_pages.apiary_page(self))

    def round_at(self, apiary: str) -> None:
        """Ask with what, in this apiary."""
        start = Start.at(self.kit.notebook, apiary)
        self.show_page(lambda: choose_pages.treatment_page(self, start))

    def prepare(self, start: Start) -> None:
        """Ask what is still open about a round, in this order: label, amount, cautions."""
        start.use_last_amount()
        if start.first_use and not start.label_asked:
            self.show_page(lambda: choose_pages.label_page(self, start))
        elif len(start.amounts) > 1 and not start.amount_asked:
            self.ask_amount(start)
        else:
            start.settle_amount()
            self.show_page(lambda: start_page.page(self, start))

    def ask_amount(self, start: Start) -> None:
        """Ask how much each hive gets."""
        self.show_page(lambda: choose_pages.amount_page(self, start))

    def plan(self, start: Start) -> None:
        """Show the keeper's own plan in steps."""
        plan = replace(start.plan) if start.plan else Plan.of(start.treatment, start.body)
        self.show_page(lambda: plan_pages.page(self, start, plan))

    def ask_days(self, start: Start) -> None:
        """Ask for the period on the label in hand, in days."""

        def take(days: int) -> None:
            start.label_says(LabelLine(days))
            self.prepare(start)

        self.show_page(
            lambda: number_page.page(
                self,
                say("Days on the label"),
                say("days"),
                take,
                back=lambda: self.prepare(start),
            )
        )

    def begin(self, start: Start) -> None:
        """Write the round's beginning and show its first hive."""
        self.kit.locate()
        self.round(start.begin())

    # -- in a round

    def round(self, round_: Round, told: Phrase | None = None) -> None:
        """Show the next hive."""
        self.show_page(lambda: round_page.page(self, round_, told))

    def tap_hive(self, round_: Round, hive: str) -> None:
        """Log a hive, after asking for its seams where the dose needs them."""
        if round_.by_seams:
            self.show_page(lambda: round_page.seams_page(self, round_, hive))
        else:
            self.answered(round_, round_.tap(hive))

    def seams(self, round_: Round, hive: str, seams: float) -> None:
        """Log a hive with its seams."""
        self.answered(round_, round_.tap(hive, seams))

    def answered(self, round_: Round, tapped: Tapped) -> None:
        """Answer a tap by picture, vibration and, if wanted, voice."""
        self.call_out(tapped.did)
        self.round(round_)

    def call_out(self, words: Phrase) -> None:
        """Answer by vibration and, if wanted, voice."""
        self.kit.devices.vibration.tap()
        if self.speaks:
            self.kit.devices.voice.speak(self.look.say(words))

    def undo(self, round_: Round) -> None:
        """Take the last tap back."""
        tapped = round_.undo()
        self.kit.devices.vibration.undo()
        self.round(round_, tapped.did if tapped is not None else None)

    def not_like_that(self, round_: Round, hive: str) -> None:
        """Ask what was otherwise."""
        self.show_page(lambda: round_page.otherwise_page(self, round_, hive))

    def why_skipped(self, round_: Round, hive: str) -> None:
        """Ask why a hive is passed over."""
        self.show_page(lambda: round_page.why_page(self, round_, hive))

    def other_amount(self, round_: Round, hive: str) -> None:
        """Ask how much it was."""
        steps = round_page.Steps(round_, hive)
        self.show_page(lambda: round_page.amount_page(self, steps))

    def out_of_order(self, round_: Round) -> None:
        """Show all hives of the round."""
        self.show_page(lambda: round_page.grid_page(self, round_))

    def summary(self, round_: Round) -> None:
        """Show what the round came to so far."""
        self.show_page(lambda: summary_page.page(self, round_, ended=False))

    def end_round(self, round_: Round) -> None:
        """Log the end, and show what the round came to and what comes next."""
        round_.end()
        self.kit.devices.position.stop()
        self.kit.reminders.check()
        self.show_page(lambda: summary_page.page(self, round_, ended=True))

    # -- beside a round

    def hives(self, apiary: str) -> None:
        """Show the hives of an apiary."""
        self.show_page(lambda: hive_pages.list_page(self, apiary))

    def hive(self, hive: str, back: Callable[[], None]) -> None:
        """Show one hive."""
        self.show_page(lambda: hive_pages.page(self, hive, back))

    def choose_hives(self) -> None:
        """Ask whose hives to show."""
        self.show_page(lambda: choose_pages.hives_page(self))

    def home(self) -> None:
        """Show pairing, sync and settings."""
        self.show_page(lambda: home_page.page(self))

    def papers(self, back: Callable[[], None]) -> None:
        """Show what can be made into a file."""
        self.kit.papers.out = None
        self.show_page(lambda: papers_pages.page(self, back))

    def papers_changed(self) -> None:
        """Show the files' page from its beginning, where what came of it stands."""
        if self._in_sight("papers", "inspector") and not self.stage.touched:
            self.show_page(self._shows)

    def questions(self) -> None:
        """Show what only the keeper can answer."""
        self.show_page(lambda: question_pages.list_page(self, self.home))

    def pair(self) -> None:
        """Ask for the server's code."""
        self.show_page(lambda: home_page.pair_page(self))

    def home_changed(self) -> None:
        """Show home anew if it is in sight and no finger is on it."""
        if self._in_sight("home") and not self.stage.touched:
            self.home()

    def first_aid(self) -> None:
        """Show first aid; going back shows the page that was in sight, as it was left."""
        page, shows, told_until = self.stage.page, self._shows, self._told_until

        def back() -> None:
            if page is not None:
                self._shows, self._told_until = shows, told_until
                self.stage.show(page)

        self.aid(back)

    def aid(self, back: Callable[[], None]) -> None:
        """Show first aid: the number, and what to do by substance."""
        self.show_page(lambda: aid_pages.page(self, back))

    def trouble(self, error: RoundsError) -> None:
        """Say what went wrong; then go back to where the keeper was."""
        before = self._shows
        self.show_page(
            lambda: trouble_page.page(self, error.phrase, lambda: self.show_page(before))
        )

    # -- settings

    @property
    def speaks(self) -> bool:
        """Whether taps are answered by voice."""
        return bool(self.kit.notebook.local.get("speaks", False))

    def switch_voice(self) -> None:
        """Answer taps by voice, or no longer."""
        self.kit.notebook.local.put("speaks", not self.speaks)
        self.again()

    def switch_theme(self) -> None:
        """Go to the other theme."""
        other = next(name for name in THEMES if name != self.look.theme.name)
        self.kit.notebook.local.put("theme", other)
        self.look.theme = THEMES[other]
        self.again()

    # -- showing

    def again(self) -> None:
        """Show the page in sight anew where it is, for something about it has changed."""
        before, page = self.stage.page, self._shows()
        if before is not None and before.name == page.name:
            page.at = before.at
        self.stage.show(page)

    def tick(self) -> None:
        """Let what stands for some seconds only go when they are over."""
        if self.stage.touched:
            return
        located = self.kit.positions.latest is not None
        if located != self._located and self._in_sight("due", "apiary"):
            self.again()
        self._located = located
        if self._told_until is None:
            return
        if self.kit.notebook.clock.monotonic() > self._told_until:
            self._told_until = None
            self.again()

    def until(self, moment: float | None) -> None:
        """Show the page in sight anew after this moment (monotonic seconds)."""
        self._told_until = moment

    def _in_sight(self, *names: str) -> bool:
        return self.stage.page is not None and self.stage.page.name in names

    def show_page(self, shows: Shows) -> None:
        """Show a page, and remember how to show it anew."""
        self._told_until = None
        page = shows()
        self._shows = shows
        self.stage.show(page)
