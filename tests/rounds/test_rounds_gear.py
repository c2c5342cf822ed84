"""What wears and expires: told with its sign, changed for a new one, thrown away."""

from __future__ import annotations

import pytest

from fieldapp.rounds.gear import GearForm, gear_in_use, gear_line, gear_lines, throw_away
from fieldapp.words import Speech

SPEAK = Speech()
TERMS = {"treatment": "any/no-published-label/1/oxalic-acid/mist"}


@pytest.fixture
def shed(phone):
    phone.set_up(3)
    return phone


def add(phone, **body):
    return phone.write("gear", body).id


def line(phone, gear):
    thing = next(each for each in gear_in_use(phone.notebook) if each.id == gear)
    return gear_line(thing, phone.notebook.today())


def told(shown):
    return [SPEAK(each.words) for each in shown.told]


@pytest.mark.parametrize(
    ("expiry", "sign"),
    [("2026-06-30", "late"), ("2026-07-01", "due"), ("2026-07-31", "due"), ("2026-08-01", "done")],
)
def test_a_filter_by_its_days(shed, expiry, sign):
    """Its last day decides; 30 days before it is told."""
    gear = add(shed, what="filter", name="A2P3", opened="2026-01-10", expiry=expiry)
    assert line(shed, gear).sign == sign
    assert told(line(shed, gear))[0] == "opened on 10 Jan 2026"


def test_a_filter_of_which_nothing_is_known_is_never_good(shed):
    """Not known, with where it stands; never a filled disc."""
    shown = line(shed, add(shed, what="filter", name="A2P3"))
    assert shown.sign == "unknown"
    assert told(shown)[:2] == [
        "opening date not known",
        "last day not known: see its maker's words",
    ]


def test_a_filter_whose_opening_nobody_noted_is_not_known(shed):
    """Its packet's last day is no day of the opened filter."""
    gear = add(shed, what="filter", name="A2P3", expiry="2028-01-31")
    assert line(shed, gear).sign == "unknown"


@pytest.mark.parametrize(("hours", "sign"), [(35.9, "done"), (36, "due"), (40, "late")])
def test_a_part_by_its_hours(shed, hours, sign):
    """Of 40 hours, nine tenths are due and all of them late."""
    gear = add(shed, what="part", name="nozzle", hours=hours, change_after_hours=40)
    assert line(shed, gear).sign == sign


def test_hours_run_on_with_applications(shed):
    """An hour on the applicator is an hour on its nozzle."""
    mister = add(shed, what="applicator", name="mister", hours=1)
    nozzle = add(shed, what="part", name="nozzle", of=mister, hours=0, change_after_hours=2)
    body = TERMS | {"terms": shed.notebook.new_id(), "gear": mister, "seconds": 3700}
    shed.time.pass_(60)
    shed.write("application", body, hive=shed.hives()[0])
    assert told(line(shed, nozzle))[0] == "ran 1 h of 2 h"
    assert told(line(shed, mister))[0] == "ran 2 h"


def test_what_is_to_be_changed_stands_first(shed):
    """Late, due, not known, fine."""
    add(shed, what="part", name="fine", hours=0, change_after_hours=40)
    add(shed, what="filter", name="unknown")
    add(shed, what="filter", name="late", opened="2026-01-01", expiry="2026-06-01")
    assert [each.name for each in gear_lines(shed.notebook)] == ["late", "unknown", "fine"]


def test_changed_for_a_new_one(shed):
    """The old nozzle is over, the new one begins at nought on the same applicator."""
    mister = add(shed, what="applicator", name="mister")
    add(shed, what="part", name="nozzle", of=mister, hours=39, change_after_hours=40)
    [old] = gear_in_use(shed.notebook, "part")
    form = GearForm(shed.notebook, old)
    assert SPEAK(form.title) == "New in place of: nozzle"
    form.save()
    [new] = gear_in_use(shed.notebook, "part")
    assert new.id != old.id
    assert new.record.body == {
        "what": "part",
        "name": "nozzle",
        "of": mister,
        "hours": 0,
        "change_after_hours": 40,
    }
    entry = shed.book.entry(old.id)
    assert entry.holds.body["ended"] is True
    assert entry.holds.body["hours"] == 39


def test_a_new_filter_knows_nothing_of_the_old_ones_days(shed):
    """Type as before; when it was opened and until when it is good is said anew."""
    add(shed, what="filter", name="A2P3", opened="2026-01-10", expiry="2026-07-10")
    [old] = gear_in_use(shed.notebook, "filter")
    form = GearForm(shed.notebook, old)
    assert form.values == {"what": "filter", "name": "A2P3"}
    words = [SPEAK(each.words) for each in form.remarks]
    assert "Its last day after opening stands in its maker's words: not known" in words


def test_thrown_away_is_in_use_no_longer(shed):
    """It stays in the books, as a correction."""
    gear = add(shed, what="thermometer", name="pen")
    throw_away(shed.notebook, gear)
    assert gear_in_use(shed.notebook) == []
    assert shed.book.entry(gear).root.body == {"what": "thermometer", "name": "pen"}


def test_what_is_asked_follows_from_what_it_is(shed):
    """A filter has days, a part hours and an applicator that it is part of."""
    mister = add(shed, what="applicator", name="mister")
    form = GearForm(shed.notebook)
    form.take("what", "filter")
    assert [q.name for q in form.questions] == ["what", "name", "opened", "expiry", "day"]
    form.take("what", "part")
    names = [q.name for q in form.questions]
    assert names == ["what", "name", "of", "hours", "change_after_hours", "day"]
    assert form.questions[2].options == ((mister, "mister"),)
