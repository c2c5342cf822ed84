"""July and early August: harvest, a caged queen, strips, thymol on a hot day, a mist."""

from __future__ import annotations

from datetime import date, datetime

from fieldapp.demo import chores
from fieldapp.demo.remedies import AMITRAZ, MIST, SPONGE, TRICKLE
from fieldapp.demo.upland.cast import Cast


def summer(cast: Cast) -> None:
    """From the break of brood in hive 34 to the day on which the helper's phone goes offline."""
    chores.grow([hive for apiary in cast.apiaries for hive in apiary.hives], 2.2)
    _brood_break(cast)
    _harvests(cast)
    _strips(cast)
    _thymol(cast)
    _mist(cast)


def _brood_break(cast: Cast) -> None:
    """The queen of hive 34 is caged; after 25 days the broodless colony is trickled."""
    keeper, orchard = cast.keeper, cast.orchard
    hive = orchard.hive("34")
    cast.walk(keeper, "2026-06-28", "15:00", orchard).tap("queen", {"did": "caged"}, hive)
    chores.supers_off(cast.walk(keeper, "2026-07-22", "19:00", orchard), [hive])
    trickle = cast.remedies[TRICKLE]
    walk = cast.walk(keeper, "2026-07-23", "20:30", orchard)
    chores.look(walk, [hive], "none", queen="seen", eggs="none")
    given = chores.treat(
        walk,
        trickle,
        [hive],
        chores.by_seams(5, 50),
        kills=0.9,
        brood="none",
        temperature=16,
        reason="brood break",
    )
    chores.day_after(cast.walk(keeper, "2026-07-24", "20:10", orchard), [hive], given)
    cast.walk(keeper, "2026-07-24", "20:30", orchard).tap("queen", {"did": "released"}, hive)


def _harvests(cast: Cast) -> None:
    """One lot an apiary in July; the rest of the supers off in August."""
    keeper, helper, ferry, quarry, orchard = (
        cast.keeper,
        cast.helper,
        cast.ferry,
        cast.quarry,
        cast.orchard,
    )
    for who, day, apiary in (
        (helper, "2026-07-18", quarry),
        (keeper, "2026-07-19", ferry),
        (keeper, "2026-07-19", orchard),
    ):
        some = [hive for hive in apiary.living() if hive.number != "34"][:8]
        chores.wash(cast.walk(who, day, "09:30", apiary), some, "season")
    # 23 and 26 still hold last autumn's strips: nothing is taken from them.
    open_hives = [hive for hive in quarry.living() if hive.number not in ("22", "23", "26")]
    chores.harvest(cast.walk(helper, "2026-07-25", "09:20", quarry), open_hives, "QT-2026-1", 11.5)
    chores.harvest(
        cast.walk(keeper, "2026-07-26", "09:00", ferry), ferry.living(), "FL-2026-1", 12.0
    )
    chores.harvest(
        cast.walk(keeper, "2026-08-01", "09:10", orchard),
        [hive for hive in orchard.living() if hive.number not in ("34", "35")],
        "OR-2026-1",
        9.5,
    )
    chores.harvest(
        cast.walk(keeper, "2026-08-02", "09:00", ferry), ferry.living(), "FL-2026-2", 10.0
    )
    chores.supers_off(cast.walk(helper, "2026-08-07", "17:00", quarry), quarry.living())
    chores.supers_off(cast.walk(keeper, "2026-08-02", "16:00", ferry), ferry.living())
    chores.supers_off(cast.walk(keeper, "2026-08-01", "16:00", orchard), orchard.living())


def _strips(cast: Cast) -> None:
    """Amitraz strips into all of Quarry Top; when they come out depends on the brood."""
    keeper, quarry = cast.keeper, cast.quarry
    strips = cast.remedy(keeper, "2026-08-08", AMITRAZ, 0)
    living = quarry.living()
    given = chores.treat(
        cast.walk(keeper, "2026-08-08", "09:15", quarry),
        strips,
        living,
        chores.alike({"pieces": 2}),
        kills=0.85,
        brood="yes",
        temperature=22,
    )
    chores.day_after(cast.walk(keeper, "2026-08-09", "18:00", quarry), living, given)


