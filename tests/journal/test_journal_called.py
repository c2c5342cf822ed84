"""What records and their fields are called, and odd ones told in the keeper's language."""

from __future__ import annotations

import json
from inspect import getclosurevars

import pytest
from journal_making import HIVE, KEEPER, WHEN

from fieldapp.journal import chain, oddities
from fieldapp.journal.batches import Batch
from fieldapp.journal.called import FIELDS, field_called, kind_called
from fieldapp.journal.errors import Unwritable
from fieldapp.journal.kinds import KINDS
from fieldapp.journal.receiving import receive
from fieldapp.journal.record import Draft
from fieldapp.words import Phrase, Speech, catalogue, habits_of

ENGLISH = Speech()
GERMAN = Speech(catalogue("de"), habits_of("DE"))


def names(check):
    """Yield the name of every field of an object, and of the objects inside it."""
    held = getclosurevars(check).nonlocals
    for name, inside in held.get("checks", {}).items():
        yield name
        yield from names(inside)
    for part in ("check", "values"):
        if part in held:
            yield from names(held[part])


def test_every_kind_and_every_field_has_a_name_for_people():
    """As many as the tables of kinds hold, down to the fields of a field; and no name is idle."""
    fields = {name for kind in KINDS.values() for name in names(kind.check)}
    assert {name for name, _ in KINDS if not isinstance(kind_called(name), Phrase)} == set()
    assert fields - set(FIELDS) == set()
    envelope = {"adds_to", "body", "corrects", "happened", "heads", "id", "kind", "seq", "stamp"}
    envelope |= {"apiary", "hive", "colony", "keeper", "v", "void", "writer"}
    assert set(FIELDS) - fields == envelope - fields


@pytest.mark.parametrize(
    ("field", "kind", "english", "german"),
    [
        ("body.dose.amount", "application", "Dose: How much", "Dosis: Wie viel"),
        ("body.steps.0.unit", "batch", "Steps: 1: Unit", "Schritte: 1: Einheit"),
        ("days", "count", "Days the board was in", "Tage mit Windel"),
        ("days", "period", "Days", "Tage"),
        ("colour", "queen", "colour", "colour"),
    ],
)
def test_a_field_by_its_place(field, kind, english, german):
    """Inside another, in a list from 1, by its kind; one of a later program by its own name."""
    assert ENGLISH(field_called(field, kind)) == english
    assert GERMAN(field_called(field, kind)) == german


def brought(journal, **changes) -> None:
    """Have a record arrive that another program wrote."""
    envelope = {
        "id": "0197a000-0000-7000-8000-00000000beef",
        "kind": "look",
        "v": 1,
        "happened": WHEN,
        "stamp": "0197a00000000001",
        "writer": "0" * 32,
        "seq": 1,
        "keeper": KEEPER,
        "hive": HIVE,
        "body": {"words": "calm"},
    }
    raw = json.dumps({**envelope, **changes}).encode()
    before = chain.start(bytes(16))
    receive(journal, [Batch(bytes(16), 1, before, chain.link(before, raw), (raw,))])


@pytest.mark.parametrize(
    ("changes", "told"),
    [
        ({"body": {"queen": "gone"}}, "Blick hinein, Königin: erwartet eines von: gesehen, "),
        ({"body": {"seams": 99}}, "Blick hinein, Wabengassen: erwartet eine Zahl von 0 bis "),
        ({"body": {"colour": "red"}}, "Blick hinein, colour: erwartet dass es fehlt: so ein Feld"),
        ({"happened": "today"}, "Blick hinein, Wann: erwartet ein Zeitpunkt wie 2026-07-04T"),
        ({"kind": "dance"}, "dance, Art: erwartet eine Art und Fassung, die dieses Programm kennt"),
    ],
)
def test_why_a_record_is_not_understood_is_told_in_the_keepers_language(device, changes, told):
    """What it should hold, by the names that people use; a later program's words stay its own."""
    journal = device().journal
    brought(journal, **changes)
    [odd] = oddities.not_understood(journal)
    assert GERMAN(odd.words).startswith(told)


def test_a_draft_that_does_not_fit_is_told_in_the_keepers_language(device):
    """So is what this program itself would not write."""
    draft = Draft(
        "feed", WHEN, KEEPER, {"what": "tea"}, hive="0197a000-0000-7000-8000-000000000007"
    )
    with pytest.raises(Unwritable) as error:
        device().journal.write([draft])
    words = "Nicht gespeichert: Futter, Was: erwartet eines von: Sirup, Futterteig, Waben, Pollen."
    assert GERMAN(error.value.phrase) == words
