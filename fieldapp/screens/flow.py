"""Which page follows which. The only place that knows the way through the program."""

from __future__ import annotations

from collections.abc import Callable

from fieldapp.rounds.due import DueLine
from fieldapp.rounds.errors import RoundsError
from fieldapp.rounds.kit import Kit
from fieldapp.rounds.leads import Lead, Where
from fieldapp.rounds.setup import Setup
from fieldapp.screens import due_page
from fieldapp.screens.keys import Act
from fieldapp.screens.look import Look
from fieldapp.screens.page import Page
from fieldapp.screens.stage import Stage
from fieldapp.screens.timer_calls import TimerCalls
from fieldapp.screens.ways import Ways
from fieldapp.words import Phrase

#: Seconds for which a new page is left to itself.
SOON_S = 0.3

Shows = Callable[[], Page]


class Flow(Ways):
    """Shows pages on the stage and passes on what the keeper does with them."""

    def __init__(self, kit: Kit, look: Look, stage: Stage) -> None:
        self.kit = kit
        self.look = look
        self.stage = stage
        stage.first_aid = self.first_aid
        self._shows: Shows = self._due
        self._told_until: float | None = None
        self._soon: tuple[float, Act] | None = None
        self._located = False
        self._calls = TimerCalls(self)
        self.aside: Callable[[], bool] = lambda: False

    # -- the way in

    def start_up(self) -> None:
        """Show the first page: first start, the round under way, or what is due."""
        setup = Setup(self.kit.notebook)
        if self.kit.inspector.goes_on:
            self.home.inspector_goes_on()
        elif setup.needed:
            self.home.first_start(setup)
        elif not self._goes_on():
            self.due()

    def _goes_on(self) -> bool:
        """Show the round under way, if there is one; only then its pages are loaded."""
        local = self.kit.notebook.local
        if local.get("round") is not None and self.rounds.goes_on():
            return True
        return local.get("look round") is not None and self.looks.goes_on()

    def due(self) -> None:
        """Show what is due."""
        self.show_page(self._due)

    def _due(self) -> Page:
        return due_page.page(self)

    # -- to a round

    def line(self, line: DueLine) -> None:
        """Begin the round of a line, or show what stands behind it."""
        if line.walked:
            self.rounds.of_line(line)
        elif line.leads is not None:
            self.lead(line.leads)
        else:
            self.show_page(lambda: due_page.line_page(self, line))

    def lead(self, lead: Lead) -> None:
        """Go where a line of the agenda leads."""
        ways: dict[Where, Callable[[], None]] = {
            "stock": lambda: self.stock.stock(self.due),
            "lot": lambda: self.stock.lot(lead.about, self.due),
            "thing": lambda: self.stock.thing(lead.about, self.due),
            "honey lot": lambda: self.harvests.lot(lead.about, self.due),
            "harvest": lambda: self.harvests.take(lead.about, self.due),
            "exposed": lambda: self.harvests.exposed(self.due),
            "premises": lambda: self.premises.page(lead.about, self.due),
        }
        ways[lead.where]()

    def call_out(self, words: Phrase) -> None:
        """Answer by vibration and, if wanted, voice."""
        self.kit.devices.vibration.tap()
        if self.speaks:
            self.speak(words)

    def speak(self, words: Phrase) -> None:
        """Say something by voice, in the language of the app."""
        self.kit.devices.voice.speak(self.look.say(words), self.look.speech.language)

    # -- beside a round

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
        from fieldapp.screens import aid_pages

        self.show_page(lambda: aid_pages.page(self, back))

    def trouble(self, error: RoundsError) -> None:
        """Say what went wrong; then go back to where the keeper was."""
        before = self._shows
        from fieldapp.screens import trouble_page

        self.show_page(
            lambda: trouble_page.page(self, error.phrase, lambda: self.show_page(before))
        )

    def fault(self) -> None:
        """Say that the program itself went wrong; then go on from the first page."""
        from fieldapp.screens import fault_page

        self.kit.home.give_up()
        self.kit.papers.give_up()
        if self.in_sight(fault_page.NAME):  # what fails again and again is told once
            return
        self.show_page(lambda: fault_page.page(self.look, self.kit.faults, self.start_up))

    # -- from the first page, which loads none of these

    def to_hives(self) -> None:
        """Ask whose hives to show."""
        self.hives.choose()

    def to_home(self) -> None:
        """Show home."""
        self.home.page()

    def to_other_apiary(self) -> None:
        """Ask where the round is."""
        self.rounds.choose_apiary()

    # -- answering

    @property
    def speaks(self) -> bool:
        """Whether taps are answered by voice."""
        return bool(self.kit.notebook.local.get("speaks", False))

    @property
    def by_volume(self) -> bool:
        """Whether a volume key stands for a round's field."""
        return bool(self.kit.notebook.local.get("volume key", False))

    def settle_volume(self) -> None:
        """Have the volume keys come here while one of them stands for a round's field."""
        self.kit.devices.volume.give_to(self._volume_key if self.by_volume else None)

    def _volume_key(self, key: int, down: bool) -> None:
        moved = self.stage.press_field if down else self.stage.lift_field
        self.kit.main(lambda: moved(key))

    # -- showing

    def again(self) -> None:
        """Show the page in sight anew where it is, for something about it has changed."""
        before, page = self.stage.page, self._shows()
        if before is not None and before.name == page.name:
            page.at = before.at
        self.stage.show(page)

    def soon(self, work: Act) -> None:
        """Do something while the page in sight is read, for nobody waits for it."""
        self._soon = self.kit.notebook.clock.monotonic() + SOON_S, work

    def turn_to(self, at: int) -> None:
        """Turn the page in sight to one of its pages, where it has that many."""
        if self.stage.page is not None:
            self.stage.page.at = at
            self.stage.show(self.stage.page)

    def tick(self) -> None:
        """Let what stands for some seconds only go when they are over; do what can wait."""
        self._calls.tick(self.aside())
        if self.stage.touched:
            return
        if self._soon is not None and self._soon[0] < self.kit.notebook.clock.monotonic():
            (_, work), self._soon = self._soon, None
            work()
        located = self.kit.positions.latest is not None
        if located != self._located and self.in_sight("due", "apiary"):
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

    def in_sight(self, *names: str) -> bool:
        """Return whether one of these pages is in sight."""
        return self.stage.page is not None and self.stage.page.name in names

    def show_page(self, shows: Shows) -> None:
        """Show a page, and remember how to show it anew."""
        self._told_until = None
        page = shows()
        self._shows = shows
        self.stage.show(page)

    def show_anew(self) -> None:
        """Show the page in sight anew, from its beginning."""
        self.show_page(self._shows)
