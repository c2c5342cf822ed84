"""The record that has a photo stand beside another."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from fieldapp.journal.record import Draft, Record
from fieldapp.rounds.notebook import Notebook


def with_photos(
    notebook: Notebook, drafts: Sequence[Draft], photos: Sequence[dict[str, Any]]
) -> list[Draft]:
    """Return drafts with photos beside the first of them."""
    if not photos or not drafts:
        return list(drafts)
    root = drafts[0]._replace(id=drafts[0].id or notebook.new_id())
    return [root, *drafts[1:], *(annex(notebook, root, root.id, body) for body in photos)]


def annex(
    notebook: Notebook, held: Record | Draft, root: str | None, body: Mapping[str, Any]
) -> Draft:
    """Return the annex that has a photo stand beside the record with the id `root`."""
    return Draft(
        "photo",
        notebook.moment(held.apiary),
        notebook.keeper or held.keeper,
        dict(body),
        apiary=held.apiary,
        hive=held.hive,
        adds_to=root,
    )
