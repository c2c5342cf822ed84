"""A round: the next hive in one large field, always in the same place."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING, NamedTuple

from fieldapp.rounds.round import Round
from fieldapp.rounds.spots import Spot
from fieldapp.screens.block import Block, Row, Space, Words
from fieldapp.screens.grid import Grid
from fieldapp.screens.keys import BigField, Key
from fieldapp.screens.page import Page
from fieldapp.screens.parts import main_key, passed_of, title
from fieldapp.screens.tell import Tell
from fieldapp.screens.theme import APART, SPACE, Role
from fieldapp.words import Phrase, say

if TYPE_CHECKING:
    from fieldapp.screens.round_flow import RoundFlow

#: How a hive that was done, passed over or is open is shown.
SIGNS: dict[str, Role] = {"done": "done", "skipped": "late", "open": "quiet"}
MARKS: dict[str, Phrase] = {
    "done": say("done"),
    "skipped": say("not done"),
    "open": say("to do"),
}
#: Timers that stand on the round's page; the grid has all of them.
MOST_TIMERS = 2
#: Keys for what is counted; more are rare, and go in as another amount.
MOST_KEYS = 20


def page(way: RoundFlow, round_: Round, told: Phrase | None = None) -> Page:
    """Return the round's main page."""
    look = way.flow.look
    last = round_.last
    timed = way.timed()
    way.flow.until(None if last is None else last.ends)
    if last is not None:
        answer: tuple[Role, Phrase] = (SIGNS[last.mark], last.did)
        keys = [
            Key(look, say("Undo"), lambda: way.undo(round_)),
            Key(look, say("Not like that"), lambda: way.not_like_that(round_, last.hive)),
        ]
    else:
        answer = ("quiet", told or _progress(round_))
        keys = [
            Key(look, say("Other hive"), lambda: way.out_of_order(round_)),
            Key(look, say("End round"), lambda: way.summary(round_)),
        ]
    middle: list[Block] = []
    if last is not None or told is not None:
        middle.append(Words(look, _progress(round_)))
    middle += [Words(look, round_.name), Words(look, round_.place)]
    middle[:0] = [Tell(look, *each, bold=True) for each in timed[:MOST_TIMERS]]
    low = timed[0] if timed and (last is None or timed[0][0] == "late") else answer
    return Page(
        look,
        head=[Tell(look, *answer, "title", bold=True)],
        low_head=[Tell(look, *low, "small", bold=True)],
        middle=middle,
        foot=[Row(look, keys, APART), Space(look, APART - 2 * SPACE), _field(way, round_)],
        back=lambda: way.summary(round_),
        turns=False,
        name="round",
    )


def _progress(round_: Round) -> Phrase:
    return passed_of(round_.passed, len(round_.spots))


def _field(way: RoundFlow, round_: Round) -> BigField:
    spot = round_.next
    if spot is None:
        return BigField(
            way.flow.look,
            say("All {n}", n=len(round_.spots)),
            lambda: way.end_round(round_),
            above=say("The walk is done"),
            gets=say("End round"),
        )
    return BigField(
        way.flow.look,
        say("Hive {number}", number=spot.number),
        lambda: way.tap_hive(round_, spot.hive),
        above=say("Next: tap when you start it"),
        gets=round_.gets(spot.hive),
        stop=round_.warning(spot.hive),
    )


def grid_page(way: RoundFlow, round_: Round) -> Page:
    """Return all hives of the round, for one out of order."""
    look = way.flow.look
    after = round_.next
    keys = [_grid_key(way, round_, spot) for spot in round_.spots]
    acts = []
    if after is not None:
        words = say("Pass over hive {number}", number=after.number)
        acts.append(Key(look, words, lambda: way.why_skipped(round_, after.hive)))
    return Page(
        look,
        head=[title(look, say("Which hive?"))],
        middle=[Grid(look, keys)],
        acts=acts,
        back=lambda: way.round(round_),
        name="grid",
    )


def _grid_key(way: RoundFlow, round_: Round, spot: Spot) -> Key:
    def tapped() -> None:
        if spot.mark == "open":
            way.tap_hive(round_, spot.hive)
        else:
            way.not_like_that(round_, spot.hive)

    left = way.time_left(round_, spot.hive)
    return Key(
        way.flow.look,
        spot.number,
        tapped,
        under=[(MARKS[spot.mark] if left is None else left, "small")],
        size="title",
        sign=SIGNS[spot.mark] if left is None else "due",
    )


def _quarters(number: float) -> str:
    """Return a number to the quarter, as counted: 6 ¼."""
    whole, part = divmod(round(number * 4), 4)
    return f"{whole}{('', ' ¼', ' ½', ' ¾')[part]}"


class _Basis(NamedTuple):
    """What is counted at a hive: the question, the step of the keys, and what one key adds."""

    asked: Callable[[str], Phrase]
    step: int
    more: Phrase
    parts: tuple[float, ...]


_QUARTERS = (0.0, 0.25, 0.5, 0.75)
_BASES = {
    "seam": _Basis(
        lambda number: say("Hive {number}: seams?", number=number),
        1,
        say("a quarter more"),
        _QUARTERS,
    ),
    "frame of bees": _Basis(
        lambda number: say("Hive {number}: frames of bees?", number=number),
        1,
        say("a quarter more"),
        _QUARTERS,
    ),
    "comb side": _Basis(
        lambda number: say("Hive {number}: comb sides?", number=number),
        2,
        say("one less"),
        (0.0, -1.0),
    ),
}


def counted_page(way: RoundFlow, round_: Round, hive: str, part: int = 0) -> Page:
    """Return the keys for what the dose of a hive is counted by: seams, frames, comb sides."""
    look = way.flow.look
    basis = _BASES[round_.counts]
    last = round_.last_counted(hive)
    numbers = [basis.step * n + basis.parts[part] for n in range(1, MOST_KEYS + 1)]
    keys = [
        Key(look, _quarters(number), partial(way.counted, round_, hive, number), size="title")
        for number in numbers
    ]
    after = (part + 1) % len(basis.parts)
    acts = [
        Key(
            look,
            basis.more,
            lambda: way.flow.show_page(lambda: counted_page(way, round_, hive, after)),
        )
    ]
    if last is not None:
        acts.append(
            main_key(
                look,
                say("{seams} as last seen", seams=_quarters(last)),
                lambda: way.counted(round_, hive, last),
            )
        )
    return Page(
        look,
        head=[title(look, basis.asked(round_.spot(hive).number))],
        middle=[Grid(look, keys)],
        acts=acts,
        back=lambda: way.round(round_),
        name="seams",
    )
