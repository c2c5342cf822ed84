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
    assert Speech()(say("{t}", t=Degrees(21.4))) == "21 °C"


def test_a_count_chooses_its_form():
    """One hive, two hives."""
    speak = Speech()
    assert speak(count("{n} hive", "{n} hives", 1)) == "1 hive"
    assert speak(count("{n} hive", "{n} hives", 2)) == "2 hives"


def test_a_phrase_inside_a_phrase_is_spoken_too():
    """A place may hold another phrase."""
    inner = count("{n} strip", "{n} strips", 2)
    assert Speech()(say("Hive {number}: {gets}", number="7", gets=inner)) == "Hive 7: 2 strips"
