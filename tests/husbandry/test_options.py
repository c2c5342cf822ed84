"""What may I do here: suits, does not suit, not known, with every reason."""

from __future__ import annotations

from dataclasses import fields, replace
from datetime import date, timedelta
from itertools import product

import pytest
from computing_cases import terms
from hypothesis import given
from hypothesis import strategies as st

from fieldapp.assets import folder
from fieldapp.husbandry.choosing.options import options, table
from fieldapp.husbandry.choosing.situation import PastCourse, Situation, Weather
from fieldapp.husbandry.figures import GROUNDS
from fieldapp.husbandry.library import load as load_library
from fieldapp.husbandry.vocabulary import word
from fieldapp.words import Phrase

DAY = date(2026, 8, 10)
MILD = {DAY + timedelta(days=n): Weather(12, 18, 24) for n in range(60)}
HIVE = Situation(
    brood="none",
    supers="off",
    outlook=MILD,
    others_untreated=False,
    standstill=False,
    flow=False,
    last_harvest_taken=True,
    sizes={"frames of brood": 7, "frames of bees": 9, "seams": 9, "boxes": 1, "bees": 15000},
)
PLAIN = {
    "brood": "none",
    "supers": "off",
    "temperature": [
        {"what": "maximum", "from_day": 0, "to_day": 3, "high": 29.5, "weight": "must"}
    ],
}
LIBRARY = load_library(folder("treatments"))
ALL = [each.terms_body() for each in LIBRARY]


def says(hive: Situation = HIVE, **values) -> str:
    return options([terms(**{**PLAIN, **values})], hive, DAY)[0].says


def findings(aspect: str, hive: Situation = HIVE, **values) -> list:
    (option,) = options([terms(**{**PLAIN, **values})], hive, DAY)
    return [each for each in option.findings if each.aspect == aspect]


def test_everything_fits():
    """Every aspect that the label names fits: it suits, and each says why with its source."""
    (option,) = options([terms(**PLAIN)], HIVE, DAY)
    assert option.says == "suits"
    aspects = {each.aspect: each for each in option.findings}
    assert {"brood", "supers", "temperature"} <= set(aspects)
    assert "An invented label" in aspects["brood"].reason.source
    assert aspects["brood"].reason.standing == "read"


@pytest.mark.parametrize(
    ("wants", "seen", "answer"),
    [
        ("none", "none", "suits"),
        ("none", "hardly any", "does not suit"),
        ("none", "yes", "does not suit"),
        ("none", "not known", "not known"),
        ("none or hardly any", "hardly any", "suits"),
        ("must be present", "none", "does not suit"),
        ("must be present", "yes", "suits"),
        ("any", "not known", "suits"),
    ],
)
def test_brood(wants, seen, answer):
    """A label's brood against what was seen; not seen is not known."""
    assert says(replace(HIVE, brood=seen), brood=wants) == answer


@pytest.mark.parametrize(
    ("wants", "seen", "answer"),
    [
        ("off", "off", "suits"),
        ("off", "on", "does not suit"),
        ("off, whole course", "not known", "not known"),
        ("allowed", "on", "suits"),
        ("allowed", "not known", "suits"),
        (None, "on", "does not suit"),
        (None, "off", "suits"),
    ],
)
def test_supers(wants, seen, answer):
    """Where terms do not say whether supers may be on, it is as if they must be off."""
    values = dict(PLAIN)
    values.pop("supers")
    if wants:
        values["supers"] = wants
    (option,) = options([terms(**values)], replace(HIVE, supers=seen), DAY)
    assert option.says == answer


def weather(what: str, days: list[Weather], **bounds) -> str:
    entry = {"what": what, "from_day": 0, "to_day": len(days) - 1, "weight": "must", **bounds}
    outlook = {DAY + timedelta(days=n): each for n, each in enumerate(days)}
    return says(replace(HIVE, outlook=outlook), temperature=[entry])


def test_formic_acid_wants_the_highest_of_the_day_and_the_three_after():
    """One day too hot decides, one day not known leaves it open; the bounds are included."""
    fine, hot, unknown = Weather(high=29.5), Weather(high=29.6), Weather()
    assert weather("maximum", [fine] * 4, low=10, high=29.5) == "suits"
    assert weather("maximum", [fine, fine, fine, hot], low=10, high=29.5) == "does not suit"
    assert weather("maximum", [fine, fine, fine, unknown], low=10, high=29.5) == "not known"
    assert (
        weather("maximum", [hot, unknown, unknown, unknown], low=10, high=29.5) == "does not suit"
    )


