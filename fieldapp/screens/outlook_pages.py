"""The weather of an apiary in taps: the days ahead, and one day's three temperatures."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from fieldapp.rounds.outlook import PARTS, DayEntry, Outlook, Part, said
from fieldapp.screens.block import Block, Words
from fieldapp.screens.grid import Grid
from fieldapp.screens.keys import Act, Key
from fieldapp.screens.page import Page
from fieldapp.screens.parts import desk_key, main_key, shown_after, title
from fieldapp.screens.tell import Tell
from fieldapp.screens.theme import DESK
from fieldapp.words import count, say

if TYPE_CHECKING:
    from fieldapp.screens.options_flow import OptionsFlow


def list_page(way: OptionsFlow, outlook: Outlook, back: Act) -> Page:
    """Return the days ahead with what was entered for each."""
    look = way.flow.look
    days = outlook.days()
    middle: list[Block] = []
    if not any(day.known for day in days):
        middle.append(
            Tell(look, "unknown", say("No temperatures yet. Tap a day; one entry can do for many."))
        )
    middle += [
        desk_key(
            look,
            say("{day}", day=day.day),
            partial(way.outlook_day, outlook, day.day, back),
            under=day.words,
            sign="done" if day.known else "unknown",
        )
        for day in days
    ]
    return Page(
        look,
        head=[title(look, say("Weather")), Words(look, outlook.place, "small")],
        low_head=[Words(look, say("Weather"), bold=True)],
        middle=middle,
        back=back,
        name="outlook",
    )


def day_page(way: OptionsFlow, entry: DayEntry, back: Act) -> Page:
    """Return one day: highest, mean and lowest by steps, for how many days, and how known."""
    look = way.flow.look
    middle: list[Block] = []
    for part in PARTS:
        middle += _part(way, entry, part)
    middle.append(
        Grid(
            look,
            [
                desk_key(
                    look,
                    count("{n} day", "{n} days", entry.spread),
                    shown_after(way.flow, entry.turn_spread),
                    under=say("to {last}", last=entry.last),
                ),
                desk_key(
                    look,
                    say("forecast") if entry.forecast else say("measured"),
                    shown_after(way.flow, entry.turn_kind),
                ),
                desk_key(look, say("Clear"), shown_after(way.flow, entry.forget)),
            ],
            least=2 * DESK,
        )
    )
    wrong = entry.wrong
    if wrong is not None:
        middle.append(Tell(look, "unknown", wrong, "small"))

    def save() -> None:
        entry.save()
        back()

    return Page(
        look,
        head=[title(look, say("{day}", day=entry.day))],
        low_head=[Words(look, say("{day}", day=entry.day), bold=True)],
        middle=middle,
        acts=[main_key(look, say("Save"), save)] if wrong is None else [],
        back=back,
        name="outlook day",
    )


def _part(way: OptionsFlow, entry: DayEntry, part: Part) -> list[Block]:
    look = way.flow.look
    degree = 5 / 9 if look.speech.habits.degrees == "F" else 1.0

    def key(text: str, steps: int) -> Key:
        return Key(
            look, text, shown_after(way.flow, partial(entry.step, part, steps * degree)), least=DESK
        )

    value = say("{part}: {degrees}", part=PARTS[part], degrees=said(entry.values[part]))
    return [
        Words(look, value, "title", bold=True),
        Grid(look, [key("- 5", -5), key("- 1", -1), key("+ 1", 1), key("+ 5", 5)], least=DESK + 20),
    ]
