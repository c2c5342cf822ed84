"""Setting a round up: what is asked, what stops it, what is written at its beginning."""

from __future__ import annotations

import pytest

from fieldapp.book.label_line import LabelLine
from fieldapp.rounds.amounts import Amount
from fieldapp.rounds.beginning import under_way
from fieldapp.rounds.choosing import treatments
from fieldapp.rounds.errors import TreatmentGone
from fieldapp.rounds.otherwise import Otherwise
from fieldapp.rounds.starting import Start
from fieldapp.words import Speech

SPONGE = "GB/AN-01911-2010/2010/thymol/sponge"
SUBLIMED = "GB/powder-886-mg-g-UK-AN-01519-2014/2015-09/oxalic-acid/sublimation"
MIST = "any/no-published-label/1/oxalic-acid/mist"
TRICKLE = "DE/standard-authorisation-3-5/2006/oxalic-acid/trickle"
SPEAK = Speech()


def test_treatments_of_the_country_are_offered_and_no_others(phone):
    """A country never borrows another's label; a method without label is offered everywhere."""
    offered = {choice.identity for choice in treatments(phone.notebook, "GB")}
    assert {SPONGE, MIST} <= offered
    assert not any(identity.startswith(("DE/", "US/", "CA/", "GB-NIR/")) for identity in offered)


def test_without_a_country_no_label_is_offered(phone):
    """Which label holds is then not known."""
    assert {c.identity.split("/")[0] for c in treatments(phone.notebook, None)} == {"any"}


def test_the_first_use_asks_for_the_label_and_writes_its_terms_once(phone):
    """A second round names the same terms and asks no more."""
    phone.set_up(2)
    first = phone.start(SPONGE)
    assert first.first_use
    first.label_says(LabelLine(21))
    first.begin().end()
    assert not phone.start(SPONGE).first_use
    phone.start(SPONGE).begin()
    assert len(phone.records("terms")) == 1
    (period,) = phone.records("period")
    assert period.body["period"] == {"form": "days", "days": 21}
    assert period.body["given_by"]["who"] == "label in hand"


def test_a_label_that_does_not_say_writes_no_period(phone):
    """Not known stays not known: no zero is made up."""
    phone.set_up(2)
    start = phone.start(SPONGE)
    start.label_says(None)
    start.begin()
    assert phone.records("period") == []


def test_supers_on_stop_the_round_until_it_is_said_what_becomes_of_them(phone):
    """The stop names the hive; leaving it out takes it from the round."""
    phone.set_up(3)
    phone.write("super_on", {"mark": "A"}, hive=phone.hives()[1], apiary=None)
    start = phone.start(SUBLIMED)
    (stop,) = start.stops()
    assert SPEAK(stop.words) == "Supers are on hive 2. Take them off before treating."
    start.leave_out(stop)
    assert start.stops() == []
    assert start.begin().next.number == "1"
    assert len(phone.records("round")[0].body["hives"]) == 2


def test_supers_that_come_off_first_are_logged_off_with_the_tap(phone):
    """The field of that hive says what to do first; the tap says it was done: not exposed."""
    phone.set_up(3)
    phone.write("super_on", {"mark": "A"}, hive=phone.hives()[1], apiary=None)
    start = phone.start(SUBLIMED)
    start.accept(start.stops()[0])
    round_ = start.begin()
    assert round_.warning(phone.hives()[0]) is None
    hive = phone.hives()[1]
    assert SPEAK(round_.warning(hive)) == "Supers on: take them off first"
    round_.tap(hive)
    assert [r.body for r in phone.records("super_off")] == [{"mark": "A"}]
    assert phone.records("application")[-1].body["supers"] == "off"
    assert not any(each.exposed for each in phone.book.hive(hive).supers)
    assert phone.book.honey(hive, phone.notebook.today()).exposed == ()


