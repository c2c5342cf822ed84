"""A round: the next hive in one large field, always in the same place."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from fieldapp.rounds.round import Round
from fieldapp.rounds.spots import WHY, Spot
from fieldapp.screens.block import Block, Row, Space, Words
from fieldapp.screens.grid import Grid
from fieldapp.screens.keys import BigField, Key
from fieldapp.screens.page import Page
from fieldapp.screens.parts import main_key, title
from fieldapp.screens.tell import Tell
from fieldapp.screens.theme import APART, SPACE, Role
from fieldapp.words import Phrase, say

if TYPE_CHECKING:
    from fieldapp.screens.flow import Flow

#: How a hive that was done, passed over or is open is shown.
SIGNS: dict[str, Role] = {"done": "done", "skipped": "late", "open": "quiet"}
MARKS: dict[str, Phrase] = {
    "done": say("done"),
    "skipped": say("not done"),
    "open": say("open"),
}
#: Seams up to which there is a key; more are rare, and go in as another amount.
MOST_SEAMS = 20


def page(flow: Flow, round_: Round, told: Phrase | None = None) -> Page:
    """Return the round's main page."""
    look = flow.look
    last = round_.last
    flow.until(None if last is None else last.ends)
    if last is not None:
        answer: tuple[Role, Phrase] = (SIGNS[last.mark], last.did)
        keys = [
            Key(look, say("Undo"), lambda: flow.undo(round_)),
            Key(look, say("Not like that"), lambda: flow.not_like_that(round_, last.hive)),
        ]
    else:
        answer = ("quiet", told or _progress(round_))
        keys = [
            Key(look, say("Other hive"), lambda: flow.out_of_order(round_)),
            Key(look, say("End round"), lambda: flow.summary(round_)),
        ]
    middle: list[Block] = []
    if last is not None or told is not None:
        middle.append(Words(look, _progress(round_)))
    middle += [Words(look, round_.name), Words(look, round_.place)]
    return Page(
        look,
        head=[Tell(look, *answer, "title", bold=True)],
        low_head=[Tell(look, *answer, "small", bold=True)],
        middle=middle,
        foot=[Row(look, keys, APART), Space(look, APART - 2 * SPACE), _field(flow, round_)],
        back=lambda: flow.summary(round_),
        turns=False,
        name="round",
    )


def _progress(round_: Round) -> Phrase:
    return say("{passed} of {all} hives", passed=round_.passed, all=len(round_.spots))


def _field(flow: Flow, round_: Round) -> BigField:
    spot = round_.next
    if spot is None:
        return BigField(
            flow.look,
            say("All {n}", n=len(round_.spots)),
            lambda: flow.end_round(round_),
            above=say("The walk is done"),
            gets=say("End round"),
        )
    return BigField(
        flow.look,
        say("Hive {number}", number=spot.number),
        lambda: flow.tap_hive(round_, spot.hive),
        above=say("Next: tap when you start it"),
        gets=round_.gets(spot.hive),
        stop=round_.warning(spot.hive),
    )


def grid_page(flow: Flow, round_: Round) -> Page:
    """Return all hives of the round, for one out of order."""
    look = flow.look
    after = round_.next
    keys = [_grid_key(flow, round_, spot) for spot in round_.spots]
    if after is not None:
        keys.append(
            Key(
                look,
                say("Pass over hive {number}", number=after.number),
                lambda: flow.why_skipped(round_, after.hive),
            )
        )
    return Page(
        look,
        head=[title(look, say("Which hive?"))],
        middle=[Grid(look, keys)],
        back=lambda: flow.round(round_),
        name="grid",
    )


def _grid_key(flow: Flow, round_: Round, spot: Spot) -> Key:
    def tapped() -> None:
        if spot.mark == "open":
            flow.tap_hive(round_, spot.hive)
        else:
            flow.not_like_that(round_, spot.hive)

    return Key(
        flow.look,
        spot.number,
        tapped,
        under=[(MARKS[spot.mark], "small")],
        size="title",
        sign=SIGNS[spot.mark],
    )


