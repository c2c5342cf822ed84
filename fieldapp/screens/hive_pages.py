"""One hive in one look, and the hives of an apiary to choose from."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from fieldapp.rounds.hive import HiveView, hive_view
from fieldapp.rounds.told import Told
from fieldapp.rounds.weighing import Dispenser
from fieldapp.screens import reasons_page, weighing_page
from fieldapp.screens.block import Block, Words
from fieldapp.screens.grid import Grid
from fieldapp.screens.keys import Act, Key
from fieldapp.screens.page import Page
from fieldapp.screens.parts import briefly, heading, line, title
from fieldapp.screens.tell import Tell
from fieldapp.screens.theme import HAND
from fieldapp.words import Phrase, say

if TYPE_CHECKING:
    from fieldapp.screens.flow import Flow


def list_page(flow: Flow, apiary: str) -> Page:
    """Return the hives of an apiary in walk order."""
    look = flow.look
    notebook = flow.kit.notebook
    stops = notebook.book.walk(apiary, notebook.today(apiary))
    keys = [
        Key(
            look,
            stop.number,
            partial(flow.hives.hive, stop.hive, partial(flow.hives.at, apiary)),
            size="figure",
        )
        for stop in stops
    ]
    middle: list[Block] = [Grid(look, keys)]
    if not keys:
        words = say("No hives yet. Add them here, as many as stand here.")
        again = partial(flow.hives.at, apiary)
        add = Key(look, say("Add hives"), partial(flow.hives.add, apiary, again))
        middle = [Tell(look, "unknown", words), add]
    return Page(
        look,
        head=[title(look, say("Which hive?"))],
        middle=middle,
        acts=[
            Key(
                look,
                say("What may I do here?"),
                partial(flow.options.table, apiary, partial(flow.hives.at, apiary)),
            )
        ],
        back=flow.due,
        name="hives",
    )


def page(flow: Flow, hive: str, back: Act) -> Page:
    """Return one hive: honey, course, load and brood in one look; then what comes, and history."""
    look = flow.look
    view = hive_view(flow.kit.notebook, hive)
    again = partial(flow.hives.hive, hive, back)
    middle: list[Block] = []
    for told in view.honey:
        middle += line(look, told.sign, told.words)
    middle += _part(flow, say("Course"), view.courses, say("no course"))
    middle += _part(flow, say("Load and brood"), (*view.load, *view.inside), say("not known"))
    middle += _part(flow, say("What comes next"), view.next, say("nothing"))
    middle.append(_ways(flow, hive, view, back))
    middle += _part(flow, say("History"), view.history, say("no records yet"))
    return Page(
        look,
        head=[
            title(look, say("Hive {number}", number=view.number)),
            Words(look, view.place, "small"),
        ],
        middle=middle,
        acts=[
            Key(look, say("Look inside"), partial(flow.looks.inside, hive, again)),
            Key(look, say("Count mites"), partial(flow.counts.begin, hive, again)),
        ],
        back=back,
        back_key=False,
        name="hive",
    )


def _ways(flow: Flow, hive: str, view: HiveView, back: Act) -> Grid:
    """Return the keys to all else about a hive."""
    look, again = flow.look, partial(flow.hives.hive, hive, back)
    keys = [
        reasons_page.key(
            flow, say("Hive {number}", number=view.number), _reasoned(view), again, least=HAND
        ),
        Key(look, say("What happened"), partial(flow.happenings.what, hive, again)),
        Key(look, say("All counts"), partial(flow.counts.counts, hive, again)),
        Key(look, say("History"), partial(flow.hives.history, hive, again)),
        Key(look, say("The day after"), partial(flow.looks.day_after, hive, again)),
        Key(look, say("Pieces"), partial(flow.looks.pieces, hive, again)),
        Key(look, say("Honey lots"), lambda: flow.harvests.of_hive(hive, again)),
    ]
    dispenser = Dispenser.of(flow.kit.notebook, hive)
    if dispenser is not None:
        keys.append(Key(look, say("Weigh"), partial(weighing_page.show, flow, dispenser, again)))
    apiary = flow.kit.notebook.book.hive(hive).apiary
    if apiary is not None:
        ask = partial(flow.options.table, apiary, again, (hive,))
        keys.append(Key(look, say("What may I do here?"), ask))
        keys.append(Key(look, say("Take honey"), lambda: flow.harvests.take(apiary, again)))
    keys.append(Key(look, say("Back"), back))
    return Grid(look, keys)


def _reasoned(view: HiveView) -> list[Told]:
    """Return all that is told of a hive today for a reason."""
    told = (*view.honey, *view.courses, *view.load, *view.inside, *view.next)
    return [each for each in told if each.why]


def _part(flow: Flow, name: Phrase, lines: tuple[Told, ...], empty: Phrase) -> list[Block]:
    blocks: list[Block] = [heading(flow.look, name)]
    for told in lines:
        blocks += briefly(flow.look, told)
    if not lines:
        blocks.append(Tell(flow.look, "quiet", empty))
    return blocks
