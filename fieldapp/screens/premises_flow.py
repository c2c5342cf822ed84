"""The way through apiaries: their register, visits and counts, hives added and moved."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from fieldapp.book import Entry
from fieldapp.rounds.desk_form import BookForm
from fieldapp.rounds.premises_forms import ColonyCount, Registration, Report, Visit
from fieldapp.screens import desk_pages, premises_pages
from fieldapp.screens.keys import Act

if TYPE_CHECKING:
    from fieldapp.screens.flow import Flow

#: Kinds of records of a register that are put right by a form of the desk.
KINDS = frozenset({"colony_count", "visit", "apiary", "reported"})


class PremisesFlow:
    """Shows these pages; `flow` shows all others."""

    def __init__(self, flow: Flow) -> None:
        self.flow = flow

    def page(self, apiary: str, back: Act) -> None:
        """Show one apiary."""
        self.flow.show_page(lambda: premises_pages.page(self, apiary, back))

    def lines(self, apiary: str, back: Act) -> None:
        """Show its movements, counts and visits."""
        self.flow.show_page(lambda: premises_pages.lines_page(self, apiary, back))

    def colonies(self, apiary: str, back: Act) -> None:
        """Ask how many colonies were counted."""
        self._form(ColonyCount(self.flow.kit.notebook, apiary), back)

    def visit(self, apiary: str, back: Act) -> None:
        """Ask for an inspector's visit."""
        self._form(Visit(self.flow.kit.notebook, apiary), back)

    def lifted(self, apiary: str, back: Act) -> None:
        """Ask for the visit or letter that lifts a standstill."""
        self._form(Visit(self.flow.kit.notebook, apiary, standstill="lifted"), back)

    def registration(self, apiary: str, back: Act) -> None:
        """Ask for name and registration number."""
        self._form(Registration(self.flow.kit.notebook, apiary), back)

    def report(self, apiary: str, back: Act) -> None:
        """Ask for what was reported."""
        self._form(Report(self.flow.kit.notebook, apiary), back)

    def correct(self, entry: Entry, again: Act) -> None:
        """Ask what is otherwise in a record of the register; then why."""
        notebook, apiary = self.flow.kit.notebook, entry.holds.apiary or ""
        forms: dict[str, type[ColonyCount | Visit | Registration | Report]] = {
            "colony_count": ColonyCount,
            "visit": Visit,
            "apiary": Registration,
            "reported": Report,
        }
        self.flow.hives.put_right(forms[entry.root.kind](notebook, apiary, entry), again)

    def _form(self, form: BookForm, back: Act) -> None:
        def save() -> None:
            form.save()
            self.flow.kit.devices.vibration.tap()
            self.flow.kit.reminders.check()
            back()

        photos = form.kept_as if isinstance(form, Visit) else None
        self.flow.show_page(
            partial(desk_pages.form_page, self.flow, form, save, back, photos_for=photos)
        )
