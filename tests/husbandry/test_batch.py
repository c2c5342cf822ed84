"""A batch as it is kept, written down and labelled."""

from __future__ import annotations

from datetime import date

import pytest
from computing_cases import CHEMISTRY, PRACTICE
from mixing_cases import GERMAN, ITALIAN, made

from fieldapp.husbandry.chance.intervals import Interval
from fieldapp.husbandry.mixing.batch import Batch, batch_body, keeping, label, strength_of
from fieldapp.husbandry.mixing.contents import contents
from fieldapp.husbandry.mixing.strength import (
    Strength,
    strengths,
)
from fieldapp.journal.kinds import KINDS
from fieldapp.words.speech import Speech

BATCH = Batch(
    GERMAN,
    500,
    "mL",
    Strength(Interval(3.5, 3.5), "dihydrate", "w/v"),
    date(2026, 12, 12),
    "keeper",
    ("L22",),
    date(2027, 1, 31),
)


def test_keeping():
    """Bogdanov et al. (Swiss Bee Research Centre) and a BBKA leaflet of 2007: for one winter."""
    mix = contents(ITALIAN.steps, CHEMISTRY)
    warm, cold = (keeping(mix, degc, CHEMISTRY) for degc in (24, 4))
    assert "for one winter" in warm[0].phrase.text
    assert "harmful to bees" in warm[1].phrase.text
    assert "keeps best" in cold[1].phrase.text
    assert dict(warm[3].phrase.args)["times"] == 25
    assert dict(warm[2].phrase.args)["n"] == 475
    cool, unknown = (keeping(mix, degc, CHEMISTRY) for degc in (10, None))
    assert "is better" in cool[1].phrase.text
    assert "harmful to bees" in unknown[1].phrase.text
    assert not any("times as fast" in each.phrase.text for each in unknown)
    unsugared = contents(ITALIAN.steps[:2], CHEMISTRY)
    assert "not known" in keeping(unsugared, 4, CHEMISTRY)[0].phrase.text


def test_a_batch_record_fits_its_kind():
    """What the bench writes down is what the journal takes."""
    lot = {"lot": "01890a5d-ac96-774b-bcce-b302099a8057", "amount": 17.5, "unit": "g"}
    body = batch_body(BATCH, [lot], "DE/x/2006/oxalic-acid/trickle")
    assert KINDS["batch", 1].check(body) is None
    assert body["steps"][1] == {
        "do": "add",
        "what": "oxalic acid dihydrate",
        "amount": 17.5,
        "unit": "g",
    }
    assert (body["strength"], body["strength_of"], body["strength_as"]) == (3.5, "dihydrate", "w/v")


def test_what_a_batch_record_tells_of_its_strength():
    """Spoons make a range and both ways where they agree with what was written, else that alone."""
    mix = strengths(contents(PRACTICE, CHEMISTRY), CHEMISTRY)
    batch = Batch(made(*PRACTICE), 250, "mL", mix[0], date(2026, 6, 1), "keeper")
    body = batch_body(batch)
    assert body["strength"] == pytest.approx(19.7, abs=0.1)
    assert strength_of(body, "w/v", CHEMISTRY) == mix[0]
    assert strength_of(body, "w/w", CHEMISTRY) == mix[2]
    other = Strength(Interval(5, 5), "dihydrate", "w/v")
    for change in ({"strength": 5.0}, {"strength": 5.0, "steps": [{"do": "add", "what": "x"}]}):
        assert strength_of(body | change, "w/v", CHEMISTRY) == other
        assert strength_of(body | change, "w/w", CHEMISTRY) is None
    nothing = {key: value for key, value in body.items() if not key.startswith("strength")}
    assert strength_of(nothing, "w/v", CHEMISTRY) is None


def test_the_label_on_the_bottle():
    """Recipe, strength, day, lots, keep until, and what it does to people."""
    said = "\n".join(map(Speech(), label(BATCH, CHEMISTRY)))
    for wanted_text in (
        "3.5 % w/v",
        "made 12 Dec 2026 by keeper",
        "L22",
        "keep until 31 Jan 2027",
        "CORROSIVE",
        "30 min",
    ):
        assert wanted_text in said
    unknown = BATCH._replace(strength=None, lots=(), keep_until=None)
    said = "\n".join(map(Speech(), label(unknown, CHEMISTRY)))
    for wanted_text in ("strength not known", "lots not known", "keep until: not set"):
        assert wanted_text in said
