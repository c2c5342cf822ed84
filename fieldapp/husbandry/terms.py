"""The terms of a treatment as rules read them, made once from a ``terms`` record's body."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, NamedTuple

#: The only standings that can be the ground of *clear* or *suits*.
GOOD = frozenset({"read", "computed", "label in hand"})


class Source(NamedTuple):
    """Where a value of the terms comes from, in words, and its standing."""

    text: str
    standing: str


class Gap(NamedTuple):
    """Days between the applications of a course; None is not known."""

    least: int | None = None
    target: int | None = None
    most: int | None = None


class Range(NamedTuple):
    """How many applications make a course; None is not known, `most` None has no upper end."""

    least: int | None = None
    usual: int | None = None
    most: int | None = None

    @property
    def planned(self) -> int | None:
        """The number that a course is planned with where the keeper plans no other."""
        if self.usual is not None:
            return self.usual
        return self.least if self.least == self.most else None

    @property
    def surely(self) -> int:
        """The number up to which a course is inside the range whatever its upper end."""
        return next((n for n in (self.usual, self.least) if n is not None), 1)

    @property
    def several(self) -> bool:
        """Whether the label plans more than one application, or may."""
        numbers = (self.least, self.most) if self.usual is None else (self.usual,)
        return any(number is not None and number > 1 for number in numbers)


class Stay(NamedTuple):
    """How long pieces stay in, in days, under one condition."""

    when: str
    least: int | None = None
    most: int | None = None


class Period(NamedTuple):
    """A withdrawal period for honey: `form` ``days`` or ``next season's supers``."""

    form: str
    days: int | None
    honey_only: bool
    source: str
    standing: str
    record: str

    @property
    def zero(self) -> bool:
        """A published zero."""
        return self.form == "days" and self.days == 0


class Terms(NamedTuple):
    """What rules read of one treatment's label. None and an empty text: the terms do not say.

    `supers` is ``off``, ``off, whole course``, ``off, at applications``, ``allowed`` or empty,
    the last also where its standing cannot be a ground; `period` None where none is published
    with a standing that can be one, `period_shown` is then the figure to show beside.
    """

    id: str
    treatment: str
    name: str
    active: str
    method: str
    country: str
    form: str
    published: bool
    number: Range | None
    gap: Gap | None
    stay: tuple[Stay, ...]
    rest: tuple[int | None, int | None]
    limit: tuple[int, str] | None
    supers: str
    combs_exposed: bool
    period: Period | None
    period_shown: Period | None
    label_pieces: tuple[int, str] | None
    look_queen: int | None
    sources: Mapping[str, Source]

    @property
    def between(self) -> Gap | None:
        """The days between applications; None where each application is a course of its own."""
        if self.gap is not None:
            return self.gap
        return Gap() if self.number is not None and self.number.several else None

    def source(self, value: str) -> Source:
        """Return the source of a value by its key, an empty one where the terms lack it."""
        return self.sources.get(value, _NO_SOURCE)


_NO_SOURCE = Source("", "")


def _source_text(source: Mapping[str, Any]) -> str:
    parts = (source["title"], source.get("issuer"), source.get("year"), source.get("section"))
    return ", ".join(str(part) for part in parts if part)


def period_from(value: Mapping[str, Any], source: str, standing: str, record: str) -> Period | None:
    """Return a period from its body; None where it has the form ``days`` and no days."""
    form, days = value["form"], value.get("days")
    if form == "days" and days is None:
        return None
    return Period(form, days, bool(value.get("honey_only")), source, standing, record)


def terms_from(body: Mapping[str, Any], record: str) -> Terms:
    """Return the terms that a ``terms`` record's body holds; `record` is its root's id."""
    values = body["values"]
    names = {key: _source_text(source) for key, source in body["sources"].items()}
    sources = {
        key: Source(names.get(entry["source"], entry["source"]), entry["standing"])
        for key, entry in values.items()
    }

    def value(key: str) -> Any:
        entry = values.get(key)
        return None if entry is None else entry["value"]

    def ground(key: str) -> Any:
        entry = values.get(key)
        return entry["value"] if entry is not None and entry["standing"] in GOOD else None

    number, gap, rest = value("applications"), value("gap"), value("rest") or {}
    limit, period = value("limit"), value("period")
    shown = None
    if period is not None:
        shown = period_from(period, *sources["period"], record)
    published = body["published"] and shown is not None and shown.standing in GOOD
    return Terms(
        id=record,
        treatment=body["treatment"],
        name=body["name"],
        active=body["active"],
        method=body["method"],
        country=body.get("country", ""),
        form=body["form"],
        published=body["published"],
        number=None if number is None else Range(*map(number.get, Range._fields)),
        gap=Gap(*map(gap.get, Gap._fields)) if gap else None,
        stay=tuple(
            Stay(stay["when"], stay.get("least"), stay.get("most")) for stay in value("stay") or ()
        ),
        rest=(rest.get("days"), rest.get("months")),
        limit=None if limit is None else (limit["number"], limit["counts"]),
        supers=ground("supers") or "",
        combs_exposed=bool(value("combs_exposed")),
        period=shown if published else None,
        period_shown=shown,
        label_pieces=_label_pieces(value("dose") or ()),
        look_queen=value("look_queen"),
        sources=sources,
    )


def _label_pieces(doses: Any) -> tuple[int, str] | None:
    """Return the most pieces that the label gives and per what, None where it does not say."""
    most: tuple[int, str] | None = None
    for dose in doses:
        amount = dose.get("cap") or dose.get("most") or dose.get("amount")
        if amount is None or dose["unit"] not in ("piece", "tray", "tablet"):
            continue
        per = "colony" if dose["per"] in ("colony", "hive") or "cap" in dose else dose["per"]
        if most is not None and most[1] != per:
            return None
        most = (max(most[0] if most else 0, int(amount)), per)
    return most


def unknown_terms(treatment: str, record: str, pieces: bool) -> Terms:
    """Return terms that say nothing, for an application whose terms record has not arrived."""
    return Terms(
        id=record,
        treatment=treatment,
        name=treatment,
        active="",
        method="",
        country="",
        form="pieces" if pieces else "dose",
        published=False,
        number=None,
        gap=None,
        stay=(),
        rest=(None, None),
        limit=None,
        supers="",
        combs_exposed=False,
        period=None,
        period_shown=None,
        label_pieces=None,
        look_queen=None,
        sources={},
    )
