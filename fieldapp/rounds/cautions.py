"""What must be said before a round, each on its own: facts, checks, and stops.

A *fact* is known from the records and confirmed with *as shown*. A *check* is asked; one that
nobody answers is stored as *not known*, never as yes. A *stop* stands apart, and the round
does not begin until it was met with an answer of its own.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import TYPE_CHECKING, Any, Literal, NamedTuple

from fieldapp.husbandry.days import as_date
from fieldapp.husbandry.state import HiveState, SuperState
from fieldapp.words import Phrase, count, say

if TYPE_CHECKING:
    from fieldapp.husbandry.library import Treatment

Answer = Literal["yes", "no", "not known"]

#: Names the stop for supers in a round's checks; *yes*: they come off at each hive, before it.
SUPERS_OFF_FIRST = "supers off first"

#: Ways of giving acid that put vapour, mist or fumes into the air where the keeper stands.
IN_THE_AIR = frozenset({"sublimation", "mist", "fogging", "vapour"})


class Check(NamedTuple):
    """Something to be asked before a round; `key` names it in the round's record.

    `yes` and `no` are its answers in words; `first` is what to do first where it is no.
    """

    key: str
    words: Phrase
    yes: Phrase = say("yes")
    no: Phrase = say("no")
    first: Phrase | None = None


class Stop(NamedTuple):
    """Something that must not be so; `hives` are those it concerns."""

    key: str
    words: Phrase
    hives: tuple[str, ...]


class Fact(NamedTuple):
    """Something that the records already say. `sign` is the role of its sign."""

    words: Phrase
    sign: Literal["done", "unknown", "late", "quiet"]


def in_the_air(body: Mapping[str, Any]) -> bool:
    """Return whether a round with these terms fills the air with something that burns lungs."""
    method = str(body["method"])
    return any(word in method for word in IN_THE_AIR) or "formic" in str(body["active"])


def takes_time(body: Mapping[str, Any]) -> bool:
    """Return whether giving it takes time at a hive: vapour runs, the entrance is closed."""
    return any(word in str(body["method"]) for word in IN_THE_AIR)


def checks(body: Mapping[str, Any], *, beard: bool | None) -> list[Check]:
    """Return what is asked at the start of a round with these terms (a ``terms`` body)."""
    asked: list[Check] = []
    if in_the_air(body):
        asked += [
            Check(
                "respirator",
                say("Respirator on: filters against particles and acid gas, opened in time"),
            ),
            Check("up wind", say("Everybody stands upwind")),
            Check("water", say("Water to rinse with is at hand")),
        ]
        if beard is not False:
            asked.insert(
                1, Check("seal", say("The mask seals on bare skin; over a beard it does not"))
            )
    worn = body["values"].get("protective")
    for line in worn["value"] if worn else ():
        if in_the_air(body) and "espirator" in line:
            continue
        asked.append(Check(f"worn: {line}"[:60], say("Worn: {what}", what=line)))
    if body["form"] != "act" and not worn:
        asked.append(Check("worn as on the label", say("Worn as the label in hand says")))
    return asked


def said(body: Mapping[str, Any]) -> tuple[str, ...]:
    """Return the cautions of the terms, in the order to say them."""
    lines = body["values"].get("cautions")
    return tuple(lines["value"]) if lines else ()


def of_substance(body: Mapping[str, Any], library: Iterable[Treatment]) -> tuple[str, ...]:
    """Return what every label of the library warns of with the substance of these terms.

    An own label may be silent where the substance is not harmless.
    """
    active = str(body["active"]).casefold()
    alike = [
        said({"values": {key: {"value": it.value} for key, it in each.values.items()}})
        for each in library
        if each.active.casefold() == active and each.form != "act"
    ]
    if not alike:
        return ()
    return tuple(line for line in alike[0] if all(line in lines for lines in alike))


def supers_wanted_off(body: Mapping[str, Any]) -> bool:
    """Return whether supers must be off: so it is wherever the terms do not allow them."""
    entry = body["values"].get("supers")
    return entry is None or entry["value"] != "allowed"


def stops(body: Mapping[str, Any], hives: Sequence[tuple[str, str, HiveState]]) -> list[Stop]:
    """Return the stops for hives given as id, number and state."""
    if not supers_wanted_off(body):
        return []
    on = [(hive, number) for hive, number, state in hives if supers_on(state)]
    if not on:
        return []
    numbers = ", ".join(number for _, number in on)
    return [
        Stop(
            SUPERS_OFF_FIRST,
            count(
                "Supers are on hive {numbers}. Take them off before treating.",
                "Supers are on hives {numbers}. Take them off before treating.",
                len(on),
                numbers=numbers,
            ),
            tuple(hive for hive, _ in on),
        )
    ]


def facts(body: Mapping[str, Any], hives: Sequence[tuple[str, str, HiveState]]) -> list[Fact]:
    """Return what the records say that bears on this round."""
    found: list[Fact] = []
    off = [state for _, _, state in hives if not supers_on(state)]
    since = max((state.supers_off_on or 0 for state in off), default=0)
    if off and len(off) == len(hives):
        if since:
            words = say("Supers: off on all hives since {day}", day=as_date(since))
            found.append(Fact(words, "done"))
        else:  # nobody ever wrote one down: for the rules none is on, for the eye that is no proof
            words = say("Supers: none on record. Are some on? Write them down first.")
            found.append(Fact(words, "unknown"))
    elif off:
        words = count(
            "Supers: off on {n} hive, by the records",
            "Supers: off on {n} hives, by the records",
            len(off),
        )
        found.append(Fact(words, "quiet"))
    if not body["published"]:
        found.append(
            Fact(
                say(
                    "No published label is known for this method in this country. "
                    "Honey stays closed until an authority or a veterinarian gives a period."
                ),
                "unknown",
            )
        )
    return found


def supers_on(state: HiveState) -> bool:
    """Return whether the records say that a super is on the hive."""
    return bool(supers_of(state))


def supers_of(state: HiveState) -> list[SuperState]:
    """Return the supers that the records say are on the hive."""
    return [each for each in state.supers if each.hive == state.hive]
