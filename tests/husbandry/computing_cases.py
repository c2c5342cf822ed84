"""What the tests of the computing share: the published tables, and terms made up for a case."""

from __future__ import annotations

from typing import Any

from fieldapp.assets import folder
from fieldapp.husbandry.mixing.recipe import Step
from fieldapp.husbandry.published import load

TABLES = load(folder("tables"))
BIOLOGY, CHEMISTRY, MEASURES = TABLES.biology, TABLES.chemistry, TABLES.measures


def terms(
    treatment: str = "XX/1/1/acid/trickle", form: str = "dose", **values: Any
) -> dict[str, Any]:
    """Return the body of a `terms` record; a value is (value, standing), or read if bare."""
    entries = {}
    for key, given in values.items():
        value, standing = given if isinstance(given, tuple) else (given, "read")
        entries[key] = {"value": value, "standing": standing, "source": "label"}
    return {
        "treatment": treatment,
        "name": "acid, trickled",
        "active": "acid",
        "method": "trickle",
        "form": form,
        "published": True,
        "values": entries,
        "sources": {"label": {"title": "An invented label", "issuer": "nobody", "year": 2024}},
    }


# Common practice, no source: three quarters of a US cup of water and four US tablespoons of
# oxalic acid, heated to 170 degF until clear, then a quarter cup of glycerol; six to eight hives.
PRACTICE = (
    Step("add", "water", 0.75, "US cup"),
    Step("add", "oxalic acid dihydrate", 4, "US tablespoon"),
    Step("heat", to=(170 - 32) / 1.8),
    Step("add", "glycerol", 0.25, "US cup", off_heat=True),
    Step("stir"),
)
