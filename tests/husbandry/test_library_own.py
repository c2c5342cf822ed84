"""An own treatment is what the label in hand says: with units, and nothing assumed."""

from __future__ import annotations

from typing import Any

import pytest

from fieldapp.husbandry.library import QUESTIONS, LabelInHand, LibraryError, own_terms
from fieldapp.journal.kinds import KINDS
from fieldapp.journal.kinds.labels import VALUES

OWN = "0197c0de-0000-7000-8000-000000000001"
LABEL = LabelInHand("Invented strips, No 12", "Invented maker", 2024, "GB")


def terms(**answers: Any) -> dict[str, Any]:
    return own_terms(OWN, "Strips", "thymol", "strips", "pieces", LABEL, answers)


def value(key: str, answer: Any) -> Any:
    return terms(**{key: answer})["values"][key]["value"]


def test_terms_of_an_own_treatment_are_terms() -> None:
    """They pass the journal's check, and their identity is the treatment's own."""
    body = terms(period={"form": "days", "days": 14, "unit": "days"}, supers="off")
    assert KINDS["terms", 1].check(body) is None
    assert body["treatment"] == f"own/{OWN}"
    assert {each["standing"] for each in body["values"].values()} == {"label in hand"}
    assert body["sources"]["label"]["title"] == "Invented strips, No 12"


def test_what_the_label_does_not_say_is_not_known() -> None:
    """No answer, no value; no year on the label, no year in the source."""
    assert terms()["values"] == {}
    undated = own_terms(OWN, "A", "b", "c", "dose", LABEL._replace(year=None), {})
    assert "year" not in undated["sources"]["label"]


def test_weeks_become_days() -> None:
    """A label speaks of weeks, rules of days."""
    assert value("gap", {"least": 3, "most": 4, "unit": "weeks"}) == {"least": 21, "most": 28}
    stays = [{"when": "any", "least": 6, "most": 8, "unit": "weeks"}]
    assert value("stay", stays) == [{"when": "any", "least": 42, "most": 56}]
    assert value("period", {"form": "days", "days": 2, "unit": "weeks"})["days"] == 14
    assert value("look_queen", {"days": 2, "unit": "weeks"}) == 14


def test_a_published_zero_is_an_answer() -> None:
    """Zero days is a figure of the label, not a missing one; a season has no unit."""
    assert value("period", {"form": "days", "days": 0, "unit": "days"})["days"] == 0
    assert value("period", {"form": "next season's supers"}) == {"form": "next season's supers"}


def test_fahrenheit_becomes_celsius() -> None:
    """50 to 85 degF are 10 to 29.4 degC; degC stay as they are."""
    warm = {"what": "maximum", "weight": "must"}
    (there,) = value("temperature", [{**warm, "low": 50, "high": 85, "unit": "degF"}])
    (here,) = value("temperature", [{**warm, "low": 10, "high": 29.5, "unit": "degC"}])
    assert (there["low"], there["high"]) == (10, 29.4)
    assert (here["low"], here["high"]) == (10, 29.5)


@pytest.mark.parametrize(
    ("key", "answer", "place"),
    [
        ("gap", {"least": 3}, "gap, unit"),
        ("gap", {"least": 3, "unit": "fortnights"}, "gap, unit"),
        ("gap", 3, "gap, unit"),
        ("stay", [{"when": "any", "least": 6}], "stay.0, unit"),
        ("stay", 6, "stay.value"),
        ("period", {"form": "days", "days": 0}, "period, unit"),
        ("temperature", [{"what": "any", "low": 10, "weight": "must"}], "temperature.0, unit"),
        ("look_queen", 14, "look_queen, unit"),
        ("look_queen", {"unit": "days"}, "look_queen.value"),
        ("gap", {"least": 1.5, "unit": "weeks"}, "gap.value.least"),
        ("gap", {"least": "3", "unit": "weeks"}, "gap.value.least"),
        ("dose", [{"amount": 5, "of": "solution", "per": "seam"}], "dose.value.0.unit"),
        ("supers", "sometimes", "supers.value"),
        ("residual", 3, "residual"),
        ("colour", "red", "colour"),
    ],
)
def test_an_answer_that_does_not_fit_is_named(key: str, answer: Any, place: str) -> None:
    """No unit, no label's word or no such question: the answer's place and what fits are said."""
    with pytest.raises(LibraryError) as caught:
        terms(**{key: answer})
    assert caught.value.where == place
    assert caught.value.expected


def test_every_value_of_a_label_is_asked() -> None:
    """Whatever terms may say is asked for once, but for what no label says."""
    keys = [asked.key for asked in QUESTIONS]
    assert len(set(keys)) == len(keys)
    assert set(VALUES) - set(keys) == {"residual"}
