"""Hives as they stand, and the treatments given to them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from fieldapp.papers.layout import NOT_KNOWN, NOTHING, Cell, Section, Teller
from fieldapp.papers.model import Sign
from fieldapp.papers.treatment_rows import treatment_rows
from fieldapp.words import Phrase, Speech, say

_GROUPED = say(
    "Hives that were given the same on the same day stand in one line. C and a number: "
    "see under Corrections. Lots: see under Bought and mixed. Honey from: the first day on which "
    "nothing on record closes the hive."
)


def hives(tell: Teller) -> Section:
    """Return how each hive stands on the day of the book; those that stand alike in one line."""
    together: dict[tuple[Cell | Phrase | str, ...], list[str]] = {}
    for hive in tell.book.hives:
        honey = hive.honey
        if honey.state == "open":
            state = tell.signed("done", say("honey open"))
        elif honey.state == "closed":
            state = tell.signed("closed", say("honey closed"))
        else:
            state = tell.signed("unknown", say("not known: take no honey"))
        first = say("{day}", day=honey.honey_from) if honey.honey_from else NOT_KNOWN
        why = " ".join(tell.say(reason.phrase) for reason in honey.reasons[1:])
        also = [say("pieces in")] if hive.pieces_in else []
        also += [say("colony dead")] if hive.dead else []
        also += [say("exposed supers: {n}", n=len(honey.exposed))] if honey.exposed else []
        mark: Sign = "due" if hive.pieces_in else "closed" if honey.exposed else ""
        besides = Cell("; ".join(map(tell.say, also)), mark) if also else NOTHING
        stands = (hive.apiary, state, first, besides, why or NOTHING)
        together.setdefault(stands, []).append(hive.hive)
    rows = [(apiary, ", ".join(numbers), *rest) for (apiary, *rest), numbers in together.items()]
    columns = (
        (say("Apiary"), 12),
        (say("Hives"), 12),
        (say("State"), 16),
        (say("Honey from"), 12),
        (say("Besides"), 16),
        (say("Why"), 32),
    )
    return tell.section(say("Hives on the day of this book"), tell.table(columns, rows))


def treatments(tell: Teller) -> Iterable[Section]:
    """Return the treatments, apiary by apiary, by day."""
    columns = (
        (say("Given on"), 9),
        (say("Hives"), 8),
        (say("Treatment"), 17),
        (say("Course"), 12),
        (say("Amount"), 8),
        (say("Lots"), 7),
        (say("Withdrawal"), 11),
        (say("Honey from"), 9),
        (say("By"), 7),
        (say("Remarks"), 16),
    )
    places = sorted({each.apiary for each in tell.book.treated})
    for place in places:
        rows = treatment_rows(
            [each for each in tell.book.treated if each.apiary == place], tell.lots
        )
        spoken = [[_spoken(cell, tell.say) for cell in row] for row in rows]
        heading = say("Treatments at {apiary}", apiary=place or NOT_KNOWN)
        yield tell.section(heading, tell.table(columns, spoken), _GROUPED)
    if not places:
        yield tell.section(say("Treatments"), None)


def _spoken(cell: tuple[Sign, Sequence[Phrase]], speech: Speech) -> Cell:
    return Cell("; ".join(speech(phrase) for phrase in cell[1]), cell[0])
