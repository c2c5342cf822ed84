"""The form of the record book in words: headings, lines, tables with signs."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from fieldapp.papers.amounts import lot_refs
from fieldapp.papers.model import RecordBook, Sign
from fieldapp.words import Phrase, Speech, say

NOT_KNOWN = say("not known")


class Cell(NamedTuple):
    """Words in a table, with the sign that stands before them, if any."""

    text: str
    sign: Sign = ""


class Table(NamedTuple):
    """Rows under column headings; `widths` are shares of the line."""

    columns: tuple[str, ...]
    widths: tuple[float, ...]
    rows: tuple[tuple[Cell, ...], ...]


class Section(NamedTuple):
    """A heading, lines of words, and a table (None where there is nothing to list)."""

    heading: str
    lines: tuple[str, ...]
    table: Table | None


class Paper(NamedTuple):
    """The whole book in words: title, lines under it, sections, and the words in the margin."""

    title: str
    lines: tuple[str, ...]
    sections: tuple[Section, ...]
    margin: str


#: An empty field of a table in which nothing is missing.
NOTHING = Cell("-")


class Teller:
    """Speaks the parts of a book; what is empty is told as *not known*."""

    def __init__(self, book: RecordBook, speech: Speech) -> None:
        self.book, self.say = book, speech
        self.lots = lot_refs(book)

    def table(
        self,
        columns: Sequence[tuple[Phrase, float]],
        rows: Iterable[Sequence[Cell | Phrase | str]],
    ) -> Table | None:
        """Return a table, None where it has no row; columns with their share of the line."""
        made = tuple(tuple(self._cell(cell) for cell in row) for row in rows)
        if not made:
            return None
        heads = tuple(self.say(phrase) for phrase, _ in columns)
        return Table(heads, tuple(width for _, width in columns), made)

    def signed(self, sign: Sign, phrase: Phrase) -> Cell:
        """Return a cell with a sign before its words."""
        return Cell(self.say(phrase), sign)

    def section(self, heading: Phrase, table: Table | None, *lines: Phrase) -> Section:
        """Return a section; one with nothing in it says so."""
        if table is None and not lines:
            lines = (say("None on record in these years."),)
        return Section(self.say(heading), tuple(map(self.say, lines)), table)

    def _cell(self, cell: Cell | Phrase | str) -> Cell:
        if isinstance(cell, Cell):
            return cell
        if isinstance(cell, Phrase):
            text = self.say(cell)
            return Cell(text, "unknown" if cell == NOT_KNOWN else "")
        return Cell(self.say(cell)) if cell else Cell(self.say(NOT_KNOWN), "unknown")
