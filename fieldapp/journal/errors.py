"""What can go wrong with a journal, each in words that say what to do."""

from __future__ import annotations

import sqlite3

from fieldapp.journal.called import field_called, kind_called
from fieldapp.words import Phrase, say
from fieldapp.words.speech import Speech


class JournalError(Exception):
    """Root of this package's errors. `phrase` says what was wrong and what to do."""

    def __init__(self, phrase: Phrase) -> None:
        super().__init__(Speech()(phrase))
        self.phrase = phrase


class Unwritable(JournalError, ValueError):
    """A draft whose field does not fit. `field` names it, `expected` what would fit."""

    def __init__(self, kind: str, field: str, expected: Phrase) -> None:
        super().__init__(
            say(
                "Not saved: in {kind}, {field} must be {expected}.",
                kind=kind_called(kind),
                field=field_called(field, kind),
                expected=expected,
            )
        )
        self.field = field
        self.expected = expected


class TooLarge(JournalError, ValueError):
    """A record over the size that every replica takes."""

    def __init__(self, kind: str, size: int, most: int) -> None:
        super().__init__(
            say(
                "Not saved: {kind} would take {size} bytes and {most} is the most. "
                "Write less in words, or save it in two.",
                kind=kind,
                size=size,
                most=most,
            )
        )


class Full(JournalError, OSError):
    """No room on the disk. Everything saved before is still there."""

    def __init__(self) -> None:
        super().__init__(
            say(
                "Not saved: there is no room left on this device. What was saved before is safe. "
                "Make room (photos, other apps), then try again."
            )
        )


class ReadOnly(JournalError, OSError):
    """The journal's file or folder cannot be written."""

    def __init__(self, path: str) -> None:
        super().__init__(
            say(
                "Not saved: {path} cannot be written. What was saved before is safe. "
                "Give this program the right to write there, then try again.",
                path=path,
            )
        )


class DiskFailed(JournalError, OSError):
    """The disk reports a fault of its own."""

    def __init__(self, path: str) -> None:
        super().__init__(
            say(
                "Not saved: the disk under {path} reports a fault. What was saved before is "
                "still there. Make a backup on another disk, then try again.",
                path=path,
            )
        )


class Busy(JournalError, TimeoutError):
    """Another program holds the journal."""

    def __init__(self, path: str) -> None:
        super().__init__(
            say(
                "Not saved: another program is using {path}. Close it, then try again.",
                path=path,
            )
        )


class Damaged(JournalError):
    """The file itself is damaged. `recovery.open_or_recover` saves what can be saved."""

    def __init__(self, path: str, detail: str) -> None:
        super().__init__(
            say(
                "{path} is damaged ({detail}). Start again: what can be read is saved into a new "
                "journal, the damaged file is kept beside it, and the next sync brings the rest.",
                path=path,
                detail=detail,
            )
        )


class NotAJournal(JournalError, ValueError):
    """A file that is something else."""

    def __init__(self, path: str) -> None:
        super().__init__(
            say("{path} is not a journal of Apiary Rounds. Nothing was changed.", path=path)
        )


class TooNew(JournalError, ValueError):
    """A file of a later version of this program."""

    def __init__(self, path: str) -> None:
        super().__init__(
            say(
                "{path} was written by a newer version of Apiary Rounds. Nothing was changed. "
                "Bring this program up to date, then open it again.",
                path=path,
            )
        )


def translated(error: sqlite3.Error, path: str) -> Exception:
    """Return SQLite's `error` as one of this package, or as it is where none fits."""
    text = str(error)
    if "full" in text:
        return Full()
    if "readonly" in text or "read-only" in text or "unable to open" in text:
        return ReadOnly(path)
    if "locked" in text:
        return Busy(path)
    if "not a database" in text or "malformed" in text:
        return Damaged(path, text)
    if "disk I/O error" in text:
        return DiskFailed(path)
    return error
