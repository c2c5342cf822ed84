"""Safety takes the worse: one exposure out of what it is in each of several worlds."""

from __future__ import annotations

from copy import copy
from dataclasses import replace

from oracle_state import Exposure
from oracle_walk import Walked


def worst_exposures(walks: list[Walked]) -> dict[str, list[Exposure]]:
    """Return for each hive its exposures; with several worlds, each one at its worst.

    Earliest first in, most in, fewest out and lost, latest last out; an end is missing if any
    version lacks one.
    """
    if len(walks) == 1:
        return {hive: list(b.exposures) for hive, b in walks[0].yard.boxes.items()}
    versions: dict[str, dict[str, list[Exposure]]] = {}
    for walked in walks:
        for hive, boxes in walked.yard.boxes.items():
            for exposure in boxes.exposures:
                versions.setdefault(hive, {}).setdefault(exposure.id, []).append(exposure)
    return {hive: [_worst(of_one) for of_one in by_id.values()] for hive, by_id in versions.items()}


def worst_by_terms(walked: Walked, worst: dict[str, list[Exposure]], hive: str) -> list[Exposure]:
    """Return the worst of each exposure of a hive under the terms that this world gives it."""
    of_hive = {exposure.id: exposure for exposure in worst.get(hive, [])}
    mine = walked.yard.boxes[hive].exposures if hive in walked.yard.boxes else []
    return [
        replace(of_hive[e.id], treatment=e.treatment, own=e.own, course_terms=e.course_terms)
        for e in mine
    ]


def _worst(versions: list[Exposure]) -> Exposure:
    worst = copy(versions[0])
    worst.names = {name for version in versions for name in version.names}
    worst.flags = {flag for version in versions for flag in version.flags}
    worst.pieces = any(version.pieces for version in versions)
    worst.first = min(version.first for version in versions)
    worst.start = min(version.start for version in versions)
    worst.judged_from = min(version.judged_from for version in versions)
    worst.out = min(version.out for version in versions)
    worst.lost = min(version.lost for version in versions)
    worst.missing = max(version.missing for version in versions)
    unknown = any(version.put_in is None for version in versions)
    worst.put_in = None if unknown else max(version.put_in or 0 for version in versions)
    if not any(version.open for version in versions):
        worst.present = 0
    elif worst.put_in is None or any(version.present is None for version in versions):
        worst.present = None
    else:
        worst.present = max(version.present or 0 for version in versions)
        gone = min(_gone(version) for version in versions)
        worst.present = max(worst.present, worst.put_in - worst.out - worst.lost - gone)
    if worst.open:
        worst.last_out = worst.end = None
    else:
        worst.last_out = max(v.last_out for v in versions if v.last_out is not None)
        worst.end = max(v.end for v in versions if v.end is not None)
    return worst


def _gone(exposure: Exposure) -> int:
    """Return how many pieces went on to other boxes."""
    inside = (exposure.put_in or 0) - exposure.out - exposure.lost
    return max(0, inside - (exposure.present or 0))
