"""One record by its root: found, with what corrects it or is written beside it."""

from __future__ import annotations

from typing import Any

from fieldapp.book import Entry
from fieldapp.journal.corrections import version
from fieldapp.journal.record import Draft, Record
from fieldapp.rounds.errors import RoundsError
from fieldapp.rounds.notebook import Notebook
from fieldapp.words import say


class Gone(RoundsError, LookupError):
    """A record that this phone does not hold."""

    def __init__(self) -> None:
        super().__init__(say("This record is not here any more. Go back and open the page anew."))


def entry_of(notebook: Notebook, root: str) -> Entry:
    """Return a record with what was made of it. Raises `Gone` where it is not here."""
    entry = notebook.book.entry(root)
    if entry is None:
        raise Gone
    return entry


def heads_of(entry: Entry) -> tuple[str, ...]:
    """Return the corrections that one made now replaces."""
    return version(entry.root, entry.corrections).head_ids if entry.corrections else ()


def correction_of(entry: Entry, held: Record, body: Any, *, void: bool) -> Draft:
    """Return the correction that has a record say `body` as `held` has all else."""
    return Draft(
        entry.root.kind,
        held.happened,
        held.keeper,
        dict(body),
        apiary=held.apiary,
        hive=held.hive,
        colony=held.colony,
        corrects=entry.root.id,
        heads=heads_of(entry),
        void=void,
        adds_to=entry.root.adds_to,
    )


def note_on(notebook: Notebook, entry: Entry, words: str) -> Draft:
    """Return words beside a record, as they are written now."""
    held = entry.holds
    return Draft(
        "note",
        notebook.moment(held.apiary),
        notebook.keeper or held.keeper,
        {"words": words},
        apiary=held.apiary,
        hive=held.hive,
        adds_to=entry.root.id,
    )
