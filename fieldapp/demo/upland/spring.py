"""April to June: counts, a uniting, a treatment with a period, splits, supers on, a swarm."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from fieldapp.demo import chores
from fieldapp.demo.remedies import INVENTED, first_use
from fieldapp.demo.scene import Hive, Person
from fieldapp.demo.upland.cast import Cast
from fieldapp.husbandry.library.own import LabelInHand, own_terms

LATE_SUPERS = ("5", "9", "10", "22", "35")
"""Hives without supers when the others get theirs: split, swarm or closed by the label."""


def spring(cast: Cast) -> None:
    """From the first wash to the swarm in June."""
    _register(cast)
    _unite(cast)
    _first_counts(cast)
    _emergency_course(cast)
    _supers(cast)
    _splits(cast)
    _looks(cast)
    _swarm(cast)
    cast.walk(cast.keeper, "2026-05-22", "10:30", cast.quarry).write(
        "visit", {"by": "bee inspector", "found": "seven hives seen, brood healthy"}
    )


def _register(cast: Cast) -> None:
    """Colonies counted for the register on 1 April."""
    for apiary in cast.apiaries:
        walk = cast.walk(cast.keeper, "2026-04-01", "20:00", apiary)
        walk.write("colony_count", {"number": len(apiary.living())})


def _unite(cast: Cast) -> None:
    """The queenless colony of hive 22 joins hive 21."""
    quarry = cast.quarry
    going, staying = quarry.hive("22"), quarry.hive("21")
    walk = cast.walk(cast.helper, "2026-04-12", "16:40", quarry)
    walk.tap("unite", {"from_hive": going.id, "from_colony": going.colony}, staying)
    staying.seams += 1.5
    staying.load = (staying.load + going.load) / 2
    going.colony = None


def _first_counts(cast: Cast) -> None:
    keeper, ferry = cast.keeper, cast.ferry
    for number in ("9", "10"):
        ferry.hive(number).load = 3.6
    counted = chores.wash(
        cast.walk(keeper, "2026-04-18", "11:10", ferry), ferry.living()[:10], "season"
    )
    # The keeper had written hive 3's count one line too low, and put it right in the evening.
    right = {"way": "wash", "fluid": "soapy water", "mites": 1, "bees": 302, "bees_by": "counted"}
    cast.walk(keeper, "2026-04-18", "19:30", ferry).write(
        "count",
        right | {"purpose": "season"},
        hive=ferry.hive("3"),
        corrects=counted["3"],
        heads=(),
    )
    chores.wash(
        cast.walk(cast.helper, "2026-04-19", "11:00", cast.quarry), cast.quarry.living(), "season"
    )
    chores.wash(
        cast.walk(keeper, "2026-04-19", "14:00", cast.orchard), cast.orchard.living(), "season"
    )


OWN_LABEL: dict[str, Any] = {
    "applications": {"least": 2, "usual": 2, "most": 2},
    "gap": {"least": 7, "target": 8, "most": 10, "unit": "days"},
    "supers": "off",
    "period": {"form": "days", "days": 3, "unit": "weeks"},
    "limit": {"number": 2, "counts": "courses", "per": "year"},
    "dose": [{"amount": 20, "unit": "mL", "of": "product", "per": "hive"}],
}
"""What the keeper read off an (invented) label in hand."""


def _own_treatment(own_id: str) -> dict[str, Any]:
    return own_terms(
        own_id,
        name="Formic acid from a dish, own treatment",
        active="formic acid",
        method="dish",
        form="dose",
        label=LabelInHand(f"Label in hand, {INVENTED}", issuer=None, year=None, country="GB"),
        answers=OWN_LABEL,
    )


def _emergency_course(cast: Cast) -> None:
    """Hives 9 and 10 are over the keeper's mark; their honey is closed for 21 days after."""
    keeper, ferry = cast.keeper, cast.ferry
    high = [ferry.hive("9"), ferry.hive("10")]
    evening = datetime(2026, 4, 18, 20, 15)
    own = _own_treatment(cast.scene.new_id(evening))
    dish = first_use(cast.scene, keeper, evening, own, None)
    for day, degrees in (("2026-04-19", 15.0), ("2026-04-27", 17.5)):
        given = chores.treat(
            cast.walk(keeper, day, "09:40", ferry),
            dish,
            high,
            chores.alike({"dose": {"amount": 20, "unit": "mL", "of": "product", "per": "hive"}}),
            kills=0.6,
            brood="yes",
            temperature=degrees,
        )
        after = "2026-04-20" if day.endswith("19") else "2026-04-28"
        chores.day_after(cast.walk(keeper, after, "17:30", ferry), high, given)


