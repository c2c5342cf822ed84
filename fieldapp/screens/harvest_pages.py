"""Honey: supers to choose at the hives, what a lot holds, exposed supers to be emptied."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from typing import TYPE_CHECKING

from fieldapp.husbandry.vocabulary import word
from fieldapp.rounds.exposed_supers import EMPTIED, ExposedSuper, exposed_supers
from fieldapp.rounds.harvest import Harvest, Take
from fieldapp.rounds.honey_lots import (
    SAYS,
    HoneyLot,
    HoneyLots,
    Part,
)
from fieldapp.screens.block import Block, Words
from fieldapp.screens.keys import Act, Key
from fieldapp.screens.page import Page
from fieldapp.screens.parts import desk_key, heading, main_key, shown_after, title
from fieldapp.screens.tell import Tell
from fieldapp.words import say

if TYPE_CHECKING:
    from fieldapp.screens.harvest_flow import HarvestFlow


def lots_page(way: HarvestFlow, back: Act) -> Page:
    """Return the lots of honey, those to hold first, and the way to a new one."""
    look = way.flow.look
    again = partial(way.honey, back)
    notebook = way.flow.kit.notebook
    lots = HoneyLots(notebook).all()
    middle: list[Block] = []
    exposed = exposed_supers(notebook)
    if exposed:
        middle.append(
            desk_key(
                look,
                say("Exposed supers: {n}", n=len(exposed)),
                partial(way.exposed, again),
                sign="closed",
            )
        )
    middle += _lots(way, lots, again)
    if not lots:
        words = say(
            "No honey is written down. Take supers to a lot, and what it holds stands here."
        )
        middle.append(Tell(look, "unknown", words))
    return Page(
        look,
        head=[title(look, say("Honey"))],
        low_head=[heading(look, say("Honey"))],
        middle=middle,
        acts=[main_key(look, say("Take honey"), partial(way.choose, again))],
        back=back,
        name="honey",
    )


def hive_page(way: HarvestFlow, hive: str, back: Act) -> Page:
    """Return the lots that honey of one hive went into."""
    look = way.flow.look
    again = partial(way.of_hive, hive, back)
    notebook = way.flow.kit.notebook
    number = notebook.book.hive(hive).number
    lots = HoneyLots(notebook).of_hive(hive)
    middle = _lots(way, lots, again)
    if not lots:
        middle.append(Tell(look, "unknown", say("No honey of this hive is written down.")))
    return Page(
        look,
        head=[title(look, say("Hive {number}: honey lots", number=number))],
        low_head=[heading(look, say("Hive {number}: honey lots", number=number))],
        middle=middle,
        back=back,
        name="hive's honey",
    )


def _lots(way: HarvestFlow, lots: Sequence[HoneyLot], again: Act) -> list[Block]:
    look = way.flow.look
    return [
        desk_key(look, lot.words, partial(way.lot, lot.mark, again), under=lot.told, sign=lot.sign)
        for lot in lots
    ]


def lot_page(way: HarvestFlow, mark: str, back: Act) -> Page:
    """Return what a lot holds: what is to be held with its reasons first, then the rest."""
    look = way.flow.look
    again = partial(way.lot, mark, back)
    lots = HoneyLots(way.flow.kit.notebook)
    sign = lots.sign(mark)
    middle: list[Block] = [Tell(look, sign, SAYS[sign], bold=True)]
    middle += [Words(look, each) for each in lots.amounts(mark)]
    middle.append(heading(look, say("What it holds")))
    for part in lots.parts(mark):
        middle += _part(way, part)
    middle.append(heading(look, say("The records")))
    for n, root in enumerate(lots.roots(mark), 1):
        words = say("Record {n}: put right, take back, words", n=n)
        middle.append(desk_key(look, words, partial(way.flow.hives.record, "", root, again)))
    return Page(
        look,
        head=[title(look, say("Honey lot {mark}", mark=mark))],
        low_head=[heading(look, say("Honey lot {mark}", mark=mark))],
        middle=middle,
        back=back,
        name="honey lot",
    )


def _part(way: HarvestFlow, part: Part) -> list[Block]:
    look = way.flow.look
    blocks: list[Block] = [Tell(look, part.sign, part.words, bold=bool(part.held))]
    blocks += [Words(look, each, "small") for each in part.held]
    blocks += [Words(look, each, "small", "quiet") for each in part.treated]
    return blocks


# -- supers to a lot, at the hives


def choose_page(way: HarvestFlow, harvest: Harvest, back: Act) -> Page:
    """Return the supers of an apiary: what is fine by one tap, all else by a page of its own."""
    look = way.flow.look
    takes = harvest.takes()
    fine = [take for take in takes if take.fine]
    others = [take for take in takes if not take.fine]
    middle: list[Block] = [
        Key(
            look,
            say("Taken off on {day}", day=harvest.day),
            partial(way.day, harvest, back),
            centred=False,
        )
    ]
    middle += [
        Key(
            look,
            take.words,
            shown_after(way.flow, partial(harvest.turn, take)),
            under=[(say("goes in") if harvest.has(take) else take.told, "small")],
            sign="done" if harvest.has(take) else "quiet",
            centred=False,
        )
        for take in fine
    ]
    if not fine:
        middle.append(Tell(look, "unknown", say("No super here is known to be open.")))
    if others:
        middle.append(heading(look, say("Something stands against these")))
    middle += [_other(way, harvest, take, back) for take in others]
    n = len(harvest.chosen())
    acts = [main_key(look, say("Into a lot"), partial(way.into_lot, harvest, back))] if n else []
    return Page(
        look,
        head=[title(look, say("Supers")), Words(look, harvest.place, "small")],
        low_head=[heading(look, say("Supers"))],
        middle=middle,
        acts=acts,
        back=back,
        name="harvest",
    )


def _other(way: HarvestFlow, harvest: Harvest, take: Take, back: Act) -> Key:
    told = take.told
    if harvest.has(take):
        told = say("goes in as it is: {why}", why=take.told)
    return Key(
        way.flow.look,
        take.words,
        partial(way.not_fine, harvest, take, back),
        under=[(told, "small")],
        sign=take.sign,
        centred=False,
    )


def not_fine_page(way: HarvestFlow, harvest: Harvest, take: Take, again: Act) -> Page:
    """Return what stands against a super; to take it all the same is a tap of its own."""
    look = way.flow.look

    def turn() -> None:
        harvest.turn(take)
        again()

    taken = harvest.has(take)
    words = say("Leave it out again") if taken else say("Take it all the same")
    middle: list[Block] = [
        Tell(look, take.sign, take.told, bold=True),
        Tell(look, "late", say("Its lot is to be held. It goes into the record as it is.")),
    ]
    middle += [Words(look, each, "small", "quiet") for each in take.reasons]
    return Page(
        look,
        head=[title(look, take.words)],
        low_head=[Words(look, take.words, bold=True)],
        middle=middle,
        acts=[Key(look, words, turn)],
        back=again,
        apart=True,
        name="not fine",
    )


# -- exposed supers


def exposed_page(way: HarvestFlow, back: Act, hive: str = "") -> Page:
    """Return the exposed supers: each is cleared only by being emptied, and not for people."""
    look = way.flow.look
    again = partial(way.exposed, back, hive)
    found = [e for e in exposed_supers(way.flow.kit.notebook) if hive in ("", e.hive)]
    middle: list[Block] = [
        desk_key(
            look,
            each.words,
            partial(way.empty, each, again),
            under=each.told.words,
            sign=each.told.sign,
        )
        for each in found
    ]
    if not found:
        middle.append(Tell(look, "done", say("No exposed super is on record.")))
    else:
        middle.insert(0, Words(look, say("Days do not clear them."), "small"))
    return Page(
        look,
        head=[title(look, say("Exposed supers"))],
        low_head=[heading(look, say("Exposed supers"))],
        middle=middle,
        back=back,
        name="exposed",
    )


def empty_page(way: HarvestFlow, super_: ExposedSuper, back: Act) -> Page:
    """Return the ways in which a super was emptied; a tap writes it down."""
    look = way.flow.look
    asked = say("Emptied, and not for people: how?")
    keys = [desk_key(look, word(how), partial(way.emptied, super_, how, back)) for how in EMPTIED]
    return Page(
        look,
        head=[title(look, asked), Words(look, super_.words)],
        low_head=[heading(look, asked)],
        middle=[Tell(look, super_.told.sign, super_.told.words), *keys],
        back=back,
        name="emptied",
    )
