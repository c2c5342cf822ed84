"""First aid: whom to call in the keeper's country, and what to do, substance by substance.

All of it lies on the phone. What stands here is what the labels' library and the keeper's own
labels say; where they say nothing, that is said.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any, NamedTuple

from fieldapp.assets import folder
from fieldapp.husbandry.library import Emergency, emergency
from fieldapp.husbandry.vocabulary import word
from fieldapp.rounds.beginning import under_way
from fieldapp.rounds.notebook import Notebook
from fieldapp.words import Phrase, say


class Aid(NamedTuple):
    """What to do for one substance, and where each line comes from.

    `steps` is empty where nothing is known: then the product's label has to say it.
    """

    substance: str
    name: Phrase | str
    steps: tuple[tuple[str, Phrase], ...]


def whom_to_call(notebook: Notebook) -> Emergency:
    """Return the emergency number of the keeper's country, as far as it is known."""
    return emergency(folder("safety"), notebook.country or "")


def aids(notebook: Notebook) -> list[Aid]:
    """Return the substances: that of the round under way first, then those used, then others."""
    known: dict[str, dict[str, Phrase]] = {}
    for body in _bodies(notebook):
        steps = known.setdefault(str(body["active"]), {})
        for line, where in _steps(body):
            steps.setdefault(line, where)
    return [Aid(active, word(active), tuple(steps.items())) for active, steps in known.items()]


def at_work(notebook: Notebook) -> str | None:
    """Return the substance of the round under way, if one is."""
    round_ = under_way(notebook)
    if round_ is None or round_.treatment is None:
        return None
    return next(
        (
            str(body["active"])
            for body in _bodies(notebook)
            if body["treatment"] == round_.treatment and body["form"] != "act"
        ),
        None,
    )


def _bodies(notebook: Notebook) -> Iterator[Mapping[str, Any]]:
    """Yield terms that put a substance into a hive: those used, the country's, then others."""
    records = (notebook.journal.by_id(terms.id) for terms in notebook.book.terms().values())
    used = [record.body for record in records if record is not None]
    round_ = under_way(notebook)
    now = round_.treatment if round_ is not None else None
    used.sort(key=lambda body: (body["treatment"] != now, body["active"]))
    yield from (body for body in used if body["form"] != "act")
    here = {each.active for each in notebook.library.treatments(notebook.country or "")}
    shipped = sorted(notebook.library, key=lambda each: (each.active not in here, each.active))
    yield from (each.terms_body() for each in shipped if each.form != "act")


def _steps(body: Mapping[str, Any]) -> Iterator[tuple[str, Phrase]]:
    value = body["values"].get("first_aid")
    if value is None:
        return
    source = body["sources"].get(value["source"], {})
    where = say("{standing}", standing=word(str(value["standing"])))
    if value["standing"] != "from memory":
        title = str(source.get("title", value["source"]))
        where = say("{source}, {standing}", source=title, standing=word(str(value["standing"])))
    for line in value["value"]:
        yield str(line), where
