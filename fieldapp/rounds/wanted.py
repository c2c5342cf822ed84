"""What the law of the apiaries' countries wants of a record that is being written."""

from __future__ import annotations

from fieldapp.husbandry.ledger import required
from fieldapp.rounds.notebook import Notebook


def wanted(notebook: Notebook, kind: str) -> frozenset[str]:
    """Return the fields of a kind of record that the record book wants."""
    countries = [place.country for place in notebook.book.apiaries(notebook.today())]
    return frozenset(required.fields_of(kind, required.laws(countries)))
