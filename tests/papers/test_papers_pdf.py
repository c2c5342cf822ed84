"""The record book as PDF, read again by pypdf and looked at pixel by pixel."""

from __future__ import annotations

import io
from datetime import date

import pypdfium2
import pytest
from paper_season import HIVE, PaperSeason, said, strips
from PIL import Image
from pypdf import PdfReader
from reportlab.pdfgen.canvas import Canvas

from fieldapp.papers import Source, record_book
from fieldapp.papers.pdf import as_pdf
from fieldapp.papers.signs import draw


def words(raw: bytes) -> str:
    """All text of a PDF, each run of blanks one."""
    pages = PdfReader(io.BytesIO(raw)).pages
    return " ".join(" ".join(page.extract_text() for page in pages).split())


def picture(raw: bytes, page: int = 0, scale: float = 2) -> Image.Image:
    """A page in grey, as a black-and-white printer gets it."""
    return pypdfium2.PdfDocument(raw)[page].render(scale=scale).to_pil().convert("L")


def test_the_pages_say_what_the_book_knows():
    """Treatment, lot, supplier, withdrawal, person, gap, chain: found as text."""
    season = PaperSeason()
    strips(season)
    text = words(as_pdf(season.book(), said))
    for part in (
        "Record book",
        "1 Mar 2021 to 1 Mar 2026",
        "Treatments at Ferry Lane",
        "14 days; read",
        "27 Sep 2025",
        "a dealer; 1 High Street",
        "16 strips on hand: bought 20, used 4, disposed 0",
        "It does not prove: who wrote a record, or when.",
        "64" * 32,
    ):
        assert part in text, part


def test_every_page_is_numbered_and_says_whose_book_it_is():
    """Loose sheets can be put in order again."""
    season = PaperSeason()
    terms = season.terms()
    for day in range(1, 29):
        season.apply(terms, f"2025-08-{day:02}", temperature=day)
    pages = PdfReader(io.BytesIO(as_pdf(season.book(), said))).pages
    assert len(pages) > 2
    for number, page in enumerate(pages, 1):
        text = page.extract_text()
        assert f"page {number} of {len(pages)}" in text
        assert "Record book, all apiaries, made on 1 Mar 2026" in text


def test_columns_are_named_again_on_every_page():
    """A table that goes on is readable by itself."""
    season = PaperSeason()
    terms = season.terms()
    for day in range(1, 29):
        season.apply(terms, f"2025-08-{day:02}", temperature=day)
    pages = [
        page.extract_text() for page in PdfReader(io.BytesIO(as_pdf(season.book(), said))).pages
    ]
    with_rows = [text for text in pages if "Aug 2025" in text and "supers not known" in text]
    assert len(with_rows) > 1
    assert all("Withdrawal" in text for text in with_rows)


def test_the_font_that_ships_is_inside():
    """The paper looks the same wherever it is opened."""
    names = set()
    for page in PdfReader(io.BytesIO(as_pdf(PaperSeason().book(), said))).pages:
        for font in page["/Resources"]["/Font"].values():
            descriptor = font.get_object().get("/FontDescriptor")
            if descriptor is not None:
                assert "/FontFile2" in descriptor.get_object()
                names.add(font.get_object()["/BaseFont"].split("+")[-1])
    assert names == {"NotoSans-Regular", "NotoSans-Bold"}


def test_the_same_book_gives_the_same_bytes():
    """Nothing of the clock or the machine is in it."""
    season = PaperSeason()
    strips(season)
    assert as_pdf(season.book(), said) == as_pdf(season.book(), said)


@pytest.mark.parametrize(
    "name", ["<b>Hill & Dale</b>", "a" * 400, "\u65e5\u672c \U0001f41d", "line\nbreak\x00\x07"]
)
def test_whatever_the_keeper_wrote_the_page_is_made(name):
    """Marks, unbroken words, signs that the font lacks: shown as they are, or by their number."""
    season = PaperSeason()
    season.add("visit", "2025-08-01", {"by": "x", "found": name}, hive=None, apiary=None)
    text = words(as_pdf(season.book(), said))
    wanted = {"<": "<b>Hill & Dale</b>", "a": "aaaaaaaa", "\u65e5": "[U+65E5][U+672C] [U+1F41D]"}
    assert wanted.get(name[0], "line break") in text


