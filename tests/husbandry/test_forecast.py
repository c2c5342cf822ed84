"""Forecasts, the day to count again, season plans."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from computing_cases import BIOLOGY
from hypothesis import given
from hypothesis import strategies as st

from fieldapp.husbandry.chance.intervals import Interval
from fieldapp.husbandry.errors import Unfitting
from fieldapp.husbandry.figures import GROUNDS
from fieldapp.husbandry.forecast import band, doubling_days, refill_days, season_plan

START = date(2026, 4, 1)


@pytest.mark.parametrize(
    ("rate", "doubles", "refills_80", "refills_90"),
    [(0.0215, 32.2, 74.9, 107.1), (0.021, 33.0, 76.6, 109.6), (0.025, 27.7, 64.4, 92.1)],
)
def test_simple_exponential(rate, doubles, refills_80, refills_90):
    """Computed from N = N0 e^(rt); the first rate from DEFRA 2005 as a page reports it."""
    assert doubling_days(rate) == pytest.approx(doubles, abs=0.05)
    assert refill_days(0.8, rate) == pytest.approx(refills_80, abs=0.06)
    assert refill_days(0.9, rate) == pytest.approx(refills_90, abs=0.06)


def test_rates_from_monthly_growth():
    """Twice to three times a month is 0.0228 to 0.0361 a day; 80 % undone in 75 days 0.0215."""
    assert doubling_days(0.0228) == pytest.approx(30.4, abs=0.05)
    assert refill_days(2 / 3, 0.0361) == pytest.approx(30.4, abs=0.05)
    assert refill_days(0.8, 0.0215) == pytest.approx(75, abs=0.2)


def test_the_shipped_rates_are_no_ground():
    """Every rate ships as reported or from memory: a forecast is never a fact."""
    ahead = band(Interval(0.5, 1.5), START, "yes", BIOLOGY)
    assert (ahead.rates.low, ahead.rates.high) == (0.021, 0.025)
    rates = [each for each in ahead.reasons if "growth" in each.phrase.text]
    assert len(rates) == 3
    assert not {each.standing for each in rates} & GROUNDS
    assert "not a fact" in ahead.reasons[0].phrase.text


def test_mites_from_outside_are_named_where_a_model_missed_them():
    """DeGrandi-Hoffman et al. 2016: good until November, then far too low, foragers with mites."""
    (said,) = [
        each
        for each in band(Interval(0.5, 1.5), START, "yes", BIOLOGY).reasons
        if "foragers" in each.phrase.text
    ]
    assert "DeGrandi-Hoffman" in said.source
    assert said.standing == "read"


def test_the_band_runs_from_the_low_end_slowly_to_the_high_end_fast():
    """Computed: in 30 days 0.5 e^(0.63) to 1.5 e^(0.75)."""
    month = band(Interval(0.5, 1.5), START, "yes", BIOLOGY).at(START + timedelta(days=30))
    assert month == pytest.approx((0.9388, 3.1755), abs=1e-4)


def test_no_brood_no_growth():
    """Without brood there is no band; brood not known is taken as brood."""
    assert band(Interval(0, 1), START, "none", BIOLOGY) is None
    assert band(Interval(0, 1), START, "not known", BIOLOGY) is not None


def test_one_percent_in_april_is_past_saving_by_september():
    """R. Oliver, ABJ April 2020; the band is then well over any threshold."""
    ahead = band(Interval(1, 1), START, "yes", BIOLOGY)
    assert ahead.at(date(2026, 9, 1)).low > 20


@given(st.floats(0.01, 2.9), st.floats(3, 20))
def test_count_again_by_is_the_last_day_under(high, threshold):
    """On that day the band is under the threshold, on the day after it is not."""
    ahead = band(Interval(0, high), START, "yes", BIOLOGY)
    day = ahead.count_again_by(threshold)
    assert ahead.at(day).high < threshold or day == START
    assert ahead.at(day + timedelta(days=1)).high >= threshold * (1 - 1e-12)


def test_already_at_the_threshold_means_now():
    """A band that reaches the threshold today says so."""
    assert band(Interval(1, 3), START, "yes", BIOLOGY).count_again_by(3) == START


def test_no_load_is_surely_zero():
    """A count of none still has an upper end; a band without one is refused in words."""
    with pytest.raises(Unfitting, match="above zero"):
        band(Interval(0, 0), START, "yes", BIOLOGY).count_again_by(3)


def test_no_forecast_looks_back():
    """A day before the count is refused."""
    with pytest.raises(Unfitting, match="ahead"):
        band(Interval(1, 3), START, "yes", BIOLOGY).at(date(2026, 3, 1))


@pytest.mark.parametrize(
    ("months", "knockdowns"),
    [(6, (1, 1)), (7, (1, 2)), (8, (2, 2)), (9, (2, 3)), (10, (2, 3)), (10.5, (3, 3)), (4, (1, 1))],
)
def test_season_plans(months, knockdowns):
    """R. Oliver, ABJ February 2018: one with 6 months of brood, two with 8, three over 10."""
    plan = season_plan(months, BIOLOGY)
    assert (plan.least, plan.most) == knockdowns
    assert plan.reason.standing == "read"
