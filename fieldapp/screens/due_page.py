"""What is due: the first page. Late first; a tap on a line begins that round."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from fieldapp.husbandry.spoken import unsourced
from fieldapp.rounds.apiaries import Place, places
from fieldapp.rounds.due import Due, DueLine
from fieldapp.screens.block import Block, Row, Words
from fieldapp.screens.grid import Grid
from fieldapp.screens.keys import Key
from fieldapp.screens.page import Page
from fieldapp.screens.parts import desk_key, heading, main_key, title, under
from fieldapp.screens.tell import Tell
from fieldapp.screens.theme import SPACE
from fieldapp.words import Phrase, say

if TYPE_CHECKING:
    from fieldapp.screens.flow import Flow


def page(flow: Flow) -> Page:
    """Return the first page."""
    look = flow.look
    due = Due(flow.kit.notebook)
    lines = due.lines()
    middle: list[Block] = []
    for each in lines:
        middle += _line(flow, each)
    found = places(flow.kit.notebook, flow.kit.positions.latest)
    if not lines and found:
        middle.append(Tell(look, "done", say("Nothing is due in the next two weeks.")))
    if not found:
        middle.append(
            Tell(
                look,
                "unknown",
                say(
                    "No apiary yet. Pair with your server at home and sync, or add one under Hives."
                ),
            )
        )
    elif not any(place.hives for place in found):
        middle.append(Tell(look, "unknown", say("No hives yet. Add them under Hives.")))
    ways = Row(
        look,
        [
            desk_key(look, say("Hives"), flow.to_hives),
            desk_key(look, say("Home"), flow.to_home),
        ],
        SPACE,
    )
    return Page(
        look,
        head=[
            title(look, say("What is due")),
            Words(look, say("{today}", today=due.today)),
            ways,
        ],
        low_head=[Words(look, say("Due, {today}", today=due.today), bold=True)],
        low_tail=[ways],
        middle=middle,
        acts=_start_keys(flow, found),
        name="due",
    )


def line_page(flow: Flow, line: DueLine) -> Page:
    """Return what stands behind a line that no round can do: its reasons and its hives."""
    look = flow.look
    book = flow.kit.notebook.book
    middle: list[Block] = [Tell(look, line.sign, line.when)]
    middle += [Words(look, why, "small", "quiet") for why in line.why]
    keys = [
        Key(
            look,
            book.hive(hive).number or say("without number"),
            partial(flow.hives.hive, hive, partial(flow.line, line)),
            size="figure",
        )
        for hive in line.line.hives
    ]
    if keys:
        middle += [heading(look, say("Hives")), Grid(look, keys)]
    acts = []
    if line.looked:
        acts.append(main_key(look, say("Begin the round"), lambda: flow.looks.begin(line.line)))
    return Page(
        look,
        head=[title(look, line.what), Words(look, line.where, "small")],
        low_head=[Words(look, line.what, bold=True)],
        middle=middle,
        acts=acts,
        back=flow.due,
        name="line",
    )


def _line(flow: Flow, line: DueLine) -> list[Block]:
    key = Key(
        flow.look,
        line.what,
        lambda: flow.line(line),
        under=[(line.where, "small"), (line.when, "small")],
        sign=line.sign,
        centred=False,
    )
    return under(key, [Words(flow.look, unsourced(why), "small", "quiet") for why in line.why[:1]])


def _start_keys(flow: Flow, found: list[Place]) -> list[Key]:
    """Return the key of a new round: at the nearest apiary, or the one used last."""
    if not found:
        return []
    first = _here(flow, found)
    keys = [main_key(flow.look, _at(first), lambda: flow.rounds.round_at(first.id))]
    if len(found) > 1:
        keys.insert(0, Key(flow.look, say("Other apiary"), flow.to_other_apiary))
    return keys


def _here(flow: Flow, found: list[Place]) -> Place:
    if found[0].far is not None:
        return found[0]
    used = flow.kit.notebook.local.get("apiary")
    return next((place for place in found if place.id == used), found[0])


def _at(place: Place) -> Phrase:
    return say("Round at {apiary}", apiary=place.name)