def otherwise_page(flow: Flow, round_: Round, hive: str) -> Page:
    """Return what may have been otherwise with a hive just logged."""
    look = flow.look
    spot = round_.spot(hive)
    keys = [
        Key(look, say("Not done"), lambda: flow.why_skipped(round_, hive)),
        Key(look, say("Dead"), lambda: flow.answered(round_, round_.skip(hive, "dead"))),
    ]
    if spot.mark == "skipped":
        keys.append(Key(look, say("Done after all"), lambda: flow.tap_hive(round_, hive)))
    elif round_.task == "treat":
        keys += [
            Key(
                look,
                say("Supers were on"),
                lambda: flow.answered(round_, round_.supers_found_on(hive)),
            ),
            Key(look, say("Part dose"), lambda: flow.answered(round_, round_.part_dose(hive))),
        ]
        if round_.amounts_differ:
            keys.append(Key(look, say("Other amount"), lambda: flow.other_amount(round_, hive)))
    elif round_.task == "pieces":
        keys.append(
            Key(
                look,
                say("Pieces by number"),
                lambda: flow.looks.pieces_otherwise(round_, hive),
            )
        )
    return Page(
        look,
        head=[title(look, say("Hive {number}: what was it?", number=spot.number))],
        middle=[Grid(look, keys)],
        back=lambda: flow.round(round_),
        name="otherwise",
    )


def why_page(flow: Flow, round_: Round, hive: str) -> Page:
    """Return the reasons for passing a hive over."""
    look = flow.look
    number = round_.spot(hive).number
    keys = [Key(look, words, partial(_skip, flow, round_, hive, why)) for why, words in WHY.items()]
    return Page(
        look,
        head=[title(look, say("Hive {number} not done: why?", number=number))],
        middle=[Grid(look, keys)],
        back=lambda: flow.round(round_),
        name="why",
    )


def _skip(flow: Flow, round_: Round, hive: str, why: str) -> None:
    flow.answered(round_, round_.skip(hive, why))


class Steps:
    """An amount being changed in steps of one and of a quarter."""

    def __init__(self, round_: Round, hive: str) -> None:
        self.round = round_
        self.hive = hive
        self.amount, self.unit = round_.amount_of(hive)

    def add(self, step: float) -> None:
        """Go a step up or down, never under zero."""
        self.amount = max(0.0, self.amount + step)


def amount_page(flow: Flow, steps: Steps) -> Page:
    """Return the page that asks how much a hive really got."""
    look = flow.look
    round_, hive = steps.round, steps.hive

    def key(words: str, step: float) -> Key:
        def tapped() -> None:
            steps.add(step)
            flow.again()

        return Key(look, words, tapped, size="title")

    return Page(
        look,
        head=[
            title(look, say("Hive {number}: how much?", number=round_.spot(hive).number)),
            Words(look, round_.said(steps.amount), "title", bold=True),
        ],
        middle=[Grid(look, [key("+ 1", 1), key("+ ¼", 0.25), key("- 1", -1), key("- ¼", -0.25)])],
        acts=[
            main_key(
                look,
                say("This much"),
                lambda: flow.answered(round_, round_.other_amount(hive, steps.amount)),
            ),
        ],
        back=lambda: flow.round(round_),
        name="steps",
    )


def _seams(seams: float) -> str:
    """Return seams to the quarter, as counted: 6 ¼."""
    whole, part = divmod(round(seams * 4), 4)
    return f"{whole}{('', ' ¼', ' ½', ' ¾')[part]}"


def seams_page(flow: Flow, round_: Round, hive: str, quarter: float = 0.0) -> Page:
    """Return the keys for the occupied seams of a hive, to the quarter."""
    look = flow.look
    after = {0.0: 0.25, 0.25: 0.5, 0.5: 0.75, 0.75: 0.0}[quarter]
    last = round_.last_seams(hive)
    keys = [
        Key(
            look,
            _seams(seams + quarter),
            partial(flow.seams, round_, hive, seams + quarter),
            size="title",
        )
        for seams in range(1, MOST_SEAMS + 1)
    ]
    acts = [
        Key(
            look,
            say("a quarter more"),
            lambda: flow.show_page(lambda: seams_page(flow, round_, hive, after)),
        )
    ]
    if last is not None:
        acts.append(
            main_key(
                look,
                say("{seams} as last seen", seams=_seams(last)),
                lambda: flow.seams(round_, hive, last),
            )
        )
    return Page(
        look,
        head=[title(look, say("Hive {number}: seams?", number=round_.spot(hive).number))],
        middle=[Grid(look, keys)],
        acts=acts,
        back=lambda: flow.round(round_),
        name="seams",
    )
