"""The way through honey: supers to a lot, what a lot holds, exposed supers emptied."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from fieldapp.book import Entry
from fieldapp.rounds.apiaries import places
from fieldapp.rounds.exposed_supers import ExposedSuper, emptied
from fieldapp.rounds.harvest import Harvest, HarvestRight, Take
from fieldapp.screens import choose_pages, desk_pages, harvest_pages
from fieldapp.screens.keys import Act

if TYPE_CHECKING:
    from fieldapp.screens.flow import Flow


class HarvestFlow:
    """Shows these pages; `flow` shows all others."""

    def __init__(self, flow: Flow) -> None:
        self.flow = flow

    def honey(self, back: Act) -> None:
        """Show the lots of honey, those to hold first."""
        self.flow.show_page(lambda: harvest_pages.lots_page(self, back))

    def of_hive(self, hive: str, back: Act) -> None:
        """Show the lots that honey of a hive went into."""
        self.flow.show_page(lambda: harvest_pages.hive_page(self, hive, back))

    def lot(self, mark: str, back: Act) -> None:
        """Show what a lot holds."""
        self.flow.show_page(lambda: harvest_pages.lot_page(self, mark, back))

    # -- supers to a lot

    def choose(self, back: Act) -> None:
        """Ask at which apiary, where there are several."""
        found = places(self.flow.kit.notebook, None)
        if len(found) == 1:
            self.take(found[0].id, back)
            return
        self.flow.show_page(
            lambda: choose_pages.honey_page(
                self.flow.rounds, lambda apiary: self.take(apiary, back), back
            )
        )

    def take(self, apiary: str, back: Act) -> None:
        """Show the supers of an apiary to choose from."""
        self._choosing(Harvest(self.flow.kit.notebook, apiary), back)

    def _choosing(self, harvest: Harvest, back: Act) -> None:
        self.flow.show_page(lambda: harvest_pages.choose_page(self, harvest, back))

    def day(self, harvest: Harvest, back: Act) -> None:
        """Ask for the day."""
        again = partial(self._choosing, harvest, back)
        desk_pages.ask(self.flow, harvest, harvest.day_asked, again)

    def not_fine(self, harvest: Harvest, take: Take, back: Act) -> None:
        """Show what stands against a super, before it is taken all the same."""
        again = partial(self._choosing, harvest, back)
        self.flow.show_page(lambda: harvest_pages.not_fine_page(self, harvest, take, again))

    def into_lot(self, harvest: Harvest, back: Act) -> None:
        """Ask which lot, how much, where to; then show the lot."""
        again = partial(self._choosing, harvest, back)

        def save() -> None:
            mark = harvest.values["lot"]
            harvest.save()
            self.flow.kit.devices.vibration.tap()
            self.lot(mark, back)

        self.flow.show_page(partial(desk_pages.form_page, self.flow, harvest, save, again))

    def correct(self, entry: Entry, again: Act) -> None:
        """Ask what is otherwise in a harvest; then why."""
        self.flow.hives.put_right(HarvestRight(self.flow.kit.notebook, entry), again)

    # -- exposed supers

    def exposed(self, back: Act, hive: str = "") -> None:
        """Show the exposed supers, of one hive where it is named."""
        self.flow.show_page(lambda: harvest_pages.exposed_page(self, back, hive))

    def empty(self, super_: ExposedSuper, back: Act) -> None:
        """Ask how a super was emptied."""
        self.flow.show_page(lambda: harvest_pages.empty_page(self, super_, back))

    def emptied(self, super_: ExposedSuper, how: str, done: Act) -> None:
        """Write down that it was, and not for people."""
        emptied(self.flow.kit.notebook, super_, how)
        self.flow.kit.devices.vibration.tap()
        done()
