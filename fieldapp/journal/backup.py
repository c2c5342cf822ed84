"""A backup: the whole journal in one file, checked on reading.

The file is a ZIP archive of the journal as text (`exchange`), the files that its records name
(`files`, each under its SHA-256), and a manifest that says the hash of its vector. The marker file
is never in it, so whoever restores it begins a new writer.
"""

from __future__ import annotations

import errno
import json
import os
import re
import zipfile
import zlib
from collections.abc import Callable
from hashlib import sha256
from pathlib import Path
from typing import BinaryIO, Final, NamedTuple, cast

from fieldapp.journal import holes
from fieldapp.journal.errors import Full, JournalError, NotAJournal, ReadOnly, TooNew
from fieldapp.journal.exchange import Fault, export_lines, import_lines
from fieldapp.journal.files import MOST, FileAltered, FileAway, Files
from fieldapp.journal.ids import Entropy
from fieldapp.journal.named_files import named_files
from fieldapp.journal.store import Journal
from fieldapp.words import say

VERSION: Final = 1
_KEY: Final = "apiary-rounds-backup"
_MANIFEST: Final = "manifest.json"
_JOURNAL: Final = "journal.jsonl"
_FILE: Final = re.compile("files/([0-9a-f]{64})")


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
    """What a backup says of itself: the hash of its vector, its lines, when it was made.

    `files` are in it; `away` more are named by its records and were not there when it was made.
    """

    vector: str
    lines: int
    made_ms: int
    files: int = 0
    away: int = 0


class Restored(NamedTuple):
    """A journal made from a backup; `whole` where it holds all that the backup was made of."""

    journal: Journal
    whole: bool
    faults: tuple[Fault, ...]
    files: int = 0


class Brought(NamedTuple):
    """What a backup brought into a journal that stands: files new here, and what was not taken."""

    files: int
    faults: tuple[Fault, ...]


def backup(journal: Journal, target: Path, files: Files | None = None) -> Manifest:
    """Write the whole journal to `target`, read it back, and return what it holds.

    `files` are those beside the journal: the ones that its records name go along.
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
            there, away = _put_files(archive, journal, files) if files else (0, 0)
            manifest = Manifest(hash, lines, journal.now_ms(), there, away)
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


def _put_files(archive: zipfile.ZipFile, journal: Journal, files: Files) -> tuple[int, int]:
    """Put the files that records name into `archive`; return how many, and how many are away."""
    there = away = 0
    for digest in sorted(named_files(journal).standing):
        try:
            data = files.read(digest)
        except (FileAway, FileAltered):
            away += 1
        else:
            # Photos are packed as they are; packing them again gains nothing.
            archive.writestr(f"files/{digest}", data, zipfile.ZIP_STORED)
            there += 1
    return there, away


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
        # The first backups had no files, and said nothing of any.
        said = {**Manifest._field_defaults, **value}
        return Manifest(*(said[name] for name in Manifest._fields))
    except (KeyError, TypeError) as error:
        raise NotAJournal(str(source)) from error


def restore(
    source: Path,
    path: Path,
    *,
    now_ms: Callable[[], int],
    entropy: Entropy,
    files: Files | None = None,
) -> Restored:
    """Make a journal at `path` from the backup `source`; a new writer begins.

    `files` take in those that the backup holds.
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
        brought = 0
        try:
            try:
                with archive.open(_JOURNAL) as file:
                    faults = import_lines(journal, cast(BinaryIO, file), str(source)).faults
            except (zipfile.BadZipFile, zlib.error, EOFError):
                faults = (Fault(0, 0, BackupDamaged(str(source)).phrase),)
            if files is not None:
                brought, more = _take_files(archive, files)
                faults += more
        except BaseException:
            journal.close()
            raise
    whole = not faults and journal.vector().hash().hex() == manifest.vector
    return Restored(journal, whole, faults, brought)


def _take_files(archive: zipfile.ZipFile, files: Files) -> tuple[int, tuple[Fault, ...]]:
    """Take the files of `archive` in; return how many are new here, and what was damaged."""
    new = 0
    faults: list[Fault] = []
    for entry in archive.infolist():
        named = _FILE.fullmatch(entry.filename)
        if not named:
            continue
        try:
            data = archive.read(entry) if entry.file_size <= MOST else b""
        except (zipfile.BadZipFile, zlib.error, EOFError):
            data = b""
        if sha256(data).hexdigest() != named[1]:
            why = say("A photo or voice note in this backup is damaged: {name}", name=named[1])
            faults.append(Fault(0, 0, why))
        elif not files.holds(named[1]):
            files.put(data)
            new += 1
    return new, tuple(faults)


def bring_in(source: Path, journal: Journal, files: Files | None = None) -> Brought:
    """Take a backup into a journal that stands, and into the `files` beside it: a sync by file.

    What is held already is not doubled, and nothing is replaced.

    :raises BackupDamaged: where not all of the file can be read; then nothing was taken.
    :raises NotAJournal: where the file is something else.
    :raises TooNew: where a later version of this program wrote it.
    """
    check(source)
    with zipfile.ZipFile(source) as archive:
        with archive.open(_JOURNAL) as file:
            faults = import_lines(journal, cast(BinaryIO, file), str(source)).faults
        new, more = _take_files(archive, files) if files is not None else (0, ())
    return Brought(new, faults + more)
