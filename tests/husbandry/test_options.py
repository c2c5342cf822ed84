"""What may I do here: suits, does not suit, not known, with every reason."""

from __future__ import annotations

from dataclasses import fields, replace
from datetime import date
from itertools import product

import pytest
from choosing_cases import DAY, HIVE, MILD, PLAIN, says
from computing_cases import terms
from hypothesis import given, settings
from hypothesis import strategies as st

from fieldapp.assets import folder
from fieldapp.husbandry.choosing.options import options, table
from fieldapp.husbandry.choosing.situation import Situation, Weather
from fieldapp.husbandry.figures import GROUNDS
from fieldapp.husbandry.library import load as load_library
from fieldapp.husbandry.vocabulary import word
from fieldapp.words import Phrase

LIBRARY = load_library(folder("treatments"))


ALL = [each.terms_body() for each in LIBRARY]


def test_everything_fits():
    """Every aspect that the label names fits: it suits, and each says why with its source."""
    (option,) = options([terms(**PLAIN)], HIVE, DAY)
    assert option.says == "suits"
    aspects = {each.aspect: each for each in option.findings}
    assert {"brood", "supers", "temperature"} <= set(aspects)
    assert "An invented label" in aspects["brood"].reason.source
    assert aspects["brood"].reason.standing == "read"


def test_a_method_without_a_published_label_never_suits():
    """Whatever fits, the authority has to be asked."""
    body = {**terms(**PLAIN), "published": False}
    assert options([body], HIVE, DAY)[0].says == "not known"


@pytest.mark.parametrize("standing", ["reported", "from memory", "common practice"])
@pytest.mark.parametrize("key", ["brood", "temperature"])
def test_figures_that_were_not_read_never_suit(key, standing):
    """What is only reported or remembered may speak against, never for."""
    assert says(**{key: (PLAIN[key], standing)}) == "not known"
    assert says(replace(HIVE, brood="yes"), brood=("none", standing)) == "does not suit"


@pytest.mark.parametrize("key", ["brood", "temperature"])
def test_a_missing_value_never_suits(key):
    """Terms that say nothing of brood or temperature leave it not known."""
    values = {name: value for name, value in PLAIN.items() if name != key}
    assert options([terms(**values)], HIVE, DAY)[0].says == "not known"


def test_what_the_label_in_hand_says_makes_it_suit():
    """Where the label sets no condition the keeper enters that, and it is a ground."""
    free = [{"what": "any", "weight": "must"}]
    hand = {"brood": ("any", "label in hand"), "temperature": (free, "label in hand")}
    assert says(replace(HIVE, brood="not known", outlook={}), **hand) == "suits"


def test_hives_by_methods_in_one_table():
    """One row a hive, the same methods in the same order in each, none ranked or left out."""
    rows = table(ALL, {"1": HIVE, "2": replace(HIVE, brood="yes")}, DAY)
    order = [body["treatment"] for body in ALL]
    assert [[option.treatment for option in row] for row in rows.values()] == [order, order]
    assert all(option.findings for row in rows.values() for option in row)


def test_german_trickle_of_the_library():
    """Broodless, supers off, over 3 degC, not used yet: only the flow is not known."""
    german = next(b for b in ALL if b["treatment"].startswith("DE/standard-authorisation-3-5"))
    winter = date(2026, 12, 15)
    cold = replace(HIVE, outlook={winter: Weather(3, 5, 7)})
    (option,) = options([german], cold, winter)
    assert {each.aspect for each in option.findings if each.says == "not known"} == {"season"}
    assert options([german], replace(cold, brood="yes"), winter)[0].says == "does not suit"
    assert (
        options([german], replace(cold, outlook={winter: Weather(0, 1, 2)}), winter)[0].says
        == "does not suit"
    )


def test_knowing_nothing_nothing_suits():
    """With an empty situation no treatment of the library suits, with a substance or without."""
    assert "suits" not in {option.says for option in options(ALL, Situation(), DAY)}


def test_each_fitting_label_suits_the_hive_that_fits_it():
    """The properties below begin with a hive that labels fit, so that one can be lost."""
    assert {each.says for each in options(FITTING, HIVE, DAY)} == {"suits"}


