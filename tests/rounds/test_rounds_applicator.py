"""An applicator: measured, what its strokes give beside labels, and how far off."""

from __future__ import annotations

import pytest

from fieldapp.rounds.applicator import Applicator, add_applicator, applicators
from fieldapp.rounds.strokes import Gave
from fieldapp.rounds.vets_dose import VetsDose
from fieldapp.words import Speech

MIST = "any/no-published-label/1/oxalic-acid/mist"
SPEAK = Speech()
INCH = 2.54


def celsius(fahrenheit):
    return (fahrenheit - 32) / 1.8


@pytest.fixture
def german(phone):
    phone.set_up(1, country="DE")
    return phone


def one(phone) -> Applicator:
    return Applicator(phone.notebook, add_applicator(phone.notebook, "The fogger"))


def mixed(phone, percent=20):
    phone.write(
        "batch",
        {
            "recipe": "Winter mix (1)",
            "amount": 250,
            "unit": "mL",
            "strength": percent,
            "strength_of": "dihydrate",
            "strength_as": "w/v",
        },
    )


def planned(phone, measured=True):
    """Nine strokes in three places, of 4 mL each, 20 % w/v."""
    fogger = one(phone)
    if measured:
        for amount in (40, 40.4, 39.6):
            fogger.add_strokes(10, amount, "mL")
        fogger.save()
    for place, strokes in (("left", 4), ("middle", 2), ("right", 3)):
        for _ in range(strokes):
            fogger.add_stroke(place, 1)
    return fogger


def test_a_measuring_is_written_down_and_found_again(german):
    """Strokes and temperatures as they were read; nothing is left on the phone alone."""
    fogger = one(german)
    fogger.add_strokes(10, 21, "mL")
    fogger.add_heat("fast", 5.08, 76.7, spat=True)
    assert fogger.unsaved
    again = Applicator(german.notebook, fogger.id)
    assert len(again.repeats) == 1, "a draft survives"
    again.save()
    assert not Applicator(german.notebook, fogger.id).unsaved
    (record,) = german.records("measured")
    assert record.body["strokes"] == [{"strokes": 10, "amount": 21, "unit": "mL"}]
    assert record.body["heat"][0]["spat"] is True
    assert [each.name for each in applicators(german.notebook)] == ["The fogger"]


def test_one_repeat_has_no_spread(german):
    """Said in words, with what to do."""
    fogger = one(german)
    assert "first" in SPEAK(fogger.told_stroke())
    fogger.add_strokes(10, 21, "mL")
    assert SPEAK(fogger.told_stroke()).endswith("The spread is not known: measure again.")
    fogger.add_strokes(10, 22, "mL")
    assert SPEAK(fogger.told_stroke()) == "One stroke: 2.15 mL, from 2.1 to 2.2 in 2 repeats."


def test_repeats_in_different_units_are_not_added(german):
    """What is read off and what is weighed do not go together."""
    fogger = one(german)
    fogger.add_strokes(10, 21, "mL")
    fogger.add_strokes(10, 21, "g")
    assert "different units" in SPEAK(fogger.told_stroke())


def test_what_has_to_be_done_first_is_said(german):
    """Measure, then name the batch, then plan strokes: never a number without all three."""
    fogger = one(german)
    assert "strokes into a measure" in SPEAK(fogger.gave())
    fogger.add_strokes(10, 40, "mL")
    assert "which batch" in SPEAK(fogger.gave())
    mixed(german)
    fogger.turn_mix()
    assert "Plan strokes" in SPEAK(fogger.gave())


def test_nine_strokes_beside_the_german_trickle(german):
    """9 x 4 mL at 20 %: 7.2 g, four times the 1.75 g of 50 mL trickled, with what must be said."""
    mixed(german)
    fogger = planned(german)
    fogger.turn_mix()
    gave = fogger.gave()
    assert isinstance(gave, Gave)
    assert SPEAK(gave.words).startswith("9 strokes (left 4, middle 2, right 3) gave 7.2 g")
    trickle = next(SPEAK(each) for each in gave.beside if "3.5 %" in SPEAK(each))
    assert trickle.startswith("about 4.1 to 4.2 times what Oxalic acid 3.5 %, trickled")
    assert "(1.75 g)" in trickle
    first = " ".join(SPEAK(each) for each in gave.first)
    for words in ("no published label", "period for honey is not known", "ask the authority"):
        assert words in first


def test_strokes_in_grams_take_the_strength_by_mass_and_its_range(german):
    """100 g of water and 4 US tablespoons of powder: 32 to 37 % by mass; w/v alone tells none."""
    steps = [
        {"do": "add", "what": "water", "amount": 100, "unit": "g"},
        {"do": "add", "what": "oxalic acid dihydrate", "amount": 4, "unit": "US tablespoon"},
    ]
    body = {"recipe": "Spooned (1)", "amount": 130, "unit": "mL", "steps": steps}
    german.write("batch", body | {"strength": 39, "strength_of": "dihydrate", "strength_as": "w/v"})
    mixed(german)
    fogger = one(german)
    for grams in (10, 10, 10):
        fogger.add_strokes(10, grams, "g")
    fogger.save()
    fogger.add_stroke("left", 1)
    (mix,) = fogger.mixes()
    assert mix.strength.by == "w/w"
    assert mix.strength.percent == pytest.approx((32.1, 37.2), abs=0.1)
    fogger.turn_mix()
    said = fogger.gave()
    assert isinstance(said, Gave)
    assert SPEAK(said.words).startswith("1 stroke (left 1) gave 0.35 g")
    assert "± 0.03 g" in SPEAK(said.words)


