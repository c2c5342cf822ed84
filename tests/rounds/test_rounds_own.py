"""An own treatment: each value asked for with its unit, used in a round, put right later."""

from __future__ import annotations

import pytest

from fieldapp.husbandry.library import QUESTIONS
from fieldapp.journal.kinds import KINDS
from fieldapp.rounds import own_answers
from fieldapp.rounds.aid import aids
from fieldapp.rounds.choosing import treatments
from fieldapp.rounds.own_questions import SILENT, UNKNOWN
from fieldapp.rounds.own_treatment import OwnTreatment, own_treatments
from fieldapp.words import Speech

ABOUT = {
    "active": "thymol",
    "method": "pads",
    "air": "no",
    "form": "pieces",
    "name": "thymol, pads",
    "label": "Invented pads, No 12",
    "year": 2024,
    "country": "GB",
    "seen": "2026-07-01",
}
#: One answer to each question, with every part that it may have.
ALL = {
    "applications": "several",
    "applications.usual": 2,
    "applications.least": 1,
    "applications.most": 3,
    "gap": "weeks",
    "gap.least": 1,
    "gap.target": 2,
    "gap.most": 3,
    "stay": "two",
    "stay.unit": "weeks",
    "stay.0.least": 6,
    "stay.0.most": 8,
    "stay.1.least": 4,
    "rest": "months",
    "rest.number": 2,
    "limit": "courses",
    "limit.number": 2,
    "dose": "2",
    "dose.0.unit": "piece",
    "dose.0.amount": 2.0,
    "dose.0.of": "piece",
    "dose.0.per": "brood chamber",
    "dose.0.cap": 4.0,
    "dose.1.unit": "piece",
    "dose.1.least": 1.0,
    "dose.1.most": 2.0,
    "dose.1.of": "piece",
    "dose.1.per": "colony",
    "dose.1.when": "nucleus",
    "supers": "off, whole course",
    "combs_exposed": "no",
    "period": "weeks",
    "period.days": 2,
    "period.honey_only": "no",
    "temperature": "1",
    "temperature.0.unit": "degF",
    "temperature.0.what": "maximum",
    "temperature.0.low": 50.0,
    "temperature.0.high": 86.0,
    "temperature.0.weight": "must",
    "temperature.0.from_day": 0,
    "temperature.0.to_day": 3,
    "brood": "any",
    "queen": "present",
    "colony_size": "frames of bees",
    "colony_size.least": 6.0,
    "flow": "not during flow",
    "after_last_harvest": "yes",
    "whole_apiary": "yes",
    "prescription": "no",
    "reaches_capped": "no",
    "class": "lines",
    "class.0": "monoterpene",
    "look_queen": "weeks",
    "look_queen.number": 2,
    "hive_set_up": "lines",
    "hive_set_up.0": "floor closed",
    "cautions": "lines",
    "cautions.0": "irritates eyes",
    "cautions.1": "keep from children",
    "protective": "lines",
    "protective.0": "gloves",
    "first_aid": "lines",
    "first_aid.0": "rinse eyes for minutes",
}


def filled(phone, answers) -> OwnTreatment:
    own = OwnTreatment(phone.notebook)
    for name, value in answers.items():
        own.take(name, value)
    return own


def body_of(phone, identity: str) -> dict:
    terms = phone.book.terms()[identity]
    return phone.notebook.journal.by_id(terms.id).body


@pytest.fixture
def at_home(phone):
    phone.set_up(3)
    return phone


def test_every_question_of_the_rules_is_asked_in_order(at_home):
    """From the substance to first aid; each key of the rules comes by once as a gate."""
    own = OwnTreatment(at_home.notebook)
    seen, name = [], own.at
    while name is not None:
        seen.append(name)
        name = own.after(name)
    assert seen[0] == "active"
    assert [each for each in seen if each in own_answers.KEYS] == [q.key for q in QUESTIONS]


def test_answers_become_terms_with_days_and_celsius(at_home):
    """2 weeks are 14 days, 50 and 86 degF are 10 and 30 degC (from memory: definition)."""
    identity = filled(at_home, ABOUT | ALL).save()
    body = body_of(at_home, identity)
    assert KINDS["terms", 1].check(body) is None
    values = {key: entry["value"] for key, entry in body["values"].items()}
    assert set(values) == {question.key for question in QUESTIONS}
    assert values["period"] == {"form": "days", "days": 14}
    assert values["gap"] == {"least": 7, "target": 14, "most": 21}
    assert values["stay"] == [
        {"when": "brood", "least": 42, "most": 56},
        {"when": "no or hardly any brood", "least": 28},
    ]
    assert (values["temperature"][0]["low"], values["temperature"][0]["high"]) == (10, 30)
    assert values["dose"][1] == {
        **{"unit": "piece", "least": 1.0, "most": 2.0, "of": "piece", "per": "colony"},
        "when": "nucleus",
    }
    assert values["rest"] == {"months": 2}
    assert values["look_queen"] == 14
    assert {entry["standing"] for entry in body["values"].values()} == {"label in hand"}
    assert "seen 2026-07-01" in body["sources"]["label"]["note"]


@pytest.mark.parametrize(
    ("answers", "period"),
    [
        ({"period": "days", "period.days": 9}, {"form": "days", "days": 9}),
        ({"period": "zero"}, {"form": "days", "days": 0}),
        ({"period": "season"}, {"form": "next season's supers"}),
        (
            {"period": "season", "period.honey_only": "yes"},
            {"form": "next season's supers", "honey_only": True},
        ),
        ({"period": SILENT}, None),
        ({"period": UNKNOWN}, None),
        ({"period": "days"}, None),
    ],
)
def test_a_period_has_all_its_forms_and_none_is_never_zero(at_home, answers, period):
    """A zero is said as such; silent, not known, and a number never entered are no period."""
    own = filled(at_home, ABOUT | answers)
    if "period.days" not in answers and answers["period"] == "days":
        assert [each.name for each in own.lacking()] == ["period.days"]
    identity = own.save()
    held = body_of(at_home, identity)["values"].get("period")
    assert (held and held["value"]) == period
    if period is None:
        assert "period" in [each.name for each in own.missing()]
        assert at_home.book.terms()[identity].period is None


