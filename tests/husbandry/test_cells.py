"""The hole in the course: the computed shares, holes, delays, the timeline."""

from __future__ import annotations

from datetime import date

import pytest
from computing_cases import BIOLOGY
from hypothesis import given
from hypothesis import strategies as st

from fieldapp.husbandry.cells import Span, delayed, opened, reach, timeline
from fieldapp.husbandry.errors import Unfitting
from fieldapp.words.speech import Speech


@pytest.mark.parametrize(
    ("residual", "days", "worker", "drone"),
    [
        (3, (0,), 25.0, 20.7),
        (3, (0, 5), 66.7, 55.2),
        (3, (0, 5, 10), 100.0, 89.7),
        (3, (0, 7), 83.3, 69.0),
        (3, (0, 7, 14), 100.0, 100.0),
        (0, (0, 5, 10), 75.0, 62.1),
        (0, (0, 7, 14), 58.3, 62.1),
    ],
)
def test_shares_of_the_definition(residual, days, worker, drone):
    """Computed values: mites stay 4.5 days on bees (Huang), worker 12, drone 14.5 days sealed."""
    shares = [100 * reach("", days, residual, 4.5, sealed).share for sealed in (12, 14.5)]
    assert shares == pytest.approx([worker, drone], abs=0.05)


def test_the_share_is_what_counting_mites_one_by_one_gives():
    """A walk over ten thousand mites finds the same share as the intervals."""
    days, residual, on_bees, sealed = (0, 6, 13), 1.5, 4.5, 14.5
    mites = [sealed * (n + 0.5) / 10_000 for n in range(10_000)]
    met = sum(any(a <= e + on_bees and e <= a + residual for a in days) for e in mites)
    assert reach("", days, residual, on_bees, sealed).share == pytest.approx(met / 10_000, abs=1e-3)


def test_met_and_holes_part_the_days():
    """Days 0 and 7 with three days of action leave the cells of day 10 to 12 unmet."""
    course = reach("worker", (0, 7), 3, 4.5, 12)
    assert course.met == (Span(0, 10),) or course.met == (Span(0, 3), Span(2.5, 10))
    assert course.holes == (Span(10, 12),)


def test_what_two_days_delay_would_open():
    """0, 5, 10 meets all workers; the third visit two days late still does, the second not."""
    planned = (0, 5, 10)
    before = reach("worker", planned, 0, 4.5, 12)
    late = delayed(planned, 1)
    assert late == (0, 7, 12)
    assert opened(before, reach("worker", late, 0, 4.5, 12)) == (Span(0.5, 2.5), Span(7, 7.5))
    with pytest.raises(Unfitting, match="after the first"):
        delayed(planned, 0)


def test_timeline_names_the_days_on_which_unmet_cells_hatch():
    """Visits on 1 and 8 June: worker cells that hatch from the 11th on are not met."""
    plan = timeline(date(2026, 6, 1), (0, 7), BIOLOGY.figure("mites", "residual_oxalic"), BIOLOGY)
    assert plan.visits == (date(2026, 6, 1), date(2026, 6, 8))
    assert ("worker", date(2026, 6, 11), date(2026, 6, 12)) in plan.hatching
    assert [each.caste for each in plan.castes] == ["worker", "drone"]


def test_reach_is_not_kill_always_stands_beside():
    """A course that meets all on paper still names the trial that did so and failed."""
    days = tuple(range(0, 35, 5))
    plan = timeline(date(2026, 6, 1), days, BIOLOGY.figure("mites", "residual_oxalic"), BIOLOGY)
    assert [each.share for each in plan.castes] == [1.0, 1.0]
    said = [Speech()(each.phrase) for each in plan.reasons]
    assert any("not killed" in each for each in said)
    assert any("7 applications 5 days apart" in each and "failed" in each for each in said)
    assert any("Berry et al. 2022" in each.source for each in plan.reasons)


_courses = st.lists(st.integers(0, 30), min_size=1, max_size=6)


@given(_courses, st.floats(0, 6), st.floats(0, 11), st.sampled_from([12.0, 14.5]))
def test_more_visits_or_longer_action_never_meet_less(days, residual, on_bees, sealed):
    """Reach grows with visits, residual days and days on bees; it is a share."""
    share = reach("", days, residual, on_bees, sealed).share
    assert 0 <= share <= 1 + 1e-12
    for more in (
        reach("", [*days, 9], residual, on_bees, sealed),
        reach("", days, residual + 1, on_bees, sealed),
        reach("", days, residual, on_bees + 1, sealed),
    ):
        assert more.share >= share - 1e-12


@given(_courses, st.floats(0, 6), st.floats(0, 11))
def test_what_is_met_and_the_holes_make_up_the_whole(days, residual, on_bees):
    """No day is lost or counted twice."""
    course = reach("", days, residual, on_bees, 12)
    whole = sum(span.high - span.low for span in (*course.met, *course.holes))
    assert whole == pytest.approx(12)


@pytest.mark.parametrize("bad", [((), 3), ((0,), -1)])
def test_a_course_that_cannot_be(bad):
    """No day at all, or a residual below zero, is refused in words."""
    with pytest.raises(Unfitting, match="at least one day"):
        reach("worker", bad[0], bad[1], 4.5, 12)
