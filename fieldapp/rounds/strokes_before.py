"""Before a round with a mist: what the strokes planned give, and how many times a label's dose."""

from __future__ import annotations

from fieldapp.rounds.applicator import Applicator, applicators
from fieldapp.rounds.cautions import Fact
from fieldapp.rounds.notebook import Notebook
from fieldapp.rounds.strokes import Gave
from fieldapp.words import say


def told_before(notebook: Notebook) -> list[Fact]:
    """Return what the strokes planned for each applicator give, beside labels."""
    told: list[Fact] = []
    for gear in applicators(notebook):
        found = Applicator(notebook, gear.id).gave()
        if isinstance(found, Gave):
            told.append(Fact(say("{name}: {gave}", name=gear.name, gave=found.words), "quiet"))
            told += [Fact(times, "late") for times in found.times]
    unknown = say("What your strokes give is not known here: measure them, plan them by place.")
    return told or [Fact(unknown, "unknown")]
