"""Beside one hive's count: how it changed, and the whole apiary."""

from __future__ import annotations

from fieldapp.rounds.count_survey import apiary_told, trend_told
from fieldapp.rounds.count_told import CountsTold
from fieldapp.words import Speech

SPEAK = Speech()
DAY = 86_400


def wash(phone, hive, mites, **body):
    counted = {"way": "wash", "mites": mites, "bees": 300, "bees_by": "counted"} | body
    phone.write("count", counted, hive=hive)


def trends(phone, hive):
    return [(t.sign, SPEAK(t.words)) for t in trend_told(CountsTold(phone.notebook, hive))]


def apiary(phone, hive):
    told = apiary_told(phone.notebook, CountsTold(phone.notebook, hive))
    return [(each.sign, SPEAK(each.words)) for each in told]


def test_rising_falling_and_cannot_tell(phone):
    """5 to 20 in 300 bees is rising, 20 to 2 falling, 2 to 4 nobody can tell."""
    phone.set_up(1, "US")
    (hive,) = phone.hives()
    assert trends(phone, hive) == []
    told = []
    for mites in (5, 20, 2, 4):
        wash(phone, hive, mites)
        told += trends(phone, hive)
        phone.time.pass_(30 * DAY)
    assert told == [
        ("late", "Rising since the count of 1 Jul 2026: 4 times as many, 1.5 to 14"),
        ("quiet", "Falling since the count of 31 Jul 2026: 0.1 times as many, 0.011 to 0.41"),
        (
            "unknown",
            "Rising or falling since 30 Aug 2026: cannot tell: 2 times as many, 0.29 to 22",
        ),
    ]


def test_only_counts_made_alike_on_another_day_make_a_trend(phone):
    """A roll is no wash, two washes of one day are no trend; from none there is no ratio."""
    phone.set_up(1, "US")
    (hive,) = phone.hives()
    wash(phone, hive, 0)
    wash(phone, hive, 30)
    assert trends(phone, hive) == []
    phone.time.pass_(DAY)
    wash(phone, hive, 9, way="roll")
    assert trends(phone, hive) == []
    phone.time.pass_(30 * DAY)
    wash(phone, hive, 9, way="roll", bees=301)
    phone.time.pass_(DAY)
    (hive2,) = phone.hives()
    assert trends(phone, hive2)[0][0] == "unknown"


def test_a_good_mean_hides_no_bad_hive(phone):
    """Seven hives without a mite, one with 20: the mean is low, and hive 8 is named."""
    phone.set_up(9, "US")
    hives = phone.hives()
    assert apiary(phone, hives[0]) == []
    for hive in hives[:7]:
        wash(phone, hive, 0)
    wash(phone, hives[7], 20)
    mean, bad = apiary(phone, hives[0])
    assert mean[1].startswith("The apiary: 0.8 per 100 bees, 0 to 4.6,")
    assert mean[1].endswith("by 8 hives")
    assert bad == ("late", "Not surely below 2 per 100: hive 8")


def test_each_hive_below_is_said_of_these_hives_only(phone):
    """Two clean hives of three: each of these is below; of the third nothing is said."""
    phone.set_up(3, "US")
    for hive in phone.hives()[:2]:
        wash(phone, hive, 0)
    told = apiary_told(phone.notebook, CountsTold(phone.notebook, phone.hives()[0]))
    assert SPEAK(told[1].words) == "Each of these hives is below 2 per 100"
    assert told[1].sign == "done"
    assert any("2 hives of 3 sampled, 3 wanted" in SPEAK(each) for each in told[0].why)


def test_a_number_of_bees_that_is_not_sure_never_says_below(phone):
    """A scoop that only the keeper takes for 300 bees: told, without the disc."""
    phone.set_up(2, "US")
    for hive in phone.hives():
        wash(phone, hive, 0, bees_by="measured", measure="my scoop")
    assert apiary(phone, phone.hives()[0])[1][0] == "quiet"


def test_without_a_level_the_highest_is_named(phone):
    """No current threshold in Germany: the highest hive all the same."""
    phone.set_up(2, "DE")
    one, two = phone.hives()
    wash(phone, one, 1)
    wash(phone, two, 9)
    assert apiary(phone, one)[1] == ("quiet", "Highest: hive 2, 3 per 100")


def test_counts_of_other_days_or_ways_are_not_taken_together(phone):
    """A wash of three weeks ago, a board, a roll: no apiary figure."""
    phone.set_up(3, "US")
    one, two, three = phone.hives()
    wash(phone, one, 5)
    phone.time.pass_(21 * DAY)
    wash(phone, two, 5)
    wash(phone, three, 5, way="roll")
    assert apiary(phone, two) == []
    phone.write("count", {"way": "drop", "mites": 8, "days": 2}, hive=three)
    assert apiary(phone, three) == []
