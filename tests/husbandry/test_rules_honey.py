"""Closed days: their ends, their causes, and what is not known."""

from datetime import date
from typing import Any

import pytest
from rules_season import HIVE, OTHER, Season, name

from fieldapp.husbandry.honey import honey
from fieldapp.words.speech import Speech

WEEKLY = {"least": 4, "target": 5, "most": 7}
speak = Speech()


def closed(season: Season, hive: str = HIVE) -> list[tuple[str, str | None]]:
    """Return the closed days of a hive as texts, None for without end."""
    return [
        (
            date.fromordinal(row.first).isoformat(),
            None if row.last is None else date.fromordinal(row.last).isoformat(),
        )
        for row in season.state(hive).closed
    ]


def given(*days: str, **says: Any) -> tuple[Season, str]:
    """Return a season with a treatment given on these days, and its terms."""
    season = Season()
    terms = season.terms(**says)
    for day in days:
        season.apply(terms, day)
    return season, terms


def test_the_example_closed_to_10_october() -> None:
    """Strips in 1 Aug, all out 26 Sep, period 14: honey and supers from 11 October."""
    season = Season()
    terms = season.terms(form="pieces", period=14, supers="off")
    season.apply(terms, "2026-08-01", pieces=2)
    season.pieces("out", terms, "2026-09-26", 2)
    assert closed(season) == [("2026-08-01", "2026-10-10")]
    answer = honey(season.state(), date(2026, 10, 10))
    assert (answer.state, answer.honey_from, answer.supers_from) == (
        "closed",
        date(2026, 10, 11),
        date(2026, 10, 11),
    )
    assert speak(answer.reasons[0].phrase) == "Honey and supers from 11 Oct 2026."
    assert honey(season.state(), date(2026, 10, 11)).state == "open"


def test_zero_with_supers_off_closes_from_first_in_to_last_out() -> None:
    """Both days included."""
    season = Season()
    terms = season.terms(form="pieces", supers="off")
    season.apply(terms, "2026-08-01", pieces=2)
    season.pieces("out", terms, "2026-09-12", 2)
    assert closed(season) == [("2026-08-01", "2026-09-12")]


def test_zero_with_supers_allowed_closes_nothing() -> None:
    """The one treatment that leaves the hive open."""
    season, _ = given("2026-06-01", supers="allowed")
    assert closed(season) == []
    assert honey(season.state(), date(2026, 6, 1)).state == "open"


def test_supers_allowed_only_from_memory_is_no_ground() -> None:
    """A standing that cannot be a ground closes as if supers must be off."""
    season, _ = given("2026-06-01", supers="allowed", standing="from memory")
    assert honey(season.state(), date(2026, 6, 1)).state == "not known"


def test_no_end_while_a_piece_is_in() -> None:
    """One of two strips is still in."""
    season = Season()
    terms = season.terms(form="pieces", period=14, supers="off")
    season.apply(terms, "2026-08-01", pieces=2)
    season.pieces("out", terms, "2026-09-26", 1)
    assert closed(season) == [("2026-08-01", None)]
    answer = honey(season.state(), date(2026, 12, 1))
    assert (answer.state, answer.honey_from, answer.supers_from) == ("closed", None, None)


@pytest.mark.parametrize(
    ("supers", "days"),
    [
        ("off", [("2026-06-01", "2026-06-06")]),
        ("off, at applications", [("2026-06-01", "2026-06-01"), ("2026-06-06", "2026-06-06")]),
        ("off, whole course", [("2026-06-01", "2026-06-06")]),
        (None, [("2026-06-01", "2026-06-06")]),
        ("allowed", []),
    ],
)
def test_days_between_are_closed_where_terms_say_so_or_do_not_say(
    supers: str | None, days: list[tuple[str, str]]
) -> None:
    """Period zero, a complete course of two."""
    two = {"least": 2, "usual": 2, "most": 2}
    season, _ = given("2026-06-01", "2026-06-06", supers=supers, gap=WEEKLY, applications=two)
    assert closed(season) == days


def test_between_days_are_closed_where_a_period_stands_with_supers_allowed() -> None:
    """Only period zero with supers allowed is the exception."""
    two = {"least": 2, "usual": 2, "most": 2}
    season, _ = given(
        "2026-06-01", "2026-06-08", supers="allowed", period=1, gap=WEEKLY, applications=two
    )
    assert closed(season) == [("2026-06-01", "2026-06-09")]


