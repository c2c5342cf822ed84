"""A photo taken back: its record is voided and stays, its file goes where nothing else names it.

Whoever took a photo may have it gone, as where a person is on it; that it stood there remains told.
"""

from __future__ import annotations

from collections.abc import Set as AbstractSet

from fieldapp.journal.files import Files
from fieldapp.journal.named_files import named_files
from fieldapp.journal.record import Draft
from fieldapp.journal.store import Journal
from fieldapp.rounds.notebook import Notebook
from fieldapp.rounds.one_record import correction_of, entry_of


def voids(notebook: Notebook, root: str, digest: str) -> list[Draft]:
    """Return what takes back the photo with this SHA-256 beside the record `root`."""
    return [
        correction_of(photo, photo.holds, photo.holds.body, void=True)
        for annex in entry_of(notebook, root).annexes
        if annex.kind == "photo" and annex.body["sha256"] == digest
        for photo in [entry_of(notebook, annex.id)]
    ]


def remove_files(
    journal: Journal, files: Files, also: str | None, *, keep: AbstractSet[str]
) -> None:
    """Remove the files that only records name which were taken back, and `also` where none does.

    Those of `keep` stay. It looks at every record: not for the screen's thread.

    :raises FileStays: where the disk lets nothing be removed.
    """
    named = named_files(journal)
    gone = (named.taken_back | ({also} if also else set())) - named.standing - keep
    for digest in sorted(gone):
        files.remove(digest)
