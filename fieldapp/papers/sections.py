"""The record book in words, in the one order that text and PDF both show."""

from __future__ import annotations

from collections.abc import Iterable

from fieldapp.papers import sections_hives, sections_register, sections_stock
from fieldapp.papers.layout import NOT_KNOWN, Paper, Teller
from fieldapp.papers.model import RecordBook
from fieldapp.words import Phrase, Speech, count, say


def paper(book: RecordBook, speech: Speech) -> Paper:
    """Return the book in words, spoken by `speech`."""
    tell = Teller(book, speech)
    scope = say("{apiary}", apiary=book.apiary) if book.apiary else say("all apiaries")
    margin = say("Record book, {scope}, made on {day}", scope=scope, day=book.day)
    sections = (
        sections_hives.hives(tell),
        *sections_hives.treatments(tell),
        sections_stock.stock(tell),
        sections_stock.disposed(tell),
        sections_stock.periods(tell),
        sections_stock.drawn(tell),
        sections_register.counts(tell),
        sections_register.register(tell),
        sections_register.gaps(tell),
        sections_register.changes(tell),
        sections_register.ground(tell),
    )
    opening = tuple(map(speech, _opening(tell)))
    return Paper(speech(say("Record book")), opening, sections, speech(margin))


def _opening(tell: Teller) -> Iterable[Phrase]:
    book, tally = tell.book, tell.book.tally
    yield say("{first} to {day}, made on {day}", first=book.first, day=book.day)
    for place in book.premises:
        yield say(
            "{name}: registration {number}, country {country}",
            name=place.name,
            number=place.registration or NOT_KNOWN,
            country=place.country or NOT_KNOWN,
        )
    yield say("Kept by: {people}", people=", ".join(book.keepers) or NOT_KNOWN)
    yield say(
        "{records} records stand behind it: {corrected} corrected, {voided} taken back, "
        "{slips} of these as slips of the finger during a round.",
        records=tally.records,
        corrected=tally.corrected,
        voided=tally.voided,
        slips=tally.slips,
    )
    if book.gaps:
        yield count(
            "{n} gap is named at the end.", "{n} gaps are named at the end.", len(book.gaps)
        )
    yield say("What nobody wrote down stands as not known; it is never taken for zero.")
    yield say("The product's label, local rules and a veterinarian decide.")
