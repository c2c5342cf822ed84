"""An applicator: measured in strokes and degrees, and what its strokes give beside labels."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from typing import TYPE_CHECKING

from fieldapp.rounds.applicator import PLACES, Applicator, told_mix
from fieldapp.rounds.strokes import Gave
from fieldapp.screens.block import Block, Row, Words
from fieldapp.screens.entry import Entry
from fieldapp.screens.heat_picture import HeatPicture
from fieldapp.screens.keys import Act, Key
from fieldapp.screens.page import Page
from fieldapp.screens.parts import desk_key, heading, main_key, shown_after, title
from fieldapp.screens.tell import Tell
from fieldapp.screens.theme import DESK, SPACE
from fieldapp.words import Degrees, Phrase, say

if TYPE_CHECKING:
    from fieldapp.screens.applicator_flow import ApplicatorFlow


def list_page(way: ApplicatorFlow, found: list[Applicator], back: Act) -> Page:
    """Return the applicators, and the way to write one down."""
    look = way.flow.look
    typed = {"name": ""}
    middle: list[Block] = [
        desk_key(look, each.name, partial(way.one, each, back), under=each.told_stroke())
        for each in found
    ]
    if not found:
        middle.append(
            Tell(
                look,
                "unknown",
                say("No applicator yet. Write yours down, then measure what its strokes give."),
            )
        )
    middle.append(
        Entry(look, say("Name of a new one"), "", lambda text: typed.__setitem__("name", text))
    )
    return Page(
        look,
        head=[title(look, say("Applicators"))],
        low_head=[heading(look, say("Applicators"))],
        middle=middle,
        acts=[
            main_key(
                look, say("Write a new one down"), lambda: way.new(typed["name"].strip(), back)
            )
        ],
        back=back,
        name="applicators",
    )


def one_page(way: ApplicatorFlow, one: Applicator, back: Act) -> Page:
    """Return one applicator: the picture, what a stroke gives, and the ways on."""
    look = way.flow.look
    again = partial(way.one, one, back)
    heats = one.heats
    middle: list[Block] = []
    if one.unsaved:
        middle.append(
            desk_key(
                look,
                say("Write the measuring down"),
                shown_after(way.flow, one.save),
                under=say("tapped in, kept on this phone only"),
                sign="due",
            )
        )
        middle.append(desk_key(look, say("Forget it"), shown_after(way.flow, one.forget)))
    middle.append(Words(look, one.told_stroke(), bold=True))
    if heats:
        middle.append(
            HeatPicture(
                look,
                heats,
                one.limit,
                lambda celsius: look.say(say("{t}", t=Degrees(celsius))),
                lambda centimetres: look.say(one.length(centimetres)),
            )
        )
        middle.append(Words(look, say("Square: fast. Ring: slow. Triangle: liquid spat."), "small"))
        if (told := one.told_stand_off()) is not None:
            middle.append(Words(look, told, bold=True))
        middle += [Tell(look, "late", each, bold=True) for each in one.told_spits()]
    else:
        middle.append(
            Tell(look, "unknown", say("Not measured: how hot it is before the nozzle."), "small")
        )
    middle += [
        desk_key(look, say("Strokes into a measure"), partial(way.strokes, one, again)),
        desk_key(look, say("Temperature at a distance"), partial(way.heat, one, again)),
        desk_key(
            look,
            say("Your own limit"),
            partial(way.limit, one, again),
            under=say("{t}", t=Degrees(one.limit))
            if one.limit is not None
            else say("not set: no source gives one for bees"),
        ),
    ]
    return Page(
        look,
        head=[title(look, one.name)],
        low_head=[Words(look, one.name, bold=True)],
        middle=middle,
        acts=[main_key(look, say("What strokes give"), partial(way.gives, one, again))],
        back=partial(way.all, back),
        name="applicator",
    )


def gives_page(way: ApplicatorFlow, one: Applicator, back: Act) -> Page:
    """Return the strokes planned by place, the grams they give, and what labels give."""
    look = way.flow.look
    gave = one.gave()
    mix = one.mix
    middle: list[Block] = []
    if isinstance(gave, Gave):
        middle.append(Tell(look, "unknown", gave.words, bold=True))
        middle += [Tell(look, "late", each) for each in gave.beside]
    else:
        middle.append(Tell(look, "unknown", gave, bold=True))
    middle += [_place(way, one, place) for place in PLACES]
    middle.append(
        desk_key(
            look,
            told_mix(mix) if mix is not None else say("Which batch is in it?"),
            shown_after(way.flow, one.turn_mix),
            under=say("a tap goes on to the next batch"),
            sign=None if mix is not None else "unknown",
        )
    )
    if isinstance(gave, Gave):
        middle.append(Tell(look, "unknown", gave.reverse, "small"))
        again = partial(way.gives, one, back)
        middle.append(
            desk_key(look, say("A veterinarian wrote a dose down"), partial(way.new_dose, again))
        )
        middle += [Tell(look, "unknown", each, "small") for each in gave.first]
    return Page(
        look,
        head=[title(look, say("What strokes give")), Words(look, one.name, "small")],
        low_head=[heading(look, say("What strokes give"))],
        middle=middle,
        back=back,
        name="strokes",
    )


def _place(way: ApplicatorFlow, one: Applicator, place: str) -> Row:
    look = way.flow.look

    def key(text: str, step: int) -> Key:
        act = shown_after(way.flow, partial(one.add_stroke, place, step))
        return Key(look, text, act, least=DESK, size="title")

    told = say("{place}: {n}", place=PLACES[place], n=one.places[place])
    return Row(
        look,
        [key("-", -1), Words(look, told, bold=True, centred=True), key("+", 1)],
        SPACE,
        (1, 2, 1),
    )


def choice_page(
    way: ApplicatorFlow, asked: Phrase, keys: Sequence[tuple[Phrase, Act]], back: Act
) -> Page:
    """Return a question with its answers as keys."""
    look = way.flow.look
    return Page(
        look,
        head=[title(look, asked)],
        low_head=[heading(look, asked)],
        middle=[Key(look, words, act, centred=False) for words, act in keys],
        back=back,
        name="measured how",
    )
