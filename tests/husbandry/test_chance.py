"""Intervals and probabilities, against published tables, scipy and statsmodels."""

from __future__ import annotations

import math
import random

import pytest
import scipy.special
import scipy.stats
from hypothesis import given
from hypothesis import strategies as st
from statsmodels.stats import rates
from statsmodels.stats.proportion import proportion_confint

from fieldapp.husbandry.chance.intervals import (
    exact,
    odds_ratio,
    poisson,
    rate_over,
    rate_ratio,
    score,
)
from fieldapp.husbandry.chance.special import beta_cdf, gamma_cdf, gamma_tail


@pytest.mark.parametrize(
    ("hits", "n", "wilson", "clopper"),
    [
        (81, 263, (25.53, 36.62), (25.27, 36.76)),
        (15, 148, (6.24, 16.05), (5.78, 16.17)),
        (0, 20, (0.00, 16.11), (0.00, 16.84)),
        (1, 29, (0.61, 17.18), (0.09, 17.76)),
    ],
)
def test_newcombe_1998_examples(hits, n, wilson, clopper):
    """Newcombe 1998 (Stat. Med. 17:857), table values, from memory and recomputed."""
    assert score(hits, n).scaled(100) == pytest.approx(wilson, abs=0.005)
    assert exact(hits, n).scaled(100) == pytest.approx(clopper, abs=0.005)


@pytest.mark.parametrize(
    ("mites", "wilson", "clopper"),
    [
        (0, (0.000, 1.264), (0.000, 1.222)),
        (3, (0.341, 2.898), (0.207, 2.894)),
        (6, (0.920, 4.294), (0.737, 4.302)),
        (9, (1.586, 5.602), (1.381, 5.618)),
        (15, (3.053, 8.085), (2.825, 8.113)),
    ],
)
def test_mites_in_300_bees(mites, wilson, clopper):
    """Computed table values of the two intervals for washes of 300 bees."""
    assert score(mites, 300).scaled(100) == pytest.approx(wilson, abs=0.0005)
    assert exact(mites, 300).scaled(100) == pytest.approx(clopper, abs=0.0006)


@pytest.mark.parametrize(
    ("mites", "ends"), [(6, (0.734, 4.353)), (9, (1.372, 5.695)), (0, (0, 1.230))]
)
def test_poisson_interval_as_percent_of_300(mites, ends):
    """Computed table values of the exact Poisson interval (Garwood 1936)."""
    assert poisson(mites).scaled(1 / 3) == pytest.approx(ends, abs=0.0005)


def cases(seed: int, n: int):
    """Return n pairs (hits, of), from none to all and from one to thousands."""
    chance = random.Random(seed)
    for _ in range(n):
        of = int(10 ** chance.uniform(0, 3.7))
        yield chance.choice([0, of, chance.randint(0, of), chance.randint(0, min(of, 30))]), of


def test_shares_agree_with_statsmodels(long):
    """Both intervals for a share agree with statsmodels over thousands of cases."""
    for hits, of in cases(1, 20_000 if long else 2_000):
        ours, theirs = exact(hits, of), proportion_confint(hits, of, 0.05, "beta")
        assert ours == pytest.approx(theirs, rel=1e-8, abs=1e-12)
        ours, theirs = score(hits, of), proportion_confint(hits, of, 0.05, "wilson")
        assert ours == pytest.approx(theirs, rel=1e-8, abs=1e-12)


def test_rates_agree_with_statsmodels_and_scipy(long):
    """The Poisson interval and the chance over a rate agree over thousands of cases."""
    for events, effort in cases(2, 20_000 if long else 2_000):
        theirs = rates.confint_poisson(events, 1, method="exact-c")
        assert poisson(events) == pytest.approx([0 if x != x else x for x in theirs], rel=1e-8)
        tail = scipy.stats.gamma.sf(0.03, events + 0.5, scale=1 / effort)
        assert rate_over(events, effort, 0.03) == pytest.approx(tail, rel=1e-8, abs=1e-13)


def counts(seed: int, n: int, most: int):
    """Return n times four counts, none and one among them more often than chance has it."""
    chance = random.Random(seed)
    for _ in range(n):
        yield tuple(chance.choice([0, 1, chance.randint(0, most)]) for _ in range(4))


