"""A count from the question whether it can answer to the verdict on a course."""

from __future__ import annotations

import pytest

from fieldapp.rounds.count import PARTS, WAYS, Counting
from fieldapp.rounds.count_told import CountsTold
from fieldapp.rounds.count_verdict import verdict
from fieldapp.words import Speech

SPEAK = Speech()
TRICKLE = "CA/registrant-s-directions/undated/coumaphos/strips"
DAY = 86_400


@pytest.fixture
def hive(phone):
    """A hive in Ontario, which has a threshold of its own."""
    phone.set_up(12, "CA")
    return phone.hives()[0]


def texts(lines):
    return [SPEAK(each) for told in lines for each in (told.words, *told.why)]


def counting(phone, hive, mites, way=WAYS[0]):
    found = Counting(phone.notebook, hive)
    found.take_way(way)
    found.add(mites)
    return found


def test_half_a_cup_gives_both_published_readings(phone, hive):
    """300 and 400 bees (rows A27, A28): two loads, the assumption kept with the record."""
    found = counting(phone, hive, 6)
    found.measured("half a US cup")
    said = texts(found.meaning())
    assert any(text.startswith("2 per 100 bees, 0.7 to 4.4, taken as 300") for text in said)
    assert any(text.startswith("1.5 per 100 bees, 0.6 to 3.3, taken as 400") for text in said)
    found.save()
    (record,) = phone.records("count")
    assert record.body["measure"] == "half a US cup"
    assert "bees" not in record.body


def test_bees_not_known_make_no_load(phone, hive):
    """Unknown is not zero, and never below a threshold."""
    found = counting(phone, hive, 0)
    found.not_known()
    assert found.meaning()[0].sign == "unknown"
    found.save()
    last = CountsTold(phone.notebook, hive).last()
    assert last.sign == "unknown"
    assert "bees not known" in SPEAK(last.words)


def test_weighed_bees_are_taken_by_the_published_weight(phone, hive):
    """50 g hold 500 bees (row A29)."""
    found = counting(phone, hive, 5)
    found.weighed(50)
    assert any("taken as 500 bees" in text for text in texts(found.meaning()))


def test_before_the_count_it_says_what_samples_can_tell(phone, hive):
    """Up to how many mites is below, from how many on over; and how many hives to wash."""
    said = texts(counting(phone, hive, 0).before())
    assert any("between them the count cannot tell" in text for text in said)
    assert any(text.startswith("Wash 8 hives to judge this apiary of 12") for text in said)


def test_before_the_count_it_says_how_often_a_plan_misses_bad_hives(phone, hive):
    """Eight of twelve miss one bad hive in 4 of 12 cases, three in 4 of 220 (computed)."""
    said = texts(counting(phone, hive, 0).before())
    assert "1 bad hive of 12: missed in 33 of 100 cases" in said
    assert "3 bad hives of 12: all missed in 2 of 100 cases" in said


def test_before_the_count_it_says_how_often_a_sample_answers(phone):
    """At 2 per 100 (ABJ April 2020) 300 bees tell far loads from it, and near ones hardly."""
    phone.set_up(1, "US")
    said = texts(counting(phone, phone.hives()[0], 0).before())
    assert (
        "It answers in 20 of 100 cases where the load is half of that, in 54 where it is double."
    ) in said


def test_a_board_says_what_factors_make_of_it(phone, hive):
    """10 a day in July: 300 by months, from memory; 3,000 by a page; they differ tenfold."""
    body = {"way": "drop", "mites": 30, "days": 3, "board_part": 1}
    phone.write("count", body, hive=hive)
    said = texts(CountsTold(phone.notebook, hive).last_told())
    assert "Mites in the colony: 300 to 3000, by factors" in said


def test_a_load_with_brood_is_doubled_over_bees_and_brood(phone, hive):
    """Lee et al. 2010: mites on adults x 2, with brood only."""
    phone.write("count", _wash(6), hive=hive)
    assert not any("On bees and brood" in text for text in told_last(phone, hive))
    phone.write("look", {"brood": "yes"}, hive=hive)
    assert "On bees and brood together 4 per 100" in told_last(phone, hive)


