"""The record book as PDF: A4 across, black on white, readable after a black-and-white printer."""

from __future__ import annotations

from collections.abc import Callable, Iterable
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
from fieldapp.papers.signs import drawn
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
        lang="en",
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


def _written(text: str, style: ParagraphStyle) -> Paragraph:
    """Return a paragraph; a character that the font lacks is named, not shown as a box."""
    known = fonts()[style.fontName]
    shown = "".join(
        sign if ord(sign) in known else " " if sign.isspace() else f"[U+{ord(sign):04X}]"
        for sign in text
    )
    return Paragraph(escape(shown), style)


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
        rows = table.rows[start : start + _ROWS]
        data: list[list[Any]] = [head]
        data += [
            [_cell(each, cells, wide) for each, wide in zip(row, widths, strict=True)]
            for row in rows
        ]
        yield Ruled(data, widths, repeatRows=1, splitInRow=1, style=_RULES, hAlign="LEFT")


_PAD = 2.2
_RULES = TableStyle(
    [
        ("VALIGN", (0, 0), (-1, -1), "TOP"),
        ("LINEBELOW", (0, 0), (-1, 0), 1, black),
        ("LINEBELOW", (0, 1), (-1, -1), 0.35, _RULE),
        ("LEFTPADDING", (0, 0), (-1, -1), _PAD),
        ("RIGHTPADDING", (0, 0), (-1, -1), _PAD),
        ("TOPPADDING", (0, 0), (-1, -1), 1.6),
        ("BOTTOMPADDING", (0, 0), (-1, -1), 2.4),
    ]
)


def _cell(cell: Cell, style: ParagraphStyle, width: float) -> Flowable:
    """Return words, with their sign beside them."""
    words = _written(cell.text, style)
    if not cell.sign:
        return words
    side = style.fontSize * 1.05
    column = side + 2.5
    return Ruled(
        [[drawn(cell.sign, side), words]],
        [column, width - 2 * _PAD - column],
        style=[
            ("VALIGN", (0, 0), (-1, -1), "TOP"),
            ("LEFTPADDING", (0, 0), (-1, -1), 0),
            ("RIGHTPADDING", (0, 0), (-1, -1), 0),
            ("TOPPADDING", (0, 0), (-1, -1), 0),
            ("TOPPADDING", (0, 0), (0, 0), 0.8),
            ("BOTTOMPADDING", (0, 0), (-1, -1), 0),
        ],
        splitInRow=1,
        hAlign="LEFT",
    )


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
