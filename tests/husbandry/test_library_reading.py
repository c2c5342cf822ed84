"""The loader takes a label's values and refuses what cannot be one, naming file and place."""

from __future__ import annotations

from pathlib import Path

import pytest

from fieldapp.husbandry.library import Library, LibraryError, load, parse
from fieldapp.words import Speech

SOURCES = """
version = "test"
[label]
title = "Label"
issuer = "holder"
year = 2015
covers = ["DE"]
[undated]
title = "Copy without a year"
issuer = "a site"
covers = ["DE"]
"""
TREATMENT = """
name = "Strips"
active = "amitraz"
method = "strips"
countries = ["DE"]
label = "No 1/2"
version = "2015"
form = "pieces"
published = true
[values]
period = { value = { form = "days", days = 0 }, standing = "read", source = "label", row = "C1" }
"""


def library(treatment: str = TREATMENT, sources: str = SOURCES) -> Library:
    return parse({"strips.toml": treatment, "sources.toml": sources})


def test_a_treatment_is_known_by_its_label_not_by_its_substance() -> None:
    """The identity is country, label, version, active substance and method."""
    (strips,) = library()
    assert strips.identity == "DE/No-1-2/2015/amitraz/strips"
    assert library().get(strips.identity) == strips
    assert library().get("DE/No-1-2/2016/amitraz/strips") is None


def test_terms_carry_each_value_with_standing_and_source() -> None:
    """The terms body fixes what rules read, and the source in full."""
    (strips,) = library()
    body = strips.terms_body()
    assert body["values"]["period"] == {
        "value": {"form": "days", "days": 0},
        "standing": "read",
        "source": "label",
        "row": "C1",
    }
    assert body["sources"] == {"label": {"title": "Label", "issuer": "holder", "year": 2015}}
    assert body["library"] == "test"


def test_terms_share_nothing_with_the_library() -> None:
    """Whoever changes a terms body changes no other and not the library."""
    (strips,) = library()
    strips.terms_body()["values"]["period"]["value"]["days"] = 99
    assert strips.terms_body()["values"]["period"]["value"]["days"] == 0


def test_one_file_may_stand_for_labels_that_are_apart() -> None:
    """Two countries in one file are two treatments with identities of their own."""
    both = library(
        TREATMENT.replace('["DE"]', '["DE", "AT"]'), SOURCES.replace('["DE"]', '["DE", "AT"]')
    )
    assert {each.country for each in both} == {"DE", "AT"}
    assert len({each.identity for each in both}) == 2


@pytest.mark.parametrize(
    ("old", "new", "place", "expected"),
    [
        ('name = "Strips"', "", "strips.toml, name", "this field as str"),
        ('form = "pieces"', 'form = "cloud"', "strips.toml, form", "dose, pieces, act"),
        ("[values]", "colour = 1\n[values]", "strips.toml", "no field colour"),
        ('countries = ["DE"]', "countries = []", "strips.toml, countries", "a list of countries"),
        ('["DE"]', "[1]", "strips.toml, countries", "a list of countries"),
        ('"label"', '["label"]', "strips.toml, period", "standing, source and row as texts"),
        ("days = 0", "days = 0.5", "values.period.value.days", "a whole number"),
        ("days = 0", "days = -1", "values.period.value.days", "a whole number"),
        ("period = {", "wait = {", "strips.toml, wait", "the name of a value that rules read"),
        (', row = "C1"', "", "strips.toml, period", "value, standing, source and row"),
        ('"read"', '"guessed"', "values.period.standing", "one of: read"),
        ('"label"', '"other"', "strips.toml, period", "a source of sources.toml, not other"),
        ("[values]", "[values", "strips.toml", "TOML"),
    ],
)
def test_what_is_wrong_is_named_with_its_place(
    old: str, new: str, place: str, expected: str
) -> None:
    """A broken file ends in one error that says where it is broken and what fits there."""
    assert old in TREATMENT
    with pytest.raises(LibraryError) as caught:
        library(TREATMENT.replace(old, new, 1))
    assert place in caught.value.where
    assert expected in Speech()(caught.value.expected)


@pytest.mark.parametrize("standing", ["read", "computed"])
def test_a_source_without_year_is_no_ground(standing: str) -> None:
    """Read and computed need title, issuer and year of the source; reported does not."""
    undated = TREATMENT.replace('"label"', '"undated"')
    with pytest.raises(LibraryError, match="title, issuer and year of undated"):
        library(undated.replace('"read"', f'"{standing}"'))
    assert len(library(undated.replace('"read"', '"reported"'))) == 1


def test_no_country_borrows_another_countrys_figure() -> None:
    """A label's value needs a source that speaks for the label's country."""
    with pytest.raises(LibraryError, match="a source that speaks for AT; label does not"):
        library(TREATMENT.replace('["DE"]', '["AT"]'))


def test_knowledge_of_the_substance_is_no_label() -> None:
    """What a person wears may come from any source: it is no country's figure."""
    gear = TREATMENT.replace('["DE"]', '["AT"]').replace(
        'period = { value = { form = "days", days = 0 }', 'protective = { value = ["Gloves"]'
    )
    assert len(library(gear)) == 1


def test_one_identity_stands_once() -> None:
    """Two files under one identity are refused, so none hides behind the other."""
    with pytest.raises(LibraryError, match="not two"):
        parse({"a.toml": TREATMENT, "b.toml": TREATMENT, "sources.toml": SOURCES})


@pytest.mark.parametrize(
    ("sources", "place"),
    [
        (SOURCES.replace('title = "Label"', ""), "sources.toml, label"),
        (SOURCES.replace('issuer = "holder"', "isuer = 1"), "sources.toml, label"),
        (SOURCES.replace('version = "test"', ""), "sources.toml, version"),
        (SOURCES.replace('covers = ["DE"]', "covers = 3", 1), "sources.toml, label"),
        (SOURCES.replace('covers = ["DE"]', 'covers = "DE"', 1), "sources.toml, label"),
    ],
)
def test_a_broken_source_is_named(sources: str, place: str) -> None:
    """A source without title, with a field mistyped, or no version at all is refused."""
    with pytest.raises(LibraryError) as caught:
        library(sources=sources)
    assert caught.value.where == place


def test_a_file_that_is_no_text_is_named(tmp_path: Path) -> None:
    """Bytes that are not UTF-8 end in the same error, with the file's name."""
    (tmp_path / "sources.toml").write_text(SOURCES, encoding="utf-8")
    (tmp_path / "strips.toml").write_bytes(TREATMENT.encode() + b"# \xff")
    with pytest.raises(LibraryError, match=r"strips\.toml: expected text in UTF-8"):
        load(tmp_path)


def test_without_its_sources_the_library_does_not_open() -> None:
    """Figures without sources are no library."""
    with pytest.raises(LibraryError, match="missing"):
        parse({"strips.toml": TREATMENT})
