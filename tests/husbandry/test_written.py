"""A dose that somebody entitled wrote down, and the strokes that give it and no more."""

from __future__ import annotations

import pytest
from computing_cases import CHEMISTRY, terms
from hypothesis import given as for_all
from hypothesis import strategies as st
from rules_season import Season

from fieldapp.husbandry.answers import Reason
from fieldapp.husbandry.applicators import Measured, given, per_stroke
from fieldapp.husbandry.chance.intervals import Interval
from fieldapp.husbandry.mixing.strength import Strength
from fieldapp.husbandry.written import WrittenDose, by_label, by_veterinarian, strokes_for
from fieldapp.journal.corrections import versions
from fieldapp.journal.kinds import KINDS
from fieldapp.words import Speech, say

TEN_PERCENT = Strength(Interval(10, 10), "dihydrate", "w/v")
STROKE = per_stroke([Measured(10, 20, "mL"), Measured(10, 22, "mL"), Measured(20, 42, "mL")])
WRITTEN = WrittenDose(1.0, "mist", "XX", say("letter 12"))


def strokes(written):
    return strokes_for(written, "mist", "XX", STROKE, TEN_PERCENT, CHEMISTRY)


def test_strokes_from_a_written_dose():
    """1 g at 0.22 g by the richest stroke: four, never five."""
    assert strokes(WRITTEN) == 4


@pytest.mark.parametrize(
    "written",
    [
        WRITTEN._replace(method="trickle"),
        WRITTEN._replace(country="YY"),
        WRITTEN._replace(grams=None),
        WRITTEN._replace(grams=0.1),
    ],
    ids=["other method", "other country", "not in grams", "under one stroke"],
)
def test_less_than_that_gives_a_reason_and_no_number(written):
    """Another method or country, another unit, a dose too small for one stroke."""
    assert isinstance(strokes(written), Reason)


@for_all(st.floats(0.3, 20))
def test_strokes_from_a_dose_never_give_more_than_it(grams):
    """Back through the strokes, even the richest stroke stays within the written dose."""
    number = strokes(WRITTEN._replace(grams=grams))
    assert given({"": number}, STROKE, TEN_PERCENT, CHEMISTRY).grams.high <= grams * (1 + 1e-9)


def label(*doses, standing="label in hand"):
    body = terms(dose=(list(doses), standing)) | {"method": "mist", "country": "XX"}
    return by_label(body, CHEMISTRY)


PER_COLONY = {"amount": 2, "unit": "g", "of": "dihydrate", "per": "colony"}


def test_the_dose_of_a_label_in_hand():
    """In grams for one colony; of several the smallest; anhydrous is more as dihydrate."""
    assert label(PER_COLONY).grams == 2
    assert label(PER_COLONY, PER_COLONY | {"amount": 1.5}).grams == 1.5
    assert label(PER_COLONY | {"of": "anhydrous", "amount": 1}).grams == pytest.approx(
        1.40019, abs=5e-6
    )
    assert label(PER_COLONY | {"unit": "mg", "amount": 900}).grams == pytest.approx(0.9)


@pytest.mark.parametrize("standing", ["read", "computed", "reported", "from memory"])
def test_what_is_not_the_label_in_hand_is_no_written_dose(standing):
    """The library's figure is for comparing, not for dosing."""
    assert label(PER_COLONY, standing=standing) is None
    assert by_label(terms(), CHEMISTRY) is None


@pytest.mark.parametrize("other", [{"of": "solution"}, {"per": "seam"}, {"of": "product"}])
def test_a_dose_that_is_not_grams_for_a_colony(other):
    """Nothing is reckoned from it: no grams."""
    assert label(PER_COLONY | other).grams is None


BY = {"who": "veterinarian", "name": "Dr Invented", "day": "2026-03-01", "document": "letter 12"}


def vets(**dose) -> dict:
    return {
        "treatment": "any/1/mist",
        "country": "XX",
        "dose": PER_COLONY | dose,
        "given_by": BY,
    }


def read(season, root):
    return by_veterinarian(versions(season.records)[root], "mist", CHEMISTRY)


def test_a_veterinarians_written_dose():
    """Its grams, and in words who wrote it, where and when."""
    season = Season()
    root = season.add("written_dose", "2026-03-02", vets(), hive=None)
    found = read(season, root)
    assert (found.grams, found.country, found.records) == (2, "XX", (root,))
    assert Speech()(found.words) == "Dr Invented, letter 12, 1 Mar 2026"


@pytest.mark.parametrize(
    ("other", "grams"),
    [(vets(amount=1.5), 1.5), (vets(amount=3), 2), (vets(per="seam"), None)],
    ids=["smaller", "larger", "not for one colony"],
)
def test_versions_side_by_side(other, grams):
    """The smaller dose counts until it is answered; none where one has no grams."""
    season = Season()
    root = season.add("written_dose", "2026-03-02", vets(), hive=None)
    season.correct(root, body=vets())
    season.correct(root, body=other)
    assert read(season, root).grams == grams


def test_a_version_that_takes_it_back():
    """Then there is no written dose, whatever the other version says."""
    season = Season()
    root = season.add("written_dose", "2026-03-02", vets(), hive=None)
    taken_back = season.correct(root, void=True)
    season.correct(root, body=vets())
    assert read(season, root) is None
    season.correct(root, heads=(taken_back,), body=vets())
    assert read(season, root).grams == 2


@pytest.mark.parametrize("lacks", ["who", "name", "day", "document"])
def test_a_document_has_all_four(lacks):
    """Who, name, day and document: without one the record is not understood."""
    check = KINDS["written_dose", 1].check
    given_by = {name: value for name, value in BY.items() if name != lacks}
    assert check(vets()) is None
    assert check(vets() | {"given_by": given_by}).where == f"given_by.{lacks}"
    assert check(vets() | {"given_by": BY | {"who": "keeper"}}).where == "given_by.who"
