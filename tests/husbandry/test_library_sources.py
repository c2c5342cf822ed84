"""docs/sources.md and the library say the same: each value is joined to its row."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator, Mapping
from copy import deepcopy
from pathlib import Path
from typing import Any, NamedTuple

import pytest

from fieldapp.assets import folder
from fieldapp.husbandry.library import Source, Treatment, Value, load

DOCS = Path(__file__).parents[2] / "docs" / "sources.md"
LIBRARY = load(folder("treatments"))
#: From the strongest to the weakest.
STANDINGS = ["read", "computed", "reported", "from memory"]


class Row(NamedTuple):
    """One row of the docs: its value decoded, None where it has none."""

    value: Any
    unit: str
    standing: str
    sources: tuple[str, ...]


def table_lines(heading: str) -> Iterator[list[str]]:
    """The cells of every table in the docs whose heading is `heading`."""
    inside = False
    for line in DOCS.read_text(encoding="utf-8").splitlines():
        cells = [cell.strip() for cell in line.strip("|").split(" | ")]
        if line.startswith(f"| {heading} |"):
            inside = True
        elif not line.startswith("|"):
            inside = False
        elif inside and not line.startswith("| ---"):
            yield cells


def read_rows() -> dict[str, Row]:
    rows: dict[str, Row] = {}
    for row_id, _fact, value, unit, standing, sources in table_lines("row"):
        assert row_id not in rows, f"{row_id} stands twice"
        literal = None if value == "-" else tomllib.loads(f"it = {value.strip('`')}")["it"]
        rows[row_id] = Row(literal, unit, standing, tuple(re.split(r",\s*", sources)))
    return rows


ROWS = read_rows()
DOC_SOURCES = {cells[0]: cells[1:] for cells in table_lines("key")}


def without_unit(key: str, value: Any) -> tuple[Any, str]:
    """Part a library value into what stands in the value column and in the unit column."""
    if key == "dose":
        units = [f"{one['unit']} of {one['of']} per {one['per']}" for one in value]
        bare = [{k: v for k, v in one.items() if k not in ("unit", "of", "per")} for one in value]
        return bare, units[0] if len(set(units)) == 1 else "; ".join(units)
    if key == "limit":
        return {"number": value["number"]}, f"{value['counts']} per {value['per']}"
    if key == "colony_size":
        return {k: v for k, v in value.items() if k != "unit"}, value["unit"]
    if key == "period":
        return value, "d" if value["form"] == "days" else "season"
    if key == "rest":
        return value, " and ".join("d" if name == "days" else name for name in value)
    units_by_key = {
        "applications": "applications",
        "gap": "d",
        "look_queen": "d",
        "residual": "d",
        "stay": "d",
        "temperature": "degC",
    }
    return value, units_by_key.get(key, "-")


def weakest(standings: list[str]) -> str:
    return max(standings, key=STANDINGS.index)


def disagreements(
    key: str, value: Value, sources: Mapping[str, Source], rows: Mapping[str, Row]
) -> list[str]:
    """Say in what a library value and its row or rows differ; empty where they agree."""
    joined = [rows[row_id] for row_id in value.row.split() if row_id in rows]
    if len(joined) != len(value.row.split()):
        return [f"no such row: {value.row}"]
    found = []
    bare, unit = without_unit(key, value.value)
    row_value = [line for row in joined for line in row.value] if joined[1:] else joined[0].value
    if bare != row_value or type(bare) is not type(row_value):
        found.append(f"value {bare} is not {row_value}")
    if {unit} != {row.unit for row in joined}:
        found.append(f"unit {unit} is not {[row.unit for row in joined]}")
    expected = weakest([stands(row, value.source, sources) for row in joined])
    if value.standing != expected:
        found.append(f"standing {value.standing} is not {expected}")
    if value.source not in {source for row in joined for source in row.sources}:
        found.append(f"source {value.source} is not of {value.row}")
    return found


def stands(row: Row, cited: str, sources: Mapping[str, Source]) -> str:
    """A row's standing by the source that is cited: one without issuer or year only reports."""
    source = sources[cited if cited in row.sources else row.sources[0]]
    return row.standing if source.complete else weakest([row.standing, "reported"])


def shipped_sources() -> dict[str, Source]:
    """Every source of the library, those included that no treatment names as its first."""
    texts = tomllib.loads((folder("treatments") / "sources.toml").read_text(encoding="utf-8"))
    return {
        key: Source(**(dict.fromkeys(Source._fields) | entry))
        for key, entry in texts.items()
        if isinstance(entry, dict)
    }