def test_thymol_wants_the_mean_of_its_weeks():
    """Cold and warm days may make up for one another in a mean, and not day by day."""
    days = [Weather(mean=10), Weather(mean=22)]
    assert weather("mean", days, low=15) == "suits"
    assert weather("average", days, low=15) == "does not suit"
    assert weather("mean", [Weather(mean=22), Weather()], low=15) == "not known"


def test_a_temperature_at_the_hour():
    """At least 3 degC when it is done: a day from 1 to 6 depends on the hour."""
    assert weather("any", [Weather(low=3, high=8)], low=3) == "suits"
    assert weather("any", [Weather(low=-4, high=2)], low=3) == "does not suit"
    assert weather("any", [Weather(low=1, high=6)], low=3) == "not known"


def test_ideal_and_dangerous_temperatures():
    """Outside the ideal is a remark, outside the safe a danger that decides."""
    ideal = [{"what": "maximum", "low": 25, "high": 30, "weight": "ideal"}]
    assert says(temperature=PLAIN["temperature"] + ideal) == "suits"
    danger = [
        {"what": "maximum", "from_day": 0, "to_day": 2, "high": 20, "weight": "danger outside"}
    ]
    (found,) = findings("temperature", temperature=danger)
    assert found.says == "does not suit"
    assert found.reason.phrase.text.startswith("danger")


def test_colony_size():
    """Too small does not suit; not counted is not known."""
    wants = {"least": 6, "unit": "frames of brood"}
    assert says(colony_size=wants) == "suits"
    assert says(replace(HIVE, sizes={"frames of brood": 5}), colony_size=wants) == "does not suit"
    assert says(replace(HIVE, sizes={"seams": 9}), colony_size=wants) == "not known"


def past(end: date | None, *days: date, **more) -> tuple[PastCourse, ...]:
    return (
        PastCourse("XX/1/1/acid/trickle", "acid", days or (DAY - timedelta(days=40),), end, **more),
    )


@pytest.mark.parametrize(
    ("rest", "end", "answer"),
    [
        ({"days": 30}, DAY - timedelta(days=30), "suits"),
        ({"days": 30}, DAY - timedelta(days=29), "does not suit"),
        ({"months": 1}, date(2026, 7, 10), "suits"),
        ({"months": 1}, date(2026, 7, 11), "does not suit"),
        (None, DAY - timedelta(days=300), "not known"),
    ],
)
def test_rest(rest, end, answer):
    """A start on the end plus the rest is not too soon; a missing rest is not known."""
    hive = replace(HIVE, courses=past(end, date(2025, 5, 1)))
    assert says(hive, **({"rest": rest} if rest else {})) == answer


def test_rest_over_the_end_of_a_short_month():
    """One month after 31 January is 28 February (calendar months, clamped)."""
    hive = replace(HIVE, courses=past(date(2026, 1, 31), date(2025, 1, 3)))
    for day, answer in [(date(2026, 2, 27), "does not suit"), (date(2026, 2, 28), "suits")]:
        warm = {day + timedelta(days=n): Weather(12, 18, 24) for n in range(5)}
        body = terms(**PLAIN, rest={"months": 1})
        assert options([body], replace(hive, outlook=warm), day)[0].says == answer


def test_pieces_still_in():
    """Earlier pieces that are still in do not let a new course begin."""
    hive = replace(HIVE, courses=past(None, pieces_in=True))
    assert says(hive, rest={"days": 1}) == "does not suit"


@pytest.mark.parametrize(
    ("number", "counts", "answer"),
    [
        (1, "courses", "does not suit"),
        (2, "courses", "suits"),
        (2, "applications", "does not suit"),
    ],
)
def test_yearly_limit(number, counts, answer):
    """One course of two applications this year: counted as the label counts."""
    days = (date(2026, 3, 1), date(2026, 3, 20))
    hive = replace(HIVE, courses=past(date(2026, 3, 20), *days))
    limit = {"number": number, "counts": counts, "per": "year"}
    assert says(hive, limit=limit, rest={"days": 1}) == answer


def test_a_course_counts_in_the_year_of_its_first_application():
    """Begun in December it belongs to the old year."""
    days = (date(2025, 12, 28), date(2026, 1, 4))
    hive = replace(HIVE, courses=past(date(2026, 1, 4), *days))
    limit = {"number": 1, "counts": "courses", "per": "year"}
    assert says(hive, limit=limit, rest={"days": 1}) == "suits"


def test_a_missing_limit_is_not_known_once_it_was_used():
    """Never used this year no limit can be passed; used once, a missing limit is not known."""
    hive = replace(HIVE, courses=past(date(2026, 3, 20), date(2026, 3, 1)))
    assert says(hive, rest={"days": 1}) == "not known"


