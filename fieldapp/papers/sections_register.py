"""Counts, the register, gaps, corrections, and what the book rests on."""

from __future__ import annotations

from datetime import date

from fieldapp.journal.called import kind_called
from fieldapp.papers.layout import NOTHING, Cell, Section, Teller
from fieldapp.papers.model import Sign
from fieldapp.papers.register import together
from fieldapp.words import say

CHAIN = (
    say(
        "Every record of a writer (one installation of the program) is chained to the one before "
        "it by a digest. Each line below stands for all records of its writer, in this book or not."
    ),
    say(
        "It shows: whether anything was altered or left out after another device, or a paper like "
        "this one, had seen that digest."
    ),
    say(
        "It does not prove: who wrote a record, or when. Dates and names are as the keepers gave "
        "them. What was altered before anybody else had seen it cannot be told."
    ),
)

_CHANGED = say("As it stood first, and as it stands now. Nothing is ever erased.")


def counts(tell: Teller) -> Section:
    """Return the mites counted."""
    rows = [
        (say("{day}", day=e.day), e.apiary, e.hive, e.words, e.person) for e in tell.book.counts
    ]
    columns = (
        (say("Counted on"), 13),
        (say("Apiary"), 20),
        (say("Hive"), 8),
        (say("Mites"), 45),
        (say("By"), 14),
    )
    return tell.section(say("Mites counted"), tell.table(columns, rows))


def register(tell: Teller) -> Section:
    """Return the register; hives of which the same is to be said on a day stand in one line."""
    rows = [
        (
            say("{day}", day=each.day),
            each.apiary,
            ", ".join(hives) or NOTHING,
            each.what,
            each.words,
            each.person,
        )
        for each, hives in together(tell.book.register)
    ]
    columns = (
        (say("Day"), 11),
        (say("Apiary"), 15),
        (say("Hives"), 17),
        (say("What"), 14),
        (say("Particulars"), 29),
        (say("By"), 14),
    )
    heading = say("Colonies, movements, visits")
    return tell.section(heading, tell.table(columns, rows))


def gaps(tell: Teller) -> Section:
    """Return every gap by name."""
    rows = [
        (tell.signed("unknown", each.words), str(len(each.records)) if each.records else NOTHING)
        for each in tell.book.gaps
    ]
    columns = ((say("What is not known or does not fit"), 86), (say("Records"), 14))
    if not rows:
        return tell.section(say("Gaps"), None, say("None that the rules could find."))
    return tell.section(say("Gaps"), tell.table(columns, rows))


def changes(tell: Teller) -> Section:
    """Return corrections as corrections."""
    rows = []
    for each in tell.book.changes:
        what = [tell.say(phrase) for phrase in each.changed]
        if each.void:
            what.insert(0, tell.say(say("taken back")))
        if each.open > 1:
            what.insert(0, tell.say(say("{n} versions side by side, not answered", n=each.open)))
        sign: Sign = "unknown" if each.open > 1 else "quiet" if each.void else ""
        rows.append(
            (
                Cell(f"C{each.number}", sign),
                say("{day}", day=each.made),
                kind_called(each.what),
                say("{day}", day=date.fromisoformat(each.record.day)),
                each.where,
                each.person,
                "; ".join(what) or tell.say(say("the same as before")),
            )
        )
    columns = (
        (say("Ref."), 6),
        (say("Changed on"), 11),
        (say("Record"), 11),
        (say("Of"), 11),
        (say("Hive or apiary"), 10),
        (say("By"), 9),
        (say("What changed"), 42),
    )
    heading = say("Corrections")
    if not rows:
        return tell.section(heading, None)
    return tell.section(heading, tell.table(columns, rows), _CHANGED)


def ground(tell: Teller) -> Section:
    """Return what the book rests on: what the chain shows and does not prove."""
    rows = [(head.writer.hex(), str(head.seq), head.digest.hex()) for head in tell.book.heads]
    columns = (
        (say("Writer"), 28),
        (say("Records"), 8),
        (say("Digest (SHA-256) of the last one, and of all before it"), 64),
    )
    return tell.section(say("What this book rests on"), tell.table(columns, rows), *CHAIN)
