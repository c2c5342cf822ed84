"""What was otherwise at a hive of a round: all of it on one page, each in large keys."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from typing import TYPE_CHECKING

from fieldapp.rounds.applicator import PLACES
from fieldapp.rounds.look_questions import SEEN
from fieldapp.rounds.otherwise import Otherwise
from fieldapp.rounds.round import Round, Tapped
from fieldapp.rounds.spots import WHY
from fieldapp.rounds.strokes_given import Strokes
from fieldapp.screens.block import Row, Words
from fieldapp.screens.grid import Grid
from fieldapp.screens.keys import Act, Key
from fieldapp.screens.page import Page
from fieldapp.screens.parts import main_key, shown_after, title
from fieldapp.screens.theme import SPACE
from fieldapp.words import Phrase, say

if TYPE_CHECKING:
    from fieldapp.screens.round_flow import RoundFlow

#: The most pieces that a key stands for: more are not in one hive.
MOST_PIECES = 12


def otherwise_page(way: RoundFlow, other: Otherwise) -> Page:
    """Return what may have been otherwise with a hive just logged."""
    look = way.flow.look
    round_, hive = other.round, other.hive
    spot = round_.spot(hive)

    def key(words: Phrase, act: Callable[[], Tapped]) -> Key:
        return Key(look, words, lambda: way.answered(round_, act()))

    keys: list[Key] = []
    if round_.timer(hive) is not None:
        keys.append(key(say("Cut short"), other.cut_short))
    keys += [
        Key(look, say("Not done"), lambda: way.why_skipped(round_, hive)),
        key(say("Dead"), lambda: round_.skip(hive, "dead")),
    ]
    if spot.mark == "skipped":
        keys.append(Key(look, say("Done after all"), lambda: way.tap_hive(round_, hive)))
    else:
        keys.append(key(say("Queenless"), other.queenless))
        keys += _treated(way, other, key) if round_.task == "treat" else _pieces(way, other)
    return Page(
        look,
        head=[title(look, say("Hive {number}: what was it?", number=spot.number))],
        middle=[Grid(look, keys)],
        back=lambda: way.round(round_),
        name="otherwise",
    )


def _treated(
    way: RoundFlow, other: Otherwise, key: Callable[[Phrase, Callable[[], Tapped]], Key]
) -> list[Key]:
    look = way.flow.look
    keys = [
        key(say("Supers were on"), other.supers_found_on),
        key(say("Part dose"), other.part_dose),
    ]
    strokes = other.strokes
    if strokes is not None:
        keys.append(Key(look, say("Other strokes"), lambda: way.other_strokes(other, strokes)))
    if other.amounts_differ:
        keys.append(Key(look, say("Other amount"), lambda: way.other_amount(other)))
    return keys


def _pieces(way: RoundFlow, other: Otherwise) -> list[Key]:
    look = way.flow.look
    return [
        Key(look, say("Other number"), lambda: way.how_many(other)),
        Key(look, say("Lost"), lambda: way.how_many_lost(other)),
        Key(look, say("Found more"), lambda: way.how_many_found(other)),
    ]


def why_page(way: RoundFlow, round_: Round, hive: str) -> Page:
    """Return the reasons for passing a hive over."""
    look = way.flow.look
    number = round_.spot(hive).number

    def skip(why: str) -> None:
        way.answered(round_, round_.skip(hive, why))

    keys = [Key(look, words, partial(skip, why)) for why, words in WHY.items()]
    return Page(
        look,
        head=[title(look, say("Hive {number} not done: why?", number=number))],
        middle=[Grid(look, keys)],
        back=lambda: way.round(round_),
        name="why",
    )


def number_page(
    way: RoundFlow, asked: Phrase, numbers: Sequence[int], take: Callable[[int], None], back: Act
) -> Page:
    """Return a page that asks for a number of pieces by one large key each."""
    look = way.flow.look
    keys = [Key(look, str(n), partial(take, n), size="title") for n in numbers]
    return Page(
        look,
        head=[title(look, asked)],
        low_head=[Words(look, asked, "small", bold=True)],
        middle=[Grid(look, keys)],
        back=back,
        name="pieces",
    )


def seen_page(way: RoundFlow, other: Otherwise, number: int) -> Page:
    """Return the question how it is known that pieces are lost."""
    look = way.flow.look

    def take(seen: str) -> None:
        way.answered(other.round, other.lost(number, seen))

    keys = [Key(look, words, partial(take, seen)) for seen, words in SEEN.options]
    return Page(
        look,
        head=[title(look, SEEN.words)],
        low_head=[Words(look, SEEN.words, "small", bold=True)],
        middle=[Grid(look, keys)],
        back=lambda: way.not_like_that(other.round, other.hive),
        name="seen",
    )


class Steps:
    """An amount being changed in steps of one and of a quarter."""

    def __init__(self, other: Otherwise) -> None:
        self.other = other
        self.amount, self.unit = other.amount()

    def add(self, step: float) -> None:
        """Go a step up or down, never under zero."""
        self.amount = max(0.0, self.amount + step)


def amount_page(way: RoundFlow, steps: Steps) -> Page:
    """Return the page that asks how much a hive really got."""
    look = way.flow.look
    other = steps.other
    round_ = other.round

    def key(words: str, step: float) -> Key:
        def tapped() -> None:
            steps.add(step)
            way.flow.again()

        return Key(look, words, tapped, size="title")

    return Page(
        look,
        head=[
            title(look, say("Hive {number}: how much?", number=round_.spot(other.hive).number)),
            Words(look, other.said(steps.amount), "title", bold=True),
        ],
        low_head=[Words(look, other.said(steps.amount), bold=True)],
        middle=[
            Row(look, [key("- 1", -1), key("+ 1", 1)], SPACE),
            Row(look, [key("- ¼", -0.25), key("+ ¼", 0.25)], SPACE),
        ],
        acts=[
            main_key(
                look,
                say("This much"),
                lambda: way.answered(round_, other.other_amount(steps.amount)),
            ),
        ],
        back=lambda: way.round(round_),
        name="steps",
    )


class StrokeSteps:
    """Strokes being changed by place, one at a time."""

    def __init__(self, other: Otherwise, strokes: Strokes) -> None:
        self.other = other
        self.strokes = strokes

    def add(self, place: str, step: int) -> None:
        """Go a stroke up or down at a place."""
        self.strokes = self.strokes.add(place, step)


def strokes_page(way: RoundFlow, steps: StrokeSteps) -> Page:
    """Return the strokes of a hive by place, each with a key for one fewer and one more."""
    look = way.flow.look
    other, strokes = steps.other, steps.strokes
    number = other.round.spot(other.hive).number

    def key(words: Phrase, place: str, step: int) -> Key:
        return Key(look, words, shown_after(way.flow, partial(steps.add, place, step)))

    rows = []
    for place, n in strokes.places:
        name = PLACES.get(place, place)
        fewer = say("{place} {n}: one fewer", place=name, n=n)
        more = say("{place} {n}: one more", place=name, n=n)
        rows.append(Row(look, [key(fewer, place, -1), key(more, place, 1)], SPACE))
    return Page(
        look,
        head=[
            title(look, say("Hive {number}: strokes", number=number)),
            Words(look, strokes.words, bold=True),
        ],
        low_head=[Words(look, strokes.words, "small", bold=True)],
        middle=rows,
        acts=[
            main_key(
                look,
                say("So it was"),
                lambda: way.answered(other.round, other.other_strokes(steps.strokes)),
            )
        ],
        back=partial(way.round, other.round),
        name="strokes given",
    )