def test_same_class_is_a_remark():
    """The class of the last course is told, and decides nothing."""
    other = PastCourse("XX/2/1/other/strips", "acids", (date(2026, 6, 1),), date(2026, 6, 1))
    hive = replace(HIVE, courses=(other,))
    (found,) = findings("class", hive, **{"class": "acids"})
    assert found.says == "remark"
    assert says(hive, **{"class": "acids"}) == "suits"


@pytest.mark.parametrize(
    ("untreated", "answer"), [(False, "suits"), (True, "does not suit"), (None, "not known")]
)
def test_all_colonies_at_once(untreated, answer):
    """A label that wants all colonies treated together does not suit where some are left out."""
    assert says(replace(HIVE, others_untreated=untreated), whole_apiary=True) == answer


def test_untreated_neighbours_are_remarked_anyway():
    """Mites come back from colonies that are left untreated."""
    assert findings("other colonies", replace(HIVE, others_untreated=True))[0].says == "remark"


@pytest.mark.parametrize(
    ("key", "value", "state", "good", "bad"),
    [
        ("flow", "not during flow", "flow", False, True),
        ("after_last_harvest", True, "last_harvest_taken", True, False),
    ],
)
def test_season(key, value, state, good, bad):
    """Nectar flow and the year's last harvest, where the label names them."""
    for seen, answer in [(good, "suits"), (bad, "does not suit"), (None, "not known")]:
        assert says(replace(HIVE, **{state: seen}), **{key: value}) == answer


@pytest.mark.parametrize(
    ("have", "answer"),
    [
        ({}, "not known"),
        ({"XX/1/1/acid/trickle": True}, "suits"),
        ({"XX/1/1/acid/trickle": False}, "does not suit"),
    ],
)
def test_prescription(have, answer):
    """On prescription only: there has to be one."""
    assert says(replace(HIVE, prescribed=have), prescription=True) == answer


def test_stock_is_told_and_decides_nothing():
    """None on record, too little, enough: remarks, since what lacks can be bought."""
    name = "XX/1/1/acid/trickle"
    for stock, text in [
        ({}, "none on record"),
        ({name: 5.0}, "not enough"),
        ({name: 50.0}, "on hand"),
    ]:
        hive = replace(HIVE, stock=stock, needed={name: 30.0})
        (found,) = findings("stock", hive)
        assert found.says == "remark"
        assert text in found.reason.phrase.text
        assert says(hive) == "suits"


def test_standstill():
    """A method that moves or cuts combs has to ask first; a trickle is told of it."""
    hive = replace(HIVE, standstill=True)
    (act,) = options([terms(form="act")], hive, DAY)
    assert act.says == "not known"
    assert says(hive) == "suits"
    assert findings("standstill", hive)[0].says == "remark"


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


def test_unknown_period_is_told():
    """A treatment that may be given still closes honey without end where no period is known."""
    assert findings("honey")[0].says == "remark"
    assert findings("honey", period={"form": "days", "days": 0}) == []


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
    """With an empty situation no treatment of the library with a substance suits."""
    for option, body in zip(options(ALL, Situation(), DAY), ALL, strict=True):
        assert option.says != "suits" or body["form"] == "act"


_hives = st.builds(
    Situation,
    brood=st.sampled_from(["none", "hardly any", "yes", "not known"]),
    supers=st.sampled_from(["off", "on", "not known"]),
    sizes=st.dictionaries(
        st.sampled_from(["frames of brood", "boxes", "seams"]), st.integers(0, 12)
    ),
    outlook=st.sampled_from([{}, MILD]),
    others_untreated=st.sampled_from([True, False, None]),
    standstill=st.sampled_from([True, False, None]),
    flow=st.sampled_from([True, False, None]),
    last_harvest_taken=st.sampled_from([True, False, None]),
)
_UNKNOWN = Situation()


@given(_hives, st.sampled_from([each.name for each in fields(Situation)]))
def test_knowing_less_never_makes_a_treatment_suit(hive, name):
    """Forgetting any one thing never turns a treatment to suits, for the whole library.

    Courses, a standstill and others left untreated are told, not looked for: none on record is
    none.
    """
    if name in ("courses", "standstill"):
        return
    less = replace(hive, **{name: getattr(_UNKNOWN, name)})
    for known, unknown in zip(options(ALL, hive, DAY), options(ALL, less, DAY), strict=True):
        assert unknown.says != "suits" or known.says == "suits"


@given(_hives)
def test_suits_rests_on_grounds_only(hive):
    """Every finding that suits stands on a read figure, or on none of the label's."""
    for option in options(ALL, hive, DAY):
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
