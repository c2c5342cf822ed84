"""The last five weeks: vapours at Ferry Lane by two people of whom one cannot sync."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Any

from fieldapp.demo import chores
from fieldapp.demo.remedies import AMITRAZ, FLUVALINATE, SPONGE, VAPOUR, Remedy, first_use, named
from fieldapp.demo.scene import Hive, Person
from fieldapp.demo.upland.cast import Cast

LAGGARDS = ("11", "12")
"""The acid ran out before these two on the fourth visit: they are late on the demo's today."""


def late_summer(cast: Cast) -> None:
    """Everything after the helper's phone went offline, to the evening before today."""
    _vapours(cast)
    _second_sponges(cast)
    _strips_looked_after(cast)
    _feed_and_boards(cast)


def _vapours(cast: Cast) -> None:
    """An own plan of five vapours, four to seven days apart, of which four are done."""
    scene, keeper, helper, ferry = cast.scene, cast.keeper, cast.helper, cast.ferry
    vapour = cast.remedy(keeper, "2026-08-29", VAPOUR, 0)
    plan = scene.write(keeper, datetime(2026, 8, 29, 8, 5), "plan", _plan(vapour))
    # The helper agreed to it on the telephone; with no sync, that phone wrote its own terms.
    helpers = first_use(
        scene,
        helper,
        datetime(2026, 9, 4, 7, 20),
        named(cast.library, VAPOUR),
        None,
    )
    helpers_plan = scene.write(helper, datetime(2026, 9, 4, 7, 22), "plan", _plan(helpers))
    chores.wash(cast.walk(keeper, "2026-08-22", "10:10", ferry), ferry.living()[:8], "before")
    chores.board(cast.walk(keeper, "2026-08-29", "18:00", ferry), ferry.living(), "in")

    ours, theirs = (keeper, vapour, plan), (helper, helpers, helpers_plan)
    _vapour(cast, ours, "2026-08-30", "07:50", ferry.hives)
    # The morning on which both did hive 7: the keeper from 1 on, the helper from 7 on.
    _vapour(cast, ours, "2026-09-04", "07:40", ferry.hives[:7])
    _vapour(cast, theirs, "2026-09-04", "08:05", ferry.hives[6:])
    _vapour(cast, ours, "2026-09-09", "07:45", ferry.hives)
    last = _vapour(
        cast, ours, "2026-09-14", "07:35", ferry.hives, dict.fromkeys(LAGGARDS, "ran out")
    )
    chores.day_after(cast.walk(keeper, "2026-09-15", "08:10", ferry), ferry.hives, last)


def _plan(vapour: Remedy) -> dict[str, Any]:
    return {
        "treatment": vapour.identity,
        "number": 5,
        "gap": {"least": 4, "target": 5, "most": 7},
        "ground": "common practice",
    }


def _vapour(
    cast: Cast,
    by: tuple[Person, Remedy, str],
    day: str,
    start: str,
    hives: list[Hive],
    skipped: dict[str, str] | None = None,
) -> dict[str, str]:
    who, vapour, plan = by
    dose = {"dose": {"amount": 2.3, "unit": "g", "of": "product", "per": "hive"}}
    return chores.treat(
        cast.walk(who, day, start, cast.ferry),
        vapour,
        hives,
        chores.alike(dose),
        kills=0.35,
        skipped=skipped,
        plan=plan,
        brood="yes",
        temperature=14,
        seconds=150,
    )


def _second_sponges(cast: Cast) -> None:
    """31 and 32 in time, 33 and 34 a week late, 35 not yet."""
    orchard = cast.orchard
    sponge = cast.remedies[SPONGE]
    for who, day, start, numbers, why in (
        (cast.helper, "2026-08-30", "16:10", ("31", "32"), None),
        (cast.keeper, "2026-09-12", "16:30", ("33", "34"), "was ill for a week"),
    ):
        hives = [orchard.hive(number) for number in numbers]
        walk = cast.walk(who, day, start, orchard)
        for hive in hives:
            body = {"did": "out", "count": 1, "treatment": sponge.identity}
            walk.tap("pieces", body, hive)
        given = chores.treat(
            walk,
            sponge,
            hives,
            chores.alike({"pieces": 1}),
            kills=0.6,
            brood="yes",
            temperature=18,
            reason=why,
        )
        morning_after = (walk.now + timedelta(days=1)).date().isoformat()
        chores.day_after(cast.walk(who, morning_after, "10:00", orchard), hives, given)


def _strips_looked_after(cast: Cast) -> None:
    """Looks at brood, a strip that cannot be found, and one of last autumn that is."""
    keeper, quarry = cast.keeper, cast.quarry
    strips, old = cast.remedies[AMITRAZ], cast.remedies[FLUVALINATE]
    walk = cast.walk(keeper, "2026-09-05", "11:00", quarry)
    for hive in quarry.living():
        if hive.number == "24":
            body = {"did": "lost", "count": 1, "treatment": strips.identity, "seen": "not found"}
        else:
            body = {"did": "moved", "count": 2, "treatment": strips.identity}
        walk.tap("pieces", body, hive)
    chores.look(
        cast.walk(keeper, "2026-09-12", "11:30", quarry),
        [quarry.hive("21"), quarry.hive("24")],
        "yes",
    )
    found = cast.walk(keeper, "2026-09-12", "12:20", quarry)
    body = {"did": "found", "count": 1, "treatment": old.identity}
    strip = found.tap("pieces", body, quarry.hive("25"))
    found.write(
        "note",
        {"words": "one of last autumn's strips, under the frames, behind the floor's bar"},
        hive=quarry.hive("25"),
        adds_to=strip,
    )
    found.tap("pieces", {"did": "out", "count": 1, "treatment": old.identity}, quarry.hive("25"))
    chores.look(cast.walk(keeper, "2026-09-14", "17:20", quarry), [quarry.hive("27")], "none")


def _feed_and_boards(cast: Cast) -> None:
    keeper, helper = cast.keeper, cast.helper
    ferry, quarry, orchard = cast.apiaries
    chores.feed(
        cast.walk(helper, "2026-08-16", "17:00", orchard), orchard.living(), "syrup", 2, "L"
    )
    chores.drop(cast.walk(keeper, "2026-09-06", "19:00", ferry), ferry.living(), 7, "season", 3.0)
    chores.board(cast.walk(keeper, "2026-09-06", "19:50", ferry), ferry.living(), "out")
    chores.feed(cast.walk(keeper, "2026-09-13", "17:30", quarry), quarry.living(), "syrup", 2, "L")
    chores.drop(
        cast.walk(helper, "2026-09-13", "16:00", orchard), orchard.living(), 7, "season", 2.0
    )
    chores.look(cast.walk(helper, "2026-09-17", "17:40", orchard), orchard.living(), "yes")
