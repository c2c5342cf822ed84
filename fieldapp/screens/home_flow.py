"""The way through home: first start, pairing, questions, files, settings."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fieldapp.rounds.settings import THEME, Settings
from fieldapp.rounds.setup import Setup
from fieldapp.screens import (
    desk_pages,
    home_page,
    inspector_pages,
    odd_page,
    pair_pages,
    papers_pages,
    question_pages,
    settings_pages,
    setup_pages,
)
from fieldapp.screens.desk_pages import Way
from fieldapp.screens.keys import Act
from fieldapp.screens.theme import THEMES

if TYPE_CHECKING:
    from fieldapp.screens.flow import Flow
    from fieldapp.wire.announcement import Announced


class HomeFlow:
    """Shows these pages; `flow` shows all others."""

    def __init__(self, flow: Flow) -> None:
        self.flow = flow

    def first_start(self, setup: Setup) -> None:
        """Ask who keeps the records."""
        if setup.keepers():
            self.flow.show_page(lambda: setup_pages.who_page(self.flow, setup))
        else:
            self.ask_name(setup)

    def ask_name(self, setup: Setup) -> None:
        """Ask for the name of a new keeper."""
        self.flow.show_page(lambda: setup_pages.name_page(self.flow, setup))

    def page(self) -> None:
        """Show pairing, sync and settings."""
        self.flow.show_page(lambda: home_page.page(self.flow))

    def papers(self, back: Act) -> None:
        """Show what can be made into a file."""
        self.flow.kit.papers.out = None
        self.flow.show_page(lambda: papers_pages.page(self.flow, back))

    def papers_changed(self) -> None:
        """Show the files' page from its beginning, where what came of it stands."""
        if self.flow.in_sight("papers", "inspector") and not self.flow.stage.touched:
            self.flow.show_anew()

    def inspector(self, apiary: str | None) -> None:
        """Show the record book to an inspector, until the keeper leaves it."""
        self.flow.kit.papers.out = None
        self.flow.kit.inspector.begin(apiary)
        self.inspector_part(None)

    def inspector_goes_on(self) -> None:
        """Show it again where the program was closed meanwhile."""
        self.flow.kit.inspector.go_on()
        self.inspector_part(None)

    def inspector_part(self, part: int | None) -> None:
        """Show a part of the treatments; None: what is missing, and what leads to them."""
        self.flow.show_page(lambda: inspector_pages.page(self, part))

    def leave_inspector(self, part: int | None) -> None:
        """Ask in whose hand the phone is."""
        self.flow.show_page(lambda: inspector_pages.leave_page(self, part))

    def inspector_left(self) -> None:
        """Go back to the keeper's own pages."""
        self.flow.kit.inspector.leave()
        self.papers(self.page)

    def odd(self) -> None:
        """Show the records that need an eye."""
        self.flow.show_page(lambda: odd_page.page(self.flow, self.page))

    def questions(self) -> None:
        """Show what only the keeper can answer."""
        self.flow.show_page(lambda: question_pages.list_page(self.flow, self.page))

    def pair(self) -> None:
        """Listen for servers, and ask with which to pair."""
        self.flow.kit.scan.begin()
        self.flow.kit.home.listen()
        self.servers()

    def servers(self) -> None:
        """Show the servers that are heard."""
        self.flow.show_page(lambda: pair_pages.servers_page(self.flow))

    def code(self, server: Announced | None) -> None:
        """Ask for the code of a server; for its address too, where it was not heard."""
        self.flow.show_page(lambda: pair_pages.code_page(self.flow, server))

    def changed(self) -> None:
        """Show home, or the servers, anew if they are in sight and no finger is on them."""
        if self.flow.stage.touched:
            return
        if self.flow.in_sight("home"):
            self.page()
        elif self.flow.in_sight("servers"):
            self.flow.again()

    def scan_changed(self) -> None:
        """Show how pairing goes once a code was read, else what came of reading it."""
        if self.flow.stage.touched or not self.flow.in_sight("servers"):
            return
        if self.flow.kit.scan.found:
            self.page()
        else:
            self.flow.again()

    def settings(self, back: Act) -> None:
        """Show the settings."""
        kit = self.flow.kit
        settings = Settings(kit.notebook, kit.language, kit.home.called)
        self.flow.show_page(lambda: settings_pages.page(self, settings, back))

    def ask_setting(self, settings: Settings, name: str, back: Act) -> None:
        """Ask one setting; its answer holds on the next page."""
        question = settings.question(name)
        at = self.flow.stage.page.at if self.flow.stage.page is not None else 0

        def again() -> None:
            self.flow.look.theme = THEMES[settings.values[THEME]]
            self.flow.kit.alarms.arm()
            self.flow.settle_volume()
            self.settings(back)
            self.flow.turn_to(at)

        if question is not None:
            desk_pages.ask_on(self.flow, settings, question, Way(again, again))
