"""Both themes: every colour at 7:1 or more on its ground (WCAG 2.2, 1.4.6)."""

from __future__ import annotations

import pytest

from fieldapp.screens.theme import HAND, THEMES, TYPE, colour


def luminance(rgba):
    """Relative luminance as WCAG 2.2 defines it."""
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in rgba[:3]]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one, other):
    """Contrast ratio as WCAG 2.2 defines it."""
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_contrast_of_black_on_white_is_21():
    """The measure itself is right at its ends."""
    assert contrast(colour("#000000"), colour("#FFFFFF")) == pytest.approx(21)
    assert contrast(colour("#777777"), colour("#777777")) == pytest.approx(1)


@pytest.mark.parametrize("theme", THEMES.values(), ids=THEMES)
def test_every_role_stands_out_from_its_ground(theme):
    """Words and signs in each role's colour are readable in full sun."""
    for role, ink in theme.ink.items():
        assert contrast(ink, theme.ground) >= 7, role


def test_there_are_four_type_sizes_and_none_below_16():
    """Nothing at the hive is smaller than 16 sp."""
    assert sorted(TYPE.values()) == [16, 20, 28, 44]


def test_a_hand_key_is_20_mm():
    """A dp is 1/160 inch; 20 mm are 126 of them (Colle & Hiszem 2004: 20 mm is enough)."""
    assert HAND * 25.4 / 160 >= 20