def _thymol(cast: Cast) -> None:
    """Thymol sponges into Orchard Row on the first of three days that were too warm."""
    helper, orchard = cast.helper, cast.orchard
    sponge = cast.remedy(helper, "2026-08-08", SPONGE, 0)
    chores.outlook(
        cast.walk(helper, "2026-08-11", "20:00", orchard),
        {
            date(2026, 8, 8): (24.5, 32.0),
            date(2026, 8, 9): (25.0, 33.5),
            date(2026, 8, 10): (23.0, 31.0),
            date(2026, 8, 11): (19.0, 24.0),
        },
        "thermometer in the shade at the gate",
    )
    living = orchard.living()
    given = chores.treat(
        cast.walk(helper, "2026-08-08", "11:30", orchard),
        sponge,
        living,
        chores.alike({"pieces": 1}),
        kills=0.5,
        brood="yes",
        temperature=29.5,
    )
    late_hives = [hive for hive in living if hive.number in ("31", "32")]
    chores.day_after(cast.walk(helper, "2026-08-09", "12:10", orchard), late_hives, given)


def _mist(cast: Cast) -> None:
    """Two hives get a home-mixed mist: no label, so all is written down and nothing assumed."""
    scene, keeper, ferry = cast.scene, cast.keeper, cast.ferry
    mist = cast.remedy(keeper, "2026-08-13", MIST, None)
    gear = scene.write(
        keeper,
        datetime(2026, 8, 13, 18, 0),
        "gear",
        {"what": "applicator", "name": "hand mister", "hours": 0, "change_after_hours": 40},
    )
    scene.write(
        keeper,
        datetime(2026, 8, 13, 18, 2),
        "gear",
        {
            "what": "filter",
            "name": "respirator, particles and acid gas",
            "opened": "2026-08-13",
            "expiry": "2027-02-13",
        },
    )
    heat = [
        {"pace": pace, "distance": distance, "temperature": degrees, "spat": spat}
        for pace, rows in (
            ("slow", ((4, 61.5), (8, 53), (12, 45.5), (20, 37), (30, 30.5))),
            ("fast", ((4, 97), (8, 79.5), (12, 68), (20, 57), (30, 46.5))),
        )
        for distance, degrees in rows
        for spat in (pace == "fast" and distance == 4,)
    ]
    strokes = [
        {"strokes": 20, "amount": amount, "unit": "mL"} for amount in (17.5, 18.5, 18.0, 17.0)
    ]
    scene.write(
        keeper,
        datetime(2026, 8, 13, 18, 40),
        "measured",
        {"gear": gear, "strokes": strokes, "heat": heat},
    )
    bought = scene.write(
        keeper,
        datetime(2026, 8, 10, 12, 20),
        "bought",
        {
            "product": "oxalic acid powder for bees, sachet",
            "lot": "demo lot 204",
            "expiry": "2027-11-30",
            "amount": 35,
            "unit": "g",
            "supplier": "an invented supplier",
            "address": "an invented address",
            "proof": "invoice demo 58",
        },
    )
    batch = scene.write(
        keeper,
        datetime(2026, 8, 14, 19, 10),
        "batch",
        {
            "recipe": "mist, own mix, version 1",
            "treatment": mist.identity,
            "steps": [
                {"do": "add", "what": "water", "amount": 100, "unit": "g"},
                {"do": "add", "what": "oxalic acid powder", "amount": 12, "unit": "g"},
                {"do": "heat", "to": 52, "measured": 51},
                {"do": "cool", "to": 40, "measured": 38.5},
                {"do": "add", "what": "glycerol", "amount": 25, "unit": "g", "off_heat": True},
                {"do": "stir", "what": "until clear"},
            ],
            "drawn": [{"lot": bought, "amount": 12, "unit": "g"}],
            "amount": 128,
            "unit": "mL",
            "words": "home mix, no label known",
        },
    )
    hives = [ferry.hive("11"), ferry.hive("12")]
    strokes_given = [
        {"place": "entrance", "strokes": 6},
        {"place": "under the crown board", "strokes": 5},
    ]
    given = chores.treat(
        cast.walk(keeper, "2026-08-14", "20:15", ferry),
        mist,
        hives,
        chores.alike({"strokes": strokes_given}),
        kills=0.1,
        batch=batch,
        brood="yes",
        temperature=19,
        clear="clear",
    )
    chores.day_after(cast.walk(keeper, "2026-08-15", "19:30", ferry), hives, given)
