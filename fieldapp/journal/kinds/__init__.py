"""Every kind of record, by name and version: what it is about and what its body holds.

The tables of this package are the vocabulary of the product. A kind that once stood here
never changes: a new meaning is a new version beside the old one, because old journals must
open for ever. ``docs/records.md`` is made from these tables.
"""

from __future__ import annotations

from fieldapp.journal.kinds import harvest, labels, ledger, looks, meta, places, treating
from fieldapp.journal.kinds.kind import Kind

KINDS: dict[tuple[str, int], Kind] = {
    (kind.name, kind.version): kind
    for module in (places, labels, treating, looks, harvest, ledger, meta)
    for kind in module.KINDS
}

__all__ = ["KINDS", "Kind"]
