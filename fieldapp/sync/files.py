"""Photos and other files that records name: sent and fetched once both sides hold the same records.

A file is named by its SHA-256, so each side asks for what it lacks and believes the bytes alone.
What came in pieces stays; what is on neither side is told in number and is no error.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Final

from fieldapp.journal.arriving import Arriving, Here
from fieldapp.journal.errors import JournalError
from fieldapp.journal.files import FileAltered, FileAway, Files
from fieldapp.journal.named_files import named_files
from fieldapp.journal.store import Journal
from fieldapp.sync.client import Client
from fieldapp.sync.errors import Cancelled, Garbled, NotThere, Refused, SyncError
from fieldapp.sync.outcome import Exchanged, Progress
from fieldapp.sync.wording import files_cut_off, files_told, working_on_files
from fieldapp.wire import limits
from fieldapp.words import Phrase

_ATTEMPTS: Final = 4
_PAUSE_SECONDS: Final = 0.5
#: An answer of the server's by which a file did not arrive as its record names it.
_ALTERED: Final = "altered"
#: What the server answers where it lost a file, or never had one.
_AWAY: Final = "no_file"


class FileExchange:
    """The exchange of the files beside `journal` with the server.

    `before` is called before each request and may raise to stop.
    """

    def __init__(
        self,
        client: Client,
        journal: Journal,
        files: Files,
        before: Callable[[], None],
        on_progress: Callable[[Progress], None],
    ) -> None:
        self._client = client
        self._journal = journal
        self._arriving = Arriving(files)
        self._files = files
        self._before = before
        self._on_progress = on_progress
        self._done = Exchanged()

    def to_the_end(self, theirs: str, pause: Callable[[float], None]) -> tuple[Phrase, ...]:
        """Exchange files, a few times if cut off, and return what to say of it.

        The records are whole in any case, so what goes wrong here comes in words.

        :raises Cancelled: where the keeper stopped it.
        """
        for attempt in range(1, _ATTEMPTS + 1):
            try:
                return files_told(self.run(theirs))
            except Cancelled:
                raise
            except (NotThere, Garbled) as wrong:
                if attempt == _ATTEMPTS:
                    return files_cut_off(wrong)
                pause(_PAUSE_SECONDS)
            except (SyncError, JournalError) as wrong:
                return files_cut_off(wrong)
        return ()

    def run(self, theirs: str) -> Exchanged:
        """Send and fetch what either side lacks; return what was done in all runs.

        `theirs` is the server's hash of its files. Where ours is the same there is nothing to do.

        :raises SyncError: where the server does not answer, or refuses.
        :raises JournalError: where this phone's disk does not take a file.
        """
        if theirs == self._files.hash():
            return self._done
        named = sorted(named_files(self._journal).standing)
        there = dict(zip(named, self._asked(named), strict=True))
        ours = {digest for digest in named if self._files.holds(digest)}
        differ = [digest for digest in named if (digest in ours) != there[digest].whole]
        neither = len(named) - len(ours) - sum(digest not in ours for digest in differ)
        self._done = self._done._replace(away=neither, spoiled=0)
        for number, digest in enumerate(differ):
            self._on_progress(working_on_files(number, len(differ)))
            if digest in ours:
                self._send(digest, there[digest].bytes)
            else:
                self._fetch(digest, there[digest].bytes)
        return self._done

    def _asked(self, digests: list[str]) -> Iterator[Here]:
        # Asked even where no record names a file any more: then the server lets its own go.
        for begin in range(0, max(1, len(digests)), limits.MANY):
            asked = digests[begin : begin + limits.MANY]
            self._before()
            answer = self._client.ask("/files", {"digests": asked})
            try:
                told = [_here(each) for each in answer["files"]]
            except (KeyError, TypeError, ValueError) as wrong:
                raise Garbled(self._client.address) from wrong
            if len(told) != len(asked):
                raise Garbled(self._client.address)
            yield from told

    def _send(self, digest: str, at: int) -> None:
        try:
            data = self._files.read(digest)
        except (FileAltered, FileAway):
            self._done = self._done._replace(away=self._done.away + 1)
            return
        for _ in range(2):
            try:
                self._send_from(digest, data, at)
            except Refused as wrong:
                if wrong.code != _ALTERED:
                    raise
                # What was there of an older try was spoiled, and is dropped now.
                at = 0
            else:
                self._done = self._done._replace(sent=self._done.sent + 1)
                return
        self._done = self._done._replace(spoiled=self._done.spoiled + 1)

    def _send_from(self, digest: str, data: bytes, at: int) -> None:
        # Another phone may send the same file: then the answers move on faster than this one.
        for _ in range(len(data)):
            piece = data[at : at + limits.PIECE_BYTES]
            self._before()
            answer = self._client.put(f"/files/{digest}?at={at}&of={len(data)}", piece)
            try:
                here = _here(answer)
            except (KeyError, TypeError, ValueError) as wrong:
                raise Garbled(self._client.address) from wrong
            if here.whole:
                return
            if here.bytes <= at:
                break
            at = here.bytes
        raise Garbled(self._client.address)

    def _fetch(self, digest: str, of: int) -> None:
        for _ in range(2):
            try:
                self._fetch_all(digest, of)
            except FileAltered:
                continue
            except Refused as wrong:
                if wrong.code != _AWAY:
                    raise
                # Altered there, as the server found now: from now on it lacks this file.
                break
            else:
                self._done = self._done._replace(fetched=self._done.fetched + 1)
                return
        self._done = self._done._replace(spoiled=self._done.spoiled + 1)

    def _fetch_all(self, digest: str, of: int) -> None:
        here = self._arriving.here(digest)
        while not here.whole:
            self._before()
            piece = self._client.piece(f"/files/{digest}?at={here.bytes}")
            if not piece and here.bytes < of:
                raise Garbled(self._client.address)
            here = self._arriving.add(digest, here.bytes, piece, of)


def _here(told: object) -> Here:
    if not isinstance(told, dict):
        raise TypeError("no answer of a file")
    return Here(told["whole"] is True, int(told["bytes"]))
