"""Whose labels hold in a country. A country never borrows another's figures."""

from __future__ import annotations

#: ISO 3166-1 codes of the member states of the European Union.
# fmt: off
EU = frozenset({
    "AT", "BE", "BG", "CY", "CZ", "DE", "DK", "EE", "ES", "FI", "FR", "GR", "HR", "HU",
    "IE", "IT", "LT", "LU", "LV", "MT", "NL", "PL", "PT", "RO", "SE", "SI", "SK",
})
# fmt: on

#: Parts of a country whose labels are apart from the rest of it.
APART = frozenset({"GB-NIR"})


def offered(country: str) -> tuple[str, ...]:
    """Return the countries whose entries are offered in `country`, the nearest first.

    `country` is an ISO 3166 code: a country, or a part of one (``AU-NSW``), which has its
    country's entries too unless its labels are `APART`. A member of the European Union has
    the entries made from EU label texts, under ``EU``.
    """
    whole = country[:2]
    codes = [country]
    if whole != country and country not in APART:
        codes.append(whole)
    if whole in EU:
        codes.append("EU")
    return tuple(codes)