def test_the_forecast_is_a_band_and_no_fact(phone, hive):
    """6 in 300 from 1 July: 0.734 e^(30 x 0.021) to 4.353 e^(30 x 0.025) in 30 days (computed)."""
    phone.write("count", _wash(6), hive=hive)
    said = told_last(phone, hive)
    assert "By 31 Jul 2026 about 1.4 to 9.2 per 100" in said
    # ln 2 over 0.025 and over 0.021 a day, as the rates of docs/sources.md (I2, I3) are
    assert "At the known rates it doubles in 28 to 33 days" in said
    assert any("a forecast, not a fact" in text for text in said)
    phone.write("look", {"brood": "none"}, hive=hive)
    assert not any(text.startswith("By 31 Jul") for text in told_last(phone, hive))


def told_last(phone, hive):
    return texts(CountsTold(phone.notebook, hive).last_told())


def test_a_tally_is_kept_until_it_is_saved(phone, hive):
    """The phone dies in the middle: the mites are there; never fewer than none."""
    counting(phone, hive, 41)
    again = Counting(phone.notebook, hive)
    assert (again.mites, again.way) == (41, WAYS[0])
    again.add(-50)
    assert again.mites == 0


def test_the_shake_ends_after_its_time(phone, hive):
    """A wash a minute, sugar three (rows B3, B4)."""
    found = counting(phone, hive, 0)
    assert found.left is None
    found.shake()
    phone.time.pass_(30)
    assert found.left == 30
    phone.time.pass_(31)
    assert found.left == 0
    found.end_shake()
    assert (found.left, found.shaken) == (None, True)
    assert counting(phone, hive, 0, WAYS[2]).shake_s == 180


def test_a_board_that_comes_out_says_its_days_and_is_out(phone, hive):
    """In four days ago by the records; a third counted; the board is out with the count."""
    phone.write("board", {"did": "in"}, apiary=phone.book.hive(hive).apiary, hive=hive)
    phone.time.pass_(4 * DAY)
    found = Counting(phone.notebook, hive, board_out=True)
    assert found.way.way == "drop"
    assert found.board_days == 4
    found.add(12)
    found.take("board_part", PARTS[2][0])
    found.take("days", found.board_days)
    assert any(text.startswith("9 mites a day") for text in texts(found.meaning()))
    found.save()
    assert [r.body["did"] for r in phone.records("board")] == ["in", "out"]


def test_the_year_has_each_count_with_its_interval(phone, hive):
    """Washes in one picture; a board's fall is not mixed into it."""
    for mites in (1, 4):
        phone.write("count", _wash(mites), hive=hive)
        phone.time.pass_(10 * DAY)
    phone.write("count", {"way": "drop", "mites": 8, "days": 2}, hive=hive)
    phone.time.pass_(DAY)
    phone.write("count", _wash(9), hive=hive)
    year = CountsTold(phone.notebook, hive).year()
    assert [round(point.value, 2) for point in year.points] == [0.33, 1.33, 3.0]
    assert all(point.interval.low < point.value < point.interval.high for point in year.points)


def _wash(mites):
    return {"way": "wash", "mites": mites, "bees": 300, "bees_by": "counted"}


def strips_in_and_out(phone, hive):
    start = phone.start(TRICKLE)
    start.begin().tap(hive, 5)
    phone.time.pass_(42 * DAY)
    body = {"did": "out", "count": 9, "treatment": TRICKLE}
    exposure = phone.book.hive(hive).exposures[0]
    body["count"] = exposure.remaining or 1
    phone.write("pieces", body, hive=hive)