def test_a_method_without_chemicals_that_needs_nothing_suits():
    """Where its terms name no need, nothing has to be known of the hive."""
    (option,) = options([terms(form="act")], Situation(), DAY)
    assert option.says == "suits"


@pytest.mark.parametrize(
    ("method", "brood", "queen", "answer"),
    [
        ("queen caged and released", "not known", "present", "suits"),
        ("queen caged and released", "yes", "absent", "does not suit"),
        ("queen caged and released", "yes", "not known", "not known"),
        ("drone comb cut out", "yes", "not known", "suits"),
        ("drone comb cut out", "none", "present", "does not suit"),
        ("all brood removed", "not known", "present", "not known"),
    ],
)
def test_methods_without_chemicals_and_what_they_need(method, brood, queen, answer):
    """A queen to be caged, sealed brood to be cut out: seen, not there, not known."""
    body = next(each for each in ALL if each["method"] == method)
    (option,) = options([body], Situation(brood=brood, queen=queen), DAY)
    assert option.says == answer


_hives = st.fixed_dictionaries(
    {},
    optional={
        "brood": st.sampled_from(["none", "hardly any", "yes", "not known"]),
        "queen": st.sampled_from(["present", "absent", "not known"]),
        "supers": st.sampled_from(["off", "on", "not known"]),
        "sizes": st.dictionaries(
            st.sampled_from(["frames of brood", "frames of bees", "boxes", "seams"]),
            st.integers(0, 12),
        ),
        "outlook": st.sampled_from([{}, MILD]),
        "others_untreated": st.sampled_from([True, False, None]),
        "standstill": st.sampled_from([True, False, None]),
        "flow": st.sampled_from([True, False, None]),
        "last_harvest_taken": st.sampled_from([True, False, None]),
    },
).map(lambda changes: replace(HIVE, **changes))
#: Labels that HIVE fits, besides the library's, so that there is something to lose.
FITTING = [
    terms(**PLAIN),
    terms(**PLAIN, colony_size={"least": 6, "unit": "frames of brood"}),
    terms(**PLAIN, flow="not during flow", after_last_harvest=True, whole_apiary=True),
    terms(form="act", queen="present"),
]


_UNKNOWN = Situation()


@settings(max_examples=50)
@given(_hives)
def test_knowing_less_never_makes_a_treatment_suit(hive):
    """Forgetting any one thing never turns a treatment to suits, for the whole library.

    Courses, a standstill and others left untreated are told, not looked for: none on record is
    none.
    """
    bodies = [*ALL, *FITTING]
    known = options(bodies, hive, DAY)
    for field in fields(Situation):
        if field.name not in ("courses", "standstill"):
            less = replace(hive, **{field.name: getattr(_UNKNOWN, field.name)})
            for one, other in zip(known, options(bodies, less, DAY), strict=True):
                assert other.says != "suits" or one.says == "suits", field.name


@given(_hives)
def test_suits_rests_on_grounds_only(hive):
    """Every finding that suits stands on a read figure, or on none of the label's."""
    for option in options([*ALL, *FITTING], hive, DAY):
        for found in option.findings:
            assert found.says != "suits" or found.reason.standing in {*GROUNDS, ""}
        if option.says == "suits":
            assert {each.says for each in option.findings} <= {"suits", "remark"}


@pytest.mark.parametrize(
    "texts",
    [
        ("none", "none or hardly any", "must be present", "any", "hardly any", "yes", "not known"),
        ("frames of brood", "frames of bees", "seams", "boxes", "bees"),
        ("product", "dihydrate", "anhydrous", "solution", "active", "bees", "piece", "nothing"),
        ("colony", "brood chamber", "box", "seam", "frame of bees", "comb side", "strip", "hive"),
    ],
    ids=["brood", "colony size", "dose of", "dose per"],
)
def test_every_word_of_the_terms_can_be_translated(texts):
    """A word of the terms that goes into a sentence is a phrase, not bare English."""
    assert all(isinstance(word(text), Phrase) for text in texts)


def test_every_word_of_the_terms_is_understood():
    """Each brood and temperature word that terms may hold is one that choosing knows."""
    words = product(
        ("none", "none or hardly any", "must be present", "any"),
        ("maximum", "minimum", "mean", "average", "any"),
    )
    for brood, what in words:
        assert says(brood=brood, temperature=[{"what": what, "low": 0, "weight": "must"}])
