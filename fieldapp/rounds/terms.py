"""The terms of a treatment as they hold on this phone."""

from __future__ import annotations

from typing import Any

from fieldapp.rounds.errors import TreatmentGone
from fieldapp.rounds.notebook import Notebook

#: With this begins the identity of an own treatment.
OWN = "own/"


def terms_body(notebook: Notebook, treatment: str) -> dict[str, Any]:
    """Return the body of the terms: those fixed at the first use, else the library's.

    Raises `TreatmentGone` where neither has it.
    """
    terms = notebook.book.terms().get(treatment)
    if terms is not None:
        record = notebook.journal.by_id(terms.id)
        if record is not None:
            return dict(record.body)
    known = notebook.library.get(treatment)
    if known is None:
        raise TreatmentGone(treatment)
    return known.terms_body()
