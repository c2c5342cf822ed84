"""No word on any page that is not to be translated."""

from __future__ import annotations

import gettext
import re
import tomllib

import pytest
import tour
from running import PHONE

from fieldapp.assets import folder
from fieldapp.words import LANGUAGES, catalogue

#: What the keepers of the season entered, units, codes of countries, and a folder of the test.
OURS = re.compile(
    r"Ferry Lane(, upper field)?|FERRY LANE|Orchard Row|Quarry Top|Hinterfeld|Keeper|Helper|A"
    r"|bee inspector"
    r"|(FL|OR|QT)-2026-\d|hand mister|mist, own mix, version 1|trickle, as on the label, version 1"
    r"|Formic acid from a dish, own treatment|Winter mix \(1\)|respirator, particles and acid gas"
    r"|oxalic acid powder for bees, sachet|own mix, version acid powder for bees, lot"
    r"|under the crown board|101 jars of 1 lb|demo lot \d+|an invented (supplier|address)"
    r"|invoice demo 58|thymol, sponge|monoterpene|rinse|call|No 12|from the future|[a-z_]+/files"
    r"|[a-z_]+/faults.log|ValueError: a value that cannot be|00010203 04050607 08090a0b 0c0d0e0f"
    r"|Label in hand, invented for the demo season: no real label"
    r"|(mg/)?(m?L|[km]?g)|lb|oz|[A-Z]{2}(-[A-Z]+)?"
)


class Marks(gettext.NullTranslations):
    """A language in which every translated word stands between marks; `bare` are other texts."""

    def __init__(self) -> None:
        super().__init__()
        self.bare: set[str] = set()
        self._german = catalogue("de")

    def gettext(self, text):
        return re.sub(r"\S+", r"⟦\g<0>⟧", text)

    def ngettext(self, one, many, n):
        return self.gettext(one if n == 1 else many)

    def pgettext(self, context, text):
        if f"{context}\x04{text}" in self._german._catalog:
            return self.gettext(text)
        outside = " ".join(word for word in text.split() if not re.search("[⟦⟧]", word))
        if any(letter.isalpha() for letter in outside):
            self.bare.add(outside)
        return text


def cited(text: str) -> bool:
    """Whether a text names a source or a label, which stay as their issuers wrote them."""
    known = set()
    for file in (folder("treatments") / "sources.toml", *folder("tables").glob("*.toml")):
        table = tomllib.loads(file.read_text(encoding="utf-8"))
        sources = table.get("sources", table)
        known |= {source["title"] for source in sources.values() if isinstance(source, dict)}
    known |= {"Lee, Moon, Burkness, Hutchison, Spivak 2010, J. Econ.", "VMD, texts on keeping"}
    return text.startswith(tuple(known))


@pytest.fixture(scope="module")
def kept(tmp_path_factory):
    """The season's phones, written once."""
    return tour.phones(tmp_path_factory.mktemp("season"))


@pytest.mark.parametrize("leg", tour.LEGS, ids=lambda leg: leg.name)
def test_no_word_reaches_a_screen_untranslated(kept, tmp_path, monkeypatch, leg):
    """What is no number is from the catalogue, or from the keeper, or a unit, or a citation."""
    marks = Marks()
    monkeypatch.setattr("fieldapp.rounds.language.catalogue", lambda _: marks)
    seen = set()
    tour.go(leg, tmp_path, kept, PHONE, lambda app, _: seen.update(app.hand.texts()))
    assert any("⟦" in text for text in seen)
    # A language is called by its own name, and the keeper's name for a phone begins as "phone".
    bare = marks.bare - {*LANGUAGES.values(), "phone"}
    others = {text for text in bare if not OURS.fullmatch(text) and not cited(text)}
    assert not others, "\n".join(sorted(others))
