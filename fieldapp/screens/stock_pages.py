"""Stock: what is on hand and until when, one lot with all that came and went, wear and filters."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from fieldapp.husbandry.ledger import Gear, Lot
from fieldapp.rounds.gear import GearLine, gear_line, gear_lines
from fieldapp.rounds.photos import PhotoPlace
from fieldapp.rounds.stock import LotLine, Stock
from fieldapp.screens import photo_pages
from fieldapp.screens.block import Block, Words
from fieldapp.screens.grid import Grid
from fieldapp.screens.keys import Act, Key
from fieldapp.screens.page import Page
from fieldapp.screens.parts import desk_key, heading, line, main_key, title
from fieldapp.screens.tell import Tell
from fieldapp.screens.theme import DESK
from fieldapp.words import Phrase, say

if TYPE_CHECKING:
    from fieldapp.screens.stock_flow import StockFlow


def page(way: StockFlow, back: Act) -> Page:
    """Return what is on hand, what is to be bought, and the ways to what wears."""
    look = way.flow.look
    stock = Stock(way.flow.kit.notebook)
    again = partial(way.stock, back)
    middle: list[Block] = []
    on_hand = stock.on_hand()
    for lot in on_hand:
        middle += _lot(way, lot, again)
    if not on_hand:
        words = say(
            "Nothing is written down. Write down what you buy, and its balance stands here."
        )
        middle.append(Tell(look, "unknown", words))
    for told in stock.astray():
        middle += line(look, told.sign, told.words, told.why)
    asked = stock.asked()
    if asked:
        middle.append(heading(look, say("To buy, and to complete")))
    for told in asked:
        middle += line(look, told.sign, told.words, told.why)
    keys = [
        desk_key(look, say("Wear parts and filters"), partial(way.gear, again)),
        desk_key(look, say("Used up"), partial(way.over, again)),
    ]
    middle.append(Grid(look, keys, least=3 * DESK))
    return Page(
        look,
        head=[title(look, say("Stock"))],
        low_head=[heading(look, say("Stock"))],
        middle=middle,
        acts=[main_key(look, say("Write a purchase down"), partial(way.buy, again))],
        back=back,
        name="stock",
    )


def over_page(way: StockFlow, back: Act) -> Page:
    """Return the lots that are used up."""
    look = way.flow.look
    again = partial(way.over, back)
    middle: list[Block] = []
    for lot in Stock(way.flow.kit.notebook).over():
        middle += _lot(way, lot._replace(first=()), again)
    if not middle:
        middle.append(Tell(look, "quiet", say("No lot is used up.")))
    return Page(
        look,
        head=[title(look, say("Used up"))],
        low_head=[heading(look, say("Used up"))],
        middle=middle,
        back=back,
        name="stock over",
    )


def _lot(way: StockFlow, lot: LotLine, again: Act) -> list[Block]:
    look = way.flow.look
    key = Key(
        look,
        lot.name,
        partial(way.lot, lot.id, again),
        under=[(lot.balance, "small"), *((each.words, "small") for each in lot.first)],
        least=DESK,
        sign=lot.sign,
        centred=False,
    )
    return [key]


def lot_page(way: StockFlow, stock: Stock, lot: Lot, back: Act) -> Page:
    """Return one lot: balance and gaps first, then its facts, then what was taken from it."""
    look = way.flow.look
    again = partial(way.lot, lot.id, back)
    shown = stock.line(lot)
    middle: list[Block] = [Words(look, shown.balance, bold=True)]
    middle += [Tell(look, each.sign, each.words) for each in shown.first]
    middle += [Words(look, each, "small") for each in stock.facts(lot)]
    keys = [
        _way(way, say("Dispose of it"), partial(way.dispose, lot, again)),
        _way(way, say("Count it"), partial(way.count, lot, again)),
        _way(way, say("The record"), partial(way.flow.hives.record, "", lot.id, again)),
    ]
    if not lot.mixed:
        beside = PhotoPlace(root=lot.id)
        proof = partial(photo_pages.show, way.flow, beside, again)
        under, sign = photo_pages.under(way.flow, beside)
        name = say("Proof as a photo")
        keys.append(Key(look, name, proof, under=[(under, "small")], sign=sign, least=DESK))
    middle.append(Grid(look, keys, least=100))
    gone = stock.gone(lot)
    middle.append(heading(look, say("Taken and counted")))
    if not gone:
        middle.append(Tell(look, "quiet", say("nothing so far")))
    for each in gone:
        record = partial(way.flow.hives.record, each.hive, each.root, again)
        middle.append(desk_key(look, each.words, record))
    return Page(
        look,
        head=[title(look, lot.name)],
        low_head=[Words(look, lot.name, "small", bold=True)],
        middle=middle,
        acts=[main_key(look, say("Used outside a round"), partial(way.use, lot, again))],
        back=back,
        name="lot",
    )


def _way(way: StockFlow, text: Phrase, act: Act) -> Key:
    return Key(way.flow.look, text, act, least=DESK)


def gear_page(way: StockFlow, back: Act) -> Page:
    """Return what wears or expires: what is to be changed first."""
    look = way.flow.look
    again = partial(way.gear, back)
    lines = gear_lines(way.flow.kit.notebook)
    middle: list[Block] = [_gear(way, each, again) for each in lines]
    if not lines:
        words = say("Nothing is written down. Begin with your respirator's filters.")
        middle.append(Tell(look, "unknown", words))
    return Page(
        look,
        head=[title(look, say("Wear parts and filters"))],
        low_head=[heading(look, say("Wear parts and filters"))],
        middle=middle,
        acts=[main_key(look, say("Write a new one down"), partial(way.new_gear, None, again))],
        back=back,
        name="gear",
    )


def _gear(way: StockFlow, each: GearLine, again: Act) -> Key:
    return Key(
        way.flow.look,
        each.name,
        partial(way.thing, each.id, again),
        under=[(each.what, "small"), *((told.words, "small") for told in each.told)],
        least=DESK,
        sign=each.sign,
        centred=False,
    )


def thing_page(way: StockFlow, thing: Gear, back: Act) -> Page:
    """Return one thing: how it stands, and what can be done with it."""
    look = way.flow.look
    shown = gear_line(thing, way.flow.kit.notebook.today())
    again = partial(way.thing, thing.id, back)
    middle: list[Block] = [Words(look, shown.what, bold=True)]
    middle += [Tell(look, each.sign, each.words) for each in shown.told]
    keys = [
        _way(way, say("Thrown away"), partial(way.throw_away, thing, back)),
        _way(way, say("The record"), partial(way.flow.hives.record, "", thing.id, again)),
    ]
    if thing.what == "applicator":
        measure = partial(way.flow.applicators.open, thing.id, again)
        keys.append(_way(way, say("Measured"), measure))
    middle.append(Grid(look, keys, least=100))
    change = partial(way.new_gear, thing, back)
    return Page(
        look,
        head=[title(look, thing.name)],
        low_head=[Words(look, thing.name, bold=True)],
        middle=middle,
        acts=[main_key(look, say("Changed for a new one"), change)],
        back=back,
        name="thing",
    )
