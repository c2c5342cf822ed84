"""The way through home: first start, pairing, questions, files, settings."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fieldapp.rounds.setup import Setup
from fieldapp.screens import (
    home_page,
    odd_page,
    pair_pages,
    papers_pages,
    question_pages,
    setup_pages,
)
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

    def switch_voice(self) -> None:
        """Answer taps by voice, or no longer."""
        self.flow.kit.notebook.local.put("speaks", not self.flow.speaks)
        self.flow.again()

    def switch_volume(self) -> None:
        """Let a volume key stand for a round's field, or no longer."""
        self.flow.kit.notebook.local.put("volume key", not self.flow.by_volume)
        self.flow.again()

    def switch_theme(self) -> None:
        """Go to the other theme."""
        other = next(name for name in THEMES if name != self.flow.look.theme.name)
        self.flow.kit.notebook.local.put("theme", other)
        self.flow.look.theme = THEMES[other]
        self.flow.again()
