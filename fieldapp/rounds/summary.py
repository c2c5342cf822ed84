"""What a round came to: what was not treated and why, what was, and what comes next."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import NamedTuple

from fieldapp.husbandry.answers import Item
from fieldapp.rounds.notebook import Notebook
from fieldapp.rounds.round import Round
from fieldapp.words import Phrase, count, say


class Summary(NamedTuple):
    """The four parts, each line in words, in the order to show them.

    `flags` says what of the round differs from the label: early, late, over label, too soon.
    """

    not_done: tuple[Phrase, ...]
    done: tuple[Phrase, ...]
    flags: tuple[Phrase, ...]
    next: tuple[Phrase, ...]


def summary(notebook: Notebook, round_: Round) -> Summary:
    """Return what the round came to so far."""
    left: dict[str, list[str]] = {}
    reasons: dict[str, Phrase] = {}
    treated: dict[str, list[str]] = {}
    amounts: dict[str, Phrase] = {}
    for spot in round_.spots:
        if spot.mark == "done":
            said = _gave(round_, spot.hive)
            treated.setdefault(repr(said), []).append(spot.number)
            amounts[repr(said)] = said
        else:
            why = spot.why or say("no reason given")
            left.setdefault(repr(why), []).append(spot.number)
            reasons[repr(why)] = why
    return Summary(
        tuple(
            count(
                "Hive {numbers}: {why}",
                "Hives {numbers}: {why}",
                len(numbers),
                numbers=listed(numbers),
                why=reasons[key],
            )
            for key, numbers in left.items()
        ),
        tuple(
            count(
                "Hive {numbers}: {amount}",
                "Hives {numbers}: {amount}",
                len(numbers),
                numbers=listed(numbers),
                amount=amounts[key],
            )
            for key, numbers in treated.items()
        ),
        tuple(_flags(notebook, round_)),
        tuple(_coming(notebook, round_)),
    )


def listed(numbers: Sequence[str]) -> str:
    """Return hive numbers in short, three or more in a row by their ends: ``1, 3-12, 31a``."""
    runs: list[list[str]] = []
    for number in numbers:
        before = runs[-1][-1] if runs else ""
        if before.isdecimal() and number.isdecimal() and int(number) == int(before) + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    return ", ".join(f"{run[0]}-{run[-1]}" if len(run) > 2 else ", ".join(run) for run in runs)


def _gave(round_: Round, hive: str) -> Phrase:
    record = round_.spot(hive).record
    if record is None:
        return say("done")
    if record.kind == "pieces":
        return count("{n} piece out", "{n} pieces out", record.body["count"])
    dose = record.body.get("dose")
    said = round_.said(dose["amount"]) if dose else say("done, amount not said")
    if record.body.get("part"):
        said = say("{amount}, part dose", amount=said)
    if record.body.get("supers") == "on":
        said = say("{amount}, supers were on", amount=said)
    return said


def _flags(notebook: Notebook, round_: Round) -> Sequence[Phrase]:
    """Return what the rules remark on the applications of this round, hives together."""
    today = notebook.today(round_.apiary)
    flagged: dict[str, tuple[Phrase, list[str]]] = {}
    for spot in round_.spots:
        if spot.record is None:
            continue
        root = spot.record.corrects or spot.record.id
        for course in notebook.book.courses(spot.hive, today):
            for reason in course.reasons:
                if root in reason.records:
                    said = flagged.setdefault(repr(reason.phrase), (reason.phrase, []))
                    said[1].append(spot.number)
    return [
        count(
            "Hive {numbers}: {what}",
            "Hives {numbers}: {what}",
            len(numbers),
            numbers=listed(numbers),
            what=phrase,
        )
        for phrase, numbers in flagged.values()
    ]


def _coming(notebook: Notebook, round_: Round) -> Sequence[Phrase]:
    """Return what comes next for the hives of the round, one line for what they share.

    What follows from this round, whatever its day, and what else lies ahead.
    """
    today = notebook.today(round_.apiary)
    grouped: dict[tuple[object, ...], tuple[Item, list[str]]] = {}
    for spot in round_.spots:
        for item in notebook.book.items(spot.hive, today):
            if item.treatment != round_.treatment and _over(item, today):
                continue
            key = (item.task, item.treatment, item.first, item.last, repr(item.what))
            grouped.setdefault(key, (item, []))[1].append(spot.number)
    ordered = sorted(
        grouped.values(), key=lambda pair: (pair[0].first is None, pair[0].first or today)
    )
    return [_line(item, numbers, len(round_.spots)) for item, numbers in ordered]


def _over(item: Item, today: date) -> bool:
    return item.first is not None and item.first < today


def _line(item: Item, numbers: Sequence[str], all_hives: int) -> Phrase:
    who = (
        say("all hives")
        if len(numbers) == all_hives
        else count("hive {numbers}", "hives {numbers}", len(numbers), numbers=listed(numbers))
    )
    if any(isinstance(value, date) for _, value in item.what.args):
        return say("{what}: {who}", what=item.what, who=who)
    if item.first is not None and item.last is not None and item.first != item.last:
        days = say("{first} to {last}", first=item.first, last=item.last)
    elif item.first is not None:
        days = say("from {first}", first=item.first)
    else:
        days = say("day not known")
    return say("{what}, {who}: {days}", what=item.what, who=who, days=days)
