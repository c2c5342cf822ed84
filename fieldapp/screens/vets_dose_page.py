"""A veterinarian's document about a dose, entered at the desk."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from fieldapp.rounds.vets_dose import VetsDose
from fieldapp.screens.block import Block, Words
from fieldapp.screens.entry import Entry
from fieldapp.screens.grid import Grid
from fieldapp.screens.keys import Act, Key
from fieldapp.screens.page import Page
from fieldapp.screens.parts import desk_key, heading, main_key, shown_after, title
from fieldapp.screens.tell import Tell
from fieldapp.screens.theme import DESK
from fieldapp.words import Phrase, say

if TYPE_CHECKING:
    from fieldapp.screens.applicator_flow import ApplicatorFlow

_TITLE = say("A veterinarian's written dose")


def page(way: ApplicatorFlow, dose: VetsDose, wrong: Phrase | None, back: Act) -> Page:
    """Return the document as entered so far; `wrong` says what was missing at the last try."""
    look = way.flow.look

    def write() -> None:
        missing = dose.wrong
        if missing is None:
            dose.save()
            back()
        else:
            way.vets_dose(dose, back, missing)

    def key(text: str, days: int) -> Key:
        return Key(look, text, shown_after(way.flow, partial(dose.add_days, days)), least=DESK)

    told = (
        say("{grams} g for one colony", grams=dose.grams)
        if dose.grams
        else say("How much for one colony?")
    )
    middle: list[Block] = [] if wrong is None else [Tell(look, "unknown", wrong)]
    middle += [
        desk_key(
            look,
            told,
            partial(way.vets_grams, dose, back),
            under=say("g of oxalic acid dihydrate, as the document has it"),
            sign=None if dose.grams else "unknown",
        ),
        Entry(look, say("Name of the veterinarian"), dose.name, partial(setattr, dose, "name")),
        Entry(look, say("Which document"), dose.document, partial(setattr, dose, "document")),
        Words(look, say("Dated {day}", day=dose.day), bold=True),
        Grid(look, [key("- 30", -30), key("- 1", -1), key("+ 1", 1), key("+ 30", 30)], least=90),
        Words(
            look,
            say("It counts for a mist in {country}, and for nothing else.", country=dose.country),
            "small",
        ),
    ]
    return Page(
        look,
        head=[title(look, _TITLE)],
        low_head=[heading(look, _TITLE)],
        middle=middle,
        acts=[main_key(look, say("Write it down"), write)],
        back=back,
        name="vet's dose",
    )
