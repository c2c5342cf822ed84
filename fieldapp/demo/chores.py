"""The walks that every season is made of: treating, counting, looking, supers, harvest, feed.

Each takes a `Walk` (who, which apiary, when) and the hives, writes what a keeper would log, and
moves the plan's own figures on: mites die, supers come and go.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from datetime import date
from math import sqrt
from typing import Any

from fieldapp.demo.remedies import Remedy
from fieldapp.demo.scene import Hive, Walk

Dose = Callable[[Hive], dict[str, Any]]


def alike(dose: Mapping[str, Any]) -> Dose:
    """Return what every hive of a round gets alike."""
    return lambda _hive: dict(dose)


def by_seams(amount_a_seam: float, cap: float, unit: str = "mL") -> Dose:
    """Return a dose by occupied seams (to the quarter), as far as the cap."""

    def dose(hive: Hive) -> dict[str, Any]:
        amount = min(cap, amount_a_seam * hive.seams)
        return {
            "dose": {"amount": amount, "unit": unit, "of": "solution", "per": "colony"},
            "seams": hive.seams,
        }

    return dose


def treat(
    walk: Walk,
    remedy: Remedy,
    hives: Sequence[Hive],
    dose: Dose,
    *,
    kills: float,
    withstood: Mapping[str, float] | None = None,
    skipped: Mapping[str, str] | None = None,
    checks: Mapping[str, str] | None = None,
    **common: Any,
) -> dict[str, str]:
    """Treat hive by hive; return the application's id by hive number.

    `kills` is the share of the load that dies, `withstood` that in hives, by number, where it was
    another; `skipped` says by number why a hive was not done; `common` stands in every
    application (temperature, brood, plan, batch), those that are None left out.
    """
    common = {name: value for name, value in common.items() if value is not None}
    skipped, withstood = skipped or {}, withstood or {}
    opening = {
        "treatment": remedy.identity,
        "task": "treat",
        "hives": [hive.id for hive in hives],
        "checks": dict(checks or {"respirator and its seal": "yes", "water at hand": "yes"}),
    }
    opening.update({key: common[key] for key in ("plan", "batch") if key in common})
    started = walk.write("round", opening)
    given = {}
    for hive in hives:
        if hive.number in skipped:
            why = skipped[hive.number]
            walk.write(
                "skip", {"round": started, "treatment": remedy.identity, "why": why}, hive=hive
            )
            continue
        body = {"treatment": remedy.identity, "terms": remedy.terms, "round": started}
        body["supers"] = "on" if hive.supers else "off"
        given[hive.number] = walk.tap("application", body | common | dose(hive), hive)
        hive.load *= 1 - withstood.get(hive.number, kills)
    walk.write("round_end", {"round": started})
    return given


def take_out(walk: Walk, remedy: Remedy, hives: Sequence[Hive], count: int) -> None:
    """Take `count` pieces out of each hive."""
    started = walk.write(
        "round",
        {"treatment": remedy.identity, "task": "pieces", "hives": [hive.id for hive in hives]},
    )
    for hive in hives:
        body = {"did": "out", "count": count, "treatment": remedy.identity, "round": started}
        walk.tap("pieces", body, hive)
    walk.write("round_end", {"round": started})


def day_after(walk: Walk, hives: Sequence[Hive], given: Mapping[str, str]) -> None:
    """Look at board and entrance about 24 h after an application."""
    random = walk.scene.random
    for hive in hives:
        if hive.number in given:
            body = {
                "application": given[hive.number],
                "board": random.choice(["0-20", "0-20", "0-20", "21-100"]),
                "entrance": "0-20",
                "behaviour": "as usual",
            }
            walk.write("day_after", body, hive=hive)


def wash(walk: Walk, hives: Sequence[Hive], purpose: str) -> dict[str, str]:
    """Wash about 300 bees of each hive; return the count's id by hive number."""
    random = walk.scene.random
    counted = {}
    for hive in hives:
        bees = random.randint(286, 318)
        expected = hive.load * bees / 100
        mites = min(14, max(0, round(random.gauss(expected, sqrt(expected)))))
        body = {
            "way": "wash",
            "fluid": "soapy water",
            "mites": mites,
            "bees": bees,
            "bees_by": "counted",
            "purpose": purpose,
        }
        counted[hive.number] = walk.tap("count", body, hive)
    return counted


