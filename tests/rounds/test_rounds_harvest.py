"""Honey without a face: supers to a lot, what a lot holds, lots to hold, exposed supers."""

from __future__ import annotations

from datetime import date

import pytest

from fieldapp.journal.record import Draft
from fieldapp.rounds.due import Due
from fieldapp.rounds.exposed_supers import emptied, exposed_supers
from fieldapp.rounds.harvest import Harvest, HarvestRight
from fieldapp.rounds.honey_lots import HoneyLots
from fieldapp.rounds.terms import terms_body
from fieldapp.words import Speech

SPEAK = Speech()
STRIPS = "GB/AN-00561-2015/2015/amitraz/strips"
MIST = "any/no-published-label/1/oxalic-acid/mist"
DAY = 86_400


@pytest.fixture
def yard(phone):
    """Six hives on 1 May 2026, supers S1 to S4 and two unmarked ones on hive 5; none on 6."""
    phone.time.pass_(-61 * DAY)
    phone.apiary = phone.set_up(6)
    hives = phone.hives()
    for n, hive in enumerate(hives[:4], 1):
        phone.write("super_on", {"mark": f"S{n}"}, hive=hive, apiary=phone.apiary)
    phone.write("super_on", {"count": 2}, hive=hives[4], apiary=phone.apiary)
    phone.time.pass_(31 * DAY)
    return phone


def treat(phone, hive, treatment=STRIPS, **more):
    if treatment not in phone.book.terms():
        phone.write("terms", terms_body(phone.notebook, treatment))
    terms = phone.book.terms()[treatment].id
    body = {"treatment": treatment, "terms": terms, "supers": "off"} | more
    return phone.write("application", body, hive=hive, apiary=phone.apiary)


def takes(phone):
    return {SPEAK(take.words): take for take in Harvest(phone.notebook, phone.apiary).takes()}


def signs(phone):
    return {words: (take.sign, SPEAK(take.told)) for words, take in takes(phone).items()}


def harvest(phone, *words, lot="2026-1", **more):
    form = Harvest(phone.notebook, phone.apiary)
    for each in form.takes():
        if SPEAK(each.words) in words:
            form.turn(each)
    for name, value in ({"lot": lot} | more).items():
        form.take(name, value)
    form.save()
    return phone.records("harvest")[-1]


def test_what_is_fine_and_what_is_not(yard):
    """Open, pieces in, a method without a period, nothing on record: each says what it is."""
    treat(yard, yard.hives()[1], pieces=2)
    treat(yard, yard.hives()[2], MIST)
    assert signs(yard) == {
        "Hive 1, super S1": ("done", "nothing on record against it"),
        "Hive 4, super S4": ("done", "nothing on record against it"),
        "2 supers of hive 5": ("done", "nothing on record against it"),
        "Hive 2, super S2": ("closed", "exposed: never for people"),
        "Hive 3, super S3": ("closed", "exposed: never for people"),
        "Hive 6": ("unknown", "no super on record"),
    }
    reasons = [SPEAK(each) for each in takes(yard)["Hive 3, super S3"].reasons]
    assert any("no published withdrawal period is known" in each for each in reasons)


def test_a_super_taken_off_before_the_strips_is_closed_by_its_hive_only(yard):
    """Off the day before: the super is not exposed, the hive is closed on the day asked."""
    hive = yard.hives()[1]
    yard.write("super_off", {"mark": "S2"}, hive=hive, apiary=yard.apiary)
    yard.time.pass_(DAY)
    treat(yard, hive, pieces=2)
    assert signs(yard)["Hive 2, super S2, in the store"] == (
        "closed",
        "honey closed: its end is not known",
    )


def test_a_day_before_the_treatment_is_open(yard):
    """What counts is the day on which it came off the hive."""
    hive = yard.hives()[4]
    yard.write("super_off", {}, hive=hive, apiary=yard.apiary)
    yard.time.pass_(DAY)
    treat(yard, hive, pieces=2)
    form = Harvest(yard.notebook, yard.apiary)
    form.take("day", "2026-05-31")
    [take] = [take for take in form.takes() if take.hive == hive]
    assert (take.fine, take.on) == (False, False)  # in the store only from 1 June on
    form.take("day", "2026-06-01")
    [take] = [take for take in form.takes() if take.hive == hive]
    assert take.sign == "done"


def test_a_harvest_is_written_as_it_was(yard):
    """Two supers, one of them the unmarked lot of a hive, off with it: three records."""
    record = harvest(
        yard, "Hive 1, super S1", "2 supers of hive 5", amount=21.5, jars="40 jars", off="yes"
    )
    hives = yard.hives()
    assert record.body == {
        "lot": "2026-1",
        "takes": [{"hive": hives[0], "mark": "S1"}, {"hive": hives[4]}],
        "amount": 21.5,
        "unit": "kg",
        "jars": "40 jars",
    }
    assert [(r.hive, r.body) for r in yard.records("super_off")] == [
        (hives[0], {"mark": "S1"}),
        (hives[4], {}),
    ]
    assert all(each.hive is None for each in yard.book.hive(hives[0]).supers)


