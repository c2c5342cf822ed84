"""Rounds that treat nothing: pieces out or moved, boards in or out, looks, counts."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from fieldapp.rounds.choosing import pieces_in
from fieldapp.rounds.due import Asks
from fieldapp.rounds.giving import Did
from fieldapp.rounds.starting import Start
from fieldapp.screens.block import Words
from fieldapp.screens.grid import Grid
from fieldapp.screens.keys import Key
from fieldapp.screens.page import Page
from fieldapp.screens.parts import title
from fieldapp.words import Phrase, count, say

if TYPE_CHECKING:
    from fieldapp.screens.round_flow import RoundFlow

_LOOKS: tuple[tuple[Asks, Phrase], ...] = (
    ("board in", say("Bottom boards in")),
    ("board", say("Read the boards and take them out")),
    ("board out", say("Bottom boards out, not read")),
    ("look", say("Look inside")),
    ("count", say("Count mites")),
)
_PIECES: tuple[tuple[Did, Phrase], ...] = (
    ("out", say("Pieces out")),
    ("moved", say("Move pieces in the hive")),
)


def page(way: RoundFlow, apiary: str) -> Page:
    """Return the other rounds of an apiary; those of pieces where some are in."""
    look = way.flow.look
    notebook = way.flow.kit.notebook
    keys: list[Key] = []
    for treatment, name, hives in pieces_in(notebook, apiary):
        said = count("{name}, {n} hive", "{name}, {n} hives", hives, name=name)
        keys += [
            Key(
                look,
                words,
                partial(_pieces, way, apiary, treatment, did),
                under=[(said, "small")],
            )
            for did, words in _PIECES
        ]
    keys += [
        Key(look, words, partial(way.flow.looks.begin_at, apiary, asks)) for asks, words in _LOOKS
    ]
    return Page(
        look,
        head=[
            title(look, say("Another round")),
            Words(look, notebook.place_name(apiary), "small"),
        ],
        low_head=[Words(look, say("Another round"), bold=True)],
        middle=[Grid(look, keys, most=2)],
        back=partial(way.round_at, apiary),
        name="others",
    )


def _pieces(way: RoundFlow, apiary: str, treatment: str, did: Did) -> None:
    way.prepare(Start.of_pieces(way.flow.kit.notebook, apiary, treatment, did))