def test_below_its_number_a_whole_course_is_closed_to_twice_the_most() -> None:
    """1 of 5: to d + 2·7, or to the day it is stopped."""
    five = {"least": 5, "usual": 5, "most": 5}
    season, terms = given("2026-06-01", supers="off, whole course", gap=WEEKLY, applications=five)
    assert closed(season) == [("2026-06-01", "2026-06-15")]
    season.add("course_stop", "2026-06-04", {"treatment": season.treatment(terms)})
    assert closed(season) == [("2026-06-01", "2026-06-04")]


def test_below_its_number_without_a_most_it_is_closed_until_answered() -> None:
    """No end is known, so none is said."""
    five = {"least": 5, "usual": 5, "most": 5}
    season, _ = given("2026-06-01", supers="off, whole course", gap={"least": 4}, applications=five)
    assert closed(season) == [("2026-06-01", None)]
    assert honey(season.state(), date(2027, 6, 1)).state == "not known"


def test_intervals_that_touch_are_one_and_keep_their_causes() -> None:
    """Two treatments, the second on the day after the first one's end."""
    season = Season()
    first = season.terms("GB/1/1/acid/drip", period=4, supers="off")
    second = season.terms("GB/2/1/oil/pad", period=2, supers="off")
    one = season.apply(first, "2026-06-01")
    two = season.apply(second, "2026-06-06")
    assert closed(season) == [("2026-06-01", "2026-06-08")]
    answer = honey(season.state(), date(2026, 6, 2))
    assert {record for reason in answer.reasons for record in reason.records} >= {one, two}


def test_without_a_published_period_there_is_no_end_until_one_is_entered() -> None:
    """A label line in hand, or a named veterinarian with date and document."""
    season, terms = given("2026-06-01", period=None, supers="off")
    assert closed(season) == [("2026-06-01", None)]
    season.period(terms, 10)
    assert closed(season) == [("2026-06-01", "2026-06-11")]


@pytest.mark.parametrize(
    ("who", "more", "opens"),
    [
        ("keeper", {"name": "The keeper", "day": "2026-06-02"}, False),
        ("veterinarian", {"name": "A vet", "day": "2026-06-02"}, True),
        ("veterinarian", {"day": "2026-06-02"}, False),
        ("authority", {"name": "An office"}, False),
        ("authority", {"name": "An office", "day": "2026-06-02"}, True),
    ],
)
def test_who_may_give_a_period(who: str, more: dict[str, str], opens: bool) -> None:
    """The keeper's word alone leaves it unknown; others need name, date and document."""
    season, terms = given("2026-06-01", period=None, supers="off")
    season.period(terms, 10, who=who, **more)
    assert (closed(season)[0][1] is not None) is opens


def test_a_label_in_hand_names_its_line_or_the_product() -> None:
    """Without either it is the keeper's word."""
    season, terms = given("2026-06-01", period=None, supers="off")
    body = {
        "treatment": season.treatment(terms),
        "period": {"form": "days", "days": 10},
        "given_by": {"who": "label in hand"},
    }
    season.add("period", "2026-06-02", body, hive=None)
    assert closed(season) == [("2026-06-01", None)]


def test_a_reported_period_is_not_published() -> None:
    """Its figure is shown beside and ends nothing."""
    season, _ = given("2026-06-01", period=14, supers="off", standing="reported")
    assert closed(season) == [("2026-06-01", None)]


def test_the_latest_entry_holds_for_earlier_applications_too() -> None:
    """And a label in hand replaces the library's figure."""
    season, terms = given("2026-06-01", period=14, supers="off")
    season.period(terms, 30, on="2026-07-01")
    season.period(terms, 5, on="2026-07-02")
    assert closed(season) == [("2026-06-01", "2026-06-06")]


def test_an_entry_for_one_hive_is_for_that_hive() -> None:
    """The other hive stays without end."""
    season = Season()
    terms = season.terms(period=None, supers="off")
    season.apply(terms, "2026-06-01")
    season.apply(terms, "2026-06-01", hive=OTHER)
    season.period(terms, 3, hive=OTHER)
    assert closed(season) == [("2026-06-01", None)]
    assert closed(season, OTHER) == [("2026-06-01", "2026-06-04")]


