"""The books beside the hives: kept current, alike from a kept file and from scratch."""

from __future__ import annotations

import random
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from fieldapp.book.book import Book
from fieldapp.husbandry.answers import Line
from fieldapp.journal.record import Draft
from fieldapp.journal.store import Journal
from fieldapp.words.speech import Speech

KEEPER, APIARY, HIVE, OTHER, TERMS = (
    f"0197a000-0000-7000-8000-00000000000{n}" for n in range(1, 6)
)
ACID = "AU-NSW/1/1/acid/drip"
DAY = date(2026, 7, 10)
SOURCES = {"label": {"title": "A label", "issuer": "An issuer", "year": 2024}}


def draft(kind: str, day: str, body: dict[str, Any], **envelope: Any) -> Draft:
    return Draft(kind, f"{day}T10:00:00+10:00[Australia/Sydney]", KEEPER, body, **envelope)


def value(what: Any) -> dict[str, Any]:
    return {"value": what, "standing": "read", "source": "label"}


class Desk:
    """A journal, a book with a file, and drafts written in few words."""

    def __init__(self, folder: Path) -> None:
        self.file = folder / "book.db"
        chance = random.Random(4)
        self.journal = Journal.open(
            folder / "journal.db", now_ms=lambda: 1_780_000_000_000, entropy=chance.randbytes
        )
        self.book = Book.open(self.journal, self.file)
        at_home = {"apiary": APIARY}
        body = {"name": "Ferry Lane", "country": "AU-NSW", "lat": -33.0}
        terms = {
            "treatment": ACID, "name": "acid", "active": "acid", "method": "drip",
            "form": "dose", "published": True, "sources": SOURCES,
            "values": {
                "applications": value({"usual": 3}),
                "gap": value({"least": 5, "target": 7, "most": 9}),
            },
        }  # fmt: skip
        self.write(
            draft("apiary", "2026-01-01", body, **at_home),
            draft("hive", "2026-01-01", {"number": "1"}, hive=HIVE, **at_home),
            draft("hive", "2026-01-01", {"number": "2"}, hive=OTHER, **at_home),
            draft("terms", "2026-01-01", terms, id=TERMS),
        )

    def write(self, *drafts: Draft) -> list[str]:
        written = self.journal.write(drafts)
        self.book.refresh()
        return [record.id for record in written]

    def apply(self, day: str, hive: str = HIVE, **body: Any) -> str:
        body = {"treatment": ACID, "terms": TERMS, **body}
        return self.write(draft("application", day, body, hive=hive, apiary=APIARY))[0]

    def lines(self, day: date = DAY) -> dict[str, Line]:
        return {line.task: line for line in self.book.agenda(day)}

    def agendas(self) -> list[list[Line]]:
        """The agenda as it stands, from the kept file, and from scratch."""
        self.book.keep()
        kept, scratch = Book.open(self.journal, self.file), Book.open(self.journal)
        return [book.agenda(DAY) for book in (self.book, kept, scratch)]


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[Desk]:
    made = Desk(tmp_path)
    yield made
    made.book.close()
    made.journal.close()


def bought(amount: float, **says: Any) -> Draft:
    body = {"product": "acid", "treatment": ACID, "amount": amount, "unit": "mL", **says}
    return draft("bought", "2026-06-01", body)


def test_stock_to_buy_stands_on_the_agenda(desk: Desk) -> None:
    """One of three given with 30 mL: 60 are needed, 20 are left."""
    (lot,) = desk.write(bought(50))
    desk.apply("2026-07-05", drawn=[{"lot": lot, "amount": 30, "unit": "mL"}])
    line = desk.lines()["buy"]
    said = Speech()
    assert said(line.what) == "Buy or mix: acid"
    assert said(line.reasons[0].phrase) == "planned applications need 60 mL, 20 on hand"
    assert line.last == date(2026, 7, 12)


def test_the_ledger_follows_each_record(desk: Desk) -> None:
    """A purchase, a use, a correction of the use, a void: the balance after each."""
    (lot,) = desk.write(bought(50))
    root = desk.apply("2026-07-05", drawn=[{"lot": lot, "amount": 30, "unit": "mL"}])

    def on_hand() -> float:
        return desk.book.shelf.ledger().stock.lots[0].on_hand

    assert on_hand() == 20
    body = {"treatment": ACID, "terms": TERMS, "drawn": [{"lot": lot, "amount": 5, "unit": "mL"}]}
    change = {"corrects": root, "hive": HIVE, "apiary": APIARY}
    (first,) = desk.write(draft("application", "2026-07-05", body, **change))
    assert on_hand() == 45
    desk.write(draft("application", "2026-07-05", body, **change, heads=(first,), void=True))
    assert on_hand() == 50


