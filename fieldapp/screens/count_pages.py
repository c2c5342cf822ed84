"""A count in pages: the way, whether it can answer, the tally, the bees, and what it says."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from typing import TYPE_CHECKING

from fieldapp.rounds.count import PARTS, WAYS, Counting
from fieldapp.rounds.count_told import CountsTold, Year
from fieldapp.rounds.told import Told
from fieldapp.screens import reasons_page
from fieldapp.screens.block import Block, Words
from fieldapp.screens.count_picture import YearPicture
from fieldapp.screens.grid import Grid
from fieldapp.screens.keys import Act, Key
from fieldapp.screens.page import Page
from fieldapp.screens.parts import briefly, heading, line, main_key, shown_after, title
from fieldapp.screens.tell import Tell
from fieldapp.screens.theme import HAND, Role
from fieldapp.words import Phrase, say

if TYPE_CHECKING:
    from fieldapp.screens.count_flow import CountFlow


def way_page(way: CountFlow, counting: Counting, back: Act) -> Page:
    """Return the ways of counting."""
    look = way.flow.look
    keys = [Key(look, each.words, partial(way.take_way, counting, each, back)) for each in WAYS]
    return Page(
        look,
        head=[title(look, say("Hive {number}: count mites", number=counting.number))],
        middle=[Grid(look, keys, most=2)],
        back=back,
        name="count way",
    )


def before_page(way: CountFlow, counting: Counting, back: Act) -> Page:
    """Return whether the count can answer the question, and the timer for the shake."""
    look = way.flow.look
    chosen = counting.way
    middle: list[Block] = []
    if chosen is not None and chosen.way != "drop":
        middle.append(_shake_key(way, counting))
    middle.append(heading(look, say("Can it answer?")))
    for told in counting.before():
        middle += line(look, told.sign, told.words, told.why)
    return Page(
        look,
        head=[
            title(look, chosen.words if chosen is not None else ""),
            Words(look, say("Hive {number}", number=counting.number), "small"),
        ],
        low_head=[Words(look, chosen.words if chosen is not None else "", bold=True)],
        middle=middle,
        acts=[main_key(look, say("Count"), partial(way.tally, counting, back))],
        back=back,
        name="count before",
    )


def _shake_key(way: CountFlow, counting: Counting) -> Key:
    look = way.flow.look
    sign: Role | None = None
    if counting.shaken:
        shown, sign = say("shaken long enough"), "done"
    elif counting.left is not None:
        shown, sign = say("{n} s left: shake", n=counting.left), "due"
    else:
        shown = say("{n} s: tap when you start", n=counting.shake_s)
    return Key(
        look,
        say("Shake"),
        shown_after(way.flow, counting.shake),
        under=[(shown, "title")],
        sign=sign,
    )


def tally_page(way: CountFlow, counting: Counting, back: Act) -> Page:
    """Return the tally: a tap anywhere but on the keys at the bottom is one mite."""
    look = way.flow.look
    return Page(
        look,
        head=[Words(look, say("Hive {number}: tap for each mite", number=counting.number))],
        fill=Key(
            look,
            say("Mites"),
            partial(way.count_one, counting),
            under=[(str(counting.mites), "figure"), (say("tap anywhere here"), "small")],
            size="title",
            filled=True,
        ),
        acts=[
            Key(look, say("One less"), shown_after(way.flow, partial(counting.add, -1))),
            Key(look, say("All counted"), partial(way.bees, counting, back)),
        ],
        back=partial(way.before, counting, back),
        back_key=False,
        apart=True,
        quick=True,
        name="tally",
    )


def bees_page(way: CountFlow, counting: Counting, back: Act) -> Page:
    """Return the question of how many bees there were, by measure, count or weight."""
    look = way.flow.look
    keys = [
        Key(
            look,
            words,
            partial(way.measured, counting, name, back),
            under=[(say("taken as {bees} bees", bees=bees), "small")],
        )
        for name, words, bees in counting.measures()
    ]
    keys += [
        Key(look, say("Counted"), partial(way.ask_bees, counting, back)),
        Key(look, say("Weighed"), partial(way.ask_grams, counting, back)),
        Key(
            look,
            say("Not known"),
            partial(way.bees_not_known, counting, back),
            under=[(say("then the load is not known either"), "small")],
        ),
    ]
    return Page(
        look,
        head=[title(look, say("How many bees?"))],
        middle=[Grid(look, keys, most=2)],
        back=partial(way.tally, counting, back),
        name="bees",
    )


def part_page(way: CountFlow, counting: Counting, back: Act) -> Page:
    """Return the question of how much of the board was counted."""
    look = way.flow.look
    keys = [
        Key(look, words, partial(way.take_part, counting, share, back), centred=False)
        for share, words in PARTS
    ]
    return Page(
        look,
        head=[title(look, say("How much of the board?"))],
        middle=[*keys],
        back=partial(way.tally, counting, back),
        name="board part",
    )


def days_page(way: CountFlow, counting: Counting, back: Act) -> Page:
    """Return the question of how long the board was in; the records' answer first."""
    look = way.flow.look
    known = counting.board_days
    keys = [
        Key(look, str(days), partial(way.take_days, counting, days, back), size="title")
        for days in range(1, 15)
    ]
    acts = []
    if known is not None:
        acts.append(
            main_key(
                look,
                say("{n} by the records", n=known),
                partial(way.take_days, counting, known, back),
            )
        )
    return Page(
        look,
        head=[title(look, say("Days the board was in?"))],
        middle=[Grid(look, keys)],
        acts=acts,
        back=partial(way.part, counting, back),
        name="board days",
    )


