"""Which language is spoken, and that days, numbers and units follow the country in each."""

from __future__ import annotations

from datetime import date

import pytest

from fieldapp.words import Degrees, Speech, catalogue, count, fitting, habits_of, region, say

DAY = date(2026, 3, 9)
GERMAN = catalogue("de")


@pytest.mark.parametrize(
    ("tags", "spoken"),
    [
        (["de-AT"], "de"),
        (["de"], "de"),
        (["DE_CH"], "de"),
        (["fr-FR", "de-DE", "en"], "de"),
        (["fr-FR"], "en"),
        (["den-CA"], "en"),
        ([], "en"),
    ],
)
def test_the_first_language_that_is_spoken_here_is_taken(tags, spoken):
    """By the tag's language alone; English where none is spoken."""
    assert fitting(tags) == spoken


def test_a_tag_names_its_country():
    """A script is no country."""
    assert (region("de-AT"), region("zh-Hant-TW"), region("de"), region("sr-Latn")) == (
        "AT",
        "TW",
        None,
        None,
    )


@pytest.mark.parametrize(
    ("language", "country", "day", "number", "degrees"),
    [
        ("en", "GB", "9 Mar 2026", "2.5", "29.5 °C"),
        ("en", "US", "Mar 9, 2026", "2.5", "85 °F"),
        ("en", "DE", "9. Mar 2026", "2,5", "29,5 °C"),
        ("de", "DE", "9. März 2026", "2,5", "29,5 °C"),
        ("de", "AT", "9. März 2026", "2,5", "29,5 °C"),
        ("de", "CH", "9. März 2026", "2.5", "29.5 °C"),
        ("de", "US", "März 9, 2026", "2.5", "85 °F"),
    ],
)
def test_habits_follow_the_country_and_words_the_language(language, country, day, number, degrees):
    """Both languages in each country: the month is a word of the language (from memory)."""
    speak = Speech(catalogue(language), habits_of(country))
    said = say("{day} {n} {t}", day=DAY, n=2.5, t=Degrees(29.5))
    assert speak(said) == f"{day} {number} {degrees}"


@pytest.mark.parametrize(
    ("n", "english", "german"),
    [(1, "1 hive", "1 Beute"), (2, "2 hives", "2 Beuten"), (0, "0 hives", "0 Beuten")],
)
def test_a_count_chooses_its_form_in_each_language(n, english, german):
    """One hive, two hives, no hives."""
    phrase = count("{n} hive", "{n} hives", n)
    assert (Speech()(phrase), Speech(GERMAN)(phrase)) == (english, german)


def test_the_library_is_spoken_and_names_are_left_alone():
    """A treatment's name is translated wherever it stands; a keeper's words never are."""
    speak = Speech(GERMAN)
    assert speak("Formic acid 60 %, evaporated") == "Ameisensäure 60 %, verdunstet"
    gone = say("{name}: pieces out", name="Thymol gel")
    assert speak(gone) == "Thymol-Gel: Träger heraus"
    # *Home* and *Hives* are words of pages too: an apiary of that name keeps it.
    assert speak(say("Round at {apiary}", apiary="Home")) == "Runde: Home"
    assert speak("Hives") == "Hives"
    assert speak("") == ""


def test_a_catalogue_that_cannot_be_read_leaves_english(tmp_path, monkeypatch):
    """Damaged or missing words keep nobody from treating bees."""
    broken = tmp_path / "de" / "LC_MESSAGES"
    broken.mkdir(parents=True)
    (broken / "apiary.mo").write_bytes(b"no catalogue")
    monkeypatch.setattr("fieldapp.words.languages.folder", lambda _: tmp_path)
    assert Speech(catalogue("de"))(say("Back")) == "Back"
    (broken / "apiary.mo").unlink()
    assert Speech(catalogue("de"))(say("Back")) == "Back"
