"""The shipped tables: every figure joined to its row in docs/sources.md; damage is said."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from computing_cases import TABLES

from fieldapp.husbandry.errors import Damaged
from fieldapp.husbandry.figures import STANDINGS, Figure, Table, read_table
from fieldapp.husbandry.published import load
from fieldapp.husbandry.thresholds import read_thresholds
from fieldapp.husbandry.vocabulary import word
from fieldapp.words import Phrase

DOCS = Path(__file__).parents[2] / "docs" / "sources.md"
# A figure that stands in the row in another unit: mites per 50 g of bees, kg/m3.
FACTORS = {"B30": 5.0, "D60": 1000.0}
WORDS = {"seven": "7", "a third": "0.33"}


def rows() -> dict[str, tuple[set[float], str]]:
    """Return the numbers and the standing of each row, by its id."""
    found = {}
    for line in DOCS.read_text(encoding="utf-8").splitlines():
        cells = [cell.strip() for cell in line.strip("| ").split(" | ")]
        if len(cells) != 6 or cells[4] not in STANDINGS:
            continue
        text = f"{cells[1]} {cells[2]}"
        for spelled, number in WORDS.items():
            text = text.replace(spelled, number)
        found[cells[0]] = ({float(n) for n in re.findall(r"\d+(?:\.\d+)?", text)}, cells[4])
    return found


ROWS = rows()


def figures(table: Table, entry: Any = None, where: str = "") -> Iterator[tuple[str, Figure]]:
    """Yield every figure of a table with the place where it stands."""
    entry = table.entries if entry is None else entry
    if isinstance(entry, list):
        for number, item in enumerate(entry):
            yield from figures(table, item, f"{where}[{number}]")
    elif isinstance(entry, dict):
        if "unit" in entry and ("value" in entry or "low" in entry):
            yield where, table.read_figure(entry, where)
        else:
            for name, item in entry.items():
                yield from figures(table, item, f"{where}.{name}")


ALL = [
    pytest.param(figure, id=f"{table.name}{where}")
    for table in TABLES
    for where, figure in figures(table)
]


@pytest.mark.parametrize("figure", ALL)
def test_every_figure_is_joined_to_its_row(figure):
    """Its ends stand in the row, and it claims no better standing than the row has."""
    if figure.standing == "common practice":
        assert not figure.row, "common practice has no source and no row"
        return
    numbers, standing = ROWS[figure.row]
    factor = FACTORS.get(figure.row, 1.0)
    for end in {figure.low, figure.high}:
        near = min(numbers, key=lambda n: abs(n - end * factor))
        assert near == pytest.approx(end * factor, rel=1e-9), f"{end} is not in row {figure.row}"
    assert STANDINGS.index(figure.standing) >= STANDINGS.index(standing)
    assert figure.source.title


def test_solubility_is_joined_to_its_row():
    """The whole table stands in its row."""
    entry = TABLES.chemistry.entries["solubility"]
    numbers, standing = ROWS[entry["row"]]
    assert {grams for _, grams in entry["points"]} <= numbers
    assert entry["standing"] == standing


GOOD = """
[sources.one]
title = "A table"
[a]
b = { value = 3, unit = "g", standing = "read", source = "one", row = "X1" }
"""


def test_a_figure_carries_everything():
    """Value, unit, standing, source and row come out as they went in."""
    figure = read_table("t", GOOD).figure("a", "b")
    assert (figure.low, figure.high, figure.unit, figure.row) == (3, 3, "g", "X1")
    assert figure.grounds
    assert figure.source.cite() == "A table"


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("value = 3, ", ""),
        ("value = 3", 'value = "3"'),
        ("value = 3", "low = 4, high = 3"),
        ('unit = "g", ', ""),
        ('standing = "read"', 'standing = "sure"'),
        ('source = "one"', 'source = "two"'),
        ("[a]", "[c]"),
        ("title", "tittle"),
        ("[a]", "[a"),
    ],
)
def test_damage_names_the_table_and_the_place(old, new):
    """A missing value, unit, source or standing, a broken line: said with the table's name."""
    with pytest.raises(Damaged, match=r"The table t .* is damaged"):
        read_table("t", GOOD.replace(old, new)).figure("a", "b")


def test_a_missing_file_is_said(tmp_path):
    """Without its tables the app says what to do, in words."""
    with pytest.raises(Damaged, match=r"biology.toml .* cannot be read: install it again"):
        load(tmp_path)


def test_every_threshold_has_an_id_of_its_own():
    """No threshold hides another."""
    ids = [each.id for each in read_thresholds(TABLES.thresholds)]
    assert len(ids) == len(set(ids))


def table_words() -> set[str]:
    """Return every word of the tables that goes into a sentence."""
    limits = read_thresholds(TABLES.thresholds)
    biology = TABLES.biology.entries
    return {
        *(each.means for each in limits),
        *(each.figure.unit for each in limits),
        *(each["name"] for each in biology["bees"]["measures"]),
        *(each["when"] for each in biology["board"]["totals"]),
        *(each["name"] for each in TABLES.measures.entries["measure"]),
    }


@pytest.mark.parametrize("text", sorted(table_words()))
def test_every_word_of_the_tables_can_be_translated(text):
    """A word that goes into a sentence is a phrase, not bare English."""
    assert isinstance(word(text), Phrase)