def test_what_was_not_said_is_left_out(yard):
    """No amount, no unit; the supers stay on record as they were."""
    record = harvest(yard, "Hive 1, super S1")
    assert set(record.body) == {"lot", "takes"}
    assert yard.records("super_off") == []


def test_honey_taken_from_a_super_is_not_offered_twice_from_the_store(yard):
    """Off and drawn: it stands in the store and holds nothing more."""
    harvest(yard, "Hive 1, super S1", off="yes")
    assert "Hive 1, super S1, in the store" not in takes(yard)
    yard.write("super_off", {"mark": "S4"}, hive=yard.hives()[3], apiary=yard.apiary)
    assert takes(yard)["Hive 4, super S4, in the store"].fine
    yard.time.pass_(31 * DAY)
    assert "Hive 4, super S4, in the store" not in takes(yard)


def test_marks_are_offered_and_none_is_used_twice(yard):
    """The lot of this week may go on; else the next of the year."""
    harvest(yard, "Hive 1, super S1", lot="2026-1")
    form = Harvest(yard.notebook, yard.apiary)
    form.turn(form.takes()[0])
    assert form.questions[0].offered == ("2026-1", "2026-2")


def test_taken_all_the_same_it_is_held_with_its_reason(yard):
    """The record is plain; the rules hold the lot, and say why."""
    treat(yard, yard.hives()[1], pieces=2)
    yard.time.pass_(3600)
    form = Harvest(yard.notebook, yard.apiary)
    [bad] = [take for take in form.takes() if take.mark == "S2"]
    form.turn(bad)
    assert [SPEAK(each.words) for each in form.remarks] == [
        "Hive 2, super S2: exposed: never for people. The lot is to be held"
    ]
    form.take("lot", "2026-9")
    form.save()
    [lot] = HoneyLots(yard.notebook).all()
    assert (lot.sign, SPEAK(lot.told)) == ("closed", "hold it, drawn 1 Jun 2026")
    [part] = HoneyLots(yard.notebook).parts("2026-9")
    assert [SPEAK(each) for each in part.held] == ["Pieces in: Amitraz strips since 1 Jun 2026."]
    assert [SPEAK(each) for each in part.treated] == ["Amitraz strips: 1 Jun 2026"]


def test_strips_found_later_hold_the_lot_that_was_fine(yard):
    """From the record to the lots: what was clear when it was drawn is held from today."""
    harvest(yard, "Hive 1, super S1", "Hive 4, super S4", lot="2026-1")
    harvest(yard, "2 supers of hive 5", lot="2026-2")
    assert [lot.sign for lot in HoneyLots(yard.notebook).all()] == ["quiet", "quiet"]
    yard.time.pass_(20 * DAY)
    yard.write("terms", terms_body(yard.notebook, STRIPS))
    terms = yard.book.terms()[STRIPS].id
    body = {"treatment": STRIPS, "terms": terms, "supers": "off", "pieces": 2}
    moment = "2026-05-20T09:00:00+01:00[Europe/London]"
    forgotten = yard.write("application", body, hive=yard.hives()[3], apiary=yard.apiary)
    yard.notebook.write(
        [
            Draft(
                "application",
                moment,
                forgotten.keeper,
                body,
                apiary=yard.apiary,
                hive=yard.hives()[3],
                corrects=forgotten.id,
                heads=(),
                void=False,
            )
        ]
    )
    lots = HoneyLots(yard.notebook)
    assert [(lot.mark, lot.sign) for lot in lots.all()] == [
        ("2026-1", "closed"),
        ("2026-2", "quiet"),
    ]
    held, other = lots.parts("2026-1")
    assert (held.sign, other.sign) == ("closed", "quiet")
    assert [SPEAK(each) for each in held.held] == [
        "Pieces in: Amitraz strips since 20 May 2026. (Written down 21 Jun 2026, after the honey.)"
    ]
    assert [lot.mark for lot in lots.of_hive(yard.hives()[3])] == ["2026-1"]


def test_no_published_period_is_not_known_never_safe(yard):
    """A mist with supers off: who takes honey does not know, and the lot says so."""
    yard.write("super_off", {}, hive=yard.hives()[4], apiary=yard.apiary)
    yard.time.pass_(3600)
    treat(yard, yard.hives()[4], MIST)
    yard.time.pass_(3600)
    [take] = [each for each in takes(yard).values() if each.hive == yard.hives()[4]]
    assert (take.sign, SPEAK(take.told)) == ("unknown", "honey: not known, treat it as closed")
    harvest(yard, "2 supers of hive 5, in the store", "The supers of hive 5, in the store")
    [lot] = HoneyLots(yard.notebook).all()
    assert (lot.sign, SPEAK(lot.told)) == (
        "unknown",
        "not known: hold it until it is, drawn 1 Jun 2026",
    )


