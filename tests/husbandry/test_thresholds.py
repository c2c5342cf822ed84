"""Thresholds: by country, season, phase and way; old ones are history."""

from __future__ import annotations

from datetime import date

import pytest
from computing_cases import BIOLOGY, TABLES

from fieldapp.husbandry.counting import drop, load, loads
from fieldapp.husbandry.figures import GROUNDS
from fieldapp.husbandry.thresholds import answer, judge, read_thresholds

ALL = read_thresholds(TABLES.thresholds)
BY_ID = {each.id: each for each in ALL}
JULY = date(2026, 7, 10)


def says(mites: int, bees: float = 300, country: str = "US", day: date = JULY, **more: str) -> str:
    return answer([load("wash", mites, bees)], ALL, country, day, **more).says


def test_a_practitioners_threshold_that_was_read():
    """R. Oliver, ABJ April 2020: 2 to 3 %; the lower end decides."""
    assert says(0) == "below"
    assert says(6) == "cannot tell"
    assert says(20) == "over"


def test_an_old_threshold_is_history():
    """5 % in late summer (Mississippi State Extension, 2014) is history in 2026."""
    late = BY_ID["us-mississippi-late-summer"]
    then, now = date(2024, 8, 20), date(2026, 8, 20)
    assert judge([load("wash", 1, 300)], late, then).says == "below"
    judged = judge([load("wash", 1, 300)], late, now)
    assert (judged.says, judged.history) == ("cannot tell", True)
    assert dict(judged.reasons[-1].phrase.args) == {"age": 12}


def test_a_threshold_without_a_year_is_history():
    """10 a day in July (hannover.de, no year given) never says below."""
    asked = answer([drop(2, 10, BIOLOGY)], ALL, "DE", JULY, colony="production colony")
    assert asked.says == "cannot tell"
    assert all(each.history for each in asked.judgements)


@pytest.mark.parametrize(
    ("ident", "level", "unit"),
    [
        ("de-hannover-july", 10, "mites per day"),
        ("de-hannover-july-young", 5, "mites per day"),
        ("de-november", 1, "mites per day"),
        ("de-bavaria-july", 1, "mites per 100 bees"),
        ("us-mississippi-february", 1, "mites per 100 bees"),
        ("us-practitioner", 2, "mites per 100 bees"),
        ("au-nsw-law", 6, "mites in a wash"),
        ("au-nsw-dormant", 3, "mites in a wash"),
        ("de-drone-brood", 10, "% of drone cells"),
    ],
)
def test_levels_as_their_sources_have_them(ident, level, unit):
    """Each level that was read stands as its source has it.

    hannover.de, wiki.bienenzeitung.de, die-honigmacher.de, Mississippi State Extension,
    ABJ April 2020, AHBIC Update 51, theland.com.au 2023.
    """
    figure = BY_ID[ident].figure
    assert (figure.low, figure.unit, figure.standing) == (level, unit, "read")
    assert figure.source.title
    assert figure.source.issuer


def test_the_law_acts_on_the_number_counted():
    """New South Wales, Control Order of December 2023: over 6 mites, all hives within 14 days."""
    assert says(7, country="AU-NSW") == "over"
    assert says(6, country="AU-NSW") == "cannot tell"
    assert says(1, country="AU-NSW") == "below"


def test_a_small_wash_is_never_below_a_number_of_mites():
    """Six in a wash are of a whole sample of about 300 bees: none in 250 shows nothing."""
    assert says(0, bees=250, country="AU-NSW") == "cannot tell"
    assert says(7, bees=250, country="AU-NSW") == "over"


def test_a_band_that_begins_at_its_level():
    """Dormant and broodless, 3 mites are already the next band (theland.com.au after NSW DPI)."""
    assert says(3, country="AU-NSW", phase="dormant, no brood") == "over"


def test_a_reported_threshold_never_says_below_but_can_say_over():
    """Over what is only reported is said; below it is not."""
    usda = BY_ID["us-usda-wash"]._replace(
        figure=BY_ID["us-usda-wash"].figure._replace(
            source=BY_ID["us-usda-wash"].figure.source._replace(year=2024)
        )
    )
    assert judge([load("wash", 0, 300)], usda, JULY).says == "cannot tell"
    assert judge([load("wash", 30, 300)], usda, JULY).says == "over"


