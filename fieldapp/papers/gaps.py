"""What a record book cannot vouch for, by name."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from datetime import date

from fieldapp.book.questions import asked
from fieldapp.husbandry.ledger import Ledger, Lot, required
from fieldapp.husbandry.operation import Operation
from fieldapp.journal.record import Record
from fieldapp.papers.model import Missing, Treated
from fieldapp.papers.source import Source
from fieldapp.words import count, say

#: Whether the record of a root belongs to the book.
Shown = Callable[[str], bool]


def of_ledger(
    ledger: Ledger,
    treated: Sequence[Treated],
    lots: Sequence[Lot],
    day: date,
    countries: Iterable[str],
    shown: Shown,
) -> Iterable[Missing]:
    """Return what laws want and the records lack, and what does not fit in stock and register."""
    mine = {each.record.id for each in treated} | {lot.id for lot in lots}
    wanted = required.laws(countries)
    lacking = required.missing(ledger, day, wanted, mine)
    if wanted:
        given = [each.record for each in treated if each.form != "act"]
        lacking += required.without_lot(ledger, [record.id for record in given])
        lacking += required.without_amount(given)
    for gap in lacking:
        yield Missing(gap.phrase, gap.records)
    for lot in lots:
        for gap in lot.gaps:
            yield Missing(say("{lot}: {gap}", lot=lot.name, gap=gap.phrase), gap.records)
    for gap in (*ledger.stock.astray, *ledger.hours, *ledger.register.gaps):
        if any(map(shown, gap.records)):
            yield Missing(gap.phrase, gap.records)


def of_treatments(treated: Sequence[Treated], day: date) -> Iterable[Missing]:
    """Return the treatments of which something that matters for honey is not known."""
    if unknown := tuple(each.record.id for each in treated if not each.withdrawal.known):
        said = count(
            "{n} treatment whose withdrawal period is not known",
            "{n} treatments whose withdrawal period is not known",
            len(unknown),
        )
        yield Missing(said, unknown)
    if pieces := tuple(e.record.id for e in treated if e.pieces_state in ("in", "not known")):
        said = count(
            "{n} treatment whose pieces are not recorded as out",
            "{n} treatments whose pieces are not recorded as out",
            len(pieces),
        )
        yield Missing(said, pieces)
    if ahead := tuple(each.record.id for each in treated if each.day > day):
        said = count(
            "{n} treatment dated after the day of this book",
            "{n} treatments dated after the day of this book",
            len(ahead),
        )
        yield Missing(said, ahead)


def unanswered(operation: Operation, shown: Shown) -> Iterable[Missing]:
    """Return what the keeper was asked and has not answered."""
    states = [operation.state(hive) for hive in operation.hives]
    questions = [(question, state) for state in states for question in state.questions]
    for question, state in (*questions, *((question, None) for question in operation.heads())):
        if any(map(shown, question.records)):
            words = asked(question, state).phrase
            yield Missing(say("not answered: {question}", question=words), question.records)


def of_journal(source: Source, unfit: int, losses: Iterable[Record]) -> Iterable[Missing]:
    """Return what the journal holds and cannot read, and what it lacks.

    `unfit` is the number of corrections of no meaning.
    """
    if number := source.not_understood + unfit:
        said = count(
            "{n} record that this version does not understand: kept, and not in this book",
            "{n} records that this version does not understand: kept, and not in this book",
            number,
        )
        yield Missing(said, ())
    if source.others:
        said = count(
            "{n} other content under the id of a record: kept, and not in this book",
            "{n} other contents under the ids of records: kept, and not in this book",
            source.others,
        )
        yield Missing(said, ())
    for hole in source.holes:
        said = say(
            "records {first} to {last} of writer {writer} are missing or were altered",
            first=hole.first,
            last=hole.last,
            writer=hole.writer[:8],
        )
        yield Missing(said, ())
    for record in losses:
        body = record.body
        said = say(
            "records {first} to {last} of writer {writer} are lost, found by {finder}",
            first=body["first"],
            last=body["last"],
            writer=body["of"][:8],
            finder=body["finder"],
        )
        yield Missing(said, (record.id,))
