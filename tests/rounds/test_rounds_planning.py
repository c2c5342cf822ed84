"""The keeper's own plan: steps in bounds, its standing to the label, its course."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from fieldapp.rounds.planning import MOST_APPLICATIONS, MOST_DAYS, Plan
from fieldapp.words import Speech

VAPOUR = "GB/powder-886-mg-g-UK-AN-01519-2014/2015-09/oxalic-acid/sublimation"
STEPS = ("add_applications", "add_least", "add_most")


@given(st.lists(st.tuples(st.sampled_from(STEPS), st.integers(-70, 70))))
def test_no_steps_lead_to_a_plan_that_cannot_be_kept(steps):
    """Least never passes most, and both stay whole days of at least one."""
    plan = Plan(VAPOUR, 2, 4, 7, 1)
    for name, by in steps:
        getattr(plan, name)(by)
    assert 1 <= plan.least <= plan.body["gap"]["target"] <= plan.most <= MOST_DAYS
    assert 2 <= plan.number <= MOST_APPLICATIONS


def test_a_plan_over_the_label_says_so_unless_the_label_in_hand_is_its_ground():
    """What the label does not say is said to be not known, not taken as allowed."""
    plan = Plan(VAPOUR, 5, 4, 7, 1)
    assert Speech()(plan.words) == "5 times, 4 to 7 days apart"
    assert "Over label" in Speech()(plan.remark)
    plan.label_most = None
    assert "not known" in Speech()(plan.remark)
    plan.turn_ground()
    assert plan.remark is None


def test_a_round_with_a_plan_makes_the_next_one_due_in_its_window(phone):
    """Five at four to seven days: after the first, the second is due from day 4 to day 7."""
    phone.set_up(1)
    start = phone.start(VAPOUR)
    start.plan = Plan(VAPOUR, 5, 4, 7, 1)
    start.begin().tap(phone.hives()[0])
    today = phone.notebook.today()
    (item,) = [each for each in phone.book.items(phone.hives()[0], today) if each.task == "apply"]
    assert ((item.first - today).days, (item.last - today).days) == (4, 7)
    assert not phone.start(VAPOUR).plannable
