"""Applicators: strokes into a measure, what they gave, beside what labels give, how far off."""

from __future__ import annotations

import pytest
from computing_cases import CHEMISTRY, MEASURES, PRACTICE
from hypothesis import given as for_all
from hypothesis import strategies as st

from fieldapp.husbandry.answers import Reason
from fieldapp.husbandry.applicators import (
    Labelled,
    Measured,
    beside,
    given,
    per_stroke,
    unlabelled,
)
from fieldapp.husbandry.chance.intervals import Interval
from fieldapp.husbandry.errors import Unfitting
from fieldapp.husbandry.mixing.contents import contents
from fieldapp.husbandry.mixing.measures import convert
from fieldapp.husbandry.mixing.solubility import crystals
from fieldapp.husbandry.mixing.strength import Strength, strengths
from fieldapp.husbandry.standoff import Heat, spits, stand_off
from fieldapp.words import say
from fieldapp.words.speech import Speech

TEN_PERCENT = Strength(Interval(10, 10), "dihydrate", "w/v")
STROKE = per_stroke([Measured(10, 20, "mL"), Measured(10, 22, "mL"), Measured(20, 42, "mL")])
TRICKLE = Labelled("the trickle for a strong colony", 1.75, Reason(say("50 mL of 3.5 %")))


def test_strokes_into_a_measure():
    """Ten strokes gave 20 and 22 mL, twenty 42: 2.1 mL a stroke, from 2.0 to 2.2."""
    assert STROKE.mean == pytest.approx(2.1)
    assert STROKE.range == (2.0, 2.2)
    assert STROKE.deviation == pytest.approx(0.1)


def test_ten_strokes_into_a_measure_divided():
    """Lactic acid spray: fire ten strokes into a measure and divide (vetisearch.de/spcs/64015)."""
    assert per_stroke([Measured(10, 8, "mL")]).mean == pytest.approx(0.8)


def test_one_measuring_has_no_spread():
    """A single repeat tells no spread, and the words say so."""
    once = per_stroke([Measured(10, 21, "mL")])
    assert once.deviation is None
    words = given({"entrance": 5}, once, TEN_PERCENT, CHEMISTRY).words
    assert "spread is not known" in Speech()(words)


def test_what_strokes_gave():
    """Nine strokes in three places at 10 % w/v: 1.89 g, from 1.8 to 1.98."""
    hive = given({"entrance": 4, "left": 2, "right": 3}, STROKE, TEN_PERCENT, CHEMISTRY)
    assert hive.strokes == 9
    assert hive.grams == pytest.approx((1.8, 1.98))
    assert hive.spread == pytest.approx(0.09)
    said = Speech()(hive.words)
    assert said.startswith("9 strokes (entrance 4, left 2, right 3) gave 1.89 g")
    assert "± 0.09 g" in said


def test_one_stroke_is_one():
    """Said in the singular."""
    words = given({"left": 1}, STROKE, TEN_PERCENT, CHEMISTRY).words
    assert Speech()(words).startswith("1 stroke (left 1)")


def test_volume_wants_a_strength_by_volume():
    """Strokes in mL go with w/v, in g with w/w; otherwise it is refused."""
    with pytest.raises(Unfitting, match="w/v"):
        given({"x": 1}, STROKE, Strength(Interval(10, 10), "dihydrate", "w/w"), CHEMISTRY)
    with pytest.raises(Unfitting, match="same unit"):
        per_stroke([Measured(1, 2, "mL"), Measured(1, 2, "g")])


def test_the_ratio_in_words():
    """Beside a labelled dose the amount stands as so many times it."""
    (one,) = beside(Interval(3.5, 7.0), [TRICKLE])
    assert (
        Speech()(one.phrase)
        == "about 2 to 4 times what the trickle for a strong colony gives (1.75 g)"
    )
    assert "no labelled dose" in beside(Interval(1, 1), [])[0].phrase.text


def inches(pace: str, *rows: tuple[float, float], spat: tuple[float, ...] = ()) -> list[Heat]:
    return [
        Heat(pace, convert(d, "inch", "cm"), convert(t, "degF", "degC"), d in spat) for d, t in rows
    ]


# Common practice, no source: degF at 2, 4 and 6 inches for slow and for fast strokes.
PLOT = [
    *inches("slow", (2, 130), (4, 120), (6, 110)),
    *inches("fast", (2, 190), (4, 150), (6, 150), spat=(2,)),
]