def board(walk: Walk, hives: Sequence[Hive], did: str) -> None:
    """Push the bottom boards in, or draw them out."""
    for hive in hives:
        walk.write("board", {"did": did}, hive=hive)


def drop(walk: Walk, hives: Sequence[Hive], days: int, purpose: str, factor: float = 1.0) -> None:
    """Count what fell on the boards over `days`; `factor` is above 1 while a treatment acts."""
    random = walk.scene.random
    for hive in hives:
        expected = hive.load * hive.seams * days * 0.12 * factor
        mites = max(0, round(random.gauss(expected, sqrt(expected) + 0.3)))
        walk.write(
            "count", {"way": "drop", "mites": mites, "days": days, "purpose": purpose}, hive=hive
        )


def look(walk: Walk, hives: Sequence[Hive], brood: str, **seen: Any) -> None:
    """Look inside each hive; `seen` stands in every look, the rest is drawn."""
    random = walk.scene.random
    for hive in hives:
        body: dict[str, Any] = {
            "brood": brood,
            "queen": random.choice(["seen", "not seen", "seen"]),
            "seams": hive.seams,
            "stores": random.choice(["enough", "enough", "plenty", "short"]),
            "temper": random.choice(["calm", "calm", "lively"]),
        }
        if brood == "yes":
            body["eggs"] = "yes"
            body["brood_frames"] = max(1.0, round(hive.seams * random.uniform(0.4, 0.7) * 2) / 2)
        walk.write("look", body | seen, hive=hive)


def supers_on(walk: Walk, hives: Sequence[Hive], marks: Callable[[Hive], str]) -> None:
    """Put a marked super on each hive."""
    for hive in hives:
        mark = marks(hive)
        hive.supers.append(mark)
        walk.write("super_on", {"mark": mark}, hive=hive)


def supers_off(walk: Walk, hives: Sequence[Hive]) -> None:
    """Take every super off each hive."""
    for hive in hives:
        while hive.supers:
            walk.write("super_off", {"mark": hive.supers.pop()}, hive=hive)


def harvest(walk: Walk, hives: Sequence[Hive], lot: str, kg_a_super: float) -> str:
    """Take the uppermost super of each hive off into one lot; return its record."""
    takes = [{"hive": hive.id, "mark": hive.supers[-1]} for hive in hives if hive.supers]
    for hive in hives:
        if hive.supers:
            walk.write("super_off", {"mark": hive.supers.pop()}, hive=hive)
    body = {
        "lot": lot,
        "takes": takes,
        "amount": round(len(takes) * kg_a_super, 1),
        "unit": "kg",
        "jars": f"{int(len(takes) * kg_a_super / 0.454)} jars of 1 lb",
    }
    return walk.write("harvest", body)


def feed(walk: Walk, hives: Sequence[Hive], what: str, amount: float, unit: str) -> None:
    """Feed each hive alike."""
    for hive in hives:
        walk.write("feed", {"what": what, "amount": amount, "unit": unit}, hive=hive)


def outlook(walk: Walk, highs: Mapping[date, tuple[float, float]], source: str) -> None:
    """Enter measured means and maxima of days, in degC."""
    days = [
        {"day": day.isoformat(), "mean": mean, "high": high} for day, (mean, high) in highs.items()
    ]
    walk.write("outlook", {"days": days, "from": source, "forecast": False})


def grow(hives: Sequence[Hive], factor: float) -> None:
    """Let the mites grow by `factor` where a colony lives."""
    for hive in hives:
        if hive.colony is not None:
            hive.load *= factor