def test_both_readings_of_half_a_cup_have_to_agree():
    """13 mites in half a cup: over with 300 bees, not sure with 400, so it cannot tell."""
    limit = BY_ID["us-practitioner"]
    body = {"way": "wash", "mites": 13, "bees_by": "measured", "measure": "half a US cup"}
    readings = loads(body, BIOLOGY)
    assert judge(readings[:1], limit, JULY).says == "over"
    assert judge(readings, limit, JULY).says == "cannot tell"


def test_bees_that_are_only_taken_for_so_many_never_say_below():
    """A load on the keeper's own measure cannot be the ground of below."""
    body = {"way": "wash", "mites": 0, "bees": 400, "bees_by": "measured", "measure": "my scoop"}
    assert answer(loads(body, BIOLOGY), ALL, "US", JULY).says == "cannot tell"


def test_a_threshold_in_another_unit_says_nothing():
    """Mites a day and a load are two things, whatever the numbers; so is a share of drone cells."""
    recent = {"source": BY_ID["us-practitioner"].figure.source}
    for ident in ("de-hannover-july", "de-drone-brood"):
        other = BY_ID[ident]._replace(figure=BY_ID[ident].figure._replace(**recent))
        judged = judge([load("wash", 0, 5000)], other, JULY)
        assert (judged.says, judged.chance) == ("cannot tell", None)


def test_nothing_known_is_never_below():
    """No bees, no threshold for the country, another way of counting: cannot tell."""
    assert answer([], ALL, "US", JULY).says == "cannot tell"
    assert says(0, country="FR") == "cannot tell"
    assert answer([load("roll", 0, 3000)], ALL, "CA", JULY).says == "cannot tell"


def fits(ident: str, country: str, way: str, month: int, phase: str = "", colony: str = "") -> bool:
    return BY_ID[ident].fits(country, way, date(2026, month, 10), phase, colony)


def test_each_threshold_is_for_its_country_season_way_phase_and_colony():
    """One thing otherwise and it does not fit; a country's fits its parts, a part's no country."""
    assert fits("us-practitioner", "US", "wash", 3)
    assert fits("us-practitioner", "US-CA", "wash", 3)
    assert not fits("us-practitioner", "CA", "wash", 3)
    assert not fits("us-practitioner", "US", "roll", 3)
    assert fits("au-nsw-law", "AU-NSW", "wash", 3)
    assert not fits("au-nsw-law", "AU", "wash", 3)
    assert not fits("au-nsw-law", "AU-VIC", "wash", 3)
    assert fits("us-mississippi-february", "US", "wash", 2)
    assert not fits("us-mississippi-february", "US", "wash", 3)
    assert fits("de-hannover-july-young", "DE", "drop", 7, colony="young colony")
    assert not fits("de-hannover-july-young", "DE", "drop", 7, colony="production colony")
    assert not fits("de-hannover-july-young", "DE", "drop", 7)
    assert fits("us-coalition-peak", "US", "wash", 7, phase="peak population")
    assert not fits("us-coalition-peak", "US", "wash", 7, phase="population increase")


def test_a_sound_threshold_that_leaves_it_open_stands_against_below():
    """No mite in 300 is below 2 per 100 and not surely below 1: with both, it cannot tell."""
    two = BY_ID["us-practitioner"]
    one = two._replace(id="one", figure=two.figure._replace(low=1.0))
    none = [load("wash", 0, 300)]
    assert answer(none, [two], "US", JULY).says == "below"
    for both in ([one, two], [two, one]):
        assert answer(none, both, "US", JULY).says == "cannot tell"
    many = [load("wash", 12, 300)]
    assert answer(many, [two, one], "US", JULY).says == "over"


def test_the_chance_over_a_threshold_stands_beside():
    """6 in 300 is about as likely over 2 % as under; 30 surely over."""
    judged = judge([load("wash", 6, 300)], BY_ID["us-practitioner"], JULY)
    assert judged.chance == pytest.approx(0.5, abs=0.1)
    assert judge([load("wash", 30, 300)], BY_ID["us-practitioner"], JULY).chance > 0.999


@pytest.mark.parametrize("threshold", ALL, ids=lambda each: each.id)
def test_no_threshold_says_below_on_other_than_a_read_and_recent_source(threshold):
    """For every shipped threshold: below needs a ground and a year not over ten years old."""
    sample = [drop(0, 60, BIOLOGY)] if "drop" in threshold.ways else [load("wash", 0, 100_000)]
    judged = judge(sample, threshold, JULY)
    sound = threshold.figure.standing in GROUNDS and (threshold.figure.source.year or 0) >= 2016
    if not sound:
        assert judged.says == "cannot tell"
    elif threshold.figure.unit == "mites per 100 bees":
        assert judged.says == "below"
