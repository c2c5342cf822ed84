"""December to March: one trickle while broodless, a colony that died, the first looks."""

from __future__ import annotations

from datetime import datetime

from fieldapp.demo import chores
from fieldapp.demo.remedies import TRICKLE
from fieldapp.demo.upland.cast import Cast

TRICKLED = chores.by_seams(5, 50)
MADE_ML = 1000.0


def winter(cast: Cast) -> None:
    """Trickle every colony once; hive 5 is found dead in February; 22 is queenless in March."""
    scene, keeper, helper = cast.scene, cast.keeper, cast.helper
    ferry, quarry, orchard = cast.apiaries
    trickle = cast.remedy(keeper, "2025-12-27", TRICKLE, 0)
    bought = scene.write(
        keeper,
        datetime(2025, 12, 5, 14, 10),
        "bought",
        {
            "product": "oxalic acid powder for bees, sachet",
            "treatment": trickle.identity,
            "lot": "demo lot 118",
            "expiry": "2027-06-30",
            "amount": 70,
            "unit": "g",
            "supplier": "an invented supplier",
            "address": "an invented address",
            "proof": "invoice demo 31",
            "price": 18.5,
            "currency": "GBP",
        },
    )
    batch = scene.write(
        keeper,
        datetime(2025, 12, 27, 16, 20),
        "batch",
        {
            "recipe": "trickle, as on the label, version 1",
            "treatment": trickle.identity,
            "steps": [
                {"do": "add", "what": "water", "amount": 616, "unit": "mL"},
                {"do": "add", "what": "sucrose", "amount": 616, "unit": "g"},
                {"do": "add", "what": "oxalic acid powder", "amount": 70, "unit": "g"},
                {"do": "stir", "what": "until clear"},
            ],
            "drawn": [{"lot": bought, "amount": 70, "unit": "g"}],
            "amount": MADE_ML,
            "unit": "mL",
            "keep_until": "2026-01-10",
        },
    )
    rounds = (
        (keeper, "2025-12-28", "10:40", ferry, 6.5),
        (helper, "2025-12-30", "11:05", quarry, 5.0),
        (keeper, "2025-12-30", "11:30", orchard, 5.5),
    )
    left_ml = MADE_ML
    for who, day, start, apiary, degrees in rounds:
        living = apiary.living()
        left_ml -= sum(TRICKLED(hive)["dose"]["amount"] for hive in living)
        chores.board(cast.walk(who, day, "09:30", apiary), living, "in")
        given = chores.treat(
            cast.walk(who, day, start, apiary),
            trickle,
            living,
            TRICKLED,
            kills=0.93,
            brood="none",
            temperature=degrees,
            batch=batch,
            clear="clear",
        )
        if apiary is ferry:
            _slip(cast, trickle.identity, trickle.terms, given["8"])
    for who, day, apiary in (
        (keeper, "2026-01-25", ferry),
        (helper, "2026-01-27", quarry),
        (keeper, "2026-01-27", orchard),
    ):
        chores.drop(cast.walk(who, day, "11:00", apiary), apiary.living(), 28, "after", factor=0.4)
        chores.board(cast.walk(who, day, "12:10", apiary), apiary.living(), "out")
    scene.write(
        keeper,
        datetime(2026, 1, 28, 17, 0),
        "disposed",
        {"lot": batch, "amount": left_ml, "unit": "mL", "how": "taken to the council's yard"},
    )
    for apiary in cast.apiaries:
        walk = cast.walk(keeper, "2026-01-31", "10:30", apiary)
        chores.feed(walk, apiary.living(), "fondant", 1, "kg")
    _found_dead(cast)
    for who, day, apiary in (
        (keeper, "2026-03-28", ferry),
        (helper, "2026-03-28", quarry),
        (keeper, "2026-03-29", orchard),
    ):
        chores.look(
            cast.walk(who, day, "12:20", apiary),
            [hive for hive in apiary.living() if hive.number != "22"],
            "yes",
        )
        chores.grow(apiary.hives, 2.2)
    queenless = quarry.hive("22")
    chores.look(
        cast.walk(helper, "2026-03-28", "15:10", quarry), [queenless], "none", queen="queenless"
    )


def _slip(cast: Cast, identity: str, terms: str, right: str) -> None:
    """Hive 8 was tapped a second time by mistake and undone at once."""
    ferry = cast.ferry
    walk = cast.walk(cast.keeper, "2025-12-28", "11:58", ferry)
    hive = ferry.hive("8")
    body = {"treatment": identity, "terms": terms, "supers": "off"} | TRICKLED(hive)
    slip = walk.write("application", body, hive=hive)
    walk.write("application", body | {"reason": "slip"}, hive=hive, corrects=slip, void=True)
    walk.write("note", {"words": "drips from the crown board, dried"}, hive=hive, adds_to=right)


def _found_dead(cast: Cast) -> None:
    ferry = cast.ferry
    hive = ferry.hive("5")
    walk = cast.walk(cast.keeper, "2026-02-14", "13:15", ferry)
    found = walk.tap("death", {"cause": "small cluster, dead; stores left"}, hive=hive)
    walk.write("note", {"words": "entrance closed, combs kept apart"}, hive=hive, adds_to=found)
    hive.colony = None
