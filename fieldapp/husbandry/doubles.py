"""The same application twice: what each of several on one hive and day counts as."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import NamedTuple

from fieldapp.husbandry.days import ordinal
from fieldapp.husbandry.hivelog import Entry
from fieldapp.husbandry.shared import Shared
from fieldapp.husbandry.state import Question
from fieldapp.journal.twice import aliases, twice

#: The role of an application that is the same one as an earlier one, by the keeper's answer.
SAME = "same"


class Doubles(NamedTuple):
    """The applications of one hive that may be one with another.

    `roles` says of each, on its day, what it is: `SAME`, or while nobody answered the one that
    holds in its place. `alias` gives for answered ones the one that holds, `others` the doubles
    of each that holds, `asked` what is to be answered.
    """

    roles: Mapping[tuple[str, int], str] = {}
    alias: Mapping[str, str] = {}
    others: Mapping[str, Sequence[str]] = {}
    asked: tuple[Question, ...] = ()


def doubles(entries: Iterable[Entry], shared: Shared) -> Doubles:
    """Return the applications that share hive, treatment and day with another."""
    first: dict[tuple[str, int], Entry] = {}
    several: dict[tuple[str, int], list[Entry]] = {}
    for entry in entries:
        if entry.what == "application" and (entry.side is None or entry.side.place == 0):
            under = (entry.record.body["treatment"], entry.key[0])
            before = first.setdefault(under, entry)
            if before is not entry:
                several.setdefault(under, [before]).append(entry)
    if not several:
        return Doubles()
    found = []
    for alike in several.values():
        records = [entry.record for entry in alike]
        answers = shared.answers.twice([record.id for record in records])
        found += twice(records, answers, shared.same)
    roles: dict[tuple[str, int], str] = {}
    for question in found:
        day = ordinal(question.key.day)
        for part in question.parts:
            for name in part[1:]:
                roles[name, day] = part[0] if question.answer is None else SAME
    asked = tuple(
        Question("twice", question.ids, question.key.treatment)
        for question in found
        if question.answer is None
    )
    answered = [question for question in found if question.answer is not None]
    others = {part[0]: part[1:] for question in found for part in question.parts}
    return Doubles(roles, aliases(answered), others, asked)
