"""The way through the stock: lots, purchases, what leaves the shelf, wear parts and filters."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from fieldapp.book import Entry
from fieldapp.husbandry.ledger import Gear, Lot
from fieldapp.rounds.buying import Purchase
from fieldapp.rounds.desk_form import BookForm, Form
from fieldapp.rounds.gear import GearForm, gear_in_use, throw_away
from fieldapp.rounds.leaving import BatchRight, Counting, Disposal
from fieldapp.rounds.stock import Stock
from fieldapp.rounds.use import Use
from fieldapp.screens import desk_pages, stock_pages
from fieldapp.screens.keys import Act

if TYPE_CHECKING:
    from fieldapp.screens.flow import Flow

#: Kinds of records of the books that are put right by a form of the desk.
KINDS = frozenset({"bought", "batch", "disposed", "on_hand", "gear"})


class StockFlow:
    """Shows these pages; `flow` shows all others."""

    def __init__(self, flow: Flow) -> None:
        self.flow = flow

    def stock(self, back: Act) -> None:
        """Show what is on hand."""
        self.flow.show_page(lambda: stock_pages.page(self, back))

    def over(self, back: Act) -> None:
        """Show what is used up."""
        self.flow.show_page(lambda: stock_pages.over_page(self, back))

    def lot(self, root: str, back: Act) -> None:
        """Show one lot; the stock where it is in the books no longer."""
        stock = Stock(self.flow.kit.notebook)
        lot = stock.lot(root)
        if lot is None:
            back()
            return
        self.flow.show_page(lambda: stock_pages.lot_page(self, stock, lot, back))

    def buy(self, back: Act) -> None:
        """Ask for a purchase."""
        form = Purchase(self.flow.kit.notebook)
        self._form(form, back, back, photos_for=form.kept_as)

    def use(self, lot: Lot, back: Act) -> None:
        """Ask for a use outside a round."""
        self._form(Use(self.flow.kit.notebook, lot), back, back)

    def dispose(self, lot: Lot, back: Act) -> None:
        """Ask for what is disposed of."""
        self._form(Disposal(self.flow.kit.notebook, lot), back, back)

    def count(self, lot: Lot, back: Act) -> None:
        """Ask for what is on the shelf."""
        self._form(Counting(self.flow.kit.notebook, lot), back, back)

    # -- what wears

    def gear(self, back: Act) -> None:
        """Show what wears or expires."""
        self.flow.show_page(lambda: stock_pages.gear_page(self, back))

    def thing(self, gear: str, back: Act) -> None:
        """Show one thing; all of them where it is in use no longer."""
        found = next((g for g in gear_in_use(self.flow.kit.notebook) if g.id == gear), None)
        if found is None:
            back()
            return
        self.flow.show_page(lambda: stock_pages.thing_page(self, found, back))

    def new_gear(self, old: Gear | None, back: Act) -> None:
        """Ask for a new thing, in place of an old one or beside all others."""
        self._form(GearForm(self.flow.kit.notebook, old), back, back)

    def throw_away(self, thing: Gear, done: Act) -> None:
        """Write down that a thing was thrown away."""
        throw_away(self.flow.kit.notebook, thing.id)
        self.flow.kit.devices.vibration.tap()
        done()

    # -- putting right

    def correct(self, entry: Entry, again: Act) -> None:
        """Ask what is otherwise in a record of the books; then why."""
        form = self._right(entry)
        if form is None:
            again()
            return
        self.flow.hives.put_right(form, again)

    def _right(self, entry: Entry) -> BookForm | None:
        notebook = self.flow.kit.notebook
        kind = entry.root.kind
        if kind == "bought":
            return Purchase(notebook, entry)
        if kind == "batch":
            return BatchRight(notebook, entry)
        if kind == "gear":
            return GearForm(notebook, entry=entry)
        lot = Stock(notebook).lot(entry.holds.body["lot"])
        if lot is None:
            return None
        form = Disposal if kind == "disposed" else Counting
        return form(notebook, lot, entry)

    def _form(self, form: Form, done: Act, back: Act, *, photos_for: str | None = None) -> None:
        def save() -> None:
            form.save()
            self.flow.kit.devices.vibration.tap()
            done()

        self.flow.show_page(
            partial(desk_pages.form_page, self.flow, form, save, back, photos_for=photos_for)
        )
