"""Phrases are spoken with dates and numbers in the habits of the keeper's country."""

from __future__ import annotations

from datetime import date

import pytest

from fieldapp.words import Degrees, Speech, count, habits_of, say

DAY = date(2026, 8, 3)


@pytest.mark.parametrize(
    ("country", "spoken"),
    [("GB", "3 Aug 2026"), ("US", "Aug 3, 2026"), ("DE", "3. Aug 2026"), (None, "3 Aug 2026")],
)
def test_a_day_is_written_as_the_country_writes_it(country, spoken):
    """The month is a word everywhere, so that no day can be read as a month."""
    assert Speech(habits=habits_of(country))(say("{day}", day=DAY)) == spoken


def test_numbers_have_the_countrys_decimal_mark():
    """2.5 is 2,5 in Germany; whole floats have no mark."""
    speak = Speech(habits=habits_of("DE"))
    assert speak(say("{n} mL", n=2.5)) == "2,5 mL"
    assert speak(say("{n} mL", n=30.0)) == "30 mL"


def test_temperatures_are_spoken_in_the_countrys_unit():
    """The check value: 100 degC is 212 degF, 0 is 32."""
    assert Speech(habits=habits_of("US"))(say("{t}", t=Degrees(100))) == "212 °F"
    assert Speech(habits=habits_of("US"))(say("{t}", t=Degrees(0))) == "32 °F"
    assert Speech()(say("{t}", t=Degrees(21.0))) == "21 °C"
    assert Speech()(say("{t}", t=Degrees(-0.01))) == "0 °C"


@pytest.mark.parametrize(
    ("country", "spoken"), [("GB", "29.5 °C"), ("DE", "29,5 °C"), ("US", "85 °F")]
)
def test_a_labels_limit_is_never_rounded_to_another(country, spoken):
    """29.5 degC, published for 85 degF, is not 30 degC, nor 84 or 86 degF."""
    assert Speech(habits=habits_of(country))(say("{t}", t=Degrees(29.5))) == spoken


def test_every_whole_degree_comes_back_whole():
    """What a label has in degF is kept to a tenth of a degC, and said as it stood."""
    speak = Speech(habits=habits_of("US"))
    for degf in range(-40, 400):
        kept = Degrees(round((degf - 32) * 5 / 9, 1))
        assert speak(say("{t}", t=kept)) == f"{degf} °F"


def test_a_tenth_that_was_measured_is_said():
    """Just over a limit of 70 degC is not said as 70 degC; about it, it may be."""
    over = Degrees(70.4)
    assert Speech()(say("{t}", t=over)) == "70.4 °C"
    assert Speech(habits=habits_of("US"))(say("{t}", t=over)) == "158.7 °F"
    assert Speech()(say("{t}", t=over._replace(about=True))) == "70 °C"


def test_a_count_chooses_its_form():
    """One hive, two hives."""
    speak = Speech()
    assert speak(count("{n} hive", "{n} hives", 1)) == "1 hive"
    assert speak(count("{n} hive", "{n} hives", 2)) == "2 hives"


def test_a_phrase_inside_a_phrase_is_spoken_too():
    """A place may hold another phrase."""
    inner = count("{n} strip", "{n} strips", 2)
    assert Speech()(say("Hive {number}: {gets}", number="7", gets=inner)) == "Hive 7: 2 strips"
