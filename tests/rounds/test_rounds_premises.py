"""An apiary's register without a face: how it stands, what is entered, what leads there."""

from __future__ import annotations

import pytest
from happening_scene import DAY

from fieldapp.rounds.due import Due
from fieldapp.rounds.hive_record import RecordView
from fieldapp.rounds.premises import Premises
from fieldapp.rounds.premises_forms import ColonyCount, Registration, Report, Visit
from fieldapp.words import Speech

SPEAK = Speech()


@pytest.fixture
def yard(phone):
    """Four hives of a keeper in New South Wales, one of them dead."""
    phone.apiary = phone.set_up(4, "AU-NSW")
    phone.write("death", {}, hive=phone.hives()[3], apiary=phone.apiary)
    return phone


def told(phone):
    return [SPEAK(each.words) for each in Premises(phone.notebook, phone.apiary).told()]


def entered(form, **answers):
    for name, value in answers.items():
        form.take(name, value)
    form.save()
    return form


def test_what_nobody_entered_is_not_known(yard):
    """No number, no count, no visit: each says so."""
    assert told(yard) == [
        "Registration number: not known",
        "Colonies: never counted for the register",
        "No inspector's visit on record",
    ]


def test_living_colonies_are_offered_and_a_count_stands_with_its_office(yard):
    """Three live; the office of this count is offered for the next."""
    form = ColonyCount(yard.notebook, yard.apiary)
    assert form.values == {"number": 3}
    entered(form, reported_to="the department")
    [record] = yard.records("colony_count")
    assert (record.apiary, record.body) == (
        yard.apiary,
        {"number": 3, "reported_to": "the department"},
    )
    assert "3 colonies counted on 1 Jul 2026, reported to the department" in told(yard)
    again = ColonyCount(yard.notebook, yard.apiary)
    assert again.questions[2].offered == ("the department",)


def test_counts_are_reported_together_and_the_agenda_asks_no_more(yard):
    """Colonies and, where the law wants it, mites; the line leads to the apiary."""
    body = {"way": "wash", "mites": 2, "bees": 300, "bees_by": "counted"}
    mites = yard.write("count", body, hive=yard.hives()[0], apiary=yard.apiary)
    entered(ColonyCount(yard.notebook, yard.apiary))
    [line] = [each for each in Due(yard.notebook).lines() if each.line.task == "report"]
    assert line.leads == ("premises", yard.apiary)
    form = Report(yard.notebook, yard.apiary)
    assert mites.id in form.values["records"]
    entered(form, to="the department", reference="77")
    [report] = yard.records("reported")
    assert set(report.body["records"]) == {mites.id, yard.records("colony_count")[0].id}
    assert not Premises(yard.notebook, yard.apiary).unreported()
    assert not [each for each in Due(yard.notebook).lines() if each.line.task == "report"]
    view = RecordView(yard.notebook, "", report.id)
    assert [SPEAK(each) for each in view.says()] == [
        "Reported to: the department",
        "Number or letter: 77",
    ]


def test_a_standstill_stands_first_until_a_visit_lifts_it(yard):
    """Said in the form before it is saved, on the apiary's page, and on the agenda."""
    form = Visit(yard.notebook, yard.apiary)
    form.take("standstill", "set")
    assert form.remarks[0].sign == "late"
    entered(form, by="the office")
    assert told(yard)[0].startswith("Standstill set by the office on 1 Jul 2026")
    [line] = [each for each in Due(yard.notebook).lines() if each.line.task == "standstill"]
    assert line.leads == ("premises", yard.apiary)
    yard.time.pass_(DAY)
    lift = Visit(yard.notebook, yard.apiary, standstill="lifted")
    assert lift.values == {"standstill": "lifted"}
    entered(lift, by="the office")
    assert Premises(yard.notebook, yard.apiary).standstill is None


def test_name_and_number_leave_all_else_of_an_apiary_as_it_is(yard):
    """Country and zone stay; the new name holds."""
    before = yard.book.place(yard.apiary)
    form = Registration(yard.notebook, yard.apiary)
    assert form.values == {"name": before.name}
    entered(form, name="Heather", registration="B 12")
    after = yard.book.place(yard.apiary)
    assert after == before._replace(name="Heather", registration="B 12")
    assert "Registration number: B 12" in told(yard)


def test_every_movement_count_and_visit_has_its_line(yard):
    """The latest first, each with the record that it tells of."""
    yard.time.pass_(DAY)
    entered(Visit(yard.notebook, yard.apiary), by="the inspector", found="brood healthy")
    lines = Premises(yard.notebook, yard.apiary).lines()
    assert SPEAK(lines[0].told) == "2 Jul 2026: Visit"
    assert SPEAK(lines[0].words) == "the inspector: brood healthy"
    assert sum("Hive came" in SPEAK(each.told) for each in lines) == 4
    assert {each.root for each in lines} <= {r.id for _, r in yard.notebook.journal.arrivals()}
