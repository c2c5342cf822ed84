"""Safety takes the worse: one exposure of those that versions side by side make."""

from __future__ import annotations

from collections.abc import Sequence

from fieldapp.husbandry.boxes import Boxes
from fieldapp.husbandry.closing import Draft, Facts, application_cause
from fieldapp.husbandry.state import Cause, Exposure


def worst_exposures(branches: Sequence[Boxes]) -> dict[str, Exposure]:
    """Return each exposure at its worst over the branches; the first branch is what holds.

    A dose without pieces is an exposure of its day under the application's id. Earliest first
    in, most in, fewest out and lost, latest last out; the end is missing if any version lacks
    one.
    """
    found: dict[str, list[Exposure]] = {}
    for boxes in branches:
        for exposure in boxes.exposures.values():
            found.setdefault(exposure.id, []).append(exposure)
        for draft in boxes.drafts:
            if not draft.exposure:
                found.setdefault(draft.record, []).append(_of_dose(draft))
    held = branches[0].exposures
    return {name: _worst(each, held.get(name)) for name, each in found.items()}


def causes_at_worst(
    branches: Sequence[Boxes], worst: dict[str, Exposure], facts: Facts
) -> list[Cause]:
    """Return what each exposure closes at its worst, under the terms of every version."""
    found = []
    for boxes in branches:
        for draft in boxes.drafts:
            exposure = worst[draft.exposure or draft.record]
            cause = application_cause(draft, exposure, boxes.courses, facts)
            if cause is not None:
                found.append(cause)
    return found


def _of_dose(draft: Draft) -> Exposure:
    return Exposure(
        draft.record,
        draft.treatment,
        draft.terms,
        draft.day,
        draft.key,
        draft.key,
        0,
        last_out=draft.day,
        last_out_key=draft.key,
    )


def _worst(versions: list[Exposure], held: Exposure | None) -> Exposure:
    first = min(versions, key=lambda each: each.key)
    opened = [each for each in versions if each.open]
    most = max(versions, key=lambda each: (each.open, each.last_out_key or (0, 0, "", "")))
    into = None if any(each.into is None for each in versions) else _most_in(versions)
    out, lost = min(e.out for e in versions), min(e.lost for e in versions)
    remaining = 0
    if opened:
        remaining = max(each.remaining for each in versions)
        if into is not None:
            remaining = max(remaining, into - out - lost - min(_gone(each) for each in versions))
    flags = tuple(dict.fromkeys(flag for each in versions for flag in each.flags))
    records = tuple(dict.fromkeys(record for each in versions for record in each.records))
    return most._replace(
        first=min(each.first for each in versions),
        key=first.key,
        judged=min(each.judged for each in versions),
        into=into,
        out=out,
        lost=lost,
        not_found=max(each.not_found for each in versions),
        remaining=remaining,
        flags=flags,
        records=records,
        also=tuple(dict.fromkeys(name for each in versions for name in each.also)),
        unsure=tuple(dict.fromkeys(pair for each in versions for pair in each.unsure)),
        held=(held.first, held.last_out) if held is not None else None,
    )


def _gone(exposure: Exposure) -> int:
    """Return how many pieces went on to other boxes."""
    inside = (exposure.into or 0) - exposure.out - exposure.lost
    return max(0, inside - exposure.remaining)


def _most_in(versions: list[Exposure]) -> int:
    return max(each.into or 0 for each in versions)
