"""What may be done here: treatments against the hives of an apiary, with every reason.

It tells; it never chooses. Treatments stand in one order for every hive, those used before
first, whatever the answers are.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, timedelta
from functools import cached_property
from typing import Any, Literal, NamedTuple

from fieldapp.book.situation import LOOKS_BACK, Around, Said, situation
from fieldapp.husbandry.choosing.label import Finding
from fieldapp.husbandry.choosing.options import Option, table
from fieldapp.husbandry.forecast import season_plan
from fieldapp.rounds.notebook import Notebook
from fieldapp.rounds.summary import listed
from fieldapp.rounds.terms import terms_body
from fieldapp.words import Phrase, count, say

Sign = Literal["done", "late", "unknown", "quiet"]

#: The sign of each answer: a filled disc, a triangle, an open diamond; a remark is a ring.
SIGNS: dict[str, Sign] = {
    "suits": "done",
    "does not suit": "late",
    "not known": "unknown",
    "remark": "quiet",
}
ANSWERS: dict[str, Phrase] = {
    "suits": say("suits"),
    "does not suit": say("does not suit"),
    "not known": say("not known whether it suits"),
}
#: One answer against decides for an apiary, then one thing not known.
_WORST = ("does not suit", "not known", "suits")


#: Months with brood for which a plan of the season is told, and one more than its longest.
SEASONS = (6, 8)
LONG_SEASON = 11


class Cell(NamedTuple):
    """One hive's answer to one treatment."""

    hive: str
    number: str
    sign: Sign


class Method(NamedTuple):
    """One treatment over all the hives asked about: a row of the table.

    `words` says how many hives it suits or not, `first` the reason that decides.
    """

    treatment: str
    name: str
    label: str
    sign: Sign
    words: Phrase
    first: Phrase | None
    cells: tuple[Cell, ...]


class Told(NamedTuple):
    """One reason: its sign, and its words with the standing of what it rests on."""

    sign: Sign
    words: Phrase


class Group(NamedTuple):
    """Hives for which a treatment says the same, for the same reasons."""

    sign: Sign
    words: Phrase
    hives: tuple[str, ...]
    reasons: tuple[Told, ...]


class Options:
    """The treatments of an apiary's country against its hives, or some of them, today."""

    def __init__(
        self,
        notebook: Notebook,
        apiary: str,
        hives: Sequence[str] | None = None,
        *,
        said: Said | None = None,
    ) -> None:
        self._notebook = notebook
        self.apiary = apiary
        self.asked_for = hives
        self.day: date = notebook.today(apiary)
        stops = [stop for stop in notebook.book.walk(apiary, self.day) if not stop.dead]
        self.hives = tuple(stop.hive for stop in stops if hives is None or stop.hive in hives)
        self._numbers = {stop.hive: stop.number for stop in stops}
        self.said = said if said is not None else Asked(notebook, apiary).said

    @property
    def numbers(self) -> list[str]:
        """The numbers of the hives, in the order of the walk."""
        return [self._numbers[hive] for hive in self.hives]

    @property
    def place(self) -> str:
        """The name of the apiary."""
        return self._notebook.place_name(self.apiary)

    def methods(self) -> list[Method]:
        """Return the rows of the table."""
        return [self.method(treatment) for treatment in self._bodies]

    def method(self, treatment: str) -> Method:
        """Return what one treatment means for the hives asked about."""
        body = self._bodies[treatment]
        options = {hive: self._option(hive, treatment) for hive in self.hives}
        said: list[str] = [option.says for option in options.values()]
        says = next((each for each in _WORST if each in said), "not known")
        return Method(
            treatment,
            body["name"],
            f"{body.get('country', '')} {body['label']}".strip() if "label" in body else "",
            SIGNS[says],
            _counted(says, said.count(says), len(said)),
            _first([each for each in options.values() if each.says == says]),
            tuple(
                Cell(hive, self._numbers[hive], SIGNS[option.says])
                for hive, option in options.items()
            ),
        )

    def groups(self, treatment: str) -> list[Group]:
        """Return the hives of a treatment by what it says to them, what is against first.

        What is the same for all of them stands once, in a last group of all hives.
        """
        found: dict[tuple[str, tuple[Finding, ...]], list[str]] = {}
        for hive in self.hives:
            option = self._option(hive, treatment)
            told = tuple(
                each._replace(reason=each.reason._replace(records=())) for each in option.findings
            )
            found.setdefault((option.says, told), []).append(hive)
        ordered = sorted(found.items(), key=lambda group: _WORST.index(group[0][0]))
        shared = (
            [each for each in ordered[0][0][1] if all(each in told for (_, told), _ in ordered)]
            if len(ordered) > 1
            else []
        )
        groups = [
            Group(
                SIGNS[says],
                say("{hives}: {answer}", hives=self._named(hives), answer=ANSWERS[says]),
                tuple(hives),
                tuple(_told(each) for each in _in_order(told) if each not in shared),
            )
            for (says, told), hives in ordered
        ]
        if shared:
            of_all = tuple(_told(each) for each in _in_order(shared))
            groups.append(Group("quiet", say("The same for all"), self.hives, of_all))
        return groups

    def sources(self, treatment: str) -> list[str]:
        """Return where the values of a treatment's reasons stand, each once."""
        cited = (
            finding.reason.source
            for hive in self.hives
            for finding in self._option(hive, treatment).findings
        )
        return list(dict.fromkeys(each for each in cited if each))

    def seasons(self) -> tuple[list[Phrase], str]:
        """Return how many knockdowns a year wants by its months with brood, and its source."""
        biology = self._notebook.published.biology
        plans = {months: season_plan(months, biology) for months in (*SEASONS, LONG_SEASON)}
        words = [
            say("{n} months with brood: {plan}", n=months, plan=plans[months].reason.phrase)
            for months in SEASONS
        ]
        longest = plans[LONG_SEASON].reason
        words.append(say("over {n} months: {plan}", n=LONG_SEASON - 1, plan=longest.phrase))
        return words, longest.source

    def body(self, treatment: str) -> Mapping[str, Any]:
        """Return the terms of one of the treatments."""
        return self._bodies[treatment]

    def _named(self, hives: Sequence[str]) -> Phrase:
        numbers = listed([self._numbers[hive] for hive in hives])
        return count("Hive {numbers}", "Hives {numbers}", len(hives), numbers=numbers)

    def _option(self, hive: str, treatment: str) -> Option:
        return self._table[hive][treatment]

    @cached_property
    def _bodies(self) -> dict[str, dict[str, Any]]:
        """The bodies of the terms by treatment: those used before first, then by name."""
        notebook = self._notebook
        country = notebook.country_of(self.apiary)
        used = notebook.book.terms()
        found = {
            each.identity: each.terms_body() for each in notebook.library.treatments(country or "")
        }
        for identity, terms in used.items():
            if identity in found or terms.country in (country, "", None):
                found[identity] = terms_body(notebook, identity)
        ordered = sorted(found, key=lambda each: (each not in used, found[each]["name"], each))
        return {identity: found[identity] for identity in ordered}

    @cached_property
    def _table(self) -> dict[str, dict[str, Option]]:
        book = self._notebook.book
        states = {hive: book.hive(hive) for hive in self.hives}
        past = {course.treatment for state in states.values() for course in state.courses}
        known = {
            each: terms_body(self._notebook, each)
            for each in past
            if each not in self._bodies and each in book.terms()
        }
        around = Around(
            self.day,
            self._notebook.shelf.ledger(),
            self._notebook.shelf.outlook(self.apiary),
            {**known, **self._bodies},
            self.said,
        )
        since = self.day - timedelta(days=LOOKS_BACK)
        situations = {
            hive: situation(state, book.history(hive, since=since), around)
            for hive, state in states.items()
        }
        rows = table(self._bodies.values(), situations, self.day)
        return {hive: {each.treatment: each for each in row} for hive, row in rows.items()}


