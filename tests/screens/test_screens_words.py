"""Every screen in German, at the large font; and no word on any that is not to be translated."""

from __future__ import annotations

import gettext
import re
import tomllib

import pytest
import test_screens_bench_eyes as bench_eyes
import test_screens_eyes as eyes_of_rounds
import test_screens_look_eyes as look_eyes
import test_screens_round_eyes as round_eyes
import test_screens_stock_eyes as stock_eyes
from driver import Phone
from eyes import troubles

from fieldapp.assets import folder
from fieldapp.words import LANGUAGES, catalogue

#: What the keeper of the walks entered, units, and codes of countries.
OURS = re.compile(
    r"Ferry Lane, upper field|Keeper|Fogger|Fogger with the long nozzle|own recipe|My mix"
    r"|Winter mix \(1\)|L7|(\d )?S\d|25 jars|a dealer|oxalic acid powder for bees"
    r"|A2P3|ABEK-P3, the helper's|hand mister|nozzle 0.5"
    r"|(mg/)?(m?L|k?g)|[A-Z]{2}(-[A-Z]+)?"
)
#: The smallest screen; what fits there fits the others, which are walked only with --long.
LARGE = [Phone(360, 640, 1.8), pytest.param(Phone(412, 892, 1.8), marks=pytest.mark.long)]


def bench(app, look):
    """Options, hole, weather, bench and applicators."""
    bench_eyes.stocked(app)
    walk = bench_eyes.Walk(app, look)
    bench_eyes.options(walk)
    bench_eyes.bench(walk)
    bench_eyes.applicators(walk)


def stock(app, look):
    """Stock, gear and honey."""
    stock_eyes.furnished(app)
    stock_eyes.everywhere(stock_eyes.Walk(app, look))


WALKS = {
    "rounds": eyes_of_rounds.walk,
    "more of rounds": round_eyes.walk,
    "looks": look_eyes.walk,
    "bench": bench,
    "stock": stock,
}


@pytest.mark.parametrize("walk", WALKS)
@pytest.mark.parametrize("phone", LARGE, ids=lambda p: f"{p.width}x{p.height}@{p.font}")
def test_german_is_neither_cut_nor_overlapping(open_app, phone, walk):
    """German words are longer: the same eyes look at the same pages."""
    app = open_app(phone, language="de-DE")
    found, seen = set(), set()

    def look(page):
        seen.add(page)
        found.update(troubles(app.hand, page))

    WALKS[walk](app, look)
    assert app.kit.speech.language == "de"
    assert not found, "\n".join(sorted(found))
    assert len(seen) > 10


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


@pytest.mark.parametrize("walk", WALKS)
def test_no_word_reaches_a_screen_untranslated(open_app, monkeypatch, walk):
    """What is no number is from the catalogue, or from the keeper, or a unit, or a citation."""
    marks = Marks()
    monkeypatch.setattr("fieldapp.rounds.language.catalogue", lambda _: marks)
    app = open_app()
    seen = set()
    WALKS[walk](app, lambda page: seen.update(app.hand.texts()))
    assert any("⟦" in text for text in seen)
    # A language is called by its own name, and the keeper's name for a phone begins as "phone".
    named = {*LANGUAGES.values(), "phone"}
    bare = marks.bare - named
    others = {text for text in bare if not OURS.fullmatch(text) and not cited(text)}
    assert not others, "\n".join(sorted(others))
