"""Formulas of efficacy with their published examples, and the verdict on a course."""

from __future__ import annotations

import math
from datetime import date

import pytest
from computing_cases import BIOLOGY
from hypothesis import given
from hypothesis import strategies as st

from fieldapp.husbandry.counting import drop, load
from fieldapp.husbandry.efficacy import (
    Counted,
    abbott,
    follow_up,
    henderson_tilton,
    reduction,
)
from fieldapp.husbandry.outcome import (
    Course,
    Look,
    beside_untreated,
    earliest_look,
    judge_course,
    judge_follow_up,
)


def percent(found) -> float:
    return round(100 * found.share, 2)


def test_abbott():
    """Abbott 1925, J. Econ. Entomol. 18:265: 50 % alive untreated, 2 % treated: 96, not 48.

    On counts 26 and 6: 76.92 % (codingace.net); 100 and 20: 80 % (assertions of a public
    repository).
    """
    assert percent(abbott(Counted(2), Counted(50))) == 96
    assert percent(abbott(Counted(6), Counted(26))) == 76.92
    assert percent(abbott(Counted(20), Counted(100))) == 80


def test_henderson_and_tilton():
    """Tb 30, Ta 6, Cb 28, Ca 26: 78.46 % (codingace.net); Tb 50, Ta 5, Cb 40, Ca 60: 93.33 %."""
    found = henderson_tilton(Counted(30), Counted(6), Counted(28), Counted(26))
    assert percent(found) == 78.46
    assert percent(henderson_tilton(Counted(50), Counted(5), Counted(40), Counted(60))) == 93.33
    assert found.interval.low < found.share < found.interval.high


def test_plain_reduction():
    """30 to 6 is 80 %, 200 to 50 is 75 % (codingace.net and a public repository)."""
    assert percent(reduction(Counted(30), Counted(6))) == 80
    assert percent(reduction(Counted(200), Counted(50))) == 75


def test_samples_of_different_sizes_are_compared_by_the_bee():
    """6 in 300 to 4 in 100 doubled; 30 in 10 days to 6 in 5 days is 60 %."""
    assert percent(reduction(Counted(6, 300), Counted(4, 100))) == -100
    assert percent(reduction(Counted(30, 10), Counted(6, 5))) == 60
    found = henderson_tilton(Counted(30, 300), Counted(6, 150), Counted(28, 280), Counted(26, 260))
    assert percent(found) == 60


def test_follow_up():
    """COLOSS BEEBOOK, Varroa, 4.5.4.2.6.1; no published figures: 950 and 50 make 95 %."""
    assert percent(follow_up(950, 50)) == 95.0


def test_undefined_stays_undefined():
    """None before, or none in the untreated hives, has no efficacy, and says so by None."""
    assert abbott(Counted(5), Counted(0)).share is None
    assert reduction(Counted(0), Counted(3)).share is None
    assert henderson_tilton(Counted(9), Counted(1), Counted(9), Counted(0)).share is None
    assert follow_up(0, 0).share is None


def test_mites_that_grew_show_below_zero():
    """10 to 30 is minus 200 %, shown and not clipped."""
    assert percent(reduction(Counted(10), Counted(30))) == -200


def test_six_to_one_in_300():
    """83 %, from about -37 to 99.6 (Clopper-Pearson on 1 of 7): nobody can tell."""
    found = reduction(Counted(6, 300), Counted(1, 300))
    assert percent(found) == 83.33
    assert 100 * found.interval.low == pytest.approx(-37, abs=0.5)
    assert 100 * found.interval.high == pytest.approx(99.6, abs=0.05)


COURSE = Course(date(2026, 8, 1), date(2026, 9, 1))
BEFORE, AFTER = date(2026, 7, 28), date(2026, 9, 20)


def verdict(mites_before: int, mites_after: int, **more):
    before = Look(more.get("before", BEFORE), load("wash", mites_before, 300))
    after = Look(more.get("after", AFTER), load(more.get("way", "wash"), mites_after, 300))
    return judge_course(more.get("course", COURSE), before, after, BIOLOGY)


def test_three_answers():
    """30 to 2 worked, 30 to 30 did not, 6 to 1 cannot be told."""
    assert verdict(30, 2).verdict == "worked"
    assert verdict(30, 30).verdict == "did not"
    assert verdict(6, 1).verdict == "cannot tell"


def test_the_marks_of_trials_are_shown_and_fail_nobody():
    """85 % is under both marks (EMA/CVMP/EWP/459883/2008 in COLOSS 4.5.4), and worked."""
    outcome = verdict(100, 15)
    assert percent(outcome.efficacy) == 85
    assert outcome.verdict == "worked"
    assert any("registration trials ask for" in each.phrase.text for each in outcome.reasons)


@pytest.mark.parametrize(
    "case",
    [
        {"after": date(2026, 9, 14)},
        {"way": "roll"},
        {"before": date(2026, 8, 3)},
        {"course": Course(date(2026, 8, 1), None)},
    ],
    ids=["13 days after", "another way", "first count too late", "pieces still in"],
)
def test_no_verdict(case):
    """Too soon, another way, counted after the start, not over: no verdict, with the reason."""
    outcome = verdict(30, 2, **case)
    assert outcome.verdict is None
    assert outcome.efficacy is None
    assert outcome.reasons


