"""Random but plausible histories of a few hives, from a seed, for the properties of the rules."""

from __future__ import annotations

from datetime import date, timedelta
from random import Random
from typing import Any

from rules_besides import besides
from rules_season import HIVE, OTHER, THIRD, Season, name

from fieldapp.journal.record import Record

HIVES = (HIVE, OTHER, THIRD)
BY_BROOD = [
    {"when": "no or hardly any brood", "least": 20, "most": 25},
    {"when": "brood", "least": 30, "most": 40},
]


def random_history(
    seed: int, corrections: bool = True, in_days_only: bool = False, weak: bool = False
) -> list[Record]:
    """Return the records of a season of three hives; `weak`: the labels may be hearsay."""
    history = _History(Random(seed), corrections, in_days_only, weak)
    history.records()
    besides(history.season, Random(seed + 1), corrections)
    return history.season.records


def looked_after(seed: int) -> list[Record]:
    """Return such a season in which queens are caged, boards go in and the day after is seen."""
    history = _History(Random(seed), corrections=True, in_days_only=False, weak=False)
    history.records()
    history.besides(Random(seed + 1))
    return history.season.records


class _History:
    def __init__(self, chance: Random, corrections: bool, in_days_only: bool, weak: bool) -> None:
        self.chance = chance
        self.season = Season()
        self.weak = weak
        self.corrections = corrections
        self.in_days_only = in_days_only
        self.terms: dict[str, bool] = {}
        self.plans: dict[str, str] = {}

    def records(self) -> list[Record]:
        self._remedies()
        day = date(2026, 2, 1)
        for _ in range(self.chance.randint(3, 28)):
            day += timedelta(days=self.chance.choice((0, 0, 1, 2, 4, 5, 6, 8, 12, 20)))
            if self.in_days_only and day > date(2026, 11, 1):
                break
            self._something(day.isoformat())
        return self.season.records

    def besides(self, chance: Random) -> None:
        """Write what only the agenda reads."""
        for _ in range(chance.randint(2, 10)):
            day = (date(2026, 1, 1) + timedelta(days=chance.randint(0, 200))).isoformat()
            kind = chance.choice(("queen", "board", "day_after", "look", "count"))
            body: dict[str, Any] = {
                "queen": {"did": chance.choice(("caged", "caged", "released", "removed"))},
                "board": {"did": chance.choice(("in", "out"))},
                "day_after": {"board": "0-20"},
                "look": {"queen": chance.choice(("seen", "not seen"))},
                "count": {"way": "wash", "mites": 2},
            }[kind]
            self.season.add(kind, day, body, chance.choice(HIVES))

    def _remedies(self) -> None:
        season, chance = self.season, self.chance
        supers = [None, "off", "off, whole course", "allowed"]
        periods: list[Any] = [None, 0, 0, 3, 14]
        if not self.in_days_only:
            periods.append({"form": "next season's supers"})
        limit = {"number": 2, "counts": chance.choice(("courses", "applications")), "per": "year"}
        self.terms = {
            season.terms(
                "GB/1/1/acid/drip",
                gap=chance.choice(({"least": 4, "most": 7}, {"least": 4}, None)),
                applications={"least": 2, "usual": 3, "most": chance.choice((3, 4))},
                supers=chance.choice(supers),
                period=chance.choice(periods),
                limit=chance.choice((None, limit)),
                rest=chance.choice((None, {"days": 20})),
                standing=self._standing(),
            ): False,
            season.terms(
                "GB/2/1/strip/hung",
                form="pieces",
                stay=chance.choice((BY_BROOD, [{"when": "any", "least": 20, "most": 30}], None)),
                gap=chance.choice((None, {"least": 14, "most": 21})),
                applications=chance.choice((None, {"least": 2, "usual": 2, "most": 2})),
                supers=chance.choice(supers),
                period=chance.choice(periods),
                combs_exposed=chance.choice((None, True)),
                standing=self._standing(),
            ): True,
        }
        first = next(iter(self.terms))
        self.plans[first] = season.plan(first, chance.randint(2, 5), least=4, most=7)

    def _standing(self) -> str:
        if not self.weak:
            return "read"
        return self.chance.choice(("read", "reported", "from memory", "common practice"))

    def _something(self, day: str) -> None:
        chance = self.chance
        kinds = ["application"] * 8 + ["pieces"] * 5 + ["super"] * 5 + ["look"] * 2
        kinds += ["join"] * 3 + ["stop", "death", "colony", "harvest", "comb", "count"]
        kinds += ["shared"] * 2
        if self.corrections:
            kinds += ["correct"] * 3
        kind = chance.choice(kinds)
        getattr(self, "_" + kind)(day, chance.choice(HIVES))

    def _application(self, day: str, hive: str) -> None:
        chance = self.chance
        terms = chance.choice(list(self.terms))
        body: dict[str, Any] = {}
        if self.terms[terms] and chance.random() < 0.9:
            body["pieces"] = chance.randint(0, 3)
        if chance.random() < 0.2:
            body["part"] = True
        if chance.random() < 0.3:
            body["supers"] = chance.choice(("on", "off", "not known"))
        if terms in self.plans and chance.random() < 0.4:
            body["plan"] = self.plans[terms]
        self.season.apply(terms, day, hive, **body)

    def _pieces(self, day: str, hive: str) -> None:
        chance = self.chance
        terms = next(terms for terms, pieces in self.terms.items() if pieces)
        did = chance.choice(("out", "out", "out", "lost", "found", "moved", "replaced"))
        body = {}
        if did == "lost":
            body["seen"] = chance.choice(("outside the hive", "every box searched", "not found"))
        mine = [
            r.id
            for r in self.season.records
            if r.kind == "application" and r.body["terms"] == terms and r.corrects is None
        ]
        if mine and chance.random() < 0.3:
            body["application"] = chance.choice(mine)
        self.season.pieces(did, terms, day, chance.randint(1, 3), hive, **body)

    def _super(self, day: str, hive: str) -> None:
        chance = self.chance
        body: dict[str, Any] = {}
        if chance.random() < 0.6:
            body["mark"] = chance.choice(("S1", "S2"))
        elif chance.random() < 0.7:
            body["count"] = chance.randint(1, 2)
        kind = chance.choice(
            ("super_on", "super_on", "super_off", "super_carried", "super_emptied")
        )
        others = [other for other in HIVES if other != hive]
        if kind == "super_carried":
            body["to_hive"] = chance.choice(others)
        if kind == "super_emptied":
            body.pop("count", None)
        if kind == "super_on" and "mark" not in body and chance.random() < 0.3:
            body["of_hive"] = chance.choice(others)
        self.season.add(kind, day, body, hive)

    def _look(self, day: str, hive: str) -> None:
        brood = self.chance.choice(("none", "hardly any", "yes", "not seen"))
        self.season.add("look", day, {"brood": brood}, hive)

    def _join(self, day: str, hive: str) -> None:
        chance = self.chance
        other = chance.choice([each for each in HIVES if each != hive])
        new = name(0xC000 + chance.randint(0, 5))
        kind = chance.choice(("split", "unite", "swarm", "transfer"))
        body: dict[str, Any] = {
            "split": {"to_hive": other, "to_colony": new},
            "unite": {"from_hive": other, "from_colony": other},
            "swarm": {"new_colony": new, "to_hive": other},
            "transfer": {
                "to_hive": other,
                "combs": chance.choice(("with combs", "bees only", "not known")),
            },
        }[kind]
        if kind == "split" and chance.random() < 0.5:
            body["pieces_along"] = chance.randint(0, 2)
        if kind == "split" and chance.random() < 0.3:
            body["supers_along"] = ["S1"]
        self.season.add(kind, day, body, hive, colony=hive)

    def _stop(self, day: str, hive: str) -> None:
        terms = self.chance.choice(list(self.terms))
        treatment = self.season.treatment(terms)
        self.season.add("course_stop", day, {"treatment": treatment}, hive)

    def _death(self, day: str, hive: str) -> None:
        self.season.add("death", day, {}, hive)

    def _colony(self, day: str, hive: str) -> None:
        origin = self.chance.choice(("was there", "bought", "swarm"))
        colony = name(0xC000 + self.chance.randint(0, 5))
        self.season.add("colony", day, {"origin": origin}, hive, colony=colony)

    def _harvest(self, day: str, hive: str) -> None:
        take = {"hive": hive}
        if self.chance.random() < 0.5:
            take["mark"] = self.chance.choice(("S1", "S2"))
        self.season.add("harvest", day, {"lot": "L1", "takes": [take]}, None)

    def _comb(self, day: str, hive: str) -> None:
        self.season.add("comb_up", day, {"mark": "S1"}, hive)

    def _count(self, day: str, hive: str) -> None:
        self.season.add("count", day, {"way": "wash", "mites": 3}, hive)

    def _shared(self, day: str, hive: str) -> None:
        chance, season = self.chance, self.season
        applications = [r for r in season.records if r.kind == "application" and r.corrects is None]
        choices = ["period", "same_as"] if self.corrections else ["period"]
        if applications:
            choices += ["joins", "twice"]
        choice = chance.choice(choices)
        if choice == "period":
            terms = chance.choice(list(self.terms))
            who = chance.choice(("label in hand", "keeper", "veterinarian"))
            on = chance.choice((None, None, hive))
            season.period(terms, chance.randint(0, 9), who, on=day, hive=on, name="V", day=day)
        elif choice == "same_as":
            ids = chance.sample(HIVES, 2)
            season.add("same_as", day, {"what": "hive", "ids": ids}, None)
        elif choice == "joins":
            body = {"application": chance.choice(applications).id}
            if chance.random() < 0.5:
                body["course"] = chance.choice(applications).id
            season.add("answer_joins", day, body, None)
        else:
            one = chance.choice(applications)
            ids = [
                r.id
                for r in applications
                if (r.hive, r.day, r.body["treatment"])
                == (one.hive, one.day, one.body["treatment"])
            ]
            parts = [ids] if chance.random() < 0.5 else [[each] for each in ids]
            season.add("answer_twice", day, {"parts": parts}, None)

    def _correct(self, day: str, hive: str) -> None:
        chance, season = self.chance, self.season
        roots = [r for r in season.records if r.corrects is None and r.kind not in ("hive",)]
        root = chance.choice(roots)
        heads = tuple(
            r.id for r in season.records if r.corrects == root.id and chance.random() < 0.6
        )
        change = chance.choice(("void", "day", "hive"))
        if change == "void":
            season.correct(root.id, heads, void=True)
        elif change == "day" or root.hive is None:
            season.correct(root.id, heads, day=day)
        else:
            season.correct(root.id, heads, hive=hive)
