"""What a round came to: what was not treated and why, what was, and what comes next."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date
from typing import NamedTuple

from fieldapp.husbandry.answers import Item
from fieldapp.journal.record import Record
from fieldapp.rounds.due import SIGNS
from fieldapp.rounds.notebook import Notebook
from fieldapp.rounds.otherwise import given_words
from fieldapp.rounds.reasons import ASKED, OTHER_AMOUNT, why_of
from fieldapp.rounds.round import Round
from fieldapp.rounds.spots import Spot
from fieldapp.rounds.timers import Timers
from fieldapp.rounds.told import Told
from fieldapp.words import Phrase, count, say


class Flagged(NamedTuple):
    """What of the round is otherwise than the label has it: early, late, over label, too soon.

    `given` are the root ids of its applications. `asks`: why is asked; `why` is what the
    keeper said, None where not all of them have an answer.
    """

    words: Phrase
    given: tuple[str, ...]
    asks: bool
    why: Phrase | None


class Summary(NamedTuple):
    """The parts, each line in words, in the order to show them; `running` are timers."""

    running: tuple[Phrase, ...]
    not_done: tuple[Phrase, ...]
    done: tuple[Phrase, ...]
    flags: tuple[Flagged, ...]
    next: tuple[Told, ...]


def summary(notebook: Notebook, round_: Round) -> Summary:
    """Return what the round came to so far."""
    left: dict[str, list[str]] = {}
    reasons: dict[str, Phrase] = {}
    treated: dict[str, list[str]] = {}
    amounts: dict[str, Phrase] = {}
    for spot in round_.spots:
        if spot.mark == "done":
            said = _gave(round_, spot)
            treated.setdefault(repr(said), []).append(spot.number)
            amounts[repr(said)] = said
        else:
            why = spot.why or say("no reason given")
            left.setdefault(repr(why), []).append(spot.number)
            reasons[repr(why)] = why
    return Summary(
        tuple(each.words for each in Timers(notebook.local, notebook.clock).running()),
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


def _gave(round_: Round, spot: Spot) -> Phrase:
    record = spot.record
    if record is None:
        return say("done")
    if record.kind == "pieces":
        return _pieces(round_, spot)
    said = given_words(record.body) or say("done, amount not said")
    if record.body.get("part"):
        said = say("{amount}, part dose", amount=said)
    if record.body.get("supers") == "on":
        said = say("{amount}, supers were on", amount=said)
    if _queenless(spot, record):
        said = say("{amount}, queenless", amount=said)
    return said


def _pieces(round_: Round, spot: Spot) -> Phrase:
    """Return what was done with the pieces of a hive, oldest first."""
    said = [
        _PIECES[entry.holds.body["did"]](entry.holds.body["count"])
        for entry in reversed(spot.since)
        if entry.root.kind == "pieces" and entry.root.body.get("round") == round_.id
    ]
    words = said[0]
    for more in said[1:]:
        words = say("{some}, {more}", some=words, more=more)
    return words


_PIECES: dict[str, Callable[[int], Phrase]] = {
    "out": lambda n: count("{n} piece out", "{n} pieces out", n),
    "moved": lambda n: count("{n} piece moved", "{n} pieces moved", n),
    "lost": lambda n: count("{n} piece lost", "{n} pieces lost", n),
    "found": lambda n: count("{n} piece found", "{n} pieces found", n),
    "replaced": lambda n: count("{n} piece replaced", "{n} pieces replaced", n),
}


def _queenless(spot: Spot, record: Record) -> bool:
    return any(
        entry.holds.body.get("queen") == "queenless"
        for entry in spot.since
        if entry.root.kind == "look" and entry.holds.happened == record.happened
    )


def _flags(notebook: Notebook, round_: Round) -> Sequence[Flagged]:
    """Return what the rules remark on the applications of this round, hives together."""
    flagged: dict[str, tuple[Phrase, list[Spot]]] = {}
    for spot in round_.spots:
        if spot.root is None:
            continue
        phrases = notebook.book.remarks(spot.hive, spot.root.id)
        if spot.record is not None and spot.record.body.get("dose") != spot.root.body.get("dose"):
            phrases.append(OTHER_AMOUNT)
        for phrase in phrases:
            flagged.setdefault(repr(phrase), (phrase, []))[1].append(spot)
    return [_flagged(notebook, phrase, spots) for phrase, spots in flagged.values()]


def _flagged(notebook: Notebook, phrase: Phrase, spots: Sequence[Spot]) -> Flagged:
    words = count(
        "Hive {numbers}: {what}",
        "Hives {numbers}: {what}",
        len(spots),
        numbers=listed([spot.number for spot in spots]),
        what=phrase,
    )
    given = tuple(spot.root.id for spot in spots if spot.root is not None)
    asks = phrase.text in ASKED
    said = {why_of(notebook, root) for root in given} if asks else set()
    return Flagged(words, given, asks, said.pop() if len(said) == 1 else None)


def _coming(notebook: Notebook, round_: Round) -> Sequence[Told]:
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
    return [
        Told(SIGNS[item.timing], _line(item, numbers, len(round_.spots)))
        for item, numbers in ordered
    ]


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
