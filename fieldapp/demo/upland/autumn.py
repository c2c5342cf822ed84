"""September to November: the list of hives, feed, and strips of which two hives' were forgotten."""

from __future__ import annotations

from datetime import datetime

from fieldapp.demo import chores
from fieldapp.demo.remedies import FLUVALINATE
from fieldapp.demo.scene import Walk
from fieldapp.demo.upland.cast import FIRST_DAY, ZONE, Cast


def settle_in(cast: Cast) -> None:
    """Enter the people, the apiaries, the hives and the colonies that were there."""
    scene, keeper, helper = cast.scene, cast.keeper, cast.helper
    start = datetime.combine(FIRST_DAY, datetime.min.time()).replace(hour=9)
    scene.write(keeper, start, "keeper", {"name": "Keeper", "role": "keeper", "beard": False})
    scene.write(helper, start, "keeper", {"name": "Helper", "role": "helper", "beard": True})
    for apiary in cast.apiaries:
        walk = Walk(scene, keeper, FIRST_DAY, "09:10", apiary)
        walk.write(
            "apiary",
            {
                "name": apiary.name,
                "country": "GB",
                "zone": ZONE,
                "lat": apiary.lat,
                "lon": apiary.lon,
            },
        )
        for stand, hive in enumerate(apiary.hives, start=1):
            body = {"number": hive.number, "stand": stand, "boxes": 1, "type": "single-walled"}
            walk.write("hive", body, hive=hive)
            if hive.colony is not None:
                walk.write("colony", {"origin": "was there"}, hive=hive)


def autumn(cast: Cast) -> None:
    """Feed, count, and put strips into Quarry Top; hives 23 and 26 keep theirs unnoticed."""
    keeper, helper, ferry, quarry = cast.keeper, cast.helper, cast.ferry, cast.quarry
    chores.feed(cast.walk(keeper, "2025-09-20", "15:30", ferry), ferry.hives, "syrup", 2.5, "L")
    chores.feed(
        cast.walk(keeper, "2025-09-21", "10:00", cast.orchard),
        cast.orchard.living(),
        "syrup",
        2.5,
        "L",
    )
    chores.board(cast.walk(helper, "2025-09-22", "17:05", quarry), quarry.hives, "in")
    before = cast.walk(helper, "2025-09-27", "09:10", quarry)
    chores.drop(before, quarry.hives, 5, "before", factor=5)
    strips = cast.remedy(helper, "2025-09-27", FLUVALINATE, 0)
    treating = cast.walk(helper, "2025-09-27", "10:20", quarry)
    given = chores.treat(
        treating,
        strips,
        quarry.hives,
        chores.alike({"pieces": 2}),
        # In hive 22 the mites hardly minded it: the course that did not work.
        kills=0.9,
        withstood={"22": 0.15},
        brood="hardly any",
        temperature=14,
    )
    chores.day_after(cast.walk(helper, "2025-09-28", "11:00", quarry), quarry.hives, given)
    chores.feed(cast.walk(keeper, "2025-10-04", "11:20", quarry), quarry.hives, "syrup", 2, "L")
    chores.wash(cast.walk(keeper, "2025-10-11", "10:30", ferry), ferry.hives[:8], "season")
    taken_out = [hive for hive in quarry.hives if hive.number not in ("23", "26")]
    chores.take_out(cast.walk(helper, "2025-11-15", "11:40", quarry), strips, taken_out, 2)
    chores.drop(
        cast.walk(helper, "2025-11-29", "11:00", quarry), quarry.hives, 14, "after", factor=5
    )
    chores.board(cast.walk(helper, "2025-11-29", "11:40", quarry), quarry.hives, "out")
