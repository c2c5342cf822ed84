"""Every page, walked by touch at three phone sizes, two font sizes, in both themes and languages.

One walk measures targets, gaps, overlap, cut text and contrast. In the default form each way of
the tour is walked four times of the possible 24: so that its pages meet each size, each font size,
each theme and each language, and the smallest size with the largest letters in German always. As
colours do not follow the size, contrast is measured once in each theme. ``--long`` walks each way
in every combination and measures all of it.
"""

from __future__ import annotations

import itertools

import pytest
import tour
from driver import Phone
from eyes import faint, troubles
from page_names import page_names
from walking import PHONES

THEMES = ("sun", "dark")
LANGUAGES = ("en", "de")
#: Which ways a combination is walked by without --long: all, every second, or the others.
ALL, EVEN, ODD = (0, 1), (0,), (1,)
DEFAULT = {
    (Phone(360, 640, 1.8), "sun", "de"): ALL,
    (Phone(412, 892, 1.0), "sun", "en"): ALL,
    (Phone(360, 640, 1.0), "dark", "en"): EVEN,
    (Phone(480, 1000, 1.8), "sun", "en"): EVEN,
    (Phone(412, 892, 1.8), "dark", "de"): ODD,
    (Phone(480, 1000, 1.0), "dark", "de"): ODD,
}
#: Where contrast is measured: each way once in each theme.
CONTRAST = [*DEFAULT][1:3] + [*DEFAULT][4:5]


@pytest.fixture(scope="module")
def kept(tmp_path_factory):
    """The season's phones, written once."""
    return tour.phones(tmp_path_factory.mktemp("season"))


def _walks():
    for each in itertools.product(PHONES, THEMES, LANGUAGES):
        phone, theme, language = each
        name = f"{phone.width}x{phone.height}@{phone.font}-{theme}-{language}"
        yield pytest.param(*each, id=name, marks=() if each in DEFAULT else pytest.mark.long)


@pytest.mark.parametrize(("phone", "theme", "language"), list(_walks()))
def test_every_page_suits_glove_and_eye(kept, tmp_path, phone, theme, language, long):
    """20 mm at the hive, 48 dp elsewhere, 3 mm round undo and end, no cut text, 7:1."""
    found, seen = set(), set()
    combination = phone, theme, language
    ways = ALL if long else DEFAULT[combination]

    def look(app, page):
        seen.add(page)
        found.update(troubles(app.hand, page))
        if long or combination in CONTRAST:
            found.update(faint(app.hand, page))

    for at, leg in enumerate(tour.LEGS):
        if at % 2 in ways:
            tour.go(leg, tmp_path, kept, phone, look, language=language, theme=theme)
    assert not found, "\n".join(sorted(found))
    assert seen == page_names() or ways != ALL


@pytest.mark.parametrize("half", [0, 1])
def test_the_default_walks_meet_each_size_font_theme_and_language(half):
    """Every way of the tour does, and its contrast is measured in both themes."""
    walks = [walk for walk, ways in DEFAULT.items() if half in ways]
    assert {phone[:2] for phone, _, _ in walks} == {phone[:2] for phone in PHONES}
    assert {phone.font for phone, _, _ in walks} == {1.0, 1.8}
    assert {theme for _, theme, _ in walks} == set(THEMES)
    assert {language for _, _, language in walks} == set(LANGUAGES)
    assert {theme for _, theme, _ in set(walks) & set(CONTRAST)} == set(THEMES)
