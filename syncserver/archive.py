"""Backup and restore of a whole server: one ZIP file, checked when it is written and read.

It holds the store, the certificate with its key, and each operation's journal and files as a
backup of its own (`fieldapp.journal.backup`). With the key restored, phones need no new pairing.
"""

from __future__ import annotations

import json
import os
import re
import shutil
import tempfile
import zipfile
import zlib
from pathlib import Path
from typing import Final

from sqlite_utils import Database

from fieldapp.journal import backup as journal_backup
from fieldapp.journal.files import Files
from fieldapp.journal.store import Journal
from syncserver.bootstrap import MACHINE, Parts
from syncserver.errors import ServerError
from syncserver.folder import DataFolder

VERSION: Final = 1
_KEY: Final = "apiary-rounds-server-backup"
_MANIFEST: Final = "manifest.json"
_FILES: Final = ("server.sqlite", "certificate.pem", "key.pem")
_OPERATION: Final = re.compile("[0-9a-f]{32}")


def write_archive(parts: Parts, target: Path) -> int:
    """Write everything to `target` and read it back; return how many records it holds.

    What stood at `target` stays until the new file is whole and on the disk. The server may
    run meanwhile: each file is copied as it was at one moment.
    """
    draft = target.with_name(target.name + ".new")
    try:
        with tempfile.TemporaryDirectory(dir=parts.folder.path, prefix="backup-") as room:
            operations = [one.id for one in parts.store.operations()]
            with (
                os.fdopen(os.open(draft, os.O_RDWR | os.O_CREAT | os.O_TRUNC, 0o600), "w+b") as raw,
                zipfile.ZipFile(raw, "w") as archive,
            ):
                parts.store.copy_to(str(Path(room) / "server.sqlite"))
                archive.write(Path(room) / "server.sqlite", "server.sqlite")
                archive.write(parts.folder.certificate, "certificate.pem")
                archive.write(parts.folder.key, "key.pem")
                records = 0
                for operation in operations:
                    saved = Path(room) / f"{operation}.zip"
                    records += _save_journal(parts.folder, operation, saved)
                    archive.write(saved, f"journals/{operation}.zip")
                manifest = {_KEY: VERSION, "operations": operations, "records": records}
                archive.writestr(_MANIFEST, json.dumps(manifest))
            check(draft)
        draft.replace(target)
    except OSError as wrong:
        raise ServerError(
            f"The backup could not be written to {target}: {wrong.strerror or wrong}.",
            "Nothing was changed; choose another place.",
        ) from wrong
    finally:
        draft.unlink(missing_ok=True)
    return records


def read_archive(source: Path, folder: DataFolder) -> int:
    """Bring an archive back into an empty data folder; return how many records it holds."""
    if folder.store.exists() or folder.key.exists():
        raise ServerError(
            f"There is a server in {folder.path} already. Nothing was changed.",
            "Name an empty folder with --data.",
        )
    operations = check(source)
    records = 0
    with (
        tempfile.TemporaryDirectory(dir=folder.path, prefix="restore-") as room,
        zipfile.ZipFile(source) as archive,
    ):
        for operation in operations:
            saved = Path(room) / f"{operation}.zip"
            with archive.open(f"journals/{operation}.zip") as inside, saved.open("wb") as outside:
                shutil.copyfileobj(inside, outside)
            records += _restore_journal(saved, folder, operation)
        # The store comes last: only with it is there a server in this folder.
        for name in reversed(_FILES):
            _put(folder.path / name, archive.read(name))
    return records


def check(source: Path) -> list[str]:
    """Read an archive to its end and return the operations in it.

    :raises ServerError: where it is something else, damaged, or of a newer version.
    """
    try:
        with zipfile.ZipFile(source) as archive:
            manifest = json.loads(archive.read(_MANIFEST))
            version, operations = manifest[_KEY], manifest["operations"]
            damaged = archive.testzip() is not None or set(_FILES) - set(archive.namelist())
    except (zipfile.BadZipFile, zlib.error, EOFError, KeyError, TypeError, ValueError) as wrong:
        raise ServerError(
            f"{source} is no backup of this server, or is damaged.", "Use another backup."
        ) from wrong
    if version > VERSION:
        raise ServerError(
            f"{source} was written by a newer version of this program.", "Bring it up to date."
        )
    if damaged or not all(_OPERATION.fullmatch(operation) for operation in operations):
        raise ServerError(f"{source} is damaged.", "Use another backup.")
    return list(operations)


def _save_journal(folder: DataFolder, operation: str, target: Path) -> int:
    """Back up a copy of a journal: the running server's own file is only read."""
    path = folder.journal(operation)
    copy = target.with_suffix(".sqlite")
    if path.exists():
        with Database(path, execute_plugins=False) as live:
            live.execute("VACUUM INTO ?", (str(copy),))
    with Journal.open(copy, now_ms=MACHINE.ms, entropy=os.urandom) as journal:
        journal_backup.backup(journal, target, Files(folder.files(operation)))
        return journal.count()


def _restore_journal(saved: Path, folder: DataFolder, operation: str) -> int:
    restored = journal_backup.restore(
        saved,
        folder.journal(operation),
        now_ms=MACHINE.ms,
        entropy=os.urandom,
        files=Files(folder.files(operation)),
    )
    with restored.journal as journal:
        return journal.count()


def _put(path: Path, data: bytes) -> None:
    with os.fdopen(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "wb") as file:
        file.write(data)
        file.flush()
        os.fsync(file.fileno())
