"""The emergency number of a country, with how far it can be trusted."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import NamedTuple

from fieldapp.husbandry.countries import EU
from fieldapp.husbandry.library.errors import LibraryError
from fieldapp.words import Phrase, say

FILE = "emergency.toml"


class Emergency(NamedTuple):
    """Whom to call in `country`. `number` is None where none is known: look on the label."""

    country: str
    number: str | None
    standing: str

    @property
    def words(self) -> Phrase:
        """What to say above the first aid of a treatment."""
        if self.number is None:
            return say(
                "Emergency number of this country not known here. "
                "Poison centre: look on the product's label."
            )
        return say(
            "Emergency: {number} ({standing}). Poison centre: not known here, "
            "look on the product's label.",
            number=self.number,
            standing=self.standing,
        )


def emergency(folder: Path, country: str) -> Emergency:
    """Return whom to call in `country` (ISO 3166, a part of a country as its whole).

    `folder` holds ``emergency.toml``. Raises `LibraryError` where that file is not as it should be.
    """
    try:
        data = tomllib.loads((folder / FILE).read_text(encoding="utf-8"))
        numbers, standing = dict(data["numbers"]), str(data["standing"])
    except (tomllib.TOMLDecodeError, KeyError, TypeError, ValueError) as error:
        raise LibraryError(FILE, f"a standing and a table of numbers ({error})") from error
    whole = country[:2]
    number = numbers.get(whole) or (numbers.get("EU") if whole in EU else None)
    return Emergency(country, number, standing)
