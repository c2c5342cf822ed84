"""What each aspect of a label says to a hive."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest
from choosing_cases import DAY, HIVE, PLAIN, findings, says
from computing_cases import terms

from fieldapp.assets import folder
from fieldapp.husbandry.choosing.options import options
from fieldapp.husbandry.choosing.situation import PastCourse, Weather
from fieldapp.husbandry.library import load
from fieldapp.words import Speech, habits_of


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


def test_the_lowest_of_each_day():
    """A label's minimum is held against the lowest, not the highest."""
    assert weather("minimum", [Weather(low=8, high=20)], low=10) == "does not suit"
    assert weather("minimum", [Weather(low=10, high=20)], low=10, high=15) == "suits"


def test_a_temperature_at_the_hour():
    """At least 3 degC when it is done: a day from 1 to 6 depends on the hour."""
    assert weather("any", [Weather(low=3, high=8)], low=3) == "suits"
    assert weather("any", [Weather(low=-4, high=2)], low=3) == "does not suit"
    assert weather("any", [Weather(low=1, high=6)], low=3) == "not known"
    for days, words in [([Weather(low=1, high=6)], "by the hour"), ([Weather(high=6)], "enter it")]:
        entry = {"what": "any", "low": 3, "weight": "must"}
        (found,) = findings(
            "temperature", replace(HIVE, outlook={DAY: days[0]}), temperature=[entry]
        )
        assert Speech()(found.reason.phrase).endswith(words)
        assert "on 10 Aug 2026" in Speech()(found.reason.phrase)


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
    most = {"most": 6, "unit": "frames of brood"}
    assert says(colony_size=most) == "does not suit"
    assert says(replace(HIVE, sizes={"frames of brood": 6}), colony_size=most) == "suits"


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


def test_a_course_that_goes_on_counts_once():
    """Another application of the one course that the label allows a year joins it."""
    hive = replace(HIVE, courses=past(None, DAY - timedelta(days=7)))
    limit = {"number": 1, "counts": "courses", "per": "year"}
    assert says(hive, limit=limit) == "suits"


def test_the_rest_counts_from_the_last_of_several_courses():
    """An older course whose rest is long over does not hide a fresh one."""
    for ends in ((date(2025, 5, 1), date(2026, 8, 1)), (date(2026, 8, 1), date(2025, 5, 1))):
        courses = tuple(each for end in ends for each in past(end, end))
        assert says(replace(HIVE, courses=courses), rest={"days": 30}) == "does not suit"


def of_class(class_: str, day: date) -> PastCourse:
    return PastCourse("XX/2/1/other/strips", class_, (day,), day)


@pytest.mark.parametrize(
    ("class_", "verdict"),
    [
        ("amidine (IRAC 19)", "not known"),
        ("pyrethroid (IRAC 3A)", "not known"),
        ("oxalic acid (no IRAC group)", "remark"),
    ],
)
def test_same_class_as_the_last_course(class_, verdict):
    """Widespread resistance to some classes (Rinkevich 2020): whether it still works is asked.

    Where no group of resistance is known the same class is told, and decides nothing.
    """
    hive = replace(HIVE, courses=(of_class(class_, date(2026, 6, 1)),))
    (found,) = findings("class", hive, **{"class": class_})
    assert found.says == verdict
    assert says(hive, **{"class": class_}) == ("suits" if verdict == "remark" else "not known")


def test_only_the_last_course_tells_of_a_class():
    """What lies before a course of another class is no reason any more, in whatever order."""
    own, other = "amidine (IRAC 19)", "oxalic acid (no IRAC group)"
    old, new = of_class(own, date(2025, 6, 1)), of_class(other, date(2026, 6, 1))
    for courses in ((old, new), (new, old)):
        hive = replace(HIVE, courses=courses)
        assert findings("class", hive, **{"class": own}) == []
        assert findings("class", hive, **{"class": other})[0].says == "remark"


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


def test_stock_that_is_known_to_lack_speaks_against():
    """None on record is told; used up or too little is *not today*; enough is told."""
    name = "XX/1/1/acid/trickle"
    for stock, needed, text, answer in [
        ({}, {name: 30.0}, "none on record", "suits"),
        ({name: 0.0}, {}, "not enough", "does not suit"),
        ({name: 5.0}, {name: 30.0}, "not enough", "does not suit"),
        ({name: 30.0}, {name: 30.0}, "on hand", "suits"),
        ({name: 5.0}, {}, "on hand", "suits"),
    ]:
        hive = replace(HIVE, stock=stock, needed=needed)
        (found,) = findings("stock", hive)
        assert text in found.reason.phrase.text
        assert says(hive) == answer


def test_standstill():
    """A method that moves or cuts combs has to ask first; a trickle is told of it."""
    hive = replace(HIVE, standstill=True)
    (act,) = options([terms(form="act")], hive, DAY)
    assert act.says == "not known"
    assert says(hive) == "suits"
    assert findings("standstill", hive)[0].says == "remark"


def test_unknown_period_is_told():
    """A treatment that may be given still closes honey without end where no period is known."""
    assert findings("honey")[0].says == "remark"
    assert findings("honey", period={"form": "days", "days": 0}) == []


@pytest.mark.parametrize(
    ("country", "bounds"), [("GB", "10 °C to 29.5 °C"), ("US", "50 °F to 85 °F")]
)
def test_a_labels_temperature_in_the_keepers_degrees(country, bounds):
    """50 to 85 degF, published as 10 to 29.5 degC, are said so to a keeper of either."""
    entry = {"what": "maximum", "low": 10, "high": 29.5, "weight": "must"}
    (found,) = findings("temperature", temperature=[entry])
    assert f", {bounds}, " in Speech(habits=habits_of(country))(found.reason.phrase)
    (found,) = findings("temperature", temperature=[{"what": "maximum", "weight": "must"}])
    assert "without a limit" in Speech()(found.reason.phrase)


def test_a_temperature_without_bounds_asks_for_no_outlook():
    """Where the label sets none, nothing has to be known of the weather."""
    free = [{"what": "maximum", "weight": "must"}]
    assert says(replace(HIVE, outlook={}), temperature=free) == "suits"


@pytest.mark.parametrize(("degf", "answer"), [(49, "does not suit"), (50, "suits"), (85, "suits")])
def test_a_whole_degf_on_a_labels_bound_is_inside(degf, answer):
    """85 degF are 29.444 degC; read from a label in degF and kept as 29.4 they are inside."""
    entry = {"what": "maximum", "low": 10, "high": 29.4, "weight": "must"}
    hive = replace(HIVE, outlook={DAY: Weather(high=(degf - 32) * 5 / 9)})
    assert says(hive, temperature=[entry]) == answer
    hot = replace(HIVE, outlook={DAY: Weather(high=(86 - 32) * 5 / 9)})
    assert says(hot, temperature=[entry]) == "does not suit"


def test_92_degf_on_a_day_of_formic_acid_strips_is_a_danger():
    """Articles in ABJ, September and October 2022: 92 degF and over in the first three days."""
    for degf, answer in ((91, "not known"), (92, "does not suit")):
        days = {DAY + timedelta(days=n): Weather(high=28) for n in range(4)}
        days[DAY + timedelta(days=2)] = Weather(high=(degf - 32) * 5 / 9)
        strips = load(folder("treatments")).get(
            "US/label-not-read/unread/formic-acid/two-strips-at-once"
        )
        (option,) = options([strips.terms_body()], replace(HIVE, outlook=days), DAY)
        assert option.says == answer
