"""The first records of a round, from what was said before it; and the round under way."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from fieldapp.journal.record import Draft
from fieldapp.rounds.giving import Giving
from fieldapp.rounds.notebook import Notebook
from fieldapp.rounds.round import Round

if TYPE_CHECKING:
    from fieldapp.rounds.starting import Start


def begin(start: Start) -> Round:
    """Write terms, label line and plan where they are new, and the round; return the round.

    Raises `TreatmentGone` where neither the records nor the library have the treatment.
    """
    notebook, body = start.notebook, start.body
    drafts: list[Draft] = []
    if start.treatment not in notebook.book.terms():
        drafts.append(_draft(start, "terms", body))
    if start.label is not None:
        drafts.append(start.label.draft(notebook, start.treatment, body["name"], start.apiary))
    named: dict[str, Any] = {}
    if start.plan is not None:
        named["plan"] = notebook.new_id()
        drafts.append(_draft(start, "plan", start.plan.body)._replace(id=named["plan"]))
    if start.lot is not None and start.lot.mixed:
        named["batch"] = start.lot.id
    asked = {check.key: start.answers.get(check.key, "not known") for check in start.checks()}
    drafts.append(
        _draft(
            start,
            "round",
            {
                "treatment": start.treatment,
                "task": start.task,
                "hives": list(start.hives),
                **named,
                "checks": asked | start.met,
            },
        )
    )
    record = notebook.write(drafts)[-1]
    lot = start.lot.id if start.lot is not None else None
    Giving(start.amount, lot, start.times, start.strokes, start.did).keep(notebook, record.id)
    if start.task == "treat":
        notebook.local.put(f"amount of {start.treatment}", list(start.amount))
    notebook.local.put("round", record.id)
    notebook.local.put("apiary", start.apiary)
    return Round(notebook, record)


def under_way(notebook: Notebook) -> Round | None:
    """Return the round that this phone was in when it was last used, if it has not ended."""
    kept = notebook.local.get("round")
    if not isinstance(kept, str):
        return None
    record = notebook.journal.by_id(kept)
    if record is None or record.kind != "round":
        return None
    return Round(notebook, record)


def _draft(start: Start, kind: str, body: dict[str, Any]) -> Draft:
    notebook, apiary = start.notebook, start.apiary
    return Draft(kind, notebook.moment(apiary), notebook.keeper or "", body, apiary=apiary)
