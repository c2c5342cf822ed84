"""A sentence not yet spoken: its text in English with named places, and what fills them.

Rules and use cases return phrases; phone, pages and papers speak them with `Speech`, so all
three say the same. The English text is the gettext msgid; Babel and xgettext find it because
every phrase is made by a call of `say` or `count` with literal texts.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from functools import reduce
from typing import NamedTuple, Union


class Degrees(NamedTuple):
    """A temperature in degC, spoken in the unit of the keeper's country.

    It is said to the tenth that it has, `about` it to the whole degree.
    """

    celsius: float
    about: bool = False


#: Has a phrase take the form of several, where no number says which.
_SEVERAL = 2

Arg = Union[str, int, float, date, Degrees, "Phrase"]


class Phrase(NamedTuple):
    """A text with ``{named}`` places; `plural` and `number` where the form follows a count."""

    text: str
    args: tuple[tuple[str, Arg], ...] = ()
    plural: str = ""
    number: int = 1


def say(text: str, /, **args: Arg) -> Phrase:
    """Return a phrase; keep `text` a literal so that it can be found for translation."""
    return Phrase(text, tuple(args.items()))


def count(one: str, many: str, n: int, /, **args: Arg) -> Phrase:
    """Return a phrase in two forms chosen by `n`, which also fills the place ``{n}``."""
    return Phrase(one, (("n", n), *args.items()), many, n)


def counted(unit: Phrase | str, amount: float) -> Phrase | str:
    """Return a unit in the form that goes with an amount: *1 strip*, *2 strips*, *0.5 strips*.

    One that has no forms, as *g*, stays as it is.
    """
    if isinstance(unit, str) or not unit.plural:
        return unit
    return unit._replace(number=int(amount) if amount == int(amount) else _SEVERAL)


def listed(words: Iterable[Phrase | str]) -> Phrase | str:
    """Return one or more words after each other: *left 4, right 3*."""
    return reduce(lambda some, more: say("{some}, {more}", some=some, more=more), words)