def test_did_it_work_by_a_wash_before_and_one_after(phone, hive):
    """60 of 300 before, 2 after: worked, with its interval; no verdict before 14 days."""
    phone.write("count", _wash(60), hive=hive)
    strips_in_and_out(phone, hive)
    told = verdict(phone.notebook, CountsTold(phone.notebook, hive))
    assert told.sign == "unknown"
    assert any("needs a count before" in SPEAK(each) for each in told.why)
    phone.time.pass_(3 * DAY)
    phone.write("count", _wash(2), hive=hive)
    told = verdict(phone.notebook, CountsTold(phone.notebook, hive))
    assert told.sign == "unknown"
    assert any("too soon to tell" in SPEAK(each) for each in told.why)
    phone.time.pass_(12 * DAY)
    phone.write("count", _wash(2), hive=hive)
    told = verdict(phone.notebook, CountsTold(phone.notebook, hive))
    assert SPEAK(told.words).startswith("It worked")
    assert any("97 % gone" in SPEAK(each) for each in told.why)


def test_six_to_one_cannot_tell(phone, hive):
    """Computed: 6 in 300 to 1 in 300 is 83 %, from about -37 to 99.6: cannot tell."""
    phone.write("count", _wash(6), hive=hive)
    strips_in_and_out(phone, hive)
    phone.time.pass_(15 * DAY)
    found = counting(phone, hive, 1)
    found.counted(300)
    assert found.body["purpose"] == "after"
    assert found.body["application"] == phone.records("application")[0].id
    found.save()
    told = verdict(phone.notebook, CountsTold(phone.notebook, hive))
    assert SPEAK(told.words).startswith("Cannot tell")
    assert any("83 % gone; it may be none, or 99.6 %" in SPEAK(each) for each in told.why)


def test_a_level_in_a_wash_is_said_as_such(phone):
    """New South Wales acts on mites in a wash, whatever the bees: no level per 100 is made up."""
    phone.set_up(1, "AU-NSW")
    (hive,) = phone.hives()
    said = texts(counting(phone, hive, 0).before())
    assert "Act over 6 mites in a wash" in said
    assert not any("No current threshold" in text for text in said)
    phone.write("count", _wash(7), hive=hive)
    counts = CountsTold(phone.notebook, hive)
    assert counts.last().sign == "late"
    assert counts.year().levels == {}
    assert [SPEAK(told.words) for told in counts.year().others] == ["Act over 6 mites in a wash"]


def test_a_broodless_colony_in_winter_has_levels_of_its_own(phone):
    """New South Wales in July: 3 mites in a wash are over for a dormant colony without brood."""
    phone.set_up(1, "AU-NSW")
    (hive,) = phone.hives()
    apiary = phone.notebook.local.get("apiary")
    phone.write("count", _wash(3), hive=hive)
    assert CountsTold(phone.notebook, hive).last().sign == "unknown"
    phone.write("look", {"brood": "none"}, hive=hive, apiary=apiary)
    counts = CountsTold(phone.notebook, hive)
    assert counts.last().sign == "late"
    assert any("act by the next band" in text for text in texts(counts.last_told()))
    phone.write("look", {"brood": "yes"}, hive=hive, apiary=apiary)
    assert CountsTold(phone.notebook, hive).last().sign == "unknown"


def test_the_picture_knows_how_good_each_level_is(phone):
    """A board in Great Britain has a level of 2005: history, drawn as such, in no answer."""
    phone.set_up(1)
    (hive,) = phone.hives()
    phone.write("count", {"way": "drop", "mites": 60, "days": 3, "board_part": 1}, hive=hive)
    counts = CountsTold(phone.notebook, hive)
    assert set(counts.year().levels.values()) == {(9.0, "history")}
    assert counts.last().sign == "unknown"


def test_a_level_too_old_to_answer_is_not_asked_about(phone):
    """Germany's levels have no year: before the count none of them is taken for current."""
    phone.set_up(1, "DE")
    said = texts(counting(phone, phone.hives()[0], 0).before())
    assert "No current threshold is known for this country and season." in said
    assert not any("at 1 per 100" in text for text in said)


def test_counts_made_in_different_ways_give_no_verdict(phone, hive):
    """A board before and a wash after: they are never set against each other."""
    phone.write("count", {"way": "drop", "mites": 90, "days": 3, "board_part": 1}, hive=hive)
    strips_in_and_out(phone, hive)
    phone.time.pass_(15 * DAY)
    phone.write("count", _wash(2), hive=hive)
    told = verdict(phone.notebook, CountsTold(phone.notebook, hive))
    assert SPEAK(told.words).startswith("No verdict")
    assert any("made alike" in SPEAK(each) for each in told.why)


