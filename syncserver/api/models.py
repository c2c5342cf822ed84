"""The JSON questions and answers of the protocol. Records are never modelled here.

Bounds keep a question small; what a record says is judged by the journal alone.
"""

from __future__ import annotations

from typing import Annotated

from pydantic import BaseModel, ConfigDict, Field

from fieldapp.journal.arriving import Here
from fieldapp.journal.chain import Place
from fieldapp.journal.receiving import Receipt
from fieldapp.journal.replica import Want
from fieldapp.wire import limits

Digest = Annotated[str, Field(pattern="^[0-9a-f]{64}$")]
Writer = Annotated[str, Field(pattern="^[0-9a-f]{32}$")]
Seq = Annotated[int, Field(ge=0, le=2**53)]


class _Model(BaseModel):
    # A newer phone may say more than this server knows: it is passed over, not refused.
    model_config = ConfigDict(extra="ignore", frozen=True)


class PairQuestion(_Model):
    """A phone asks to be paired."""

    code: str = Field(max_length=64, description="the 7 symbols of the code's secret")
    device: str = Field(min_length=1, max_length=80, description="what its keeper calls the phone")


class PairAnswer(_Model):
    """The phone is paired; its token is told this once."""

    token: str = Field(description="sent as `Authorization: Bearer` from now on")
    device: str = Field(description="the device's id")
    operation: str = Field(description="the operation's id")
    operation_name: str


class OperationAnswer(_Model):
    """What a phone is shown of an operation before its records meet the operation's."""

    operation: str
    operation_name: str
    records: int = Field(description="records that count")
    apiaries: list[str] = Field(description="names of the apiaries")


class PlaceForm(_Model):
    """A record's place: its writer, the how-manieth of it, and the digest up to it."""

    writer: Writer
    seq: Seq
    digest: Digest

    @classmethod
    def of(cls, place: Place) -> PlaceForm:
        """Return a place as it goes over the wire."""
        return cls(writer=place.writer.hex(), seq=place.seq, digest=place.digest.hex())

    def place(self) -> Place:
        """Return the place that came over the wire."""
        return Place(bytes.fromhex(self.writer), self.seq, bytes.fromhex(self.digest))


class StatusQuestion(_Model):
    """A phone asks whether both hold the same."""

    hash: Digest = Field(description="SHA-256 of its sorted vector")
    rules: Annotated[int, Field(ge=0, le=2**31)] | None = Field(
        None, description="the number of the rules by which it computes"
    )
    library: str | None = Field(
        None, max_length=40, description="the version of its treatment library"
    )


class StatusAnswer(_Model):
    """What the server holds in short. Equal hashes: both hold the same."""

    hash: str = Field(description="SHA-256 of the server's sorted vector")
    records: int = Field(description="records that count")
    settled: bool = Field(description="nothing waits above a hole here")
    now: int = Field(description="the server's clock, milliseconds since 1970")
    rules: int = Field(description="the number of the rules by which the server computes")
    library: str = Field(description="the version of the server's treatment library")
    files: str = Field(description="SHA-256 of the digests of the files here, in order")


class OfferQuestion(_Model):
    """A phone says what it holds."""

    vector: str = Field(max_length=limits.JSON_BYTES, description="base 64 of its vector")


class OfferAnswer(_Model):
    """What the server holds, and which of the phone's heads it lacks."""

    vector: str = Field(description="base 64 of the server's vector")
    lacks: list[PlaceForm]


class HoldsQuestion(_Model):
    """A phone asks of places whether the server holds all up to them."""

    places: list[PlaceForm] = Field(max_length=limits.MANY)


class HoldsAnswer(_Model):
    """One answer a place, in order."""

    holds: list[bool]


class DigestsQuestion(_Model):
    """A phone asks for digests on the way to a head, to find by halving where histories part."""

    head: PlaceForm
    seqs: list[Seq] = Field(max_length=limits.MANY)


class DigestsAnswer(_Model):
    """One digest a seq, in order; empty where there is none."""

    digests: list[str]


class RefusalForm(_Model):
    """A record that was not taken: its place, why, and its size in bytes."""

    seq: int
    why: str
    size: int


class ReceiptForm(_Model):
    """What became of one batch. It is on the server's disk when this is sent."""

    held: int = Field(description="the seq up to which the batch's records are held now")
    new: int = Field(description="how many of them were not held before")
    refused: RefusalForm | None

    @classmethod
    def of(cls, receipt: Receipt) -> ReceiptForm:
        """Return a receipt as it goes over the wire."""
        no = receipt.refused
        refused = RefusalForm(seq=no.seq, why=no.why, size=no.size) if no else None
        return cls(held=receipt.held, new=receipt.new, refused=refused)


class PushAnswer(_Model):
    """One receipt a batch, in order, and what the server holds now."""

    receipts: list[ReceiptForm]
    status: StatusAnswer


class WantForm(_Model):
    """A head that the phone lacks, and the highest place on the way to it that it holds."""

    head: PlaceForm
    have: PlaceForm

    def want(self) -> Want:
        """Return the want that came over the wire."""
        return Want(self.head.place(), self.have.place())


class PullQuestion(_Model):
    """A phone asks for what lies between what it has and the server's heads."""

    wants: list[WantForm] = Field(max_length=limits.MANY)


class PullHeading(_Model):
    """Stands before the batches of a pull, one JSON line.

    `astray` gives the places in the question's list whose `have` is not on the way to their
    head: halving is to find a better one.
    """

    astray: list[int]
    status: StatusAnswer


class FilesQuestion(_Model):
    """A phone asks how much of files the server holds."""

    digests: list[Digest] = Field(max_length=limits.MANY, description="SHA-256 of each file")


class FileForm(_Model):
    """How much of a file is here: all of it, or so many bytes from its beginning."""

    whole: bool
    bytes: int

    @classmethod
    def of(cls, here: Here) -> FileForm:
        """Return it as it goes over the wire."""
        return cls(whole=here.whole, bytes=here.bytes)


class FilesAnswer(_Model):
    """One answer a file, in order."""

    files: list[FileForm]
