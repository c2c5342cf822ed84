"""Before a round: stops first, then facts, cautions and checks, each on its own."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fieldapp.rounds.cautions import Answer, Check, Stop
from fieldapp.rounds.giving import Did
from fieldapp.rounds.starting import Start
from fieldapp.screens.block import Block, Row, Words
from fieldapp.screens.keys import Key
from fieldapp.screens.page import Page
from fieldapp.screens.parts import heading, main_key, title
from fieldapp.screens.tell import Tell
from fieldapp.screens.theme import SPACE, Role
from fieldapp.words import Phrase, count, say

if TYPE_CHECKING:
    from fieldapp.screens.round_flow import RoundFlow

#: What a check becomes with the next tap on it.
_NEXT: dict[Answer, Answer] = {"not known": "yes", "yes": "no", "no": "not known"}
_DID: dict[Did, Phrase] = {
    "out": say("Take the pieces out"),
    "moved": say("Move the pieces in the hive"),
}
_SIGN: dict[Answer, Role] = {"not known": "unknown", "yes": "done", "no": "late"}


def page(way: RoundFlow, start: Start) -> Page:
    """Return the page before a round."""
    look = way.flow.look
    stops = start.stops()
    middle: list[Block] = []
    for stop in stops:
        middle += _stop(way, start, stop)
    if start.task == "treat":
        middle.append(Words(look, say("Each hive: {amount}", amount=start.gets), "title"))
    middle += [Tell(look, fact.sign, fact.words) for fact in start.facts()]
    if start.task == "pieces":
        middle.append(Tell(look, "due", _DID[start.did], bold=True))
    if len(start.amounts) > 1:
        middle.append(
            Key(look, say("Another amount"), lambda: way.ask_amount(start), centred=False)
        )
    if start.takes_time:
        middle.append(_times(way, start))
    if start.applicators:
        middle.append(_applicator(way, start))
    if start.lots:
        middle.append(_lot(way, start))
    if start.plannable:
        middle.append(_plan(way, start))
    middle += [Tell(look, "late", caution, "small") for caution in start.cautions()]
    checks = start.checks()
    if checks:
        middle.append(heading(look, say("Tap what is so. What you leave is kept as not known.")))
    for check in checks:
        middle.append(_check(way, start, check))
        if check.first is not None and start.answers.get(check.key) == "no":
            middle.append(Tell(look, "late", check.first, bold=True))
    acts: list[Key] = []
    if not stops and start.hives:
        acts.append(main_key(look, say("As shown: begin"), lambda: way.begin(start)))
    return Page(
        look,
        head=[
            title(look, start.body["name"]),
            Words(
                look,
                say(
                    "{apiary}, {hives}",
                    apiary=start.place,
                    hives=count("{n} hive", "{n} hives", len(start.hives)),
                ),
                "small",
            ),
        ],
        low_head=[Words(look, start.body["name"], bold=True)],
        middle=middle,
        acts=acts,
        back=way.flow.due,
        name="start",
    )


def _stop(way: RoundFlow, start: Start, stop: Stop) -> list[Block]:
    def leave_out() -> None:
        start.leave_out(stop)
        way.prepare(start)

    def accept() -> None:
        start.accept(stop)
        way.prepare(start)

    look = way.flow.look
    return [
        Tell(look, "late", stop.words, bold=True),
        Row(
            look,
            [
                Key(look, say("Off first, at each hive"), accept),
                Key(look, say("Leave them out"), leave_out),
            ],
            SPACE,
        ),
    ]


def _lot(way: RoundFlow, start: Start) -> Key:
    def tapped() -> None:
        start.turn_lot()
        way.flow.again()

    words = start.lot.name if start.lot is not None else say("not known: nothing is taken off")
    return Key(
        way.flow.look,
        say("Taken from"),
        tapped,
        under=[(words, "small")],
        sign="quiet" if start.lot is not None else "unknown",
        centred=False,
    )


def _times(way: RoundFlow, start: Start) -> Key:
    return Key(
        way.flow.look,
        say("Time a hive"),
        lambda: way.times(start),
        under=[(start.times.words, "small")],
        sign="quiet" if start.times.whole else "unknown",
        centred=False,
    )


def _applicator(way: RoundFlow, start: Start) -> Key:
    def tapped() -> None:
        start.turn_applicator()
        way.flow.again()

    strokes = start.strokes
    words = strokes.words if strokes is not None else say("not said: no strokes are logged")
    return Key(
        way.flow.look,
        say("Given with"),
        tapped,
        under=[(start.applicator_name, "small"), (words, "small")],
        sign="quiet" if strokes is not None and strokes.number else "unknown",
        centred=False,
    )


def _plan(way: RoundFlow, start: Start) -> Key:
    plan = start.plan
    words = plan.words if plan is not None else say("none: as the label has it")
    return Key(
        way.flow.look,
        say("Own plan"),
        lambda: way.plan(start),
        under=[(words, "small")],
        centred=False,
    )


def _check(way: RoundFlow, start: Start, check: Check) -> Key:
    answer = start.answers.get(check.key, "not known")

    def tapped() -> None:
        start.answer(check.key, _NEXT[answer])
        way.flow.again()

    said = {"not known": say("not answered"), "yes": check.yes, "no": check.no}
    return Key(
        way.flow.look,
        check.words,
        tapped,
        under=[(said[answer], "small")],
        sign=_SIGN[answer],
        centred=False,
    )