@pytest.mark.parametrize(
    ("limit", "says", "distance"),
    [(170, "further than", 3.0), (150, "none measured", None), (140, "none measured", None)],
)
def test_stand_off_of_common_practice(limit, says, distance):
    """For 170 degF further than 3.0 inches; for 150 and 140 none measured."""
    found = stand_off(PLOT, convert(limit, "degF", "degC"))
    assert found.says == says
    if distance is not None:
        assert convert(found.distance, "cm", "inch") == pytest.approx(distance, abs=1e-6)
    else:
        assert found.distance is None


def test_nothing_is_extrapolated_inward_either():
    """Where all is under the limit, only from the nearest measured distance on."""
    found = stand_off(PLOT, convert(200, "degF", "degC"))
    assert (found.says, found.distance) == ("from", pytest.approx(5.08))


def test_only_fast_strokes_count():
    """Slow strokes are cooler and tell no distance."""
    assert stand_off([each for each in PLOT if each.pace == "slow"], 90).says == "none measured"


def test_a_hot_spot_further_out_counts():
    """Of several temperatures at one distance the hottest counts, and a rise further out too."""
    rows = [Heat("fast", d, t) for d, t in [(5, 60), (10, 90), (10, 50), (15, 70), (20, 40)]]
    assert stand_off(rows, 80).distance == pytest.approx(12.5)


def test_at_the_limit_is_not_under_it():
    """80 degC at 10 cm is not under 80: further than 10 cm, and nothing under the limit nearer."""
    rows = [Heat("fast", 10, 80), Heat("fast", 15, 60)]
    found = stand_off(rows, 80)
    assert (found.says, found.distance) == ("further than", 10)


def test_liquid_spat():
    """Fast strokes at 2 inches spit liquid."""
    assert spits(PLOT) == (("fast", pytest.approx(5.08)),)


@for_all(
    st.lists(st.tuples(st.integers(1, 50), st.integers(20, 200)), min_size=1, max_size=8),
    st.integers(20, 200),
    st.integers(1, 50),
)
def test_a_lower_limit_never_stands_nearer(rows, limit, less):
    """Less heat allowed means as far or further; none measured is furthest of all."""
    heats = [Heat("fast", d, t) for d, t in rows]
    high, low = stand_off(heats, limit), stand_off(heats, limit - less)
    assert low.distance is None or (high.distance is not None and low.distance >= high.distance)


def test_common_practice_as_a_whole():
    """Common practice, no source: strength, grams a hive, times the German trickle, crystals."""
    mix = contents(PRACTICE, CHEMISTRY)
    by_volume = strengths(mix, CHEMISTRY)[0].percent
    assert by_volume == pytest.approx((18, 22), abs=0.5)
    a_hive = Interval(mix.dihydrate.low / 8, mix.dihydrate.high / 6)
    assert a_hive == pytest.approx((6, 10), abs=0.2)
    times = a_hive.scaled(1 / 1.75)
    assert times == pytest.approx((3, 6), abs=0.45)
    found = crystals(mix, CHEMISTRY)
    assert found.if_anhydrous == pytest.approx((37, 42), abs=0.6)
    assert found.if_dihydrate == pytest.approx((46, 51), abs=0.6)
    assert found.at(22) == "crystals"


def test_seven_to_ten_strokes_in_three_places():
    """Common practice: 3-4, 2-3 and 2-3 strokes make seven to ten a hive."""
    few = given({"a": 3, "b": 2, "c": 2}, STROKE, TEN_PERCENT, CHEMISTRY)
    many = given({"a": 4, "b": 3, "c": 3}, STROKE, TEN_PERCENT, CHEMISTRY)
    assert (few.strokes, many.strokes) == (7, 10)


def test_what_is_said_of_the_method():
    """No label, period unknown, decomposition not assessed, the trial, the authority."""
    reasons = unlabelled(CHEMISTRY)
    said = " / ".join(Speech()(each.phrase) for each in reasons)
    for words in (
        "no published label is known",
        "period for honey is not known",
        "was not assessed",
        "10 % in water showed no effect",
        "no evidence about it",
        "ask the authority",
    ):
        assert words in said
    assert any("index-366" in each.source for each in reasons)


def test_four_tablespoons_are_about_as_heavy_as_common_practice_says():
    """59 mL of powder at 0.8 to 1.0 g/mL are 47 to 59 g."""
    assert contents(PRACTICE, CHEMISTRY).dihydrate == pytest.approx((47.3, 59.1), abs=0.1)
    assert MEASURES.entries["measure"][1]["name"] == "US tablespoon"
