"""What is asked of a label itself before its values, and the small answers that make its terms."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date
from typing import Any

from fieldapp.husbandry.library import Treatment
from fieldapp.husbandry.library.own import seen_on, silent_in
from fieldapp.rounds import own_answers
from fieldapp.rounds.cautions import in_the_air
from fieldapp.rounds.desk_form import Dated, Question, Written
from fieldapp.rounds.look_form import Choice, Number
from fieldapp.rounds.own_questions import SILENT, Values
from fieldapp.rounds.setup import COUNTRIES
from fieldapp.words import Speech, say

_YES_NO = (("yes", say("yes")), ("no", say("no")))
_FORMS = (
    ("dose", say("given at once: nothing stays in the hive")),
    ("pieces", say("pieces stay in and are taken out: strips, trays, tablets")),
)


def about_the_label(
    values: Values, library: Iterable[Treatment], today: date, speak: Speech
) -> list[Question]:
    """Return what is asked before any value: the substance, the method, and which label it is.

    `speak` says in the keeper's language what the treatment may be called.
    """
    chemical = [each for each in library if each.form != "act"]
    actives = sorted({each.active for each in chemical})
    methods = sorted({each.method for each in chemical})
    names: Sequence[str] = ()
    if "active" in values and "method" in values:
        active, method = (speak(str(values[each])) for each in ("active", "method"))
        names = (f"{active}, {method}"[:80],)
    recent = tuple(date.fromordinal(today.toordinal() - back) for back in range(3))
    return [
        Written("active", say("Which active substance?"), 80, tuple(actives), needed=True),
        Written("method", say("How is it given?"), 60, tuple(methods), needed=True),
        Choice(
            "air",
            say("Does giving it put vapour, mist or fumes into the air?"),
            _YES_NO,
            needed=True,
        ),
        Choice("form", say("Given at once, or does it stay in?"), _FORMS, needed=True),
        Written("name", say("Its name in your lists?"), 80, tuple(names), needed=True),
        Written("label", say("Which label: its name and number?"), 120, needed=True),
        Written("issuer", say("Who issued the label?"), 200),
        Number("year", say("Of which year is it?"), 2200, least=1800, unit=say("(year)")),
        Choice(
            "country",
            say("For which country is the label?"),
            tuple((country.code, country.name) for country in COUNTRIES),
            needed=True,
        ),
        Dated(
            "seen",
            say("When did you read it?"),
            today.year - 5,
            today.year,
            recent,
            needed=True,
        ),
    ]


def answers_of(body: dict[str, Any]) -> dict[str, Any]:
    """Return the small answers that make a body, to be put right."""
    source = body["sources"].get("label", {})
    found: dict[str, Any] = {
        "active": body["active"],
        "method": body["method"],
        "air": "yes" if in_the_air(body) else "no",
        "form": body["form"],
        "name": body["name"],
        "label": body.get("label"),
        "issuer": source.get("issuer"),
        "year": source.get("year"),
        "country": body.get("country"),
    }
    seen = seen_on(body)
    if seen is not None:
        found["seen"] = seen.isoformat()
    found = {name: value for name, value in found.items() if value is not None}
    found |= own_answers.backwards(body["values"])
    found |= dict.fromkeys(silent_in(body), SILENT)
    return found
