"""The record book as CSV, read again by the csv module as a spreadsheet would."""

from __future__ import annotations

import csv
import io
import zipfile
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st
from paper_season import PaperSeason, said, strips

from fieldapp.papers.tables_csv import as_archive, as_csv, csv_files, guarded
from fieldapp.words import Habits, Speech


def rows(raw: bytes) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(raw.decode("utf-8-sig"), newline="")))


def test_a_treatment_is_one_row_with_every_field_by_itself():
    """Fields of docs/sources.md F1, F5 and F6, dates as ISO, zero as 0."""
    season = PaperSeason()
    strips(season)
    row = rows(csv_files(season.book(), said)["treatments.csv"])[0]
    wanted = {
        "date": "2025-08-01",
        "apiary": "Ferry Lane",
        "hive": "1",
        "active substance": "acid",
        "method": "drip",
        "first administration": "2025-08-01",
        "last day of treatment": "2025-09-12",
        "duration days": "43",
        "amount": "2",
        "unit": "strip",
        "pieces out on": "2025-09-12",
        "lots": "22",
        "suppliers": "a dealer",
        "supplier addresses": "1 High Street",
        "proofs": "invoice 7",
        "prescriptions": "vet A, 3",
        "withdrawal days": "14",
        "withdrawal standing": "read",
        "honey from": "2025-09-27",
        "person": "Keeper",
        "supers": "off",
        "brood": "not known",
        "temperature degC": "18",
    }
    assert {name: row[name] for name in wanted} == wanted


def test_zero_days_are_0_and_unknown_days_are_words():
    """A published zero and a missing figure never look alike."""
    season = PaperSeason()
    season.apply(season.terms("GB/1/1/acid/drip", period=0), "2025-08-01")
    season.apply(season.terms("GB/2/1/acid/mist", period=None), "2025-08-02")
    found = rows(csv_files(season.book(), said)["treatments.csv"])
    assert [row["withdrawal days"] for row in found] == ["0", "not known"]


def test_words_are_in_the_keepers_habits_numbers_are_not():
    """A German keeper's sentences have a comma, the figures in their fields a point."""
    season = PaperSeason()
    season.mix("2025-07-03", 2.5, "L")
    german = Speech(habits=Habits(decimal=","))
    (row,) = rows(csv_files(season.book(), german)["stock.csv"])
    assert (row["amount"], row["on hand"]) == ("2.5", "2.5")
    assert row["balance"] == "2,5 L on hand: mixed 2,5, used 0, disposed 0"


def test_no_field_is_empty():
    """What nobody wrote down says so; what does not apply is a dash."""
    season = PaperSeason()
    strips(season)
    season.apply(season.terms("GB/2/1/acid/mist", period=None), "2025-08-02")
    season.buy("2025-07-02", 5)
    season.mix("2025-07-03", 5)
    season.dispose(season.buy("2025-07-03", 5), "2025-09-01", 5)
    season.visit("2025-07-22")
    for name, raw in csv_files(season.book(), said).items():
        for row in rows(raw):
            assert "" not in row.values(), name
            assert None not in row, name


@pytest.mark.parametrize(
    "text",
    ["=1+1", "+1", "-1", "@SUM(A1)", " =1", "\t=1", "\r=1", "=cmd|' /C calc'!A0", "\uff1d1"],
)
def test_no_text_of_a_keeper_is_run_as_a_formula(text):
    """A supplier by the name of a formula stays text, with an apostrophe before it."""
    season = PaperSeason()
    season.buy("2025-07-01", 5, supplier=text)
    (row,) = rows(csv_files(season.book(), said)["stock.csv"])
    assert row["supplier"] == f"'{text}"


@given(st.text(max_size=40))
def test_every_text_comes_back_whole(text):
    """Quotes, commas, line breaks: read again, only the guard stands before it."""
    ((read,),) = csv.reader(
        io.StringIO(as_csv(("a",), [(text,)]).decode("utf-8-sig").split("\r\n", 1)[1], newline="")
    )
    assert read == (guarded(text) if text else "not known")
    assert not read.lstrip(" ").startswith(("=", "+", "-", "@", "\t", "\r", "\n"))


def test_numbers_stay_numbers():
    """A temperature under zero is no formula."""
    raw = as_csv(("a", "b", "c"), [(-3, -0.5, date(2026, 3, 1))])
    assert raw.decode("utf-8-sig") == "a,b,c\r\n-3,-0.5,2026-03-01\r\n"


def test_the_archive_holds_every_table_and_is_the_same_each_time():
    """One file to share."""
    season = PaperSeason()
    strips(season)
    raw = as_archive(season.book(), said)
    with zipfile.ZipFile(io.BytesIO(raw)) as archive:
        assert archive.testzip() is None
        read = {name: archive.read(name) for name in archive.namelist()}
    assert read == csv_files(season.book(), said)
    assert raw == as_archive(season.book(), said)
