"""The eyes that the walk over all pages looks with: each fault, made on purpose, is told."""

from __future__ import annotations

import pytest
from eyes import faint, troubles
from kivy.core.window import Window

from fieldapp.screens.block import Words
from fieldapp.screens.keys import Key
from fieldapp.screens.look import Look, register_font
from fieldapp.screens.page import Page
from fieldapp.screens.stage import Stage
from fieldapp.screens.theme import SUN, colour
from fieldapp.screens.touch import Guard
from fieldapp.words import Speech

PALE = SUN._replace(ink=SUN.ink | {"quiet": colour("#7D8A85")})


def nothing() -> None:
    """What a key of these pages does."""


@pytest.fixture
def show(phone):
    """Show blocks on a page and return the hand before it."""
    register_font()

    def shown(*blocks):
        stage = Stage(Guard(lambda: 0.0), lambda _: None)
        stage.size = Window.size
        stage.show(Page(blocks[0].look, middle=blocks, name="home"))
        phone.show(stage)
        return phone

    return shown


def look(theme=SUN) -> Look:
    return Look(theme, Speech())


def test_a_page_as_it_should_be_has_no_trouble(show):
    """The measure tells nothing of what is right."""
    hand = show(Key(look(), "A key", nothing, least=48), Words(look(), "A text"))
    assert troubles(hand, "home") == []
    assert faint(hand, "home") == []


def test_a_key_of_40_dp_is_too_low_for_a_finger(show):
    """Under 48 dp at the desk, and one of 110 dp under 20 mm at the hive."""
    assert "least 48" in troubles(show(Key(look(), "A key", nothing, least=40)), "home")[0]
    assert "least 126" in troubles(show(Key(look(), "A key", nothing, least=110)), "due")[0]


def test_a_pale_text_is_told_with_its_contrast(show):
    """Under 7:1 on the pixels (WCAG 2.2, 1.4.6)."""
    assert "'pale' stands out by 3." in faint(show(Words(look(PALE), "pale", role="quiet")), "")[0]


def test_a_text_that_is_cut_off_is_told(show):
    """By less height than its letters need, or by an ellipsis that nothing before it explains."""
    words = Words(look(), "A text")
    hand = show(words)
    words.height *= 0.6
    assert any("is cut" in each for each in troubles(hand, "home"))
    hand = show(Key(look(), "Begun and …", nothing))
    assert any("is cut off" in each for each in troubles(hand, "home"))
    hand = show(Words(look(), "Begun and ended"), Key(look(), "Begun and …", nothing))
    assert troubles(hand, "home") == []


def test_texts_over_each_other_and_keys_too_close_are_told(show):
    """An overlap, and a gap under 1 mm."""
    words, other = Words(look(), "A text"), Words(look(), "Another")
    hand = show(words, other)
    other.place(words.x, words.y + 4)
    assert any("overlaps" in each for each in troubles(hand, "home"))
    key, below = (Key(look(), name, nothing) for name in ("Above", "Below"))
    hand = show(key, below)
    below.place(below.x, key.y - below.height - 2)
    assert any("apart, least 6.3" in each for each in troubles(hand, "home"))
