"""What hives would be with records that nobody has written yet: by the rules, and kept nowhere."""

from __future__ import annotations

from collections.abc import Sequence

from fieldapp.husbandry.operation import Operation
from fieldapp.husbandry.state import HiveState
from fieldapp.journal.record import Draft, Record

#: Above every stamp that a clock of our days gives, and still understood.
_LATER = "e{:015x}"
_NOBODY = "0" * 32


def supposed(operation: Operation, drafts: Sequence[Draft]) -> dict[str, HiveState]:
    """Return the state of each hive that these drafts would touch, were they written now.

    Each draft has its id. `operation` takes them in and answers nothing afterwards.
    """
    touched = operation.take(_record(draft, at) for at, draft in enumerate(drafts, 1))
    states = {hive: operation.state(hive) for hive in sorted(touched)}
    operation.let_go()
    return states


def _record(draft: Draft, at: int) -> Record:
    """Return a draft as the record that a journal would make of it, after all others."""
    if draft.id is None:
        raise ValueError(f"a draft of {draft.kind} without an id")
    return Record(
        draft.id,
        draft.kind,
        draft.v,
        draft.happened,
        _LATER.format(at),
        _NOBODY,
        at,
        draft.keeper,
        draft.body,
        *draft[5:12],
    )