def test_a_use_that_only_a_correction_names_is_found(desk: Desk) -> None:
    """The application said nothing of a lot; corrected, it does, also after a new start."""
    (lot,) = desk.write(bought(50))
    root = desk.apply("2026-07-05")
    assert desk.book.shelf.ledger().stock.lots[0].on_hand == 50
    body = {"treatment": ACID, "terms": TERMS, "drawn": [{"lot": lot, "amount": 5, "unit": "mL"}]}
    desk.write(draft("application", "2026-07-05", body, corrects=root, hive=HIVE, apiary=APIARY))
    desk.book.keep()
    for book in (desk.book, Book.open(desk.journal, desk.file), Book.open(desk.journal)):
        assert book.shelf.ledger().stock.lots[0].on_hand == 45


def test_a_kept_file_and_a_fold_from_scratch_give_the_same_agenda(desk: Desk) -> None:
    """Stock, filters, standstill, counts of a law: the same lines from both."""
    (lot,) = desk.write(bought(50, expiry="2026-07-20"))
    desk.apply("2026-07-05", drawn=[{"lot": lot, "amount": 30, "unit": "mL"}])
    wash = {"way": "wash", "mites": 9, "bees": 300}
    desk.write(
        draft("gear", "2026-06-01", {"what": "filter", "name": "A2P3"}),
        draft("visit", "2026-07-01", {"by": "inspector", "standstill": "set"}, apiary=APIARY),
        draft("count", "2026-07-02", wash, hive=HIVE, apiary=APIARY),
    )
    now, kept, scratch = desk.agendas()
    assert now == kept == scratch
    tasks = {line.task for line in now}
    assert {"expiry", "buy", "change", "standstill", "report", "treat_all", "count_by_law"} <= tasks


def test_new_south_wales_counts_follow_corrections(desk: Desk) -> None:
    """9 mites corrected to 5: no longer over the mark; a voided count is none to report."""
    wash = {"way": "wash", "mites": 9, "bees": 300}
    (root,) = desk.write(draft("count", "2026-07-02", wash, hive=HIVE, apiary=APIARY))
    assert set(desk.lines()["treat_all"].hives) == {HIVE, OTHER}
    change = {"corrects": root, "hive": HIVE, "apiary": APIARY}
    (first,) = desk.write(draft("count", "2026-07-02", wash | {"mites": 5}, **change))
    assert "treat_all" not in desk.lines()
    assert "report" in desk.lines()
    desk.write(draft("count", "2026-07-02", wash, **change, heads=(first,), void=True))
    assert "report" not in desk.lines()


def test_all_hives_treated_ends_the_line(desk: Desk) -> None:
    """One hive is left after the first was treated, none after the second."""
    wash = {"way": "wash", "mites": 9, "bees": 300}
    desk.write(draft("count", "2026-07-02", wash, hive=HIVE, apiary=APIARY))
    desk.apply("2026-07-05", HIVE)
    assert desk.lines()["treat_all"].hives == (OTHER,)
    desk.apply("2026-07-06", OTHER)
    assert "treat_all" not in desk.lines()


def test_boxes_without_bees_are_not_left_to_treat(desk: Desk) -> None:
    """The colony of one hive was put to the other's: that one alone is left."""
    wash = {"way": "wash", "mites": 9, "bees": 300}
    desk.write(draft("count", "2026-07-02", wash, hive=HIVE, apiary=APIARY))
    body = {"from_hive": OTHER, "from_colony": OTHER}
    desk.write(draft("unite", "2026-07-03", body, hive=HIVE, colony=HIVE, apiary=APIARY))
    assert desk.lines()["treat_all"].hives == (HIVE,)
    assert [place.hives for place in desk.book.apiaries(DAY)] == [1]


def test_what_the_books_ask_comes_after_what_is_to_be_done_at_hives(desk: Desk) -> None:
    """A batch long past its day stands below an application that is late by a day."""
    batch = {"recipe": "drip 1", "amount": 100, "unit": "mL", "keep_until": "2026-06-10"}
    desk.write(draft("batch", "2026-06-01", batch))
    desk.apply("2026-06-30")
    late = [line.task for line in desk.book.agenda(DAY) if line.timing == "late"]
    assert late == ["apply", "expiry"]
