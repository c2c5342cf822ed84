"""Files that records name (photos, voice notes), kept beside the journal by their SHA-256.

A file is its digest: the same bytes are kept once, and whoever reads one is given the bytes that
the record named or is told that they are not here.
"""

from __future__ import annotations

import errno
import hashlib
import os
import re
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path
from typing import Final

from fieldapp.journal.errors import DiskFailed, Full, JournalError, ReadOnly
from fieldapp.words import say

#: The folder of files beside a journal.
FOLDER: Final = "annexes"
#: Bytes that one file may have. A photo as it is kept here has less than a tenth of that.
MOST: Final = 16 * 2**20
#: Ends the names of what is no file: bytes that were altered, and a part of one that arrives.
ALTERED: Final = ".altered"
PART: Final = ".part"
_DIGEST = re.compile("[0-9a-f]{64}")


class FileAway(JournalError, LookupError):
    """A file that a record names and that is not on this device."""

    def __init__(self) -> None:
        super().__init__(
            say(
                "The file is not on this device. The record that names it is; a sync brings the "
                "file from where it is, and so does a backup made there."
            )
        )


class FileAltered(JournalError, ValueError):
    """A file whose bytes are no longer those that its record named."""

    def __init__(self, path: str) -> None:
        super().__init__(
            say(
                "{path} was altered or damaged behind this program: it is not shown. "
                "The record that names it is whole.",
                path=path,
            )
        )


class FileTooLarge(JournalError, ValueError):
    """A file over the size that is kept."""

    def __init__(self, size: int) -> None:
        super().__init__(
            say(
                "Not saved: the file has {size} bytes, and {most} is the most. Nothing was lost.",
                size=size,
                most=MOST,
            )
        )


class FileStays(JournalError, OSError):
    """A file that the disk does not let go."""

    def __init__(self, path: str) -> None:
        super().__init__(
            say(
                "{path} could not be deleted. No record names it any more: delete it by hand, or "
                "give this program the right to write there and sync again.",
                path=path,
            )
        )


class Files:
    """The files in `folder`, which is made when the first is put."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder

    def put(self, data: bytes) -> str:
        """Keep `data` and return its SHA-256 (64 hex digits); it is on the disk after that.

        :raises FileTooLarge: over `MOST` bytes.
        :raises Full: where the disk has no room; `ReadOnly` and `DiskFailed` as the disk says.
        """
        if len(data) > MOST:
            raise FileTooLarge(len(data))
        digest = hashlib.sha256(data).hexdigest()
        if self._whole(digest) is None:
            self._write(self.path(digest), data)
        return digest

    def read(self, digest: str) -> bytes:
        """Return the bytes with this SHA-256.

        :raises FileAway: where they are not here.
        :raises FileAltered: where what is here is something else. It is set aside, beside the
            others, so that a sync may bring the right bytes.
        """
        path = self.path(digest)
        try:
            data = self._whole(digest)
        except OSError as error:
            raise DiskFailed(str(path)) from error
        if data is None and path.exists():
            with suppress(OSError):
                path.replace(path.with_name(path.name + ALTERED))
            raise FileAltered(str(path))
        if data is None:
            raise FileAway
        return data

    def holds(self, digest: str) -> bool:
        """Whether there is a file of this SHA-256; its bytes are not looked at."""
        return self.path(digest).is_file()

    def remove(self, digest: str) -> None:
        """Remove the file with this SHA-256, if it is here; whoever names it does so no longer.

        What arrived of it, and what it became when it was altered, goes too: it may show somebody.

        :raises FileStays: where the disk lets nothing be removed.
        """
        path = self.path(digest)
        try:
            for each in (path, *(path.with_name(path.name + end) for end in (ALTERED, PART))):
                each.unlink(missing_ok=True)
        except OSError as error:
            raise FileStays(str(path)) from error

    def path(self, digest: str) -> Path:
        """Return where the file with this SHA-256 is, or would be.

        :raises ValueError: for what is no SHA-256 in lowercase hex digits.
        """
        if not _DIGEST.fullmatch(digest):
            raise ValueError(f"no SHA-256: {digest!r}")
        return self.folder / digest

    def digests(self) -> Iterator[str]:
        """Yield the SHA-256 of each file that is here, in order."""
        if self.folder.is_dir():
            yield from sorted(
                path.name for path in self.folder.iterdir() if _DIGEST.fullmatch(path.name)
            )

    def hash(self) -> str:
        """Return the SHA-256 of all that is here, by which two sides find that both hold the same.

        It is that of the digests in order, 64 hex digits each; bytes are not looked at.
        """
        return hashlib.sha256("".join(self.digests()).encode()).hexdigest()

    def _whole(self, digest: str) -> bytes | None:
        """Return the bytes, None where they are missing or others."""
        try:
            with self.path(digest).open("rb") as file:
                data = file.read(MOST + 1)
        except FileNotFoundError:
            return None
        return data if hashlib.sha256(data).hexdigest() == digest else None

    def _write(self, path: Path, data: bytes) -> None:
        draft = path.with_name(path.name + ".new")
        try:
            self.folder.mkdir(parents=True, exist_ok=True)
            with draft.open("wb") as file:
                file.write(data)
                file.flush()
                os.fsync(file.fileno())
            draft.replace(path)
            sync_folder(self.folder)
        except OSError as error:
            draft.unlink(missing_ok=True)
            raise (Full() if error.errno == errno.ENOSPC else ReadOnly(str(path))) from error


def sync_folder(folder: Path) -> None:
    """Have the names in `folder` on the disk: a file's name is only when its folder is."""
    opened = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(opened)
    finally:
        os.close(opened)