def test_ratios_agree_with_scipy(long):
    """The exact interval for a ratio of two odds is that of Fisher's exact model."""
    for a, b, c, d in counts(3, 1_000 if long else 60, 60):
        if (a + b) * (c + d) * (a + c) * (b + d) == 0:
            continue
        result = scipy.stats.contingency.odds_ratio([[a, b], [c, d]])
        theirs = result.confidence_interval(0.95)
        assert odds_ratio(a, b, c, d) == pytest.approx(theirs, rel=1e-5)


def test_ends_of_ratios_have_their_tails_in_scipy(long):
    """At each end of thousands of intervals Fisher's distribution leaves 2.5 % beyond the count."""
    fisher = scipy.stats.nchypergeom_fisher
    for a, b, c, d in counts(5, 20_000 if long else 2_000, 25):
        if (a + b) * (c + d) * (a + c) * (b + d) == 0:
            continue
        low, high = odds_ratio(a, b, c, d)
        of = (a + b + c + d, a + b, a + c)
        if a > max(0, a - d):
            assert fisher.sf(a - 1, *of, low) == pytest.approx(0.025, rel=1e-5)
        if a < min(a + b, a + c):
            assert fisher.cdf(a, *of, high) == pytest.approx(0.025, rel=1e-5)


def test_rate_ratios_agree_with_scipy_and_statsmodels(long):
    """Given their sum one of two counts is binomial; statsmodels' conditional test agrees."""
    chance = random.Random(6)
    for n, (a, b, _, _) in enumerate(counts(7, 20_000 if long else 2_000, 200)):
        effort, effort_0 = chance.uniform(50, 900), chance.uniform(50, 900)
        if a + b == 0:
            continue
        ours = rate_ratio(a, effort, b, effort_0)
        share = scipy.stats.binomtest(a, a + b).proportion_ci(0.95, "exact")
        odds = [end / (1 - end) if end < 1 else math.inf for end in share]
        assert ours == pytest.approx([end * effort_0 / effort for end in odds], rel=1e-8)
        for end, side in ((ours.low, "larger"), (ours.high, "smaller")):
            if n % 10 == 0 and b and 0 < end < math.inf:
                test = rates.test_poisson_2indep(
                    a, effort, b, effort_0, end, method="exact-cond", alternative=side
                )
                assert test.pvalue == pytest.approx(0.025, rel=1e-6)


def test_functions_agree_with_scipy(long):
    """The incomplete beta and gamma functions agree with scipy, far into their tails."""
    chance = random.Random(4)
    for _ in range(50_000 if long else 5_000):
        a, b = (10 ** chance.uniform(-1, 4) for _ in range(2))
        x, y = chance.random(), a * 10 ** chance.uniform(-1, 1)
        assert beta_cdf(a, b, x) == pytest.approx(scipy.special.betainc(a, b, x), 1e-9, 1e-14)
        assert gamma_cdf(a, y) == pytest.approx(scipy.special.gammainc(a, y), 1e-9, 1e-14)
        assert gamma_tail(a, y) == pytest.approx(scipy.special.gammaincc(a, y), 1e-9, 1e-14)


@given(hits=st.integers(0, 40), fewer=st.integers(50, 400), more=st.integers(0, 400))
def test_no_interval_narrows_with_fewer_bees(hits, fewer, more):
    """The same mites in fewer bees never give a narrower interval."""
    for interval in (exact, score):
        if 2 * hits <= fewer:
            assert interval(hits, fewer).width >= interval(hits, fewer + more).width
    per_bee = [poisson(hits).scaled(1 / bees).width for bees in (fewer, fewer + more)]
    assert per_bee[0] >= per_bee[1]


@given(hits=st.integers(0, 60), more=st.integers(1, 40), n=st.integers(100, 2000))
def test_intervals_rise_with_the_count(hits, more, n):
    """More mites move no end down, and each interval holds its estimate."""
    for interval in (exact, score):
        one, two = interval(hits, n), interval(hits + more, n)
        assert one.low <= two.low
        assert one.high <= two.high
        assert one.low <= hits / n <= one.high


def test_nothing_counted_says_nothing():
    """Two counts of none leave the ratio of their rates wide open."""
    assert rate_ratio(0, 300, 0, 300) == (0.0, math.inf)


@pytest.mark.parametrize("call", [lambda: exact(5, 4), lambda: score(-1, 4), lambda: poisson(-1)])
def test_counts_that_cannot_be(call):
    """More hits than were searched, or a count below zero, is refused."""
    with pytest.raises(ValueError, match=r"count|hits"):
        call()
