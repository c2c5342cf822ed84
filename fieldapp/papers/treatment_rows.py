"""The lines of the treatments' table: hives that were given the same on a day stand together."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from fieldapp.husbandry.amounts import number_of
from fieldapp.husbandry.vocabulary import DAYS
from fieldapp.papers.amounts import amount_words
from fieldapp.papers.model import Sign, Treated
from fieldapp.words import Phrase, say

Said = tuple[Sign, Sequence[Phrase]]
Row = tuple[Said, ...]


def treatment_rows(treated: Sequence[Treated], lots: Mapping[str, str]) -> list[Row]:
    """Return the lines of one apiary's treatments, by day; `lots` are short references."""
    together: dict[tuple[object, ...], list[Treated]] = {}
    rows: dict[tuple[object, ...], Row] = {}
    for each in treated:
        row = _row(each, lots)
        under = (each.day, each.name, each.label, row)
        together.setdefault(under, []).append(each)
        rows[under] = row
    return [_with_hives(rows[under], group) for under, group in together.items()]


def _with_hives(row: Row, group: Iterable[Treated]) -> Row:
    numbers = ", ".join(each.hive or "?" for each in group)
    return (row[0], ("", (say("{hives}", hives=numbers),)), *row[1:])


def _row(each: Treated, lots: Mapping[str, str]) -> Row:
    """Return a line without its hives."""
    amount = [amount_words(each)]
    if each.record.body.get("part"):
        amount.append(say("part dose"))
    named = [lots[lot.id] for lot in each.lots if lot.id in lots]
    label = say("{label}", label=each.label) if each.label else say("label not known")
    return (
        ("", (say("{day}", day=each.day),)),
        ("", (say("{name}", name=each.name), label)),
        (_course_sign(each), tuple(_course(each))),
        ("unknown" if each.amount is None and each.pieces is None else "", tuple(amount)),
        ("", (say("{lots}", lots=", ".join(named)),))
        if named
        else ("unknown", (say("not known"),)),
        ("" if each.withdrawal.known else "unknown", tuple(_withdrawal(each))),
        (
            ("", (say("{day}", day=each.honey_from),))
            if each.honey_from
            else ("closed", (say("not known"),))
        ),
        ("", (say("{who}", who=each.person),)) if each.person else ("unknown", (say("not known"),)),
        ("", (*_change(each), *each.remarks)),
    )


def _course_sign(each: Treated) -> Sign:
    if each.pieces_state == "not known":
        return "unknown"
    return "due" if each.pieces_state == "in" else ""


def _course(each: Treated) -> Iterable[Phrase]:
    if each.k is not None and each.n is not None:
        yield say("{k} of {n}", k=each.k, n=each.n)
    elif each.k is not None:
        yield say("{k}, planned number not known", k=each.k)
    if each.last is not None and each.first is not None and each.last != each.first:
        yield say("{first} to {last}", first=each.first, last=each.last)
    elif each.last is None and each.first is not None:
        yield say("since {first}", first=each.first)
    if each.days is not None:
        yield number_of(each.days, DAYS)
    if each.pieces_state == "in":
        yield say("pieces in")
    elif each.pieces_state == "not known":
        yield say("pieces in: how many is not known")
    elif each.pieces_out is not None:
        yield say("pieces out {day}", day=each.pieces_out)


def _withdrawal(each: Treated) -> Iterable[Phrase]:
    yield each.withdrawal.words
    if each.withdrawal.known:
        yield say("{standing}", standing=each.withdrawal.standing)


def _change(each: Treated) -> Iterable[Phrase]:
    if each.change is not None:
        yield say("corrected: C{n}", n=each.change)
