"""What passing a hive over tells of it, beside the reason."""

from __future__ import annotations

from typing import Any

from fieldapp.husbandry.state import HiveState
from fieldapp.rounds.cautions import supers_on


def told_by(why: str, state: HiveState) -> list[tuple[str, dict[str, Any]]]:
    """Return the records, as kind and body, that a reason implies and the book does not have.

    A dead colony is dead, one without a queen was seen to be so, and supers that nobody
    recorded are on.
    """
    if why == "dead" and state.dead is None:
        return [("death", {})]
    if why == "queenless":
        return [("look", {"queen": "queenless"})]
    if why == "supers on" and not supers_on(state):
        return [("super_on", {})]
    return []
