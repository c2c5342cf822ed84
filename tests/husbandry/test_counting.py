"""Loads, drops, apiaries and trends."""

from __future__ import annotations

import math
import random
from datetime import date

import numpy
import pytest
from computing_cases import BIOLOGY
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import gamma
from statsmodels.genmod import families
from statsmodels.genmod.generalized_linear_model import GLM

from fieldapp.husbandry.chance.intervals import poisson
from fieldapp.husbandry.counting import (
    colony_totals,
    drop,
    fall,
    load,
    loads,
    mites_in_words,
    whole_colony,
    worst,
)
from fieldapp.husbandry.errors import Unfitting
from fieldapp.husbandry.survey import apiary_load, hives_to_wash, trend
from fieldapp.words.speech import Speech


@pytest.mark.parametrize(("mites", "per_100"), [(6, 2.0), (9, 3.0), (8, 2.7)])
def test_mites_per_100_bees(mites, per_100):
    """Worked examples of a trade FAQ: 6, 9 and 8 mites in 300 bees."""
    assert load("wash", mites, 300).per_100 == pytest.approx(per_100, abs=0.05)


def test_half_a_cup_shows_both_published_readings():
    """beekept.org takes half a US cup as 300 bees, Mississippi State Extension as 400."""
    body = {"way": "wash", "mites": 9, "bees_by": "measured", "measure": "half a US cup"}
    readings = loads(body, BIOLOGY)
    assert [each.per_100 for each in readings] == pytest.approx([3.0, 2.25])
    assert worst(readings).per_100 == pytest.approx(3.0)
    assert all(each.reasons[0].source for each in readings)


def test_weighed_bees():
    """50 g of bees are about 500 (de.wikipedia.org, Puderzuckermethode)."""
    (one,) = loads({"way": "roll", "mites": 5, "bees_by": "weighed", "grams": 50}, BIOLOGY)
    assert (one.bees, one.per_100) == (500, 1.0)


def test_a_sample_without_bees_has_no_load():
    """Mites without a number of bees give no load: not known, never zero."""
    assert loads({"way": "wash", "mites": 4}, BIOLOGY) == ()


def test_a_measure_of_the_keepers_own_grounds_nothing():
    """A number of bees that only the keeper takes it for can be shown, not built upon."""
    body = {"way": "wash", "mites": 0, "bees": 250, "bees_by": "measured", "measure": "my scoop"}
    (one,) = loads(body, BIOLOGY)
    assert not one.grounds


def test_more_mites_than_bees():
    """Where mites outnumber bees no interval for a share exists, and the Poisson one does."""
    crowded = load("wash", 120, 100)
    assert crowded.share_exact is None
    assert crowded.interval.low < 120 < crowded.interval.high


def test_every_load_says_that_its_range_is_too_narrow():
    """Mites cluster; each load says so, and speaks its interval."""
    six = load("wash", 6, 300)
    assert "cluster" in six.reasons[-1].phrase.text
    assert Speech()(mites_in_words(six).phrase) == "6 mites in 300 bees: 2 per 100, 0.7 to 4.4"


def test_drop_a_day():
    """20 mites in 5 days are 4 a day (buckfastimker-weser-ems.de)."""
    assert drop(20, 5, BIOLOGY).per_day == 4


def test_a_part_of_the_board():
    """A third of the board adds 9.5 % either way (Ostiguy and Sammataro 2000, Apidologie 31)."""
    whole, third = drop(60, 5, BIOLOGY), drop(20, 5, BIOLOGY, part=1 / 3)
    assert third.per_day == pytest.approx(whole.per_day)
    bare = poisson(20).scaled(3 / 5)
    assert third.interval == pytest.approx((bare.low * 0.905, bare.high * 1.095))
    assert third.grounds
    assert not drop(2, 5, BIOLOGY, part=0.1).grounds


def test_a_board_as_recorded():
    """A whole board grounds; a part not recorded does not; days not recorded are no drop."""
    body = {"way": "drop", "mites": 20, "days": 5}
    assert fall({**body, "board_part": 1.0}, BIOLOGY).grounds
    assert not fall(body, BIOLOGY).grounds
    assert fall(body, BIOLOGY).per_day == 4
    assert fall({"way": "drop", "mites": 20}, BIOLOGY) is None


def test_factors_from_drop_to_colony_are_shown_as_reported():
    """10 a day x 300 = 3,000; 10 in 3 days x 100 = 333; both reported by pages only."""
    march = date(2026, 3, 15)
    totals = {
        round(each.mites): each.reason
        for each in colony_totals(drop(10, 1, BIOLOGY), march, BIOLOGY)
    }
    assert totals[3000].standing == "reported"
    autumn = colony_totals(drop(10, 3, BIOLOGY), date(2026, 11, 5), BIOLOGY)
    assert 333 in [round(each.mites) for each in autumn]
    assert {round(each.mites) for each in autumn} == {1000, 333, 1333}


def test_one_mite_a_day_in_november_means_several_hundred():
    """wiki.bienenzeitung.de: several hundred are left; the factors of the month say 100 to 400."""
    november = colony_totals(drop(10, 10, BIOLOGY), date(2026, 11, 15), BIOLOGY)
    assert sorted(round(each.mites) for each in november) == [100, 300, 400]


def test_adults_and_pupae_together():
    """The load on bees doubles over all stages, with brood only (Lee et al. 2010)."""
    assert whole_colony(load("wash", 6, 300), "yes", BIOLOGY).mites == pytest.approx(4.0)
    assert whole_colony(load("wash", 6, 300), "none", BIOLOGY) is None
    assert whole_colony(load("wash", 6, 300), "not known", BIOLOGY) is None


