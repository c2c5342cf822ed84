"""What a sync says, while it runs and at its end."""

from __future__ import annotations

from typing import NamedTuple

from fieldapp.words import Phrase


class Pairing(NamedTuple):
    """The server that this phone is paired with.

    `fingerprint` is the SHA-256 of its certificate (hex), `token` the phone's own secret.
    `joined` is False while two sides that both hold records, none in common, wait for the
    keeper's word that they belong together.
    """

    address: str
    fingerprint: str
    token: str
    device: str
    operation: str
    operation_name: str
    joined: bool = False

    @property
    def server(self) -> str:
        """What the server is called on the phone's screen."""
        return f"{self.operation_name}, {self.address}"


class Meeting(NamedTuple):
    """What the operation of a fresh pairing holds.

    Where `joined` is False, show its apiaries beside the phone's own and let the keeper decide:
    `Sync.join` lets the records meet, which cannot be undone; `Sync.unpair` keeps them apart.
    """

    operation_name: str
    records: int
    apiaries: tuple[str, ...]
    joined: bool


class Progress(NamedTuple):
    """How far a sync is: what it does, records done, records known to be to do."""

    phrase: Phrase
    done: int
    total: int


class Exchanged(NamedTuple):
    """Files sent and fetched, files on neither side, and those that did not arrive whole."""

    sent: int = 0
    fetched: int = 0
    away: int = 0
    spoiled: int = 0


class Outcome(NamedTuple):
    """How a sync ended.

    `ok`: both sides were found to hold the same. `sent` and `received` count records that the
    other side did not have; `records` those that count here. `refused` names, record by record,
    what one side would not take. `clock_ms` is how far this phone's clock is ahead of the
    server's, None where no answer told. `remarks` are what else the keeper is to know: a new
    address, rules of another version, photos.
    """

    ok: bool
    phrase: Phrase
    advice: Phrase | None
    sent: int
    received: int
    records: int
    refused: tuple[Phrase, ...]
    clock_ms: int | None
    remarks: tuple[Phrase, ...] = ()
