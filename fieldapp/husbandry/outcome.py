"""The verdict on a course: worked, did not, cannot tell, and how the load stands now.

*Worked* means that more than half of the mites is gone even at the worse end of the interval,
*did not* that less than half is even at the better end. Half is this product's own mark, no
published one. The marks of registration trials are shown beside it; they are for trials of
many hives and never fail one hive's wash.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from itertools import chain
from typing import Literal, NamedTuple

from fieldapp.husbandry.answers import Reason
from fieldapp.husbandry.counting import Drop, Load
from fieldapp.husbandry.efficacy import (
    Counted,
    Efficacy,
    abbott,
    follow_up,
    henderson_tilton,
    reduction,
)
from fieldapp.husbandry.figures import Figure, Table
from fieldapp.husbandry.thresholds import Answer
from fieldapp.words import count, say

Verdict = Literal["worked", "did not", "cannot tell"]
HALF = 0.5


class Look(NamedTuple):
    """A count that stands before or after a course."""

    day: date
    sample: Load | Drop

    @property
    def way(self) -> str:
        """Wash, roll or drop."""
        return self.sample.way if isinstance(self.sample, Load) else "drop"

    @property
    def counted(self) -> Counted:
        """The mites, and the bees or days in which they were counted."""
        sample = self.sample
        effort = sample.bees if isinstance(sample, Load) else sample.days * sample.part
        return Counted(sample.mites, effort)


class Course(NamedTuple):
    """What the verdict needs of a course: first day, last dose or last piece out, kind.

    `last` is None while the course or a piece of it goes on.
    """

    first: date
    last: date | None
    winter_trickle: bool = False


class Outcome(NamedTuple):
    """`verdict` is None where the counts allow none; `reasons` say why. `now` is the load since."""

    verdict: Verdict | None
    efficacy: Efficacy | None
    now: Answer | None
    reasons: tuple[Reason, ...]


def judge_course(
    course: Course,
    before: Look,
    after: Look,
    biology: Table,
    *,
    now: Answer | None = None,
    untreated: Sequence[tuple[Look, Look]] = (),
) -> Outcome:
    """Return whether the course worked, from a count before and one after it.

    With `untreated` (the counts before and after of each hive that stayed untreated) Henderson
    and Tilton's formula sets their change together off; without it the reduction is plain.
    """
    fault = _before_unfit(course, before) or _after_unfit(course, after, biology)
    for one, two in untreated:
        fault = fault or _untreated_unfit(course, one, two, biology)
    if len({look.way for look in (before, after, *chain(*untreated))}) > 1:
        fault = Reason(say("the counts were made in different ways and cannot be compared"))
    if fault is not None:
        return Outcome(None, None, now, (fault,))
    if not untreated:
        found = reduction(before.counted, after.counted)
        how = say("plain reduction: mites that grew or came in meanwhile count against it")
    else:
        found = henderson_tilton(
            before.counted,
            after.counted,
            _together([one for one, _ in untreated]),
            _together([two for _, two in untreated]),
        )
        how = count(
            "set off against {n} untreated hive (Henderson and Tilton)",
            "set off against {n} untreated hives (Henderson and Tilton)",
            len(untreated),
        )
    return Outcome(_verdict(found), found, now, (Reason(how), _in_words(found), *_marks(biology)))


def beside_untreated(
    course: Course,
    after: Look,
    untreated: Sequence[Look],
    biology: Table,
    *,
    now: Answer | None = None,
) -> Outcome:
    """Return what a count after the course says beside untreated hives, where none was before it.

    Abbott's formula tells a share; without a count before nobody knows that the hives were
    alike, so there is no verdict.
    """
    fault = _after_unfit(course, after, biology)
    for look in untreated:
        fault = fault or _after_unfit(course, look, biology)
    if len({look.way for look in (after, *untreated)}) > 1:
        fault = Reason(say("the counts were made in different ways and cannot be compared"))
    if fault is not None:
        return Outcome(None, None, now, (fault,))
    found = abbott(after.counted, _together(untreated))
    how = count(
        "beside {n} untreated hive (Abbott): no verdict, for nobody counted before",
        "beside {n} untreated hives (Abbott): no verdict, for nobody counted before",
        len(untreated),
    )
    return Outcome(None, found, now, (Reason(how), _in_words(found)))


def judge_follow_up(
    killed: int,
    killed_by_follow_up: int,
    treatment_class: str | None,
    follow_up_class: str | None,
    documented: Figure | None,
    biology: Table,
) -> Outcome:
    """Return whether a treatment worked, from the mites that a follow-up still kills.

    No verdict where the follow-up is of the same class or one is not known. Where its own
    efficacy is not documented above the published mark the share is told, as at most that, and
    there is no verdict either.
    """
    wanted = biology.figure("efficacy", "follow_up")
    if not treatment_class or not follow_up_class or treatment_class == follow_up_class:
        why = wanted.reason(say("the follow-up must be of an unrelated substance"))
        return Outcome(None, None, None, (why,))
    found = follow_up(killed, killed_by_follow_up)
    if documented is None or not documented.grounds or documented.low <= wanted.low:
        text = say(
            "at most that, and no verdict: the follow-up must be documented to kill over {mark} %",
            mark=wanted.low,
        )
        return Outcome(None, found, None, (_in_words(found), wanted.reason(text)))
    return Outcome(_verdict(found), found, None, (_in_words(found), *_marks(biology)))


def earliest_look(course: Course, way: str, biology: Table) -> tuple[date | None, Figure]:
    """Return the first day on which a count can judge the course, and the figure behind it."""
    winter_board = course.winter_trickle and way == "drop"
    wait = (
        biology.figure("winter", "board_wait")
        if winter_board
        else biology.figure("efficacy", "wait")
    )
    if course.last is None:
        return None, wait
    days = int(wait.low * (7 if wait.unit == "weeks" else 1))
    return date.fromordinal(course.last.toordinal() + days), wait


def _together(looks: Sequence[Look]) -> Counted:
    counted = [look.counted for look in looks]
    return Counted(sum(each.mites for each in counted), sum(each.effort for each in counted))


def _before_unfit(course: Course, before: Look) -> Reason | None:
    if before.day > course.first:
        return Reason(say("the first count was made after the course had begun"))
    return None


def _after_unfit(course: Course, after: Look, biology: Table) -> Reason | None:
    earliest, wait = earliest_look(course, after.way, biology)
    if earliest is None:
        return Reason(say("the course is not over: pieces are in, or doses to come"))
    # A board tells of the days that it was in, so the first of them has to be late enough.
    days_in = after.sample.days if isinstance(after.sample, Drop) else 0
    if after.day.toordinal() - days_in < earliest.toordinal():
        return wait.reason(say("too soon to tell: count from {day} on", day=earliest))
    return None


def _untreated_unfit(course: Course, before: Look, after: Look, biology: Table) -> Reason | None:
    if _before_unfit(course, before) or _after_unfit(course, after, biology):
        return Reason(say("the untreated hives were counted at other times"))
    return None


def _verdict(found: Efficacy) -> Verdict:
    if found.share is None:
        return "cannot tell"
    if found.interval.low > HALF:
        return "worked"
    return "did not" if found.interval.high < HALF else "cannot tell"


def _in_words(found: Efficacy) -> Reason:
    if found.share is None:
        return Reason(say("too few mites before to tell"))
    if found.interval.low < 0:
        return Reason(
            say(
                "{share} % gone; it may be none, or {high} %",
                share=round(100 * found.share),
                high=round(100 * found.interval.high, 1),
            )
        )
    return Reason(
        say(
            "{share} % gone, from {low} to {high} %",
            share=round(100 * found.share),
            low=round(100 * found.interval.low),
            high=round(100 * found.interval.high, 1),
        )
    )


def _marks(biology: Table) -> tuple[Reason, ...]:
    other = biology.figure("efficacy", "mark_other")
    synthetic = biology.figure("efficacy", "mark_synthetic")
    text = say(
        "registration trials ask for {other} % ({synthetic} % of synthetic ones) over many hives",
        other=other.low,
        synthetic=synthetic.low,
    )
    return (other.reason(text),)
