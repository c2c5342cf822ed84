"""The record book as PDF: A4 across, black on white, readable after a black-and-white printer."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from functools import cache
from io import BytesIO
from pathlib import Path
from typing import Any
from xml.sax.saxutils import escape

from reportlab.lib.colors import HexColor, black
from reportlab.lib.enums import TA_LEFT
from reportlab.lib.pagesizes import A4, landscape
from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import mm
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import (
    CondPageBreak,
    Flowable,
    Paragraph,
    SimpleDocTemplate,
    Spacer,
    TableStyle,
)
from reportlab.platypus import Table as Ruled

from fieldapp.assets import folder
from fieldapp.papers.layout import Cell, Paper, Table
from fieldapp.papers.model import RecordBook
from fieldapp.papers.sections import paper
from fieldapp.papers.signs import Signed
from fieldapp.words import Speech, say

REGULAR, BOLD = "NotoSans-Regular", "NotoSans-Bold"
MARGIN = 14 * mm
_SMALL, _BODY, _HEADING, _TITLE = 8, 10, 14, 26
_RULE = HexColor("#8A8A8A")
_FRAME = 6
#: Rows of one ruled table; longer ones are parted, since their cost grows with their square.
_ROWS = 120


def as_pdf(book: RecordBook, speech: Speech) -> bytes:
    """Return the book as PDF. The same book in the same words gives the same bytes."""
    fonts()
    whole = paper(book, speech)
    out = BytesIO()
    document = SimpleDocTemplate(
        out,
        pagesize=landscape(A4),
        leftMargin=MARGIN,
        rightMargin=MARGIN,
        topMargin=MARGIN + 4 * mm,
        bottomMargin=MARGIN,
        title=whole.margin,
        author=", ".join(book.keepers),
        invariant=1,
    )
    document.build(
        list(_story(whole, document.width - 2 * _FRAME)), canvasmaker=_numbered(whole, speech)
    )
    return out.getvalue()


@cache
def fonts() -> dict[str, frozenset[int]]:
    """Register the fonts that ship with the program; return the characters that each has."""
    where: Path = folder("fonts")
    known = {}
    for name in (REGULAR, BOLD):
        font = TTFont(name, str(where / f"{name}.ttf"))
        pdfmetrics.registerFont(font)
        known[name] = frozenset(font.face.charToGlyph)
    return known


def _style(size: float, font: str = REGULAR, **more: Any) -> ParagraphStyle:
    return ParagraphStyle(
        f"{font} {size}",
        fontName=font,
        fontSize=size,
        leading=size * 1.28,
        alignment=TA_LEFT,
        textColor=black,
        splitLongWords=1,
        **more,
    )


def _shown(text: str, font: str) -> str:
    """Return text for a font; a character that it lacks is named, not shown as a box."""
    known = fonts()[font]
    if known.issuperset(map(ord, text)):
        return text
    return "".join(
        sign if ord(sign) in known else " " if sign.isspace() else f"[U+{ord(sign):04X}]"
        for sign in text
    )


def _written(text: str, style: ParagraphStyle) -> Paragraph:
    return Paragraph(escape(_shown(text, style.fontName)), style)


def _story(whole: Paper, width: float) -> Iterable[Flowable]:
    body, heading = _style(_BODY), _style(_HEADING, BOLD)
    yield _written(whole.title, _style(_TITLE, BOLD))
    yield Spacer(0, 4 * mm)
    for line in whole.lines:
        yield _written(line, body)
    for section in whole.sections:
        yield Spacer(0, 7 * mm)
        # A heading is not left alone at the foot of a page.
        yield CondPageBreak(38 * mm)
        yield _written(section.heading, heading)
        yield Spacer(0, 1.5 * mm)
        for line in section.lines:
            yield _written(line, body)
            yield Spacer(0, 1 * mm)
        if section.table is not None:
            yield Spacer(0, 1 * mm)
            yield from _ruled(section.table, width)


def _ruled(table: Table, width: float) -> Iterable[Flowable]:
    total = sum(table.widths)
    widths = [width * share / total for share in table.widths]
    head = [_written(text, _style(_SMALL, BOLD)) for text in table.columns]
    cells = _style(_SMALL)
    for start in range(0, len(table.rows), _ROWS):
        data: list[list[Any]] = [head]
        for row in table.rows[start : start + _ROWS]:
            made = [_cell(each, cells, wide) for each, wide in zip(row, widths, strict=True)]
            data += _parted(made, widths)
        yield Ruled(data, widths, repeatRows=1, style=_RULES, hAlign="LEFT")


def _parted(row: list[Any], widths: Sequence[float]) -> list[list[Any]]:
    """Return a row as several where it would be too tall for a page."""
    rows: list[list[Any]] = []
    while row:
        rest: list[Any] = [""] * len(row)
        for place, (cell, wide) in enumerate(zip(row, widths, strict=True)):
            if isinstance(cell, Flowable):
                room = wide - 2 * _PAD
                if cell.wrap(room, _TALLEST)[1] > _TALLEST:
                    row[place], rest[place] = cell.split(room, _TALLEST)
        rows.append(row)
        row = rest if any(rest) else []
    return rows


#: The tallest row, in points: well under the height of a page.
_TALLEST = 300
_PAD = 2.2
_RULES = TableStyle(
    [
        ("FONT", (0, 1), (-1, -1), REGULAR, _SMALL, _SMALL * 1.28),
        ("VALIGN", (0, 0), (-1, -1), "TOP"),
        ("LINEBELOW", (0, 0), (-1, 0), 1, black),
        ("LINEBELOW", (0, 1), (-1, -1), 0.35, _RULE),
        ("LEFTPADDING", (0, 0), (-1, -1), _PAD),
        ("RIGHTPADDING", (0, 0), (-1, -1), _PAD),
        ("TOPPADDING", (0, 0), (-1, -1), 1.6),
        ("BOTTOMPADDING", (0, 0), (-1, -1), 2.4),
    ]
)


def _cell(cell: Cell, style: ParagraphStyle, width: float) -> Flowable | str:
    """Return words, with their sign beside them; words of one line without the cost of more."""
    text = _shown(cell.text, style.fontName)
    if not cell.sign and pdfmetrics.stringWidth(text, REGULAR, _SMALL) < width - 2 * _PAD - 1:
        return text
    words = _written(cell.text, style)
    if not cell.sign:
        return words
    return Signed(cell.sign, words)


def _numbered(whole: Paper, speech: Speech) -> Callable[..., Canvas]:
    """Return a canvas that knows at the end how many pages there are, and writes it on each."""

    class Numbered(Canvas):
        def __init__(self, *args: Any, **more: Any) -> None:
            super().__init__(*args, **more)
            self._pages: list[dict[str, Any]] = []

        def showPage(self) -> None:  # noqa: N802  (reportlab's own name)
            self._pages.append(dict(self.__dict__))
            self._startPage()  # type: ignore[attr-defined]

        def save(self) -> None:
            for number, page in enumerate(self._pages, 1):
                self.__dict__.update(page)
                _margin(self, whole, speech, number, len(self._pages))
                super().showPage()
            super().save()

    return Numbered


def _margin(canvas: Canvas, whole: Paper, speech: Speech, number: int, pages: int) -> None:
    width, height = landscape(A4)
    canvas.setFont(REGULAR, _SMALL)
    # The frame of the text stands in by its own padding; so does what is in the margin.
    canvas.drawString(MARGIN + _FRAME, height - MARGIN + 1 * mm, whole.margin)
    said = speech(say("page {number} of {pages}", number=number, pages=pages))
    canvas.drawRightString(width - MARGIN - _FRAME, height - MARGIN + 1 * mm, said)