def trickled(phone, hive, treatment):
    apiary = phone.notebook.local.get("apiary")
    terms = phone.notebook.library.get(treatment).terms_body()
    root = phone.write("terms", terms).id
    body = {"treatment": treatment, "terms": root, "supers": "off"}
    phone.write("application", body, hive=hive, apiary=apiary)


OXALIC = "GB/powder-886-mg-g-UK-AN-01519-2014/2015-09/oxalic-acid/trickle"


def told_of(phone, hive):
    told = verdict(phone.notebook, CountsTold(phone.notebook, hive))
    return SPEAK(told.words), [SPEAK(each) for each in told.why]


def test_untreated_hives_of_the_apiary_set_growth_off(phone):
    """20 to 10 in the treated hive while two others went from 20 to 80: 87.5 %, not 50."""
    phone.set_up(4)
    one, two, three, four = phone.hives()
    for hive in (one, two, three, four):
        phone.write("count", _wash(20), hive=hive)
    trickled(phone, one, OXALIC)
    phone.time.pass_(5 * DAY)
    trickled(phone, four, OXALIC)
    phone.time.pass_(11 * DAY)
    phone.write("count", _wash(10), hive=one)
    words, why = told_of(phone, one)
    assert words.startswith("Cannot tell")
    assert any(each.startswith("50 % gone") for each in why)
    for hive in (two, three, four):
        phone.write("count", _wash(80), hive=hive)
    words, why = told_of(phone, one)
    assert words.startswith("It worked")
    assert any("against 2 untreated hives (Henderson and Tilton)" in each for each in why)
    assert any(each.startswith("88 % gone") for each in why)


def test_without_a_count_before_untreated_hives_tell_a_share_and_no_verdict(phone):
    """6 beside 26 is 77 % fewer (Abbott); nobody knows that the hives were alike."""
    phone.set_up(2)
    one, two = phone.hives()
    trickled(phone, one, OXALIC)
    phone.time.pass_(15 * DAY)
    phone.write("count", _wash(6), hive=one)
    phone.write("count", _wash(26), hive=two)
    words, why = told_of(phone, one)
    assert words.startswith("No verdict")
    assert any("(Abbott)" in each for each in why)
    assert any(each.startswith("77 % gone") for each in why)


def test_what_a_follow_up_still_kills(phone, hive):
    """950 fell in the course, 50 in the other that followed: at most 95 %, and no verdict."""
    board = {"way": "drop", "days": 7, "board_part": 1}
    trickled(phone, hive, OXALIC)
    phone.time.pass_(7 * DAY)
    phone.write("count", board | {"mites": 950}, hive=hive)
    phone.time.pass_(DAY)
    follow = next(
        each.identity
        for each in phone.notebook.library
        if each.identity.endswith("/lactic-acid/spray")
    )
    trickled(phone, hive, follow)
    phone.time.pass_(7 * DAY)
    phone.write("count", board | {"mites": 50}, hive=hive)
    words, why = told_of(phone, hive)
    assert words.startswith("No verdict on the course: Oxalic acid")
    assert any(each.startswith("95 % gone") for each in why)
    assert any("at most that" in each for each in why)


@pytest.mark.parametrize(("brood", "verdict"), [("yes", True), ("none", False), (None, False)])
def test_a_board_after_a_trickle_waits_unless_brood_was_seen(phone, hive, brood, verdict):
    """28 days without brood, and as long where nobody looked; 14 with brood."""
    board = {"way": "drop", "days": 3, "board_part": 1}
    if brood is not None:
        phone.write("look", {"brood": brood}, hive=hive)
    phone.write("count", board | {"mites": 90}, hive=hive)
    trickled(phone, hive, OXALIC)
    phone.time.pass_(20 * DAY)
    phone.write("count", board | {"mites": 6}, hive=hive)
    words, why = told_of(phone, hive)
    assert words.startswith("It worked") is verdict
    assert any("too soon to tell: count from 29 Jul 2026 on" in each for each in why) is not verdict
