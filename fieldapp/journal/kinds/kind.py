"""The form of one entry in the table of kinds."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from fieldapp.journal.fields import Check, Field, shape


@dataclass(frozen=True, slots=True)
class Kind:
    """One kind of record and version: what its envelope must name, and its body.

    `needs` lists the envelope's fields beyond the common ones that must stand (``apiary``,
    ``hive``, ``colony``, ``adds_to``); the others may stand wherever they are known.
    """

    name: str
    means: str
    body: Mapping[str, Field]
    needs: tuple[str, ...] = ()
    version: int = 1
    check: Check = field(init=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "check", shape(self.body))
