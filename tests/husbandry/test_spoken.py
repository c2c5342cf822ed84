"""Reasons with where they stand: how far that is known is said once."""

from __future__ import annotations

from fieldapp.assets import folder
from fieldapp.husbandry import published
from fieldapp.husbandry.answers import Reason
from fieldapp.husbandry.figures import Figure, Table
from fieldapp.husbandry.library import load
from fieldapp.husbandry.spoken import unsourced, why
from fieldapp.words import Speech, say

speak = Speech()
NOT_READ = ("from memory", "common practice")


def test_a_source_that_is_no_more_than_its_standing_is_said_once():
    """The library's own word for what no text was read for; short, the standing stays."""
    reason = Reason(say("14 days"), (), "From memory, not read in a source", "from memory")
    [said] = why([reason])
    assert speak(said) == "14 days (From memory, not read in a source)"
    assert speak(unsourced(said)) == "14 days (from memory)"
    [said] = why([reason._replace(source="A page", standing="read")])
    assert (speak(said), speak(unsourced(said))) == ("14 days (A page, read)", "14 days")


def figures(table: Table, entry, path=()):
    """Yield every figure of a table."""
    if isinstance(entry, dict):
        if "standing" in entry and "unit" in entry and ("value" in entry or "low" in entry):
            yield table.read_figure(entry, ".".join(path))
        for name, inside in entry.items():
            yield from figures(table, inside, (*path, name))
    elif isinstance(entry, list):
        for inside in entry:
            yield from figures(table, inside, path)


def twice(said: str, standing: str) -> bool:
    """Whether a line says a second time that no text was read."""
    return standing in NOT_READ and said.lower().count(standing) != 1


def test_no_published_figure_says_its_standing_twice():
    """Of every figure that ships: *from memory, from memory* tells nothing more."""
    found: list[Figure] = []
    for table in published.load(folder("tables")):
        found += figures(table, table.entries)
    assert {figure.standing for figure in found} >= set(NOT_READ)
    said = [(speak(*why([each.reason(say("so"))])), each.standing) for each in found]
    assert [words for words, standing in said if twice(words, standing)] == []


def test_no_value_of_the_library_says_its_standing_twice():
    """The treatments' values and their sources."""
    found = []
    for treatment in load(folder("treatments")):
        for value in treatment.values.values():
            source = treatment.sources[value.source]
            [said] = why([Reason(say("so"), (), source.title, value.standing)])
            found.append((speak(said), value.standing))
    assert len(found) > 100
    assert [words for words, standing in found if twice(words, standing)] == []