def test_one_bad_hive_is_never_hidden():
    """Seven clean hives and one bad one: the mean is low, and the bad one is named first."""
    samples = {f"hive {n}": load("wash", 0, 300) for n in range(1, 8)}
    samples["hive 8"] = load("wash", 20, 300)
    apiary = apiary_load(samples, 24, BIOLOGY)
    assert apiary.mean < 1
    assert apiary.hives[0][0] == "hive 8"
    assert apiary.over(3) == ("hive 8",)
    assert apiary.enough


def test_hives_that_differ_widen_the_apiarys_interval():
    """The same mites in few hives tell less than spread evenly."""
    even = apiary_load({str(n): load("wash", 5, 300) for n in range(4)}, 4, BIOLOGY)
    uneven = apiary_load(
        {str(n): load("wash", m, 300) for n, m in enumerate([20, 0, 0, 0])}, 4, BIOLOGY
    )
    assert uneven.interval.width > 1.5 * even.interval.width


@pytest.mark.filterwarnings("ignore:Perfect separation")
def test_the_apiarys_interval_agrees_with_statsmodels():
    """The spread of hives is that of a quasi-Poisson model fitted by statsmodels."""
    chance = random.Random(21)
    for _ in range(200):
        hives = [
            (chance.randint(0, 12) * chance.choice([0, 1, 3]), chance.choice([200, 300, 400]))
            for _ in range(chance.randint(2, 12))
        ]
        mites, bees = (sum(column) for column in zip(*hives, strict=True))
        if mites == 0:
            continue
        samples = {str(n): load("wash", *hive) for n, hive in enumerate(hives)}
        found = apiary_load(samples, len(hives), BIOLOGY)
        model = GLM(
            numpy.array([float(m) for m, _ in hives]),
            numpy.ones((len(hives), 1)),
            family=families.Poisson(),
            exposure=numpy.array([float(b) for _, b in hives]),
        ).fit()
        spread = max(1.0, model.pearson_chi2 / model.df_resid)
        ends = (gamma.ppf(0.025, mites / spread), gamma.ppf(0.975, mites / spread + 1))
        assert found.mean == pytest.approx(100 * math.exp(model.params[0]), rel=1e-6)
        assert found.interval == pytest.approx([100 * spread * e / bees for e in ends], rel=1e-5)


def test_an_apiarys_mean_counts_every_bee_once():
    """1 in 100 and 1 in 400 are 2 in 500, not the mean of 1 and 0.25; two hives of 24 are few."""
    apiary = apiary_load({"1": load("wash", 1, 100), "2": load("wash", 1, 400)}, 24, BIOLOGY)
    assert apiary.mean == pytest.approx(0.4)
    assert not apiary.enough


def test_what_makes_no_apiary():
    """No sample, or washes with rolls, is refused in words."""
    with pytest.raises(Unfitting, match="count some first"):
        apiary_load({}, 8, BIOLOGY)
    with pytest.raises(Unfitting, match="same way"):
        apiary_load({"1": load("wash", 1, 300), "2": load("roll", 1, 300)}, 8, BIOLOGY)


@pytest.mark.parametrize(("hives", "wash"), [(3, 3), (8, 8), (200, 8)])
def test_eight_hives_whatever_the_apiary(hives, wash):
    """Eight colonies regardless of the apiary's size, all where fewer (Lee et al. 2010)."""
    assert hives_to_wash(hives, BIOLOGY)[0] == wash


def test_trend():
    """5 then 20 in 300 bees is rising, 5 then 6 cannot be told, a roll is no wash."""
    may, june = date(2026, 5, 1), date(2026, 6, 30)
    five = load("wash", 5, 300)
    rising = trend(five, may, load("wash", 20, 300), june)
    assert (rising.says, rising.ratio, rising.a_month) == ("rising", 4.0, pytest.approx(2.0))
    fast = trend(five, may, load("wash", 20, 300), date(2026, 5, 16))
    assert fast.a_month == pytest.approx(16)
    assert trend(five, may, load("wash", 6, 300), june).says == "cannot tell"
    with pytest.raises(Unfitting, match="same way"):
        trend(five, may, load("roll", 6, 300), june)
    with pytest.raises(Unfitting, match="later day"):
        trend(five, june, five, may)


@given(mites=st.integers(0, 400), bees=st.integers(1, 500), fewer=st.integers(1, 500))
def test_the_judged_interval_never_narrows_with_fewer_bees(mites, bees, fewer):
    """However many mites a bee carries, fewer bees never make a surer load."""
    few, many = sorted((bees, fewer))
    assert load("wash", mites, few).interval.width >= load("wash", mites, many).interval.width


@given(mites=st.integers(0, 60), level=st.floats(0.1, 10))
def test_more_mites_make_over_more_likely(mites, level):
    """The chance of being over a level rises with mites and falls with the level."""
    one, two = load("wash", mites, 300), load("wash", mites + 1, 300)
    assert 0 <= one.chance_over(level) <= two.chance_over(level) <= 1
    assert one.chance_over(level + 1) <= one.chance_over(level)


@pytest.mark.parametrize(
    "call", [lambda: load("wash", -1, 300), lambda: load("wash", 1, 0), lambda: drop(1, 0, BIOLOGY)]
)
def test_what_cannot_be_is_refused_in_words(call):
    """A sample without bees, a board without days: said to the keeper."""
    with pytest.raises(Unfitting, match=r"least one|more than no time"):
        call()