def _counted(says: str, number: int, of: int) -> Phrase:
    if number == of:
        return ANSWERS[says]
    return count(
        "{answer}: {some} of {n} hive",
        "{answer}: {some} of {n} hives",
        of,
        answer=ANSWERS[says],
        some=number,
    )


def _first(options: Sequence[Option]) -> Phrase | None:
    for option in options:
        for finding in option.findings:
            if finding.says == option.says and option.says != "suits":
                return finding.reason.phrase
    return None


def _in_order(findings: Sequence[Finding]) -> list[Finding]:
    order = (*_WORST, "remark")
    return sorted(findings, key=lambda each: order.index(each.says))


def _told(finding: Finding) -> Told:
    reason = finding.reason
    words = reason.phrase
    if reason.standing:
        words = say("{reason} ({standing})", reason=words, standing=reason.standing)
    return Told(SIGNS[finding.says], words)


#: What may be asked beside the records, with its words: yes, no or not known, for one day.
QUESTIONS: dict[str, Phrase] = {
    "supers_off": say("Supers off, on hives without a record of them"),
    "all_at_once": say("All colonies of the apiary at once"),
    "flow": say("Nectar flow now"),
    "last_harvest_taken": say("The year's last harvest is taken"),
}
YES_NO: dict[bool | None, Phrase] = {True: say("yes"), False: say("no"), None: say("not known")}


class Asked:
    """What the keeper says of an apiary for one day; it is kept on this phone until then."""

    def __init__(self, notebook: Notebook, apiary: str) -> None:
        self._notebook = notebook
        self._name = f"said of {apiary}"
        self._day = notebook.today(apiary).isoformat()

    @property
    def said(self) -> Said:
        """The answers of today; a new day begins with none."""
        kept = self._notebook.local.get(self._name)
        if not isinstance(kept, dict) or kept.get("day") != self._day:
            return Said()
        return Said(**kept["said"])

    def turn(self, question: str) -> None:
        """Go to the next answer: not known, yes, no."""
        said = self.said
        after: dict[bool | None, bool | None] = {None: True, True: False, False: None}
        said = said._replace(**{question: after[getattr(said, question)]})
        self._notebook.local.put(self._name, {"day": self._day, "said": said._asdict()})
