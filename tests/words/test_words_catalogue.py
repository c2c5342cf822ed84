"""Every text is translated, whole and in the right forms, and the font can show all of it."""

from __future__ import annotations

import re

import pytest
from catalogues import OTHERS, ROOT, catalogue, forms, make_words, places
from fontTools.ttLib import TTFont

RUN = "run: python docs/make_words.py, translate what it prints, run it again"


@pytest.fixture(scope="module")
def said():
    """All that the program says."""
    return make_words.template()


def test_there_is_much_to_translate(said):
    """The checks below have something to look at: code, pages of the server, library, tables."""
    files = {file for message in said for file, _ in message.locations}
    assert len(said) > 1500
    assert {file.partition("/")[0] for file in files} == {"fieldapp", "syncserver", "assets"}
    assert "syncserver/pages/templates/base.html" in files
    assert "assets/treatments/de-formic-60.toml" in files


@pytest.mark.parametrize("language", OTHERS)
def test_every_text_is_translated_and_none_is_left_over(said, language):
    """What is said and what the catalogue holds are the same texts, each with all its forms."""
    assert [message.id for message in make_words.untranslated(catalogue(language))] == [], RUN
    brought_up = make_words.as_po(make_words.updated(language, said))
    assert make_words.catalogue_file(language).read_bytes() == brought_up, RUN


@pytest.mark.parametrize("language", OTHERS)
def test_what_ships_is_what_was_translated(language):
    """The compiled catalogue is the one that stands beside it as text."""
    po = make_words.catalogue_file(language).read_bytes()
    shipped = make_words.catalogue_file(language, "mo").read_bytes()
    assert shipped == make_words.as_mo(po, language), RUN


@pytest.mark.parametrize("language", OTHERS)
def test_the_places_of_a_text_are_those_of_its_translation(language):
    """A place left out would hide a date or a dose; one too many would end in an error."""
    wrong = [
        (one, other)
        for message in catalogue(language)
        if message.id and message.context != make_words.HELD
        for one, other in zip(forms(message.id), forms(message.string), strict=True)
        if places(one) != places(other)
    ]
    assert wrong == []


@pytest.mark.parametrize("language", OTHERS)
def test_one_and_many_are_not_mistaken_for_each_other(language):
    """What stands after a number for one stands nowhere for many, where the two differ."""
    one, many = set(), set()
    for message in catalogue(language):
        if message.pluralizable and message.id and message.string[0] != message.string[1]:
            single, several = (set(re.findall(r"\{n\} (\w+)", form)) for form in message.string)
            one |= single - several
            many |= several - single
    assert len(one) > 15
    assert one & many == set()


@pytest.mark.parametrize("style", ["Regular", "Bold"])
@pytest.mark.parametrize("language", ["en", *OTHERS])
def test_the_font_has_every_character_of_every_language(said, language, style):
    """No box stands where a letter should."""
    font = TTFont(ROOT / "assets" / "fonts" / f"NotoSans-{style}.ttf")
    known = font.getBestCmap()
    texts = said if language == "en" else catalogue(language)
    missing = {
        (letter, text)
        for message in texts
        if message.id
        for text in forms(message.id if language == "en" else message.string)
        for letter in text
        if ord(letter) not in known and letter != "\n"
    }
    assert missing == set()