def test_honey_of_no_super_on_record_is_not_known(yard):
    """Nobody wrote down where it was."""
    harvest(yard, "Hive 6")
    [part] = HoneyLots(yard.notebook).parts("2026-1")
    assert part.sign == "unknown"
    assert [SPEAK(each) for each in part.held] == ["No such super was ever on record."]


def test_a_lot_against_which_nothing_stands_is_not_called_safe(yard):
    """The words say what is on record, and no more."""
    harvest(yard, "Hive 1, super S1")
    [lot] = HoneyLots(yard.notebook).all()
    assert SPEAK(lot.told) == "nothing on record against it, drawn 1 Jun 2026"
    [part] = HoneyLots(yard.notebook).parts("2026-1")
    assert [SPEAK(each) for each in part.treated] == ["no treatment on record in the year before"]


def test_a_harvest_put_right(yard):
    """One super did not go in, and the amount was misread."""
    record = harvest(yard, "Hive 1, super S1", "Hive 4, super S4", amount=30.0)
    form = HarvestRight(yard.notebook, yard.book.entry(record.id))
    form.take("taken", [f"{yard.hives()[0]} S1"])
    form.take("amount", 13.0)
    form.why = "misread"
    form.save()
    held = yard.book.entry(record.id).holds
    assert held.body == {
        "lot": "2026-1",
        "takes": [{"hive": yard.hives()[0], "mark": "S1"}],
        "amount": 13.0,
        "unit": "kg",
    }
    assert len(HoneyLots(yard.notebook).parts("2026-1")) == 1


def test_an_exposed_super_is_cleared_by_being_emptied_and_by_nothing_else(yard):
    """Years do not clear it; one record does."""
    treat(yard, yard.hives()[1], pieces=2)
    yard.time.pass_(400 * DAY)
    [exposed] = exposed_supers(yard.notebook)
    assert (exposed.mark, exposed.told.sign) == ("S2", "closed")
    body = {"did": "out", "count": 2, "treatment": STRIPS}
    yard.write("pieces", body, hive=yard.hives()[1], apiary=yard.apiary)
    yard.time.pass_(60)
    emptied(yard.notebook, exposed, "melted")
    assert exposed_supers(yard.notebook) == []
    [record] = yard.records("super_emptied")
    assert record.body == {"mark": "S2", "how": "melted"}


def test_once_honey_is_open_again_the_agenda_asks_for_exposed_supers(yard):
    """The hive is open, its super is not: nothing else would tell them apart."""
    treat(yard, yard.hives()[1], pieces=2)
    assert "to_empty" not in {line.line.task for line in Due(yard.notebook).lines()}
    yard.time.pass_(60 * DAY)
    body = {"did": "out", "count": 2, "treatment": STRIPS}
    yard.write("pieces", body, hive=yard.hives()[1], apiary=yard.apiary)
    yard.time.pass_(DAY)
    assert yard.book.honey(yard.hives()[1], yard.notebook.today()).state == "open"
    [line] = [each for each in Due(yard.notebook).lines() if each.line.task == "to_empty"]
    assert line.line.hives == (yard.hives()[1],)
    assert line.leads is not None and line.leads.where == "exposed"
    [exposed] = exposed_supers(yard.notebook)
    emptied(yard.notebook, exposed, "melted")
    assert "to_empty" not in {each.line.task for each in Due(yard.notebook).lines()}


def test_lines_of_the_agenda_lead_where_they_are_dealt_with(yard):
    """An old lot, a filter, a lot of honey to hold, a gap in the books."""
    bought = yard.write(
        "bought", {"product": "strips", "amount": 4, "unit": "strip", "expiry": "2026-06-10"}
    )
    gear = yard.write("gear", {"what": "filter", "name": "A2P3", "expiry": "2026-06-20"})
    treat(yard, yard.hives()[1], pieces=2)
    yard.time.pass_(60)
    harvest(yard, "Hive 2, super S2", lot="2026-7")
    leads = {each.line.task: each.leads for each in Due(yard.notebook).lines() if each.leads}
    assert leads["expiry"] == ("lot", bought.id)
    assert leads["change"] == ("thing", gear.id)
    assert leads["hold"] == ("honey lot", "2026-7")
    assert leads["records"] == ("stock", "")


def test_the_draft_of_a_harvest_survives(yard):
    """Supers chosen and the day stand as they were."""
    form = Harvest(yard.notebook, yard.apiary)
    form.turn(form.takes()[0])
    form.take("day", "2026-05-31")
    again = Harvest(yard.notebook, yard.apiary)
    assert [take.mark for take in again.chosen()] == ["S1"]
    assert again.day == date(2026, 5, 31)
