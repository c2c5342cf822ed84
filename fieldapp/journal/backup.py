"""A backup: the whole journal in one file, checked on reading.

The file is a ZIP archive of the journal as text (`exchange`) and a manifest that says the hash
of its vector. The marker file is never in it, so whoever restores it begins a new writer.
"""

from __future__ import annotations

import errno
import json
import os
import zipfile
import zlib
from collections.abc import Callable
from pathlib import Path
from typing import BinaryIO, Final, NamedTuple, cast

from fieldapp.journal import holes
from fieldapp.journal.errors import Full, JournalError, NotAJournal, ReadOnly, TooNew
from fieldapp.journal.exchange import Fault, export_lines, import_lines
from fieldapp.journal.ids import Entropy
from fieldapp.journal.store import Journal
from fieldapp.words import say

VERSION: Final = 1
_KEY: Final = "apiary-rounds-backup"
_MANIFEST: Final = "manifest.json"
_JOURNAL: Final = "journal.jsonl"


class BackupDamaged(JournalError, ValueError):
    """A backup of which not everything can be read."""

    def __init__(self, path: str) -> None:
        super().__init__(
            say(
                "{path} is damaged: not all of it can be read. Use another backup if there is "
                "one; else restore it all the same, and the next sync brings the rest.",
                path=path,
            )
        )


class Exists(JournalError, FileExistsError):
    """A journal stands where one should be restored."""

    def __init__(self, path: str) -> None:
        super().__init__(
            say("{path} is there already. Nothing was changed. Move it away first.", path=path)
        )


class Manifest(NamedTuple):
    """What a backup says of itself: the hash of its vector, its lines, when it was made."""

    vector: str
    lines: int
    made_ms: int


class Restored(NamedTuple):
    """A journal made from a backup; `whole` where it holds all that the backup was made of."""

    journal: Journal
    whole: bool
    faults: tuple[Fault, ...]


def backup(journal: Journal, target: Path) -> Manifest:
    """Write the whole journal to `target`, read it back, and return what it holds.

    What stood at `target` stays until the new file is whole and on the disk.

    :raises Full: where the disk has no room.
    """
    holes.verify(journal)
    draft = target.with_name(target.name + ".new")
    try:
        with zipfile.ZipFile(draft, "w", zipfile.ZIP_DEFLATED, compresslevel=1) as archive:
            hash = journal.vector().hash().hex()
            with archive.open(_JOURNAL, "w", force_zip64=True) as file:
                lines = export_lines(journal, cast(BinaryIO, file))
            manifest = Manifest(hash, lines, journal.now_ms())
            archive.writestr(_MANIFEST, json.dumps({_KEY: VERSION, **manifest._asdict()}))
        with draft.open("rb") as written:
            os.fsync(written.fileno())
        check(draft)
        draft.replace(target)
    except OSError as error:
        raise (Full() if error.errno == errno.ENOSPC else ReadOnly(str(target))) from error
    finally:
        draft.unlink(missing_ok=True)
    return manifest


def check(source: Path) -> Manifest:
    """Read a backup to its end and return its manifest.

    :raises BackupDamaged: where something cannot be read.
    :raises NotAJournal: where the file is something else.
    :raises TooNew: where a later version of this program wrote it.
    """
    try:
        with zipfile.ZipFile(source) as archive:
            manifest = _manifest(archive, source)
            if archive.testzip() is not None:
                raise BackupDamaged(str(source))
    except (zipfile.BadZipFile, zlib.error, EOFError) as error:
        raise BackupDamaged(str(source)) from error
    return manifest


def _manifest(archive: zipfile.ZipFile, source: Path) -> Manifest:
    try:
        value = json.loads(archive.read(_MANIFEST))
        if value[_KEY] > VERSION:
            raise TooNew(str(source))
        return Manifest(*(value[name] for name in Manifest._fields))
    except (KeyError, TypeError) as error:
        raise NotAJournal(str(source)) from error


def restore(source: Path, path: Path, *, now_ms: Callable[[], int], entropy: Entropy) -> Restored:
    """Make a journal at `path` from the backup `source`; a new writer begins.

    From a damaged backup all that can be read is taken; `whole` and `faults` tell.

    :raises Exists: where a journal stands at `path`.
    :raises NotAJournal: where `source` is something else.
    :raises TooNew: where a later version of this program wrote it.
    """
    if path.exists():
        raise Exists(str(path))
    if not zipfile.is_zipfile(source):
        raise NotAJournal(str(source))
    with zipfile.ZipFile(source) as archive:
        manifest = _manifest(archive, source)
        journal = Journal.open(path, now_ms=now_ms, entropy=entropy, new_writer=True)
        faults: tuple[Fault, ...] = ()
        try:
            with archive.open(_JOURNAL) as file:
                faults = import_lines(journal, cast(BinaryIO, file), str(source)).faults
        except (zipfile.BadZipFile, zlib.error, EOFError):
            faults = (Fault(0, 0, BackupDamaged(str(source)).phrase),)
        except BaseException:
            journal.close()
            raise
    whole = not faults and journal.vector().hash().hex() == manifest.vector
    return Restored(journal, whole, faults)


def bring_in(source: Path, journal: Journal) -> tuple[Fault, ...]:
    """Take the records of a backup into a journal that stands, like a sync by file.

    What is held already is not doubled, and nothing is replaced. Returns what was not taken.

    :raises BackupDamaged: where not all of the file can be read; then nothing was taken.
    :raises NotAJournal: where the file is something else.
    :raises TooNew: where a later version of this program wrote it.
    """
    check(source)
    with zipfile.ZipFile(source) as archive, archive.open(_JOURNAL) as file:
        return import_lines(journal, cast(BinaryIO, file), str(source)).faults
