"""Before the count: what it could tell."""

from __future__ import annotations

import random

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import binom, hypergeom
from scipy.stats import poisson as poisson_law

from fieldapp.husbandry.chance.intervals import poisson
from fieldapp.husbandry.errors import Unfitting
from fieldapp.husbandry.sampling import (
    bees_needed,
    can_answer,
    chance_of_none,
    chance_to_miss,
)


@pytest.mark.parametrize(("bees", "percent"), [(100, 36.6), (300, 4.90)])
def test_no_mite_in_the_sample_of_a_colony_with_one_percent(bees, percent):
    """R. Oliver, ABJ April 2020: 0.99 to the power of the bees sampled."""
    assert 100 * chance_of_none(1, bees) == pytest.approx(percent, abs=0.05)


def test_300_bees_at_one_and_at_three_percent():
    """300 bees cannot show less than 1 %; at 3 % up to 3 mites show below, from 16 on over."""
    assert can_answer(300, 1).below_up_to is None
    at_three = can_answer(300, 3)
    assert (at_three.below_up_to, at_three.over_from) == (3, 16)
    assert bees_needed(1) == 369


@given(bees=st.integers(10, 2000), level=st.floats(0.2, 10))
def test_the_outlook_is_what_the_count_will_say(bees, level):
    """The last count that shows below does, the next does not; the same for over."""
    seen = can_answer(bees, level)
    limit = level * bees / 100
    first_open = 0 if seen.below_up_to is None else seen.below_up_to + 1
    assert poisson(first_open).high >= limit
    assert first_open == 0 or poisson(first_open - 1).high < limit
    assert poisson(seen.over_from).low > limit
    assert poisson(seen.over_from - 1).low <= limit


def test_chance_of_an_answer():
    """Far from the threshold a wash answers nearly always, close to it hardly ever."""
    seen = can_answer(300, 3)
    assert seen.chance_of_answer(0) == 1
    assert seen.chance_of_answer(10) > 0.99
    assert seen.chance_of_answer(3) < 0.05


def test_what_a_number_of_hives_can_miss():
    """Eight of 24 hives miss the one bad hive in 16 of 24 cases; all hives miss none."""
    assert chance_to_miss(24, 1, 8) == pytest.approx(16 / 24)
    assert chance_to_miss(24, 3, 24) == 0
    with pytest.raises(Unfitting):
        chance_to_miss(5, 6, 1)


@given(st.floats(0.1, 20))
def test_bees_needed_is_the_fewest(level):
    """With so many bees no mite shows below; with one fewer it does not."""
    bees = bees_needed(level)
    assert can_answer(bees, level).below_up_to is not None
    assert bees == 1 or can_answer(bees - 1, level).below_up_to is None


def test_what_a_sample_tells_agrees_with_scipy(long):
    """Over thousands of samples: chance of an answer, of no mite, of missing the bad hives."""
    chance = random.Random(11)
    for _ in range(20_000 if long else 2_000):
        bees, level = chance.randint(20, 900), chance.uniform(0.3, 8)
        seen, true = can_answer(bees, level), chance.uniform(0, 15)
        mean = true * bees / 100
        below = -1 if seen.below_up_to is None else seen.below_up_to
        answers = poisson_law.cdf(below, mean) + poisson_law.sf(seen.over_from - 1, mean)
        assert seen.chance_of_answer(true) == pytest.approx(answers, rel=1e-9, abs=1e-12)
        assert chance_of_none(level, bees) == pytest.approx(
            binom.pmf(0, bees, level / 100), rel=1e-9
        )
        hives = chance.randint(1, 300)
        bad, sampled = chance.randint(0, hives), chance.randint(0, hives)
        missed = hypergeom.pmf(0, hives, bad, sampled)
        assert chance_to_miss(hives, bad, sampled) == pytest.approx(missed, rel=1e-7, abs=1e-15)