def test_undo_puts_the_supers_back_on_too(phone):
    """What one tap logged, one undo takes back."""
    phone.set_up(1)
    (hive,) = phone.hives()
    phone.write("super_on", {"mark": "A"}, hive=hive)
    start = phone.start(SUBLIMED)
    start.accept(start.stops()[0])
    round_ = start.begin()
    round_.tap(hive)
    round_.undo()
    assert SPEAK(round_.warning(hive)) == "Supers on: take them off first"


def test_supers_that_stayed_on_after_all_are_exposed(phone):
    """*Not like that, supers were on*: the coming off is void, and the super is exposed."""
    phone.set_up(1)
    (hive,) = phone.hives()
    phone.write("super_on", {"mark": "A"}, hive=hive)
    start = phone.start(SUBLIMED)
    start.accept(start.stops()[0])
    round_ = start.begin()
    round_.tap(hive)
    Otherwise(round_, hive).supers_found_on()
    (exposed,) = phone.book.honey(hive, phone.notebook.today()).exposed
    assert exposed.mark == "A"


def test_what_fills_the_air_asks_for_the_respirator_and_each_check_stands_alone(phone):
    """Sublimation: respirator, seal, wind, water; answers are kept one by one."""
    phone.set_up(1)
    start = phone.start(SUBLIMED)
    keys = [check.key for check in start.checks()]
    assert keys[:4] == ["respirator", "seal", "up wind", "water"]
    assert len(keys) == len(set(keys))
    start.answer("respirator", "yes")
    start.begin()
    checks = phone.records("round")[0].body["checks"]
    assert checks["respirator"] == "yes"
    assert {checks[key] for key in keys if key != "respirator"} == {"not known"}


def test_a_method_without_a_label_says_so_before_the_round(phone):
    """Its honey stays closed, and who can end that is said."""
    phone.set_up(1)
    said = [SPEAK(fact.words) for fact in phone.start(MIST).facts()]
    assert any("No published label" in words for words in said)


def test_a_dose_by_seams_needs_the_seams_and_keeps_the_last_look_as_default(phone):
    """5 mL a seam: asked where nobody looked, else the last look's seams stand."""
    phone.set_up(2, "DE")
    one, other = phone.hives()
    phone.write("look", {"seams": 7.25}, hive=one)
    start = phone.start(TRICKLE)
    start.take_amount(Amount(5, "mL", "solution", "seam", cap=50))
    round_ = start.begin()
    assert round_.counts == "seam"
    assert round_.last_counted(one) == 7.25
    assert round_.last_counted(other) is None
    round_.tap(one)
    round_.tap(other, 4)
    doses = [r.body["dose"]["amount"] for r in phone.records("application")]
    assert doses == [36.25, 20]


def test_a_treatment_that_is_not_there_says_what_to_do(phone):
    """A line from a newer phone with another library ends in words, not in a traceback."""
    phone.set_up(1)
    start = Start.at(phone.notebook, phone.notebook.local.get("apiary"))
    start.treatment = "GB/nobody/1/nothing/never"
    with pytest.raises(TreatmentGone, match="Bring the program up to date"):
        start.begin()
    assert phone.records("round") == []


def test_a_round_that_ended_is_not_under_way(phone):
    """After the end the program opens on what is due."""
    phone.set_up(1)
    round_ = phone.start(SPONGE).begin()
    assert under_way(phone.notebook).id == round_.id
    round_.end()
    assert under_way(phone.notebook) is None


def test_what_is_told_before_a_round_follows_its_hives(phone):
    """Told once for a set of hives; leaving one out tells it anew."""
    phone.set_up(3)
    phone.write("super_on", {"mark": "A"}, hive=phone.hives()[1])
    start = phone.start(SUBLIMED)
    assert any("off on 2 hives" in SPEAK(fact.words) for fact in start.facts())
    assert start.facts() is start.facts()
    start.leave_out(start.stops()[0])
    assert any("none on record" in SPEAK(fact.words) for fact in start.facts())
