"""What may be done here: the table of an apiary or a hive, and one method with every reason."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from fieldapp.rounds.hole import has_hole
from fieldapp.rounds.options import QUESTIONS, YES_NO, Asked, Method, Options
from fieldapp.screens.block import Block, Words
from fieldapp.screens.grid import Grid
from fieldapp.screens.keys import Act, Key
from fieldapp.screens.options_table import Table
from fieldapp.screens.page import Page
from fieldapp.screens.parts import desk_key, heading, shown_after, title
from fieldapp.screens.tell import Tell
from fieldapp.screens.theme import DESK, Role
from fieldapp.words import Phrase, say

if TYPE_CHECKING:
    from fieldapp.screens.options_flow import OptionsFlow


def table_page(way: OptionsFlow, options: Options, back: Act) -> Page:
    """Return hives by methods; for one hive, its methods with the reason that decides."""
    look = way.flow.look
    again = partial(way.table, options.apiary, back, options.asked_for)
    methods = options.methods()
    asks = [
        desk_key(look, say("Weather"), partial(way.outlook, options.apiary, again)),
        desk_key(look, say("Also asked"), partial(way.asked, options.apiary, again)),
    ]
    middle: list[Block] = [Grid(look, asks, least=3 * DESK)]
    if not options.hives:
        middle.append(
            Tell(look, "unknown", say("No hive with a colony here. Enter the hives first."))
        )
    elif len(options.hives) == 1:
        for method in methods:
            middle += _one(way, options, method, again)
    else:
        middle.append(
            Table(
                look,
                options.numbers,
                methods,
                lambda treatment: partial(way.method, options, treatment, again),
            )
        )
    plans, source = options.seasons()
    middle.append(heading(look, say("Over the year, by one practitioner")))
    middle += [Words(look, plan, "small") for plan in plans]
    middle.append(Words(look, source, "small", "quiet"))
    return Page(
        look,
        head=[title(look, say("What may I do here?")), Words(look, _where(options), "small")],
        low_head=[Words(look, _where(options), "small", bold=True)],
        middle=middle,
        whole=True,
        back=back,
        name="options",
    )


def _where(options: Options) -> Phrase:
    if len(options.hives) == 1:
        return say(
            "Hive {number}, {apiary}, {day}",
            number=options.numbers[0],
            apiary=options.place,
            day=options.day,
        )
    return say("{apiary}, {day}", apiary=options.place, day=options.day)


def _one(way: OptionsFlow, options: Options, method: Method, again: Act) -> list[Block]:
    look = way.flow.look
    key = desk_key(
        look,
        method.name,
        partial(way.method, options, method.treatment, again),
        under=method.words,
        sign=method.sign,
    )
    return [key, *([Words(look, method.first, "small", "quiet")] if method.first else [])]


def method_page(way: OptionsFlow, options: Options, treatment: str, back: Act) -> Page:
    """Return one method for all the hives asked about, with every reason and its source."""
    look = way.flow.look
    body = options.body(treatment)
    middle: list[Block] = [
        Words(look, say("The label in your hand and local rules decide."), "small")
    ]
    for group in options.groups(treatment):
        middle.append(Tell(look, group.sign, group.words, bold=True))
        middle += [Tell(look, told.sign, told.words, "small") for told in group.reasons]
    if sources := options.sources(treatment):
        middle.append(heading(look, say("Where it stands")))
        middle += [Words(look, each, "small", "quiet") for each in sources]
    acts = []
    again = partial(way.method, options, treatment, back)
    if has_hole(body):
        acts.append(
            Key(look, say("The hole in the course"), partial(way.hole, options, treatment, again))
        )
    return Page(
        look,
        head=[title(look, body["name"])],
        low_head=[Words(look, body["name"], "small", bold=True)],
        middle=middle,
        whole=True,
        acts=acts,
        back=back,
        name="method",
    )


def asked_page(way: OptionsFlow, asked: Asked, back: Act) -> Page:
    """Return what no record can know: each answer on its own, none taken for granted."""
    look = way.flow.look
    said = asked.said

    signs: dict[bool | None, Role] = {True: "done", False: "late", None: "unknown"}
    return Page(
        look,
        head=[
            title(look, say("Also asked")),
            Words(look, say("For today. A tap goes on to yes, no, not known."), "small"),
        ],
        low_head=[heading(look, say("Also asked, for today"))],
        middle=[
            Key(
                look,
                words,
                shown_after(way.flow, partial(asked.turn, question)),
                under=[(YES_NO[getattr(said, question)], "body")],
                sign=signs[getattr(said, question)],
                centred=False,
            )
            for question, words in QUESTIONS.items()
        ],
        back=back,
        name="asked",
    )