def test_a_text_longer_than_a_page_is_parted_not_lost():
    """A correction of as many lines as a record can hold goes on over the next pages."""
    season = PaperSeason()
    step = {"do": "add", "what": "water"}
    batch = season.mix("2025-07-01", 100)
    body = {"recipe": "trickle 1", "amount": 100, "unit": "mL"}
    steps = [step | {"what": f"part{n:02} {'w' * 70}"} for n in range(40)]
    season.correct(batch, body=body | {"steps": steps})
    raw = as_pdf(season.book(), said)
    text = words(raw)
    assert all(f"part{n:02}" in text for n in range(40))


def test_a_row_is_parted_only_where_it_is_taller_than_a_page():
    """Columns are named once a page, and no row of a few lines is torn in two."""
    season = PaperSeason()
    for day in range(1, 29):
        found = " ".join([f"begins{day:02}", "word " * 60, f"ends{day:02}"])
        season.add("visit", f"2025-08-{day:02}", {"by": "x", "found": found}, hive=None)
    for page in PdfReader(io.BytesIO(as_pdf(season.book(), said))).pages:
        text = page.extract_text()
        assert text.count("Particulars") <= 1
        for day in range(1, 29):
            assert (f"begins{day:02}" in text) == (f"ends{day:02}" in text)


def sign(name: str) -> Image.Image:
    """A sign as printed in black and white, 100 pixels square."""
    out = io.BytesIO()
    canvas = Canvas(out, pagesize=(50, 50))
    draw(canvas, name, 0, 0, 50)
    canvas.save()
    return picture(out.getvalue()).point(lambda value: 255 if value > 127 else 0)


SIGNS = ("done", "due", "late", "closed", "quiet", "unknown")


def test_signs_are_told_apart_without_any_colour():
    """In pure black and white any two differ in more than a tenth of their pixels."""
    pictures = {name: sign(name).tobytes() for name in SIGNS}
    for one in SIGNS:
        for other in SIGNS:
            if one < other:
                pairs = zip(pictures[one], pictures[other], strict=True)
                differ = sum(a != b for a, b in pairs)
                assert differ > len(pictures[one]) / 10, (one, other)


@pytest.mark.parametrize(
    ("name", "middle_is_black"),
    [("done", True), ("due", True), ("late", True), ("quiet", False), ("unknown", False)],
)
def test_filled_signs_are_filled_and_open_ones_open(name, middle_is_black):
    """A filled disc, square and triangle; an open ring and diamond."""
    image = sign(name)
    assert (image.getpixel((50, 55)) < 128) is middle_is_black
    assert image.getextrema() == (0, 255)


def test_text_and_signs_are_black_on_white():
    """The darkest is black, the ground white: it survives a copier."""
    season = PaperSeason()
    season.apply(season.terms(form="pieces"), "2025-08-01", HIVE, pieces=2)
    image = picture(as_pdf(season.book(), said))
    assert image.getextrema() == (0, 255)
    assert image.histogram()[255] > 0.8 * image.width * image.height


def test_nothing_is_written_beyond_the_margin():
    """A centimetre all round stays white on every page."""
    season = PaperSeason()
    strips(season)
    season.add("visit", "2025-08-01", {"by": "b" * 120, "found": "f" * 900}, hive=None)
    raw = as_pdf(season.book(), said)
    edge = int(10 / 25.4 * 72 * 2)
    for page in range(len(pypdfium2.PdfDocument(raw))):
        image = picture(raw, page)
        inner = Image.new("L", (image.width - 2 * edge, image.height - 2 * edge), 255)
        image.paste(inner, (edge, edge))
        assert image.getextrema() == (255, 255)


def test_an_empty_journal_gives_one_page():
    """It says that nothing is on record."""
    raw = as_pdf(record_book(Source((), ()), date(2026, 3, 1)), said)
    assert "None on record in these years." in words(raw)
    assert (
        PdfReader(io.BytesIO(raw)).metadata.title == "Record book, all apiaries, made on 1 Mar 2026"
    )
