"""The record book as plain text: readable where nothing else opens, signs as words."""

from __future__ import annotations

from collections.abc import Iterable

from fieldapp.papers.layout import NOTHING, Paper, Table
from fieldapp.papers.model import RecordBook
from fieldapp.papers.sections import paper
from fieldapp.words import Speech


def as_text(book: RecordBook, speech: Speech) -> str:
    """Return the book as text, a paragraph a row with its columns named."""
    return "\n".join(_lines(paper(book, speech))) + "\n"


def _lines(whole: Paper) -> Iterable[str]:
    yield whole.title.upper()
    yield from map(_flat, whole.lines)
    for section in whole.sections:
        yield ""
        yield _flat(section.heading)
        yield "-" * len(_flat(section.heading))
        yield from map(_flat, section.lines)
        if section.table is not None:
            yield from _rows(section.table)


def _rows(table: Table) -> Iterable[str]:
    for row in table.rows:
        yield ""
        said = [each for each in zip(table.columns, row, strict=True) if each[1] != NOTHING]
        for place, (column, cell) in enumerate(said):
            yield f"{'* ' if place == 0 else '  '}{_flat(column)}: {_flat(cell.text)}"


def _flat(text: str) -> str:
    """Return text on one line, without signs that steer a terminal."""
    return " ".join("".join(s if s.isprintable() else " " for s in text).split())
