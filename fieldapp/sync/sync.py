"""Pairs the phone with a home server and syncs its journal, in a thread of its own."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable, Iterator
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Final, NamedTuple

from fieldapp.journal import happened, merging
from fieldapp.journal.errors import JournalError
from fieldapp.journal.files import FOLDER, Files
from fieldapp.journal.losses import Finder
from fieldapp.journal.store import Journal
from fieldapp.sync import pairing
from fieldapp.sync.errors import (
    Cancelled,
    Claimed,
    Garbled,
    NotJoined,
    NotPaired,
    NotThere,
    SyncError,
    WrongServer,
)
from fieldapp.sync.finding import LOOK_SECONDS, Finding, seek
from fieldapp.sync.keeping import PairingFile
from fieldapp.sync.outcome import Meeting, Outcome, Pairing, Progress
from fieldapp.sync.wording import (
    differing,
    found_at,
    in_words,
    journal_trouble,
    looking,
    trouble,
    working,
)
from fieldapp.wire import invitation
from fieldapp.wire.announcement import Announced
from fieldapp.wire.versions import Versions

if TYPE_CHECKING:
    from fieldapp.sync.client import Client

_ATTEMPTS: Final = 4
_PAUSE_SECONDS: Final = 0.5
NO_KEEPER: Final = "00000000-0000-0000-0000-000000000000"


class Traffic(NamedTuple):
    """What the last sync cost: requests answered, bytes of bodies sent and got."""

    requests: int
    sent: int
    got: int


class Sync:
    """The phone's way to its home server.

    `folder` keeps the pairing, and the files that records name; `journal` is the phone's.
    `finder` returns who signs a record that tells a loss, and when; left out, nobody in
    particular does. `finding` hears announced servers; `versions` returns by what this phone
    computes, to be compared with the server.
    `device_name` may change; a server is told it when the phone is paired.
    What `run` and `pair` do takes as long as the network takes: call them away from the screen's
    thread, or use `start`.
    """

    def __init__(
        self,
        folder: Path,
        journal: Journal,
        device_name: str,
        finder: Callable[[], Finder] | None = None,
        pause: Callable[[float], None] = time.sleep,
        finding: Finding | None = None,
        versions: Callable[[], Versions | None] = lambda: None,
    ) -> None:
        self._file = PairingFile(folder)
        self._journal = journal
        self._files = Files(folder / FOLDER)
        self.device_name = device_name
        self._finder = finder or self._nobody
        self._pause = pause
        self._finding = finding
        self._versions = versions
        self._stopped = threading.Event()
        self._busy = threading.Lock()
        self.traffic = Traffic(0, 0, 0)

    @property
    def pairing(self) -> Pairing | None:
        """The server that this phone is paired with."""
        return self._file.read()

    @property
    def running(self) -> bool:
        """Whether a sync is under way."""
        return self._busy.locked()

    def pair(self, text: str, *addresses: str) -> Meeting:
        """Pair by a typed code, or by the text of a QR; return what the operation holds.

        `addresses`, ``host:port``, are where the server may be; left out, it is looked for. The
        code is told to nobody but the server whose certificate it names.

        :raises SyncError: saying what was wrong and what to do.
        """
        invited = pairing.invited(text)
        address = pairing.where(invited, addresses, self._finding)
        made = pairing.pair_at(address, invited, self.device_name)
        self._file.write(made)
        return self._meet(made)

    def around(self) -> Iterator[Announced]:
        """Yield the servers that announce themselves in this network; it takes some seconds.

        What they say is a hint: a code of the server's is needed to pair with one.
        """
        if self._finding is not None:
            yield from self._finding.look(LOOK_SECONDS)

    def unpair(self) -> None:
        """Forget the server. The records stay."""
        self._file.forget()

    def join(self) -> None:
        """Let the records of phone and operation meet: the keeper said that they belong together.

        Needed only after a `Meeting` whose `joined` is False.
        """
        self._file.write(self._paired()._replace(joined=True))

    def moved(self, address: str) -> None:
        """Note that the paired server is at another address; the pin still decides."""
        self._file.write(self._paired()._replace(address=address))

    def start(
        self, on_progress: Callable[[Progress], None], on_end: Callable[[Outcome], None]
    ) -> None:
        """Sync in a thread of its own; both are called on that thread."""
        threading.Thread(
            target=lambda: on_end(self.run(on_progress)), name="sync", daemon=True
        ).start()

    def cancel(self) -> None:
        """Stop the sync under way before its next request; what is on disk stays."""
        self._stopped.set()

    def run(self, on_progress: Callable[[Progress], None]) -> Outcome:
        """Sync until both sides hold the same, or say what stood in the way.

        What goes wrong comes as an outcome, never as an error; after a cut it goes on by
        itself a few times.
        """
        with self._busy:
            self._stopped.clear()
            tally = _Tally()
            try:
                return self._attempts(tally, on_progress)
            except SyncError as wrong:
                return trouble(wrong, tally.sent, tally.received, self._journal)
            except JournalError as wrong:
                return journal_trouble(wrong, tally.sent, tally.received)

    def _attempts(self, tally: _Tally, on_progress: Callable[[Progress], None]) -> Outcome:
        paired = self._paired()
        if not paired.joined:
            raise NotJoined(paired.operation_name)
        try:
            return self._at(paired, tally, on_progress)
        except (NotThere, WrongServer) as wrong:
            if self._finding is None or self.traffic.requests:
                raise
            on_progress(looking())
            sought = seek(self._finding, *_by_pin(paired))
            self._stop_if_asked()
            if not sought.address:
                raise Claimed(sought.claimed[0]) if sought.claimed else wrong from wrong
        self.moved(sought.address)
        outcome = self._at(self._paired(), tally, on_progress)
        return outcome._replace(remarks=(*found_at(sought), *outcome.remarks))

    def _at(
        self, paired: Pairing, tally: _Tally, on_progress: Callable[[Progress], None]
    ) -> Outcome:
        client = self._client(paired)
        try:
            outcome, their_files = self._records(client, tally, on_progress)
            if not outcome.ok or their_files is None:
                return outcome
            from fieldapp.sync.files import FileExchange  # noqa: PLC0415 - off the start path

            files = FileExchange(
                client, self._journal, self._files, self._stop_if_asked, on_progress
            )
            told = files.to_the_end(their_files, self._pause)
            return outcome._replace(remarks=(*outcome.remarks, *told))
        finally:
            self.traffic = Traffic(client.answers, client.sent_bytes, client.got_bytes)
            client.close()

    def _records(
        self, client: Client, tally: _Tally, on_progress: Callable[[Progress], None]
    ) -> tuple[Outcome, str | None]:
        for _ in range(_ATTEMPTS - 1):
            answered = client.answers
            try:
                return self._once(client, tally, on_progress)
            except (NotThere, Garbled):
                # A server that never answered is not there; one that did was cut off.
                if client.answers == answered:
                    raise
                self._pause(_PAUSE_SECONDS)
        return self._once(client, tally, on_progress)

    def _once(
        self, client: Client, tally: _Tally, on_progress: Callable[[Progress], None]
    ) -> tuple[Outcome, str | None]:
        from fieldapp.sync.wirepeer import WirePeer  # noqa: PLC0415 - off the start path

        ours = self._versions()
        peer = WirePeer(client, self._journal.now_ms, self._stop_if_asked, ours)
        begun = (tally.sent, tally.received)

        def progress(step: merging.Progress) -> None:
            tally.sent, tally.received = begun[0] + step.sent, begun[1] + step.fetched
            on_progress(working(tally.sent, tally.received, peer.differ))

        with closing(peer):
            result = merging.sync(self._journal, peer, self._finder(), progress)
        outcome = in_words(result, tally.sent, tally.received, peer.ahead_ms)
        return outcome._replace(remarks=differing(ours, peer.versions)), peer.files

    def _meet(self, pairing: Pairing) -> Meeting:
        from fieldapp.sync.wirepeer import WirePeer  # noqa: PLC0415 - off the start path

        client = self._client(pairing)
        try:
            told = client.get("/operation")
            name, records = str(told["operation_name"]), int(told["records"])
            apiaries = tuple(map(str, told["apiaries"]))
        except (KeyError, TypeError, ValueError) as wrong:
            raise Garbled(pairing.address) from wrong
        else:
            ours = self._journal.vector()
            with closing(WirePeer(client, self._journal.now_ms, _go_on)) as peer:
                theirs = peer.offer(ours).vector
        finally:
            client.close()
        in_common = {head.writer for head in ours} & {head.writer for head in theirs}
        joined = not ours or not theirs or bool(in_common)
        self._file.write(pairing._replace(joined=joined))
        return Meeting(name, records, apiaries, joined)

    def _paired(self) -> Pairing:
        paired = self.pairing
        if paired is None:
            raise NotPaired
        return paired

    def _client(self, pairing: Pairing) -> Client:
        from fieldapp.sync.client import Client  # noqa: PLC0415

        return Client(pairing.address, pairing.fingerprint, pairing.token)

    def _stop_if_asked(self) -> None:
        if self._stopped.is_set():
            raise Cancelled

    def _nobody(self) -> Finder:
        now = happened.format(self._journal.now_ms() * 1000, "UTC")
        return Finder(self.device_name, NO_KEEPER, now)


@dataclass
class _Tally:
    """Counts over the attempts of one sync."""

    sent: int = 0
    received: int = 0


def _go_on() -> None:
    """Nobody asks to stop."""


def _by_pin(paired: Pairing) -> tuple[str, Callable[[bytes], bool]]:
    """Return how the paired server announces itself, and what tells its certificate."""
    from fieldapp.sync.pinned import fingerprint_of  # noqa: PLC0415 - off the start path

    return (
        invitation.pin_of(paired.fingerprint),
        lambda certificate: fingerprint_of(certificate) == paired.fingerprint,
    )