def test_an_application_takes_the_later_end_of_its_own_terms_and_its_courses() -> None:
    """A newer terms record with a shorter period does not shorten a running course."""
    season = Season()
    two = {"least": 2, "usual": 2, "most": 2}
    long = season.terms(period=20, supers="off", gap=WEEKLY, applications=two)
    short = season.terms(period=3, supers="off", gap=WEEKLY, applications=two)
    season.apply(long, "2026-06-01")
    season.apply(short, "2026-06-06")
    assert closed(season) == [("2026-06-01", "2026-06-26")]


def test_terms_that_have_not_arrived_say_nothing() -> None:
    """Closed without end, never open."""
    season, terms = given("2026-06-01", supers="allowed")
    season.records = [record for record in season.records if record.id != terms]
    assert honey(season.state(), date(2026, 6, 1)).state == "not known"


SEASON = {"form": "next season's supers"}


@pytest.mark.parametrize(
    ("lat", "given_on", "supers_on", "end"),
    [
        (52.0, "2026-08-01", "2026-08-20", None),
        (52.0, "2026-08-01", "2027-05-01", "2027-04-30"),
        (52.0, "2026-12-31", "2027-01-01", "2026-12-31"),
        (-33.0, "2026-03-01", "2026-06-30", None),
        (-33.0, "2026-03-01", "2026-07-01", "2026-06-30"),
        (52.0, "2026-08-01", "2029-05-01", "2029-04-30"),
    ],
)
def test_until_next_seasons_supers(
    lat: float, given_on: str, supers_on: str, end: str | None
) -> None:
    """The day before the first super of the season after; it begins on 1 January or 1 July."""
    season = Season(lat=lat)
    terms = season.terms(period=SEASON, supers="off")
    season.apply(terms, given_on)
    season.add("super_on", supers_on, {"mark": "S1"})
    assert closed(season) == [(given_on, end)]


@pytest.mark.parametrize(
    ("lat", "later_lat", "end"), [(52.0, -33.0, None), (-33.0, 52.0, "2026-07-04")]
)
def test_a_season_is_of_the_side_where_it_was_treated(
    lat: float, later_lat: float, end: str | None
) -> None:
    """A hive that goes over the equator in December does not change what ended in March."""
    season = Season(lat=lat)
    terms = season.terms(period=SEASON, supers="off")
    season.apply(terms, "2026-03-01")
    season.add("super_on", "2026-07-05", {"mark": "S1"})
    away = {"name": "Far Side", "lat": later_lat, "lon": 1.0}
    season.add("apiary", "2026-01-01", away, hive=None, apiary=name(0xB7))
    season.add("hive", "2026-12-01", {"number": "1"}, apiary=name(0xB7))
    assert closed(season) == [("2026-03-01", end)]


def test_on_no_known_side_of_the_equator_it_is_to_be_later_on_both() -> None:
    """Neither position nor country: 1 July to 31 December is not enough."""
    season = Season(lat=None)
    season.correct(season.records[0].id, body={"name": "Ferry Lane"})
    terms = season.terms(period=SEASON, supers="off")
    season.apply(terms, "2026-03-01")
    season.add("super_on", "2026-07-05", {"mark": "S1"})
    assert closed(season) == [("2026-03-01", None)]
    season.add("super_on", "2027-05-05", {"mark": "S2"})
    assert closed(season) == [("2026-03-01", "2027-05-04")]


def test_honey_may_be_taken_from_the_day_asked_where_it_is_open() -> None:
    """An untreated hive is open today."""
    season, _ = given()
    answer = honey(season.state(), date(2026, 6, 1))
    assert (answer.state, answer.honey_from) == ("open", date(2026, 6, 1))


def test_supers_may_go_on_while_only_honey_is_closed() -> None:
    """A period with supers allowed closes honey and keeps no super off."""
    season, _ = given("2026-06-01", supers="allowed", period=5)
    answer = honey(season.state(), date(2026, 6, 2))
    assert (answer.honey_from, answer.supers_from) == (date(2026, 6, 7), date(2026, 6, 2))
