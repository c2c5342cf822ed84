"""Home: pairing with the server, syncing, what came of it; settings."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from fieldapp.screens.block import Block, Row, Words
from fieldapp.screens.grid import Grid
from fieldapp.screens.keys import Key
from fieldapp.screens.page import Page
from fieldapp.screens.parts import desk_key, heading, main_key, title
from fieldapp.screens.tell import Tell
from fieldapp.screens.theme import APART, DESK
from fieldapp.words import count, say

if TYPE_CHECKING:
    from fieldapp.screens.flow import Flow


def page(flow: Flow) -> Page:
    """Return the home page."""
    look = flow.look
    home = flow.kit.home
    middle: list[Block] = []
    if home.busy is not None:
        middle.append(Tell(look, "due", home.busy, bold=True))
        if home.total:
            middle.append(
                Words(look, say("{done} of {total}", done=home.done, total=home.total), "title")
            )
    if home.trouble is not None:
        wrong, advice = home.trouble
        middle += [Tell(look, "late", wrong, bold=True), Words(look, advice)]
    if home.met is not None:
        middle.append(Tell(look, "done", home.met))
    if home.apart is not None:
        middle += _apart(flow, home.apart)
    if home.outcome is not None:
        outcome = home.outcome
        middle.append(Tell(look, "done" if outcome.ok else "late", outcome.phrase, bold=True))
        if outcome.advice is not None:
            middle.append(Words(look, outcome.advice))
        middle += [Tell(look, "unknown", each, "small") for each in outcome.refused]
        middle += [Tell(look, "due", each, "small") for each in outcome.remarks]
    odd = home.odd
    middle += [Tell(look, "unknown", each, "small") for each in odd]
    if odd:
        middle.append(desk_key(look, say("Look at these records"), flow.home.odd))
    asked = len(home.questions.all())
    if asked:
        words = count("{n} question to answer", "{n} questions to answer", asked)
        middle.append(desk_key(look, words, flow.home.questions, sign="unknown"))
    middle += [
        Grid(
            look,
            [
                desk_key(look, say("The bench"), partial(flow.bench.recipes, flow.home.page)),
                desk_key(look, say("Applicators"), partial(flow.applicators.all, flow.home.page)),
                desk_key(look, say("Stock"), lambda: flow.stock.stock(flow.home.page)),
                desk_key(look, say("Honey"), lambda: flow.harvests.honey(flow.home.page)),
                desk_key(look, say("Own treatments"), partial(flow.own.all, flow.home.page)),
                desk_key(look, say("Apiaries"), partial(flow.hives.places, flow.home.page)),
            ],
            least=3 * DESK,
        ),
        desk_key(
            look, say("Record book, calendar, backup"), partial(flow.home.papers, flow.home.page)
        ),
        desk_key(look, say("Settings"), partial(flow.home.settings, flow.home.page)),
    ]
    if home.server is not None:
        middle.append(desk_key(look, say("Pair with another server"), flow.home.pair))
    acts = []
    if home.busy is None and home.server is None:
        acts.append(main_key(look, say("Pair with a server"), flow.home.pair))
    elif home.busy is None and home.apart is None:
        acts.append(main_key(look, say("Sync now"), home.sync))
    server = home.server
    return Page(
        look,
        head=[
            title(look, say("Home")),
            Words(
                look,
                say("Server: {name}", name=server)
                if server is not None
                else say("Not paired with a server yet"),
                "small",
            ),
            Words(
                look,
                count("{n} record on this phone", "{n} records on this phone", home.records),
                "small",
            ),
        ],
        middle=middle,
        acts=acts,
        back=flow.start_up,
        name="home",
    )


def _apart(flow: Flow, theirs: tuple[str, ...]) -> list[Block]:
    """Return the question whether two sides that both hold records belong together."""
    look = flow.look
    home = flow.kit.home
    return [
        Tell(
            look,
            "unknown",
            say("Do these belong together? They stay joined for good."),
            bold=True,
        ),
        heading(look, say("On this phone")),
        *(Words(look, name) for name in home.own_apiaries),
        heading(look, say("On the server")),
        *(Words(look, name) for name in theirs),
        Row(
            look,
            [
                Key(look, say("Keep them apart"), home.unpair),
                Key(look, say("Join them"), home.join),
            ],
            APART,
        ),
    ]