def test_no_written_dose_no_strokes(german):
    """The way back needs a label or a veterinarian."""
    mixed(german)
    fogger = planned(german)
    fogger.turn_mix()
    assert "no written dose" in SPEAK(fogger.gave().reverse)


def test_a_label_in_hand_gives_strokes_rounded_down(german):
    """2 g a colony at 0.8 g a stroke and a little more: two strokes."""
    body = german.notebook.library.get(MIST).terms_body()
    dose = {"amount": 2, "unit": "g", "of": "dihydrate", "per": "colony"}
    body |= {
        "treatment": "own/mist",
        "country": "DE",
        "values": {"dose": {"value": [dose], "standing": "label in hand", "source": "label"}},
        "sources": {"label": {"title": "an invented label"}},
    }
    german.write("terms", body)
    mixed(german)
    fogger = planned(german)
    fogger.turn_mix()
    reverse = "The written dose (label in hand: an invented label) is 2 strokes, rounded down."
    assert SPEAK(fogger.gave().reverse) == reverse


def write_dose(phone, amount=2.0, country="DE", **envelope):
    """A veterinarian's document of 1 March for the mist."""
    return phone.write(
        "written_dose",
        {
            "treatment": envelope.pop("treatment", MIST),
            "country": country,
            "dose": {"amount": amount, "unit": "g", "of": "dihydrate", "per": "colony"},
            "given_by": {
                "who": "veterinarian",
                "name": "Dr Invented",
                "day": "2026-03-01",
                "document": "letter 12",
            },
        },
        **envelope,
    )


def reverse(phone):
    mixed(phone)
    fogger = planned(phone)
    fogger.turn_mix()
    return SPEAK(fogger.gave().reverse)


def test_a_veterinarians_written_dose_gives_strokes(german):
    """For this method and country; of several the latest holds; taken back it is gone."""
    write_dose(german, amount=4)
    german.time.pass_(60)
    latest = write_dose(german)
    told = "The written dose (Dr Invented, letter 12, 1 Mar 2026) is 2 strokes, rounded down."
    assert reverse(german) == told
    write_dose(german, corrects=latest.id, heads=(latest.id,), void=True)
    assert "is 4 strokes" in reverse(german)


def test_a_later_dose_for_another_country_hides_none(german):
    """The one for this country still holds."""
    write_dose(german)
    german.time.pass_(60)
    write_dose(german, amount=4, country="AT")
    assert "is 2 strokes" in reverse(german)


@pytest.mark.parametrize(
    "other",
    [{"country": "AT"}, {"treatment": "DE/x/1/oxalic-acid/trickle"}, {"hive": "one"}],
    ids=["another country", "another treatment", "one hive only"],
)
def test_a_written_dose_for_something_else_gives_none(german, other):
    """Another country's, another method's, one hive's: no strokes for all."""
    if "hive" in other:
        other = {"hive": german.hives()[0]}
    write_dose(german, **other)
    assert "no written dose" in reverse(german)


def test_stand_off_of_common_practice(phone):
    """Common practice: fast 190, 150, 150 degF at 2, 4, 6 inches; further than 3 inches for 170."""
    phone.set_up(1, country="US")
    fogger = one(phone)
    for inches, slow, fast in ((2, 130, 190), (4, 120, 150), (6, 110, 150)):
        fogger.add_heat("slow", inches * INCH, celsius(slow), spat=False)
        fogger.add_heat("fast", inches * INCH, celsius(fast), spat=inches == 2)
    assert fogger.told_stand_off() is None, "no limit is shipped"
    fogger.take_limit(celsius(170))
    assert SPEAK(fogger.told_stand_off()).endswith("further than 3 inches")
    assert [SPEAK(each) for each in fogger.told_spits()] == [
        "Liquid spat at 2 inches, fast strokes"
    ]
    for limit in (150, 140):
        fogger.take_limit(celsius(limit))
        assert "none measured" in SPEAK(fogger.told_stand_off())


def test_a_veterinarians_document_is_whole_before_it_is_written(german):
    """Dose, name and document; never dated after today; then it gives strokes."""
    dose = VetsDose(german.notebook)
    assert "How many g" in SPEAK(dose.wrong)
    dose.grams, dose.name = 2.0, "Dr Invented"
    assert "which document" in SPEAK(dose.wrong)
    dose.document = "letter 12"
    dose.add_days(-30)
    dose.add_days(31)
    assert (dose.wrong, dose.day) == (None, dose.today)
    dose.save()
    assert "letter 12, 1 Jul 2026) is 2 strokes" in reverse(german)


def test_the_ratio_is_said_before_the_first_hive_of_a_round(german):
    """A mist: what the strokes give and how many times a label's; not known where unmeasured."""
    facts = [(fact.sign, SPEAK(fact.words)) for fact in german.start(MIST).facts()]
    assert any("not known here" in words for sign, words in facts if sign == "unknown")
    mixed(german)
    planned(german).turn_mix()
    facts = [(fact.sign, SPEAK(fact.words)) for fact in german.start(MIST).facts()]
    assert any(words.startswith("The fogger: 9 strokes") for _, words in facts)
    assert any("4.1 to 4.2 times" in words for sign, words in facts if sign == "late")
    assert not any("not known here" in words for _, words in facts)
    trickle = "DE/standard-authorisation-3-5/2006/oxalic-acid/trickle"
    assert not any("strokes" in SPEAK(fact.words) for fact in german.start(trickle).facts())
