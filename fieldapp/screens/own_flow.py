"""The way through an own treatment: one question after the other, then what came of it."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING

from fieldapp.rounds.own_treatment import Beside, OwnTreatment
from fieldapp.screens import desk_pages, own_pages
from fieldapp.screens.desk_pages import Way
from fieldapp.screens.keys import Act
from fieldapp.words import Phrase

if TYPE_CHECKING:
    from fieldapp.screens.flow import Flow

#: Is called with the identity of what was written down.
Done = Callable[[str], None]
#: Is called with the question that follows, None where none does.
GoesOn = Callable[[str | None], None]


class OwnFlow:
    """Shows these pages; `flow` shows all others."""

    def __init__(self, flow: Flow) -> None:
        self.flow = flow

    def all(self, back: Act) -> None:
        """Show the own treatments."""
        self.flow.show_page(lambda: own_pages.list_page(self, back))

    def new(self, done: Done, back: Act) -> None:
        """Ask for a new one, from where the keeper was."""
        kit = self.flow.kit
        self._begin(OwnTreatment(kit.notebook, speak=kit.speech), done, back)

    def put_right(self, identity: str, back: Act) -> None:
        """Show what is known of one, to be changed."""
        own = OwnTreatment(self.flow.kit.notebook, identity)
        self.summary(own, partial(self._save, own, lambda _: back()), back)

    def summary(self, own: OwnTreatment, save: Act, back: Act) -> None:
        """Show what is known and what is missing."""
        self.flow.show_page(lambda: own_pages.summary_page(self, own, save, back))

    def change(self, own: OwnTreatment, name: str, again: Act) -> None:
        """Ask one question anew, and what follows from its answer."""
        key = name.partition(".")[0]

        def go_on(following: str | None) -> None:
            own.go_to(None)
            if following is not None and following.startswith(f"{key}."):
                self._ask(own, following, go_on, again)
            else:
                again()

        self._ask(own, name, go_on, again)

    def _begin(self, own: OwnTreatment, done: Done, back: Act) -> None:
        save = partial(self._save, own, done)

        def go_on(name: str | None) -> None:
            if name is None:
                self.summary(own, save, back)
            else:
                before = own.before(name)
                self._ask(own, name, go_on, back if before is None else partial(go_back, before))

        def go_back(name: str) -> None:
            own.go_to(name)
            go_on(name)

        go_on(own.at)

    def _ask(self, own: OwnTreatment, name: str, go_on: GoesOn, back: Act) -> None:
        """Ask one question; `go_on` is called with the one that follows."""
        question = own.question(name)
        if question is None:
            go_on(None)
            return

        def taken() -> None:
            if not question.needed or name in own.values:
                go_on(own.after(name))

        def shown(beside: Beside) -> tuple[Phrase, Act]:
            def chosen() -> None:
                if not beside.ends:
                    own.take(name, beside.kept)
                go_on(own.after(name, key_over=beside.ends))

            return beside.words, chosen

        besides = tuple(shown(beside) for beside in own.besides(question))
        desk_pages.ask_on(self.flow, own, question, Way(taken, back, besides))

    def _save(self, own: OwnTreatment, done: Done) -> None:
        identity = own.save()
        self.flow.kit.devices.vibration.tap()
        done(identity)
