"""What is due: the agenda as the first screen shows it."""

from __future__ import annotations

from datetime import date
from typing import Literal, NamedTuple

from fieldapp.husbandry.answers import Line
from fieldapp.husbandry.spoken import in_sight, spoken
from fieldapp.rounds.leads import Lead, lead_of
from fieldapp.rounds.notebook import Notebook
from fieldapp.words import Phrase

#: Tasks that a round does hive by hive.
WALKED = frozenset({"apply", "remove"})

#: What is asked at each hive of a round of looking.
Asks = Literal["look", "day after", "count", "board", "board in", "board out", "pieces"]
#: What a line of the agenda asks at each of its hives.
OF_TASK: dict[str, Asks] = {
    "look_brood": "look",
    "look_queen": "look",
    "release": "look",
    "look_after": "day after",
    "count": "count",
    "count_after": "count",
    "board_out": "board",
    "board_in": "board in",
    "take_out": "pieces",
    "pieces": "pieces",
}

Sign = Literal["late", "due", "quiet", "unknown"]
SIGNS: dict[str, Sign] = {"late": "late", "due": "due", "waiting": "quiet", "ask": "unknown"}


class DueLine(NamedTuple):
    """One line of the agenda in words.

    `walked`: a round treats or takes pieces out, hive by hive; `looked`: one looks or counts;
    `leads`: where else it leads, None where it only tells.
    """

    line: Line
    sign: Sign
    what: Phrase
    where: Phrase
    when: Phrase
    why: tuple[Phrase, ...]
    walked: bool
    looked: bool
    leads: Lead | None


class Due:
    """Reads the agenda of the day."""

    def __init__(self, notebook: Notebook) -> None:
        self._notebook = notebook

    @property
    def today(self) -> date:
        """The day asked."""
        return self._notebook.today()

    def lines(self) -> list[DueLine]:
        """Return what is late, due, asked, and waiting in the days ahead, late first."""
        today = self.today
        sheet = self._notebook.sheet()
        names = {place.id: place.name for place in sheet.places}
        return [_due_line(line, names, today) for line in in_sight(sheet.lines, today)]


def _due_line(line: Line, names: dict[str, str], today: date) -> DueLine:
    said = spoken(line, names, today)
    return DueLine(
        line,
        SIGNS[line.timing],
        said.what,
        said.where,
        said.when,
        said.why,
        line.task in WALKED and line.treatment is not None and line.apiary is not None,
        line.task in OF_TASK and line.apiary is not None,
        lead_of(line),
    )