SOURCES = shipped_sources()


@pytest.mark.parametrize("treatment", list(LIBRARY), ids=lambda each: each.identity)
def test_each_value_agrees_with_its_row(treatment: Treatment) -> None:
    """Value, unit, standing and source of every library value are those of its row."""
    found = {
        key: wrong
        for key, value in treatment.values.items()
        if (wrong := disagreements(key, value, SOURCES, ROWS))
    }
    assert found == {}


@pytest.mark.parametrize("treatment", list(LIBRARY), ids=lambda each: each.identity)
def test_the_join_sees_every_difference(treatment: Treatment) -> None:
    """Each value, changed in its figure, standing, source or row, no longer agrees."""
    for key, value in treatment.values.items():
        for changed in (
            value._replace(value=other(value.value)),
            value._replace(standing=STANDINGS[STANDINGS.index(value.standing) - 1]),
            value._replace(source="biology-brood" if value.source != "biology-brood" else "memory"),
            value._replace(row="Z9"),
        ):
            assert disagreements(key, changed, SOURCES, ROWS), (key, changed)


@pytest.mark.parametrize("key", ["dose", "limit", "colony_size", "rest"])
def test_the_join_sees_another_unit(key: str) -> None:
    """A figure that is right in the wrong unit does not agree."""
    other_unit = {
        "dose": lambda it: [{**it[0], "of": "dihydrate"}, *it[1:]],
        "limit": lambda it: {**it, "counts": "applications"},
        "colony_size": lambda it: {**it, "unit": "seams"},
        "rest": lambda it: {"days": it["months"]},
    }[key]
    for treatment in LIBRARY:
        if value := treatment.values.get(key):
            changed = value._replace(value=other_unit(deepcopy(value.value)))
            assert any(
                wrong.startswith("unit") for wrong in disagreements(key, changed, SOURCES, ROWS)
            )


def other(value: Any) -> Any:
    """The value with the first figure or word in it changed."""
    if isinstance(value, bool):
        return not value
    if isinstance(value, (int, float)):
        return value + 1
    if isinstance(value, str):
        return value + "s"
    if isinstance(value, list):
        return [other(value[0]), *value[1:]]
    first = next(iter(value))
    return {**value, first: other(value[first])}


@pytest.mark.parametrize("treatment", list(LIBRARY), ids=lambda each: each.identity)
def test_what_counts_as_ground_has_title_issuer_and_year(treatment: Treatment) -> None:
    """A value read or computed names a source that can be looked up."""
    for key, value in treatment.values.items():
        if value.standing in ("read", "computed"):
            source = treatment.sources[value.source]
            assert source.title and source.issuer and source.year, key


def test_the_docs_list_the_librarys_sources() -> None:
    """Title, issuer, year, country and note stand in the docs as in the library."""
    for key, source in SOURCES.items():
        expected = [source.title, source.issuer, source.year, source.country, source.note]
        assert DOC_SOURCES[key] == ["-" if it is None else str(it) for it in expected], key


def test_every_row_has_a_standing_and_a_listed_source() -> None:
    """No figure stands in the docs without saying how it is known and where it stands."""
    for row_id, row in ROWS.items():
        if row.standing == "not found":
            assert row.value is None and row.sources == ("-",), row_id
        else:
            assert row.standing in STANDINGS, row_id
            assert set(row.sources) <= set(DOC_SOURCES), row_id


def test_rows_from_memory_cite_nothing_that_was_read() -> None:
    """A figure from memory cites no text; the densities' equations are in one that was found."""
    rows = {row_id: row for row_id, row in ROWS.items() if row.standing == "from memory"}
    assert {row_id for row_id, row in rows.items() if row.sources != ("memory",)} == {"D60", "D61"}


def test_emergency_numbers_agree_with_their_row() -> None:
    """Numbers and standing of the emergency file are those of the row that it names."""
    file = tomllib.loads((folder("safety") / "emergency.toml").read_text(encoding="utf-8"))
    row = ROWS[file["row"]]
    assert (file["numbers"], file["standing"]) == (row.value, row.standing)


def test_undated_united_kingdom_texts_do_not_speak_for_northern_ireland() -> None:
    """Before 2021 one label held in both; a text without a year may be later."""
    for treatment in LIBRARY:
        if treatment.country == "GB-NIR":
            for source in treatment.sources.values():
                if source.country == "GB" and source.covers:
                    assert source.year and source.year < 2021, source.title
