"""Dates against dateutil, in any zone and year: windows, stays, rest, periods, seasons, order."""

from __future__ import annotations

from datetime import UTC, date, datetime
from zoneinfo import available_timezones

from dateutil import parser, tz
from dateutil.relativedelta import relativedelta
from hypothesis import given, settings
from hypothesis import strategies as st
from rules_season import Season

from fieldapp.husbandry.days import add_months, order_key, season_end
from fieldapp.husbandry.progress import next_window, window_of
from fieldapp.journal.happened import format as written

ZONES = sorted(each for each in available_timezones() if "/" in each and tz.gettz(each))
INSTANTS = st.integers(
    int(datetime(1990, 1, 1, tzinfo=UTC).timestamp()),
    int(datetime(2037, 1, 1, tzinfo=UTC).timestamp()),
)
DAYS = st.dates(date(1990, 1, 1), date(2090, 1, 1))


def applied(season: Season, terms: str, happened: str, **body: object) -> None:
    """Log an application as the phone wrote it in its zone."""
    season.apply(terms, "2020-06-01", **body)
    season.records[-1] = season.records[-1]._replace(happened=happened)


def civil(seconds: int, zone: str) -> date:
    """Return the civil date of an instant in a zone, by dateutil's zones."""
    return datetime.fromtimestamp(seconds, tz.gettz(zone)).date()


@given(INSTANTS, st.sampled_from(ZONES), st.integers(0, 40), st.integers(0, 40))
@settings(max_examples=150, deadline=None)
def test_the_next_window_in_any_zone_and_year(
    seconds: int, zone: str, least: int, more: int
) -> None:
    """`[d + least, d + most]` of the day that stood on the keeper's calendar."""
    season = Season(zone)
    terms = season.terms(
        gap={"least": least, "target": least, "most": least + more},
        applications={"least": 3, "usual": 3, "most": 3},
    )
    applied(season, terms, written(seconds * 1_000_000, zone))
    day = civil(seconds, zone)
    window = next_window(season.course())
    assert window is not None
    assert [date.fromordinal(each or 0) for each in window] == [
        day + relativedelta(days=least),
        day + relativedelta(days=least),
        day + relativedelta(days=least + more),
    ]


@given(INSTANTS, st.sampled_from(ZONES), st.integers(0, 90), st.integers(0, 90))
@settings(max_examples=150, deadline=None)
def test_stay_and_closed_days_in_any_zone_and_year(
    seconds: int, zone: str, stay: int, period: int
) -> None:
    """Strips out after so many days by the calendar; honey from the day after the period."""
    season = Season(zone)
    terms = season.terms(
        form="pieces",
        stay=[{"when": "any", "least": stay, "most": stay + 7}],
        supers="off",
        period=period,
    )
    applied(season, terms, written(seconds * 1_000_000, zone), pieces=2)
    day = civil(seconds, zone)
    window = window_of(season.exposure(), season.state(), day.toordinal())
    assert window is not None
    assert (window.least, window.most) == (
        (day + relativedelta(days=stay)).toordinal(),
        (day + relativedelta(days=stay + 7)).toordinal(),
    )
    out = day + relativedelta(days=stay)
    season.pieces("out", terms, out.isoformat(), 2, at="23:59:59")
    (closed,) = season.state().closed
    assert (closed.first, closed.last) == (
        day.toordinal(),
        (out + relativedelta(days=period)).toordinal(),
    )


@given(DAYS, st.integers(0, 14), st.integers(0, 20), st.integers(-1, 1))
@settings(max_examples=150, deadline=None)
def test_rest_in_months_and_days(day: date, months: int, days: int, off: int) -> None:
    """A start on end + rest is not too soon, one day before it is."""
    season = Season()
    terms = season.terms(rest={"months": months, "days": days})
    season.apply(terms, day.isoformat())
    again = day + relativedelta(months=months) + relativedelta(days=days + off)
    if again <= day:
        return
    season.apply(terms, again.isoformat())
    assert any(flag.word == "too soon" for flag in season.course().flags) is (off < 0)


@given(DAYS, st.integers(0, 60))
def test_months_agree_with_dateutil(day: date, months: int) -> None:
    """Calendar months, clamped to the last day."""
    expected = day + relativedelta(months=months)
    assert date.fromordinal(add_months(day.toordinal(), months)) == expected


@given(DAYS)
def test_a_season_ends_where_dateutil_says(day: date) -> None:
    """On 31 December, south of the equator on 30 June: the first on or after the day."""
    north = day + relativedelta(month=12, day=31)
    south = day + relativedelta(month=6, day=30)
    if south < day:
        south += relativedelta(years=1)
    assert date.fromordinal(season_end(day.toordinal(), south=False)) == north
    assert date.fromordinal(season_end(day.toordinal(), south=True)) == south


@given(INSTANTS, INSTANTS, st.sampled_from(ZONES), st.sampled_from(ZONES))
@settings(max_examples=200)
def test_order_is_by_civil_date_then_instant(
    first: int, second: int, zone: str, other: str
) -> None:
    """Two phones in two zones, their moments read back by dateutil."""
    second = first + second % 90_000 - 45_000
    texts = [written(first * 1_000_000, zone), written(second * 1_000_000, other)]
    mine = [order_key(text, "0", "0")[:2] for text in texts]
    read = [parser.isoparse(text[: text.index("[")]) for text in texts]
    theirs = [(moment.date().toordinal(), moment.timestamp() * 1e6) for moment in read]
    assert mine == theirs
    assert [civil(first, zone), civil(second, other)] == [moment.date() for moment in read]
