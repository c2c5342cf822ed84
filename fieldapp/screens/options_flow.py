"""The way through what may be done here: table, method, weather, the hole in the course."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from functools import partial
from typing import TYPE_CHECKING

from fieldapp.rounds.hole import Hole
from fieldapp.rounds.options import Asked, Options
from fieldapp.rounds.outlook import Outlook
from fieldapp.screens import hole_pages, options_pages, outlook_pages
from fieldapp.screens.keys import Act

if TYPE_CHECKING:
    from fieldapp.screens.flow import Flow


class OptionsFlow:
    """Shows these pages; `flow` shows all others."""

    def __init__(self, flow: Flow) -> None:
        self.flow = flow

    def table(self, apiary: str, back: Act, hives: Sequence[str] | None = None) -> None:
        """Show hives by methods, for all hives of an apiary or some."""
        notebook = self.flow.kit.notebook
        self.flow.show_page(
            lambda: options_pages.table_page(self, Options(notebook, apiary, hives), back)
        )

    def method(self, options: Options, treatment: str, back: Act) -> None:
        """Show one method with every reason."""
        self.flow.show_page(lambda: options_pages.method_page(self, options, treatment, back))

    def asked(self, apiary: str, back: Act) -> None:
        """Ask for what no record can know."""
        asked = Asked(self.flow.kit.notebook, apiary)
        self.flow.show_page(lambda: options_pages.asked_page(self, asked, back))

    def outlook(self, apiary: str, back: Act) -> None:
        """Show the temperatures of the days ahead."""
        outlook = Outlook(self.flow.kit.notebook, apiary)
        self.flow.show_page(lambda: outlook_pages.list_page(self, outlook, back))

    def outlook_day(self, outlook: Outlook, day: date, back: Act) -> None:
        """Ask for one day's temperatures."""
        entry = outlook.enter(day)
        to_list = partial(self.outlook, outlook.apiary, back)
        self.flow.show_page(lambda: outlook_pages.day_page(self, entry, to_list))

    def hole(self, options: Options, treatment: str, back: Act) -> None:
        """Show which cells hatch between the visits of a course."""
        hole = Hole.of(self.flow.kit.notebook, options, treatment)
        self.flow.show_page(lambda: hole_pages.page(self, hole, back))
