"""How long a method takes at a hive, in steps: it runs, then the entrance stays closed."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from fieldapp.rounds.starting import Start
from fieldapp.rounds.timers import Times
from fieldapp.screens.block import Row, Words
from fieldapp.screens.keys import Key
from fieldapp.screens.page import Page
from fieldapp.screens.parts import main_key, shown_after, title
from fieldapp.screens.tell import Tell
from fieldapp.screens.theme import SPACE
from fieldapp.words import Phrase, say

if TYPE_CHECKING:
    from fieldapp.screens.round_flow import RoundFlow

#: Seconds by which the two times are stepped, and their ends.
RUNS_STEP, CLOSED_STEP = 10, 60
RUNS_MOST, CLOSED_MOST = 1800, 3600


def page(way: RoundFlow, start: Start) -> Page:
    """Return the page on which both times are stepped to what label or keeper has."""
    look = way.flow.look
    times = start.times

    def step(runs: int, closed: int) -> None:
        start.take_times(
            Times(
                min(max(0, times.runs + runs), RUNS_MOST),
                min(max(0, times.closed + closed), CLOSED_MOST),
            )
        )

    def key(words: Phrase, runs: int, closed: int) -> Key:
        return Key(look, words, shown_after(way.flow, partial(step, runs, closed)))

    rows = [
        Row(look, [key(less, -runs, -closed), key(more, runs, closed)], SPACE)
        for less, more, runs, closed in (
            (say("Runs: 10 s less"), say("Runs: 10 s more"), RUNS_STEP, 0),
            (say("Closed: 1 min less"), say("Closed: 1 min more"), 0, CLOSED_STEP),
        )
    ]
    return Page(
        look,
        head=[
            title(look, say("Time a hive")),
            Words(look, times.words, "title", bold=True),
        ],
        low_head=[Words(look, times.words, bold=True)],
        middle=[
            *rows,
            Tell(look, "unknown", say("No time is given here: take the label's, else your own.")),
        ],
        acts=[main_key(look, say("Take this"), lambda: way.prepare(start))],
        back=lambda: way.prepare(start),
        back_key=False,
        name="times",
    )
