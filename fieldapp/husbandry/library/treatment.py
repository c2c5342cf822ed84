"""One treatment of the library: a country's label of an active substance and a method."""

from __future__ import annotations

import re
from collections.abc import Mapping
from copy import deepcopy
from dataclasses import dataclass
from typing import Any, NamedTuple

_NOT_IN_KEY = re.compile(r"[^A-Za-z0-9]+")


class Source(NamedTuple):
    """Where a figure stands. `covers`: the countries for whose labels it speaks, if any.

    `issuer` and `year` are None where they are not known; a value from such a source is never
    more than *reported*.
    """

    title: str
    issuer: str | None
    year: int | None
    section: str | None
    country: str | None
    note: str | None
    covers: frozenset[str]

    @property
    def complete(self) -> bool:
        """Whether title, issuer and year are all known."""
        return bool(self.title and self.issuer and self.year)

    def body(self) -> dict[str, Any]:
        """Return the source as a ``terms`` record carries it."""
        fields = self._asdict()
        del fields["covers"]
        return {name: value for name, value in fields.items() if value is not None}


class Value(NamedTuple):
    """One value of a label: how it is known, the key of its source, its row in the docs."""

    value: Any
    standing: str
    source: str
    row: str


@dataclass(frozen=True, slots=True)
class Treatment:
    """A way of treating as one country's label has it, or a method without a label.

    `values` is keyed as `fieldapp.journal.kinds.labels.VALUES`; a value that is missing is
    *not known*, never zero. `country` is None for methods that no country's label describes.
    `published` is False where a substance is given by a method without a published label; a
    method that puts no substance into the hive has nothing to publish and is True.
    """

    name: str
    active: str
    method: str
    country: str | None
    label: str
    version: str
    form: str
    published: bool
    values: Mapping[str, Value]
    sources: Mapping[str, Source]
    library: str

    @property
    def identity(self) -> str:
        """The library key: country, label, version, active substance, method."""
        country = self.country or "any"
        rest = (self.label, self.version, self.active, self.method)
        return "/".join((country, *(_NOT_IN_KEY.sub("-", part).strip("-") for part in rest)))

    def terms_body(self) -> dict[str, Any]:
        """Return the body of the ``terms`` record that fixes this treatment at its first use.

        The body shares nothing with the library: whoever gets it may change it.
        """
        body: dict[str, Any] = {
            "treatment": self.identity,
            "name": self.name,
            "active": self.active,
            "method": self.method,
            "label": f"{self.label}, version {self.version}",
            "form": self.form,
            "published": self.published,
            "library": self.library,
            "values": {key: deepcopy(value._asdict()) for key, value in self.values.items()},
            "sources": {key: source.body() for key, source in self.sources.items()},
        }
        if self.country is not None:
            body["country"] = self.country
        return body
