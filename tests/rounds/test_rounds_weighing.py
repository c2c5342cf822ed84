"""Formic acid from a dispenser, weighed while it evaporates."""

from __future__ import annotations

import pytest

from fieldapp.rounds.weighing import Dispenser
from fieldapp.words import Speech

SPEAK = Speech()
DAY = 86_400
FORMIC = "DE/standard-authorisation-60/2018-12/formic-acid/evaporator"
STRIPS = "DE/SPC-vetisearch-4731/undated/amitraz/strips"


@pytest.fixture
def filled(phone):
    """A hive of one box in Germany with a dispenser just put in."""
    phone.set_up(1, "DE")
    (hive,) = phone.hives()
    phone.write("look", {"boxes": 1}, hive=hive)
    phone.start(FORMIC).begin().tap(hive)
    return phone, hive


def weighed(phone, hive, *grams_by_days):
    found = Dispenser.of(phone.notebook, hive)
    for days, grams in grams_by_days:
        phone.time.pass_(days * DAY)
        found.weigh(grams)
    return [(told.sign, SPEAK(told.words)) for told in found.told()]


def test_a_hive_without_a_dispenser_has_nothing_to_weigh(phone):
    """Nothing in, strips whose label asks for no g a day, a dispenser taken back as a slip."""
    phone.set_up(1, "DE")
    (hive,) = phone.hives()
    assert Dispenser.of(phone.notebook, hive) is None
    phone.start(STRIPS).begin().tap(hive)
    assert Dispenser.of(phone.notebook, hive) is None
    round_ = phone.start(FORMIC).begin()
    round_.tap(hive)
    assert Dispenser.of(phone.notebook, hive) is not None
    round_.undo()
    assert Dispenser.of(phone.notebook, hive) is None


def test_one_weighing_tells_nothing_yet(filled):
    """Filled it weighs 300 g: weigh it again. Before that too."""
    again = [
        ("due", "Weigh it filled as it goes in, and again each day or two."),
        ("quiet", "summer after extraction: 85 g a box last 4 to 6 days"),
        ("quiet", "late summer and autumn before the brood break: 85 g a box last 8 to 14 days"),
    ]
    assert weighed(*filled) == again
    assert weighed(*filled, (0, 300)) == again


def test_what_evaporates_a_day_against_both_seasons(filled):
    """Leaflet 12/2018: 15 to 20 g a box and day in summer, 6 to 10 in autumn, 85 g in all."""
    told = weighed(*filled, (0, 300), (4, 228), (1, 210))
    assert told == [
        ("quiet", "Gone so far: 90 g"),
        ("quiet", "Last: 18 g a day"),
        ("done", "summer after extraction: as the label wants"),
        ("late", "late summer and autumn before the brood break: too much"),
        ("due", "The whole amount is gone: take it out."),
    ]


def test_two_boxes_want_twice_as_much(filled):
    """30 g a day from two boxes are 15 each; 170 g in all."""
    phone, hive = filled
    phone.write("look", {"boxes": 2}, hive=hive)
    told = weighed(phone, hive, (0, 400), (5, 250))
    assert ("done", "summer after extraction: as the label wants") in told
    assert ("quiet", "Still 20 g to go: about 1 day at this pace") in told


def test_filled_again_it_goes_on_counting(filled):
    """40 g went, then it was filled again and 30 more went: 15 g are still to go."""
    told = weighed(*filled, (0, 200), (3, 160), (0.2, 300), (2, 270))
    assert ("quiet", "Gone so far: 70 g") in told
    assert ("quiet", "Still 15 g to go: about 1 day at this pace") in told


def test_a_slip_is_put_right_by_weighing_again(filled):
    """Within the hour the later counts; the first stays in the journal."""
    phone, hive = filled
    told = weighed(phone, hive, (0, 3000), (0.01, 300), (2, 264))
    assert told[:2] == [("quiet", "Gone so far: 36 g"), ("quiet", "Last: 18 g a day")]
    assert [r.body["grams"] for r in phone.records("weighed")] == [3000, 300, 264]


def test_boxes_not_known_are_asked_for(phone):
    """A dose by the box cannot be judged without them."""
    phone.set_up(1, "DE")
    (hive,) = phone.hives()
    phone.start(FORMIC).begin().tap(hive)
    ((sign, words),) = weighed(phone, hive, (0, 300), (2, 264))
    assert sign == "unknown"
    assert "enter it in a look" in words
