"""The same application written twice: one question with every id, and the answer that holds."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from typing import NamedTuple

from fieldapp.journal.happened import order_key
from fieldapp.journal.record import Record
from fieldapp.journal.same_as import Same


class Key(NamedTuple):
    """What makes applications candidates for being one: hive, treatment, civil date."""

    hive: str
    treatment: str
    day: str


class Twice(NamedTuple):
    """Several applications under one key.

    `ids` are all of them and `parts` what they are taken for, each part one application whose
    first id, the earliest, holds; both earliest first. `answer` is the id of the answer that
    parts them so, None while the keeper is asked: then they are one application in every
    course, and as many as there are for dose, pieces and limits.
    """

    key: Key
    ids: tuple[str, ...]
    parts: tuple[tuple[str, ...], ...]
    answer: str | None


def twice(applications: Iterable[Record], answers: Iterable[Record], same: Same) -> list[Twice]:
    """Return each key that more than one application has, in the order of the keys.

    Give versions that hold (`Version.holds`); voided ones and other kinds are passed over. An
    answer holds while it names every id under the key, each once; of several the latest
    (stamp, id). Ids that it names beyond the key change nothing.
    """
    under: defaultdict[Key, list[Record]] = defaultdict(list)
    for record in applications:
        if record.kind == "application" and not record.void and record.hive is not None:
            hive = same.of("hive", record.hive)
            under[Key(hive, record.body["treatment"], record.day)].append(record)
    given = sorted(
        (a for a in answers if a.kind == "answer_twice" and not a.void),
        key=lambda answer: (answer.stamp, answer.id),
        reverse=True,
    )
    return [
        _parted(key, [record.id for record in sorted(records, key=order_key)], given)
        for key, records in sorted(under.items())
        if len(records) > 1
    ]


def aliases(questions: Iterable[Twice]) -> dict[str, str]:
    """Return, for each application that is another one, the id of that which holds.

    Records that name a key of the result count as naming its value.
    """
    return {
        other: part[0] for question in questions for part in question.parts for other in part[1:]
    }


def _parted(key: Key, in_order: list[str], answers: list[Record]) -> Twice:
    wanted = set(in_order)
    for answer in answers:
        named = [name for part in answer.body["parts"] for name in part]
        if wanted <= set(named) and len(named) == len(set(named)):
            parts = [
                tuple(name for name in in_order if name in part) for part in answer.body["parts"]
            ]
            filled = sorted((part for part in parts if part), key=lambda p: in_order.index(p[0]))
            return Twice(key, tuple(in_order), tuple(filled), answer.id)
    return Twice(key, tuple(in_order), (tuple(in_order),), None)