def test_fourteen_days_are_enough():
    """Not before 14 days after the last dose or last piece out (COLOSS 4.5.4.2.6.1)."""
    assert verdict(30, 2, after=date(2026, 9, 15)).verdict == "worked"


def test_a_board_after_a_winter_trickle_waits_28_days():
    """Mite fall lasts some four weeks after a trickle (imker-dorfen.de)."""
    winter = Course(date(2026, 12, 20), date(2026, 12, 20), winter_trickle=True)
    assert earliest_look(winter, "drop", BIOLOGY)[0] == date(2027, 1, 17)
    assert earliest_look(winter, "wash", BIOLOGY)[0] == date(2027, 1, 3)
    before = Look(date(2026, 12, 20), drop(60, 5, BIOLOGY))
    soon = Look(date(2027, 1, 17), drop(2, 5, BIOLOGY))
    late = Look(date(2027, 1, 22), drop(2, 5, BIOLOGY))
    assert judge_course(winter, before, soon, BIOLOGY).verdict is None
    assert judge_course(winter, before, late, BIOLOGY).verdict == "worked"


def test_untreated_hives_set_growth_off():
    """20 to 10 while untreated hives went from 20 to 80 is 87.5 %, not 50."""
    looks = [Look(day, load("wash", n, 300)) for day, n in [(BEFORE, 20), (AFTER, 80)]]
    before, after = Look(BEFORE, load("wash", 20, 300)), Look(AFTER, load("wash", 10, 300))
    alone = judge_course(COURSE, before, after, BIOLOGY)
    beside = judge_course(COURSE, before, after, BIOLOGY, untreated=[(looks[0], looks[1])])
    assert (percent(alone.efficacy), percent(beside.efficacy)) == (50, 87.5)
    assert (alone.verdict, beside.verdict) == ("cannot tell", "worked")


def test_untreated_hives_count_together_and_in_time():
    """Two hives from 10 to 40 each are the one from 20 to 80; counted too soon they set nothing."""

    def pair(late=AFTER, way="wash"):
        return Look(BEFORE, load(way, 10, 150)), Look(late, load(way, 40, 150))

    before, after = Look(BEFORE, load("wash", 20, 300)), Look(AFTER, load("wash", 10, 300))

    def outcome(*pairs):
        return judge_course(COURSE, before, after, BIOLOGY, untreated=pairs)

    assert percent(outcome(pair(), pair()).efficacy) == 87.5
    for wrong in (pair(late=date(2026, 9, 10)), pair(way="roll")):
        assert outcome(pair(), wrong).verdict is None
        assert outcome(pair(), wrong).efficacy is None


def test_beside_untreated_hives_without_a_count_before():
    """6 beside 26 in an untreated hive: 76.92 %, Abbott, and no verdict (codingace.net)."""
    after, other = Look(AFTER, load("wash", 6, 300)), Look(AFTER, load("wash", 26, 300))
    found = beside_untreated(COURSE, after, [other], BIOLOGY)
    assert percent(found.efficacy) == 76.92
    assert found.verdict is None
    soon = Look(date(2026, 9, 10), load("wash", 26, 300))
    for wrong in (soon, Look(AFTER, load("roll", 26, 300))):
        assert beside_untreated(COURSE, after, [wrong], BIOLOGY).efficacy is None


def test_a_follow_up_has_to_be_unrelated_and_documented():
    """COLOSS BEEBOOK: a chemically unrelated substance of over 95 % documented efficacy."""
    good = BIOLOGY.figure("efficacy", "mark_synthetic")._replace(low=97, high=97)
    assert judge_follow_up(950, 50, "3A", "acid", good, BIOLOGY).verdict == "worked"
    for classes, documented in [
        (("3A", "3A"), good),
        ((None, "acid"), good),
        (("3A", "acid"), None),
        (("3A", "acid"), good._replace(low=95, high=95)),
        (("3A", "acid"), good._replace(standing="reported")),
    ]:
        assert judge_follow_up(950, 50, *classes, documented, BIOLOGY).verdict is None
    undocumented = judge_follow_up(950, 50, "3A", "acid", None, BIOLOGY)
    assert percent(undocumented.efficacy) == 95
    assert any("at most that" in each.phrase.text for each in undocumented.reasons)


@given(st.integers(1, 60), st.integers(0, 60), st.integers(0, 20))
def test_fewer_mites_after_never_look_worse(before, after, fewer):
    """The share and both ends of its interval fall with the mites counted after."""
    few, many = sorted((after, after + fewer))
    better = reduction(Counted(before, 300), Counted(few, 300))
    worse = reduction(Counted(before, 300), Counted(many, 300))
    assert better.share >= worse.share
    assert better.interval.low >= worse.interval.low
    assert better.interval.high >= worse.interval.high


@given(*(st.integers(1, 40) for _ in range(4)))
def test_intervals_hold_their_share(a, b, c, d):
    """Whatever was counted, the efficacy lies inside its interval."""
    found = henderson_tilton(*(Counted(each) for each in (a, b, c, d)))
    assert found.interval.low <= found.share <= found.interval.high
    assert not math.isnan(found.interval.low)
