"""The way through what happened to hives: what, which other hive, what follows, written down."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from fieldapp.rounds.desk_form import Written
from fieldapp.rounds.happening.choosing import DayOver, Marks, OneHive, Question, SomeHives
from fieldapp.rounds.happening.happening import Happening
from fieldapp.rounds.happening.moving import Moved
from fieldapp.rounds.happening.ways import Makes
from fieldapp.screens import desk_pages, happen_pages, look_pages
from fieldapp.screens.keys import Act
from fieldapp.words import say

if TYPE_CHECKING:
    from fieldapp.screens.flow import Flow


class HappenFlow:
    """Shows these pages; `flow` shows all others."""

    def __init__(self, flow: Flow) -> None:
        self.flow = flow

    def what(self, hive: str, back: Act) -> None:
        """Ask what happened to a hive."""
        self.flow.show_page(lambda: happen_pages.what_page(self, hive, back))

    def begin(self, make: Makes, hive: str, back: Act) -> None:
        """Ask what a form wants to know of a hive."""
        form = make(self.flow.kit.notebook, hive)
        form.settle()
        self.enter(form, back)

    def move(self, apiary: str, hive: str, back: Act) -> None:
        """Ask where a hive is moved, or which hives of an apiary."""
        form = Moved(self.flow.kit.notebook, apiary, hive)
        form.settle()
        self.enter(form, back)

    def emptied(self, hive: str, back: Act) -> None:
        """Show the exposed supers of a hive, to be emptied."""
        self.flow.harvests.exposed(back, hive)

    def enter(self, form: Happening, back: Act) -> None:
        """Ask what is asked first; then show all that is asked. A standstill stands before it."""
        if form.blocked is not None and not form.despite:
            self.stop(form, back, partial(self.enter, form, back))
            return
        question = form.open_first
        if question is None:
            self.form(form, back)
            return
        # Going back from what is asked first leads to all that is asked, never round and round.
        onward = partial(self.enter, form, back)
        self.ask(form, question, onward, partial(self.form, form, back))

    def form(self, form: Happening, back: Act) -> None:
        """Show all that is asked, with what was answered."""
        self.flow.show_page(
            lambda: look_pages.form_page(
                self.flow,
                form,
                partial(self.follows, form, back),
                back,
                act_words=say("What follows"),
                asks=lambda question, again: self.ask(form, question, again, again),
            )
        )

    def ask(self, form: Happening, question: Question, done: Act, back: Act) -> None:
        """Ask one question; an answer leads to `done`."""
        flow = self.flow
        if isinstance(question, OneHive):
            flow.show_page(lambda: happen_pages.one_page(self, form, question, done, back))
        elif isinstance(question, SomeHives | Marks):
            flow.show_page(lambda: happen_pages.some_page(self, form, question, done, back))
        elif isinstance(question, DayOver):
            flow.show_page(lambda: happen_pages.day_page(self, form, question, done, back))
        elif isinstance(question, Written):
            desk_pages.ask_on(flow, form, question, desk_pages.Way(done, back))
        else:
            flow.show_page(lambda: look_pages.question_page(flow, form, question, done, back=back))

    def follows(self, form: Happening, back: Act) -> None:
        """Show what follows, and the key that writes it down."""
        again = partial(self.form, form, back)
        if form.blocked is not None and not form.despite:
            self.stop(form, again, partial(self.follows, form, back))
            return
        self.flow.show_page(lambda: happen_pages.follows_page(self, form, again, back))

    def stop(self, form: Happening, back: Act, go_on: Act) -> None:
        """Say that a standstill blocks it; `go_on` where it was done all the same, or lifted."""
        self.flow.show_page(lambda: happen_pages.stop_page(self, form, back, go_on))

    def save(self, form: Happening, back: Act) -> None:
        """Write it down, and say so."""
        told = form.save()
        self.flow.call_out(told)
        self.flow.kit.reminders.check()
        self.flow.show_page(lambda: happen_pages.done_page(self, form, told, back))

    def undo(self, form: Happening, back: Act) -> None:
        """Take it back, and say so."""
        told = form.undo()
        self.flow.kit.devices.vibration.undo()
        self.flow.show_page(lambda: happen_pages.undone_page(self, told, back))
