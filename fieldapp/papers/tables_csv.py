"""The record book as CSV (RFC 4180): one file a table, a row a record, every field apart.

Dates are ISO 8601, numbers have a point, texts are as they were written. An empty field does
not occur: what nobody wrote down is ``not known``, what does not apply is ``-``.
"""

from __future__ import annotations

import csv
import io
import zipfile
from collections.abc import Iterable, Sequence
from datetime import date
from enum import Enum

from fieldapp.papers.model import Event, RecordBook, Treated
from fieldapp.words import Speech

NOT_KNOWN = "not known"


class _Nothing(Enum):
    """What does not apply, told apart from a keeper's own dash."""

    NOTHING = "-"


NOTHING = _Nothing.NOTHING
#: A spreadsheet takes a text that begins so for a formula.
_FORMULA = ("=", "+", "-", "@", "\t", "\r", "\n", "\uff1d", "\uff0b", "\uff0d", "\uff20")

Value = str | int | float | date | bool | _Nothing | None
Rows = Iterable[Sequence[Value]]


def as_csv(columns: Sequence[str], rows: Rows) -> bytes:
    """Return a table as CSV in UTF-8, marked so that spreadsheets read it as that."""
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(columns)
    writer.writerows([_field(value) for value in row] for row in rows)
    return out.getvalue().encode("utf-8-sig")


def _field(value: Value) -> str:
    if value is None or value == "":
        return NOT_KNOWN
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, int | float):
        return f"{value:.10g}"
    return value.value if isinstance(value, _Nothing) else guarded(value)


def guarded(text: str) -> str:
    """Return text that no spreadsheet runs: an apostrophe stands before what would be a formula."""
    return f"'{text}" if text.lstrip(" ").startswith(_FORMULA) else text


def csv_files(book: RecordBook, speech: Speech) -> dict[str, bytes]:
    """Return every table of the book by file name."""
    made = {
        "treatments.csv": (_TREATED, [_treated(each, speech) for each in book.treated]),
        "stock.csv": (_STOCK, list(_stock(book, speech))),
        "disposed.csv": (_DISPOSED, list(_disposed(book))),
        "honey.csv": (_DRAWN, list(_drawn(book, speech))),
        "counts.csv": (_EVENT, _events(book.counts, speech)),
        "register.csv": (_EVENT, _events(book.register, speech)),
        "periods.csv": (_EVENT, _events(book.periods, speech)),
        "corrections.csv": (_CHANGES, list(_changes(book, speech))),
        "gaps.csv": (_GAPS, [(speech(g.words), " ".join(g.records) or NOTHING) for g in book.gaps]),
        "chain.csv": (
            ("writer", "records", "digest"),
            [(head.writer.hex(), head.seq, head.digest.hex()) for head in book.heads],
        ),
    }
    return {name: as_csv(columns, rows) for name, (columns, rows) in made.items()}


