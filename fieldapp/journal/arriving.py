"""Files on their way here, piece by piece: what came stays, and the whole is held to its digest."""

from __future__ import annotations

import errno
import os
import threading
from hashlib import sha256
from pathlib import Path
from typing import NamedTuple

from fieldapp.journal.errors import Full, ReadOnly
from fieldapp.journal.files import MOST, PART, FileAltered, Files, FileTooLarge, sync_folder


class Here(NamedTuple):
    """How much of a file is here: `whole` or not, and so many bytes from its beginning."""

    whole: bool
    bytes: int


class Arriving:
    """Takes pieces for `files`. Any thread may call; pieces are put down one at a time."""

    def __init__(self, files: Files) -> None:
        self.files = files
        self._lock = threading.Lock()

    def here(self, digest: str) -> Here:
        """Return how much of the file with this SHA-256 is here; its bytes are not looked at."""
        for path, whole in ((self.files.path(digest), True), (self._part(digest), False)):
            try:
                return Here(whole, path.stat().st_size)
            except FileNotFoundError:
                continue
        return Here(False, 0)

    def add(self, digest: str, at: int, piece: bytes, of: int) -> Here:
        """Put down a piece that begins at byte `at` of the file's `of`; return what is here then.

        A piece that begins elsewhere than where the last one ended is not taken: the answer
        says where to go on. The last one makes the file, if all of it has this SHA-256.

        :raises FileAltered: where it has another; all pieces are dropped then.
        :raises FileTooLarge: over `files.MOST` bytes.
        :raises Full: where the disk has no room; what came before stays.
        """
        if of > MOST:
            raise FileTooLarge(of)
        with self._lock:
            here = self.here(digest)
            if here.whole or here.bytes != at:
                return here
            part = self._part(digest)
            if at + len(piece) > of:
                part.unlink(missing_ok=True)
                raise FileAltered(str(part))
            self._put(part, at, piece)
            if at + len(piece) == of:
                self._finish(digest, part)
            return self.here(digest)

    def _put(self, part: Path, at: int, piece: bytes) -> None:
        try:
            self.files.folder.mkdir(parents=True, exist_ok=True)
            with part.open("ab") as file:
                try:
                    file.write(piece)
                    file.flush()
                except OSError:
                    os.truncate(part, at)
                    raise
        except OSError as error:
            raise (Full() if error.errno == errno.ENOSPC else ReadOnly(str(part))) from error

    def _finish(self, digest: str, part: Path) -> None:
        with part.open("rb") as file:
            whole = sha256(file.read()).hexdigest() == digest
            if whole:
                os.fsync(file.fileno())
        if not whole:
            part.unlink()
            raise FileAltered(str(part))
        part.replace(self.files.path(digest))
        sync_folder(self.files.folder)

    def _part(self, digest: str) -> Path:
        path = self.files.path(digest)
        return path.with_name(path.name + PART)