def _super_mark(hive: Hive) -> str:
    return f"{hive.number}-{len(hive.supers) + 1}"


def _supers(cast: Cast) -> None:
    """On in May, one more a month later; 9 and 10 wait until the label opens them."""
    keeper, helper = cast.keeper, cast.helper
    for who, first, second, apiary in (
        (keeper, "2026-05-02", "2026-05-30", cast.ferry),
        (helper, "2026-05-03", "2026-05-31", cast.quarry),
        (keeper, "2026-05-03", "2026-05-31", cast.orchard),
    ):
        strong = [hive for hive in apiary.living() if hive.number not in LATE_SUPERS]
        chores.supers_on(cast.walk(who, first, "14:00", apiary), strong, _super_mark)
        chores.supers_on(cast.walk(who, second, "14:00", apiary), strong, _super_mark)
        for hive in apiary.living():
            hive.seams = min(10.0, hive.seams + 2)
    opened = [cast.ferry.hive("9"), cast.ferry.hive("10")]
    chores.supers_on(cast.walk(keeper, "2026-05-20", "18:10", cast.ferry), opened, _super_mark)


def _splits(cast: Cast) -> None:
    """Hive 9 is split in the middle of its closed days, 24 in the ordinary way."""
    for who, day, apiary, source, target in (
        (cast.keeper, "2026-05-06", cast.ferry, "9", "5"),
        (cast.helper, "2026-05-16", cast.quarry, "24", "22"),
    ):
        old, new = apiary.hive(source), apiary.hive(target)
        walk = cast.walk(who, day, "15:20", apiary)
        colony = cast.scene.new_id(walk.now)
        walk.tap("split", {"to_hive": new.id, "to_colony": colony, "supers_along": []}, old)
        new.colony, new.load, new.seams = colony, old.load, 3.5
        old.seams -= 2.5


def _looks(cast: Cast) -> None:
    """Look for swarming every two weeks, and wash eight hives of an apiary a month."""
    plans: tuple[tuple[Person, str, Any, tuple[str, ...]], ...] = (
        (
            cast.keeper,
            "10:20",
            cast.ferry,
            ("2026-05-09", "2026-05-23", "2026-06-13"),
        ),
        (cast.helper, "10:40", cast.quarry, ("2026-05-10", "2026-05-24", "2026-06-13")),
        (cast.keeper, "17:10", cast.orchard, ("2026-05-14", "2026-05-28", "2026-06-18")),
    )
    for who, start, apiary, days in plans:
        for day in days:
            living = [hive for hive in apiary.living() if hive.number != "35"]
            chores.look(cast.walk(who, day, start, apiary), living, "yes")
    chores.grow([hive for apiary in cast.apiaries for hive in apiary.hives], 2.6)
    for day, who, apiary in (
        ("2026-06-20", cast.keeper, cast.ferry),
        ("2026-06-21", cast.helper, cast.quarry),
        ("2026-06-21", cast.keeper, cast.orchard),
    ):
        some = [hive for hive in apiary.living() if hive.number != "35"][:8]
        chores.wash(cast.walk(who, day, "16:20", apiary), some, "season")


def _swarm(cast: Cast) -> None:
    """A swarm of hive 31 is taken and put into the empty hive 35."""
    orchard = cast.orchard
    old, new = orchard.hive("31"), orchard.hive("35")
    walk = cast.walk(cast.keeper, "2026-06-07", "13:05", orchard)
    colony = cast.scene.new_id(walk.now)
    walk.tap("swarm", {"new_colony": colony, "to_hive": new.id}, old)
    new.colony, new.load, new.seams = colony, old.load * 0.6, 5.0
    old.seams -= 3
