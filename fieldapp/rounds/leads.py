"""Where a line of the agenda leads that no round can do: to stock, gear, honey, a register."""

from __future__ import annotations

from typing import Literal, NamedTuple

from fieldapp.husbandry.answers import Line

Where = Literal["stock", "lot", "thing", "honey lot", "harvest", "exposed", "premises"]


class Lead(NamedTuple):
    """A place in the program, and what it is about: a root's id, a lot's mark or an apiary."""

    where: Where
    about: str = ""


#: Lines about one record of the books, which is the first that their reasons name.
_OF_RECORD: dict[str, Where] = {"expiry": "lot", "change": "thing"}

#: Lines about an apiary.
_AT_APIARY: dict[str, Where] = {
    "honey_cleared": "harvest",
    "standstill": "premises",
    "report": "premises",
}


def lead_of(line: Line) -> Lead | None:
    """Return where a line leads; None where it stands for itself."""
    if line.task in ("buy", "records"):
        return Lead("stock")
    if line.task in _OF_RECORD:
        records = [record for reason in line.reasons for record in reason.records]
        return Lead(_OF_RECORD[line.task], records[0]) if records else Lead("stock")
    if line.task == "hold":
        mark = dict(line.what.args).get("lot")
        return Lead("honey lot", str(mark)) if mark is not None else None
    if line.task in _AT_APIARY and line.apiary is not None:
        return Lead(_AT_APIARY[line.task], line.apiary)
    return Lead("exposed") if line.task == "to_empty" else None