def meaning_page(way: CountFlow, counting: Counting, back: Act) -> Page:
    """Return what the count says, before it is saved."""
    look = way.flow.look
    middle: list[Block] = []
    meant = counting.meaning()
    for told in meant:
        middle += briefly(look, told)
    again = partial(way.meaning, counting, back)
    middle.append(reasons_page.key(way.flow, counting.mites_words, meant, again, least=HAND))
    return Page(
        look,
        head=[
            title(look, counting.mites_words),
            Words(look, say("Hive {number}", number=counting.number), "small"),
        ],
        low_head=[Words(look, counting.mites_words, bold=True)],
        middle=middle,
        acts=[main_key(look, say("Save"), partial(way.save, counting))],
        back=partial(way.bees, counting, back),
        name="meaning",
    )


def counts_page(
    way: CountFlow,
    counts: CountsTold,
    judged: Told | None,
    beside: Sequence[Told],
    back: Act,
) -> Page:
    """Return the year's counts as a picture, whether the course worked, and the last count.

    `beside` tells how it changed, and of the whole apiary.
    """
    look = way.flow.look
    middle: list[Block] = []
    year = counts.year()
    if year is None:
        middle.append(Tell(look, "unknown", say("No count yet. Tap Count mites to begin.")))
    else:
        shown = say("{year}: {unit}, by month", year=str(year.year), unit=year.unit)
        middle += [Words(look, shown, bold=True), YearPicture(look, year)]
        middle.append(Words(look, say("Disc and line: a count and its range."), "small"))
        middle += [Words(look, words, "small") for words in _key_to_levels(year)]
        for told in year.others:
            middle += line(look, told.sign, told.words, told.why)
    if judged is not None:
        middle += [heading(look, say("Did it work?")), *briefly(look, judged)]
    if counts.entries:
        last = (*counts.last_told(), *beside)
        middle.append(heading(look, say("The last count")))
        for told in last:
            middle += briefly(look, told)
        reasoned = last if judged is None else (judged, *last)
        again = partial(way.counts, counts.hive, back)
        about = say("Hive {number}: counts", number=counts.number)
        middle.append(reasons_page.key(way.flow, about, reasoned, again, least=HAND))
    return Page(
        look,
        head=[title(look, say("Hive {number}: counts", number=counts.number))],
        middle=middle,
        acts=[main_key(look, say("Count mites"), partial(way.begin, counts.hive, back))],
        back=back,
        name="counts",
    )


#: What the line across the picture is, by how good its source is.
_LINES: dict[str, Phrase] = {
    "ground": say("Line across: the published level to act at."),
    "reported": say("Broken line: a level reported, not read at its source."),
    "history": say("Grey broken line: history, a source too old or without a year."),
}


def _key_to_levels(year: Year) -> list[Phrase]:
    standings = {standing for _, standing in year.levels.values()}
    if not standings and not year.others:
        return [say("No threshold is known for this country and way of counting.")]
    return [words for standing, words in _LINES.items() if standing in standings]