def as_archive(book: RecordBook, speech: Speech) -> bytes:
    """Return all tables in one ZIP file, the same bytes for the same book."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, raw in csv_files(book, speech).items():
            entry = zipfile.ZipInfo(name, (book.day.year, book.day.month, book.day.day, 0, 0, 0))
            entry.compress_type = zipfile.ZIP_DEFLATED
            archive.writestr(entry, raw)
    return out.getvalue()


_TREATED = (
    "date", "apiary", "hive", "hive id", "colony id", "treatment", "active substance", "method",
    "label", "first administration", "last day of treatment", "duration days",
    "application number", "planned applications", "amount", "unit", "amount of", "amount per",
    "part dose", "pieces", "pieces out on", "pieces now", "lots", "batches", "suppliers",
    "supplier addresses", "proofs", "prescriptions", "withdrawal days", "withdrawal",
    "withdrawal source", "withdrawal standing", "honey from", "person", "supers", "brood",
    "temperature degC", "remarks", "correction", "record id",
)  # fmt: skip


def _treated(each: Treated, speech: Speech) -> Sequence[Value]:
    body, record = each.record.body, each.record
    bought = [lot for lot in each.lots if not lot.mixed]
    mixed = [lot for lot in each.lots if lot.mixed]
    amount, withdrawal = each.amount, each.withdrawal
    return (
        each.day, each.apiary, each.hive, record.hive, record.colony or record.hive, each.name,
        each.active, each.method, each.label, each.first, each.last, each.days, each.k, each.n,
        amount.amount if amount else None,
        amount.unit if amount else None,
        amount.of or NOTHING if amount else None,
        amount.per or NOTHING if amount else None,
        bool(body.get("part")),
        each.pieces if each.pieces is not None else NOTHING if not each.pieces_state else None,
        each.pieces_out or (NOTHING if each.pieces_state in ("", "in") else None),
        each.pieces_state or NOTHING,
        _all(lot.number for lot in bought),
        _all(speech(lot.name) for lot in mixed) if mixed else NOTHING,
        _all(lot.record.body.get("supplier", "") for lot in bought),
        _all(lot.record.body.get("address", "") for lot in bought),
        _all(lot.record.body.get("proof", "") for lot in bought),
        _all(lot.record.body.get("prescription", "") for lot in bought),
        withdrawal.days if withdrawal.days is not None else NOTHING if withdrawal.known else None,
        speech(withdrawal.words), withdrawal.source, withdrawal.standing, each.honey_from,
        each.person, body.get("supers"), body.get("brood"), body.get("temperature"),
        "; ".join(speech(phrase) for phrase in each.remarks) or NOTHING,
        f"C{each.change}" if each.change is not None else NOTHING,
        record.id,
    )  # fmt: skip


def _all(texts: Iterable[str]) -> str:
    """Return several texts as one field, each that is missing as *not known*."""
    return "; ".join(text or NOT_KNOWN for text in texts)


_STOCK = (
    "kind", "date", "product", "lot", "last day", "amount", "unit", "used", "disposed", "on hand",
    "uses without amount", "supplier", "address", "proof", "prescription", "price", "currency",
    "made from", "balance", "record id",
)  # fmt: skip


def _stock(book: RecordBook, speech: Speech) -> Rows:
    for lot in book.lots:
        body = lot.record.body
        absent = NOTHING if lot.mixed else None
        drawn = [f"{d['amount']:.10g} {d['unit']} of {d['lot']}" for d in body.get("drawn", ())]
        yield (
            "mixed" if lot.mixed else "bought", lot.got, lot.product, lot.number or absent,
            lot.last_day, lot.amount, lot.unit, lot.used, lot.disposed, lot.on_hand, lot.unknown,
            body.get("supplier", absent), body.get("address", absent), body.get("proof", absent),
            body.get("prescription", absent), body.get("price", absent),
            body.get("currency", absent),
            "; ".join(drawn) or (None if lot.mixed else NOTHING),
            speech(lot.balance), lot.id,
        )  # fmt: skip


_DISPOSED = ("date", "product", "lot", "amount", "unit", "how", "where", "person", "record id")


def _disposed(book: RecordBook) -> Rows:
    for each in book.disposed:
        product = each.lot.product if each.lot else None
        number = (each.lot.number or (NOTHING if each.lot.mixed else None)) if each.lot else None
        yield (
            each.day, product, number, each.amount, each.unit, each.how, each.where, each.person,
            each.record,
        )  # fmt: skip


_DRAWN = ("date", "honey lot", "hives", "amount", "unit", "where it went", "hold", "record id")


def _drawn(book: RecordBook, speech: Speech) -> Rows:
    for each in book.drawn:
        yield (
            each.day, each.lot, ", ".join(each.hives), each.amount, each.unit, each.went,
            "; ".join(map(speech, each.held)) or NOTHING, each.record,
        )  # fmt: skip


_EVENT = ("date", "apiary", "hive", "what", "particulars", "person", "record id")


def _events(events: Iterable[Event], speech: Speech) -> Rows:
    return [
        (e.day, e.apiary, e.hive or NOTHING, speech(e.what), speech(e.words), e.person, e.record)
        for e in events
    ]


_CHANGES = (
    "reference", "changed on", "record", "record date", "hive or apiary", "person", "taken back",
    "versions side by side", "what changed", "record id",
)  # fmt: skip


def _changes(book: RecordBook, speech: Speech) -> Rows:
    for each in book.changes:
        yield (
            f"C{each.number}", each.made, each.what, date.fromisoformat(each.record.day),
            each.where, each.person, each.void, each.open,
            "; ".join(map(speech, each.changed)) or NOTHING, each.record.id,
        )  # fmt: skip


_GAPS = ("gap", "record ids")
