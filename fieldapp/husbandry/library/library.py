"""The treatment library: every treatment that ships, by identity and by country."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from fieldapp.husbandry.countries import offered
from fieldapp.husbandry.library.errors import LibraryError
from fieldapp.husbandry.library.treatment import Treatment


class Library:
    """Treatments by identity. `version` goes into every ``terms`` record made from it."""

    def __init__(self, version: str, treatments: Iterable[Treatment]) -> None:
        self.version = version
        self._by_identity: dict[str, Treatment] = {}
        for treatment in treatments:
            if treatment.identity in self._by_identity:
                raise LibraryError(treatment.identity, "one treatment under this identity, not two")
            self._by_identity[treatment.identity] = treatment

    def __iter__(self) -> Iterator[Treatment]:
        return iter(self._by_identity.values())

    def __len__(self) -> int:
        return len(self._by_identity)

    def get(self, identity: str) -> Treatment | None:
        """Return the treatment of this identity, None where the library has none."""
        return self._by_identity.get(identity)

    def treatments(self, country: str) -> list[Treatment]:
        """Return what is offered in `country` (ISO 3166), by name.

        That is the country's own labels, EU label texts in the European Union, and the methods
        that have no label anywhere. A country that the library does not know gets the last only.
        """
        codes = {*offered(country), None}
        found = [each for each in self._by_identity.values() if each.country in codes]
        return sorted(found, key=lambda each: (each.name, each.identity))