def test_not_on_the_label_and_not_known_stay_apart(at_home):
    """Both leave the value out; only the first is noted, and both come back as they were."""
    identity = filled(at_home, ABOUT | {"limit": SILENT, "rest": UNKNOWN, "flow": SILENT}).save()
    body = body_of(at_home, identity)
    assert body["values"] == {}
    assert body["sources"]["label"]["note"].endswith("silent on: limit,flow")
    again = OwnTreatment(at_home.notebook, identity)
    told = {each.name: Speech()(each.answer) for each in again.missing()}
    assert (told["limit"], told["rest"]) == ("not on the label", "not known")


def test_a_label_that_is_silent_on_all_still_fits_its_note(at_home):
    """The note may have 300 letters (the record's own limit)."""
    identity = filled(at_home, ABOUT | dict.fromkeys(own_answers.KEYS, SILENT)).save()
    assert len(body_of(at_home, identity)["sources"]["label"]["note"]) <= 300


def test_a_draft_survives_the_program_and_goes_on_where_it_was(at_home):
    """Nothing is held in memory only."""
    own = filled(at_home, {"active": "thymol"})
    own.after("active")
    later = OwnTreatment(at_home.notebook)
    assert later.values["active"] == "thymol"
    assert later.at == "method"


def test_another_answer_to_a_gate_drops_what_followed(at_home):
    """Seven days do not become seven weeks."""
    own = filled(at_home, {"gap": "days", "gap.least": 7})
    own.take("gap", "weeks")
    assert "gap.least" not in own.values
    own.take("gap.least", 2)
    own.take("gap", "weeks")
    assert own.values["gap.least"] == 2


def test_what_contradicts_itself_cannot_be_kept(at_home):
    """At least 9 and at most 4 days are both named."""
    own = filled(at_home, ABOUT | {"gap": "days", "gap.least": 9, "gap.most": 4})
    assert [each.name for each in own.lacking()] == ["gap.least"]


def test_it_is_used_in_a_round_with_its_dose_and_no_label_question(at_home):
    """Its terms are there before the first use: applications name them."""
    identity = filled(at_home, ABOUT | ALL).save()
    assert identity in [choice.identity for choice in treatments(at_home.notebook, "GB")]
    start = at_home.start(identity)
    assert not start.first_use
    assert [amount.amount for amount in start.amounts] == [2.0, 1.0, 2.0]
    round_ = start.begin()
    round_.tap(at_home.hives()[0])
    (application,) = at_home.records("application")
    assert application.body["terms"] == at_home.book.terms()[identity].id


def test_put_right_it_is_a_new_version_and_old_rounds_keep_theirs(at_home):
    """Honey of the first hive goes by 14 days, that of the second by 28."""
    identity = filled(at_home, ABOUT | ALL | {"form": "dose"}).save()
    first, second = at_home.hives()[:2]
    round_ = at_home.start(identity).begin()
    round_.tap(first)
    old = at_home.book.terms()[identity]
    again = OwnTreatment(at_home.notebook, identity)
    assert again.values["period.days"] == 14
    again.take("period", "days")
    again.take("period.days", 28)
    assert again.save() == identity
    new = at_home.book.terms()[identity]
    assert new.id != old.id
    assert (old.period.days, new.period.days) == (14, 28)
    at_home.start(identity).begin().tap(second)
    shared = {record.hive: record.body["terms"] for record in at_home.records("application")}
    assert shared == {first: old.id, second: new.id}
    assert len(own_treatments(at_home.notebook)) == 1


def test_reading_terms_back_and_saving_changes_nothing(at_home):
    """What was entered in weeks and degF stands there in days and degC, and stays."""
    identity = filled(at_home, ABOUT | ALL).save()
    before = body_of(at_home, identity)
    again = OwnTreatment(at_home.notebook, identity)
    assert again.lacking() == []
    again.save()
    assert body_of(at_home, identity) == before


def test_fumes_are_asked_for_and_bring_the_respirator(at_home):
    """A method in words of the keeper's own does not hide that it fills the air."""
    heated = ABOUT | {"active": "something", "method": "verdampft", "air": "yes"}
    identity = filled(at_home, heated).save()
    assert "respirator" in [check.key for check in at_home.start(identity).checks()]
    calm = filled(at_home, heated | {"air": "no"}).save()
    assert "respirator" not in [check.key for check in at_home.start(calm).checks()]


def test_what_the_library_knows_of_the_substance_is_said_too(at_home):
    """Amitraz from an own label warns of MAO inhibitors as the library's does."""
    identity = filled(at_home, ABOUT | {"active": "Amitraz", "method": "own pads"}).save()
    assert any("MAO inhibitors" in line for line in at_home.start(identity).cautions())
    thymol = filled(at_home, ABOUT).save()
    assert not any("MAO" in line for line in at_home.start(thymol).cautions())


def test_its_first_aid_is_offered_where_first_aid_is(at_home):
    """Under the substance's own name, with its source."""
    filled(at_home, ABOUT | ALL | {"active": "menthol"}).save()
    (aid,) = [aid for aid in aids(at_home.notebook) if aid.substance == "menthol"]
    assert [line for line, _ in aid.steps] == ["rinse eyes for minutes"]
