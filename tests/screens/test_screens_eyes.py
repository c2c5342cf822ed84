"""Every page, walked by touch at three phone sizes, two font sizes, in both themes and languages.

One walk measures targets, gaps, overlap, cut text and contrast. The default form walks each size
at each font size once, and has themes and languages take turns so that every pair of the four is
met; as colours do not follow the size, contrast is measured on one size in each theme.
``--long`` walks every combination and measures all of it.
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
#: German where it is tightest. A test holds that every pair is met.
PAIRWISE = (
    (Phone(360, 640, 1.0), "dark", "en"),
    (Phone(360, 640, 1.8), "sun", "de"),
    (Phone(412, 892, 1.0), "sun", "en"),
    (Phone(412, 892, 1.8), "dark", "de"),
    (Phone(480, 1000, 1.0), "dark", "de"),
    (Phone(480, 1000, 1.8), "sun", "en"),
)
#: Where contrast is measured: each theme, each language, each font size once.
CONTRAST = (PAIRWISE[2], PAIRWISE[3])


@pytest.fixture(scope="module")
def kept(tmp_path_factory):
    """The season's phones, written once."""
    return tour.phones(tmp_path_factory.mktemp("season"))


def _walks():
    for each in itertools.product(PHONES, THEMES, LANGUAGES):
        phone, theme, language = each
        name = f"{phone.width}x{phone.height}@{phone.font}-{theme}-{language}"
        yield pytest.param(*each, id=name, marks=() if each in PAIRWISE else pytest.mark.long)


@pytest.mark.parametrize(("phone", "theme", "language"), list(_walks()))
def test_every_page_suits_glove_and_eye(kept, tmp_path, phone, theme, language, long):
    """20 mm at the hive, 48 dp elsewhere, 3 mm round undo and end, no cut text, 7:1."""
    found, seen = set(), set()

    def look(app, page):
        seen.add(page)
        found.update(troubles(app.hand, page))
        if long or (phone, theme, language) in CONTRAST:
            found.update(faint(app.hand, page))

    for leg in tour.LEGS:
        tour.go(leg, tmp_path, kept, phone, look, language=language, theme=theme)
    assert not found, "\n".join(sorted(found))
    assert seen == page_names()


def test_the_default_walks_meet_every_pair():
    """Each width with each font, theme and language, each of these with each other."""
    sizes = sorted({phone[:2] for phone in PHONES})
    sides = (sizes, [1.0, 1.8], THEMES, LANGUAGES)
    walks = [(phone[:2], phone.font, theme, language) for phone, theme, language in PAIRWISE]
    for one, other in itertools.combinations(range(4), 2):
        met = {(walk[one], walk[other]) for walk in walks}
        assert met == set(itertools.product(sides[one], sides[other])), (one, other)
