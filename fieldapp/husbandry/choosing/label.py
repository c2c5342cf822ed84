"""A treatment's terms as choosing reads them: each value with how it is known."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Literal, NamedTuple

from fieldapp.husbandry.answers import Reason
from fieldapp.husbandry.figures import GROUNDS
from fieldapp.husbandry.vocabulary import word
from fieldapp.words import Phrase, say

Says = Literal["suits", "does not suit", "not known", "remark"]


class Finding(NamedTuple):
    """What one aspect says: *suits*, *does not suit*, *not known*, or a *remark* beside it."""

    aspect: str
    says: Says
    reason: Reason


class Label:
    """The body of a `terms` record, read value by value."""

    def __init__(self, terms: Mapping[str, Any]) -> None:
        self.treatment: str = terms["treatment"]
        self.name: str = terms["name"]
        self.method: str = terms["method"]
        self.form: str = terms["form"]
        self.published: bool = terms["published"]
        self._values: Mapping[str, Any] = terms["values"]
        self._sources: Mapping[str, Any] = terms["sources"]

    def value(self, key: str) -> Any:
        """Return the value of `key`, None where the terms lack it: *not known*."""
        entry = self._values.get(key)
        return None if entry is None else entry["value"]

    def grounds(self, key: str) -> bool:
        """Return whether the value may be the ground of *suits*."""
        return key in self._values and self._values[key]["standing"] in GROUNDS

    def found(
        self, aspect: str, key: str, says: Says, phrase: Phrase, records: tuple[str, ...] = ()
    ) -> Finding:
        """Return a finding that rests on the value of `key`.

        *Suits* on a value that was not read becomes *not known*, with what is missing.
        """
        entry = self._values.get(key, {})
        source = self._sources.get(entry.get("source", ""), {})
        cited = ", ".join(
            str(source[part])
            for part in ("title", "issuer", "year", "section", "country")
            if part in source
        )
        standing = entry.get("standing", "")
        if says == "suits" and not self.grounds(key):
            says = "not known"
            phrase = say("{what}: read it on the label in hand", what=phrase)
        return Finding(aspect, says, Reason(phrase, records, cited, standing))

    def missing(self, aspect: str) -> Finding:
        """Return the finding for a value that the terms lack but that may matter here."""
        text = say("{aspect}: not known, read it on the label in hand", aspect=word(aspect))
        return Finding(aspect, "not known", Reason(text))


def plain(aspect: str, says: Says, phrase: Phrase, records: tuple[str, ...] = ()) -> Finding:
    """Return a finding that rests on no value of the terms."""
    return Finding(aspect, says, Reason(phrase, records))
