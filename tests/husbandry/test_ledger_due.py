"""What the books ask of the keeper: buy, use up, change, complete, report."""

from __future__ import annotations

import re
from datetime import date
from pathlib import Path

import pytest
from ledger_season import LedgerSeason, spoken
from rules_season import APIARY, HIVE, OTHER

from fieldapp.husbandry.answers import Line
from fieldapp.husbandry.ledger import Apiary, Need, agenda_lines, needs, required, treated

ACID = "GB/1/1/acid/drip"
SOURCES = Path(__file__).parents[2] / "docs" / "sources.md"


def lines(season: LedgerSeason, day: str, country: str = "", **more: object) -> dict[str, Line]:
    """The lines of a day by task, for one apiary with two hives."""
    counts = [record for record in season.records if record.kind == "count"]
    states = [season.state(hive) for hive in (HIVE, OTHER)]
    place = Apiary(APIARY, country, (HIVE, OTHER), counts, treated(states))
    found = agenda_lines(season.books(), date.fromisoformat(day), apiaries=(place,), **more)
    assert len({line.task for line in found}) == len(found)
    return {line.task: line for line in found}


@pytest.mark.parametrize(
    ("day", "timing"),
    [
        ("2025-08-01", "waiting"),
        ("2025-08-02", "due"),
        ("2025-09-01", "due"),
        ("2025-09-02", "late"),
    ],
)
def test_a_lot_about_to_expire_comes_30_days_before(day, timing):
    """Last day 1 September: due from 2 August, past it on 2 September."""
    season = LedgerSeason()
    season.buy("2025-07-01", 20, expiry="2025-09-01", lot="22")
    assert lines(season, day)["expiry"].timing == timing


def test_a_lot_used_up_is_not_asked_for():
    """Nothing on hand, nothing to use up."""
    season = LedgerSeason()
    lot = season.buy("2025-07-01", 20, expiry="2025-09-01")
    season.dispose(lot, "2025-07-02", 20)
    assert lines(season, "2025-09-02") == {}


def test_a_batch_past_its_day_is_not_to_be_used():
    """The line says what to do first, and how much is left."""
    season = LedgerSeason()
    season.mix("2025-12-27", 100, keep_until="2026-01-10")
    line = lines(season, "2026-01-11")["expiry"]
    assert spoken(line.what) == "Past its last day, do not use: trickle 1, mixed 27 Dec 2025"
    assert "100 mL on hand" in spoken(line.reasons[1].phrase)


def course_of_five(season: LedgerSeason, strips_left: float) -> str:
    """One of five given with 2 strips; 8 more are needed."""
    terms = season.terms(applications={"usual": 5}, gap={"least": 4, "target": 5, "most": 7})
    lot = season.buy("2025-07-01", 2 + strips_left, treatment=ACID)
    season.give(terms, "2025-08-01", lot, 2)
    return lot


def test_stock_to_buy_is_what_courses_need_and_the_shelf_lacks():
    """Four applications of 2 strips are planned and 6 are on hand."""
    season = LedgerSeason()
    course_of_five(season, 6)
    needed = needs([season.state()], date(2025, 8, 2))
    assert needed == [Need(ACID, HIVE, 4, date(2025, 8, 6))]
    line = lines(season, "2025-08-02", needed=needed, names={ACID: "acid"})["buy"]
    assert spoken(line.what) == "Buy or mix: acid"
    assert spoken(line.reasons[0].phrase) == "planned applications need 8 strips, 6 on hand"
    assert (line.timing, line.last) == ("waiting", date(2025, 8, 6))


def test_enough_on_hand_asks_for_nothing():
    """8 needed, 8 there."""
    season = LedgerSeason()
    course_of_five(season, 8)
    assert lines(season, "2025-08-02", needed=needs([season.state()], date(2025, 8, 2))) == {}


def test_expired_stock_is_no_stock():
    """What may not be used any more does not count as on hand."""
    season = LedgerSeason()
    lot = course_of_five(season, 8)
    body = next(r.body for r in season.records if r.id == lot)
    season.correct(lot, body=body | {"expiry": "2025-08-01"})
    found = lines(season, "2025-08-02", needed=needs([season.state()], date(2025, 8, 2)))
    assert spoken(found["buy"].reasons[0].phrase) == "planned applications need 8 strips, 0 on hand"


def test_a_treatment_whose_stock_nobody_keeps_is_not_asked_for():
    """No lot on record is *not known*, not *none*."""
    season = LedgerSeason()
    terms = season.terms(applications={"usual": 5}, gap={"least": 4, "target": 5, "most": 7})
    season.apply(terms, "2025-08-01")
    assert lines(season, "2025-08-02", needed=needs([season.state()], date(2025, 8, 2))) == {}


def test_a_broken_off_or_finished_course_needs_nothing():
    """On 2·most + 1 days after the last application the course is broken off."""
    season = LedgerSeason()
    course_of_five(season, 0)
    assert needs([season.state()], date(2025, 8, 15)) != []
    assert needs([season.state()], date(2025, 8, 16)) == []


@pytest.mark.parametrize("gone", ["dead", "united", "sold"])
def test_a_colony_that_is_gone_needs_nothing(gone):
    """What was planned for it is given to nobody; where it was united it goes on."""
    season = LedgerSeason()
    course_of_five(season, 0)
    assert needs([season.state()], date(2025, 8, 3)) != []
    if gone == "dead":
        season.add("death", "2025-08-03", {})
    elif gone == "united":
        season.add("unite", "2025-08-03", {"from_hive": HIVE, "from_colony": HIVE}, OTHER)
        assert len(needs([season.state(OTHER)], date(2025, 8, 3))) == 1
    else:
        season.add("hive", "2025-08-03", {"number": "1", "ended": "sold"}, apiary=APIARY)
    assert needs([season.state()], date(2025, 8, 3)) == []


def test_a_filter_about_to_expire_is_to_be_changed():
    """The opening date stands with it; its last day decides."""
    season = LedgerSeason()
    body = {"what": "filter", "name": "A2P3", "opened": "2025-03-01", "expiry": "2025-09-01"}
    season.add("gear", "2025-03-01", body, hive=None)
    line = lines(season, "2025-08-15")["change"]
    assert (line.timing, spoken(line.what)) == ("due", "Change: A2P3")


def test_a_filter_whose_last_day_nobody_knows_is_asked_about():
    """Unknown is never *still good*."""
    season = LedgerSeason()
    body = {"what": "filter", "name": "A2P3", "opened": "2025-03-01"}
    season.add("gear", "2025-03-01", body, hive=None)
    line = lines(season, "2025-08-15")["change"]
    assert line.timing == "ask"
    assert "Opened on 1 Mar 2025" in spoken(line.reasons[0].phrase)


@pytest.mark.parametrize(("hours", "timing"), [(8.9, None), (9, "due"), (10, "late")])
def test_a_part_is_to_be_changed_when_its_hours_are_nearly_run(hours, timing):
    """Of 10 hours, from 9 on."""
    season = LedgerSeason()
    body = {"what": "part", "name": "nozzle", "hours": hours, "change_after_hours": 10}
    season.add("gear", "2025-03-01", body, hive=None)
    found = lines(season, "2025-08-15").get("change")
    assert (found.timing if found else None) == timing


def test_what_the_law_wants_and_the_book_lacks_is_one_line():
    """Great Britain: lot number, supplier, address."""
    season = LedgerSeason()
    season.buy("2025-07-01", 20, supplier="a dealer", address="a street")
    line = lines(season, "2025-08-02", "GB")["records"]
    assert [spoken(reason.phrase) for reason in line.reasons] == [
        "1 purchase without its lot number",
        "Records of medicines are kept 5 years.",
    ]
    assert line.reasons[-1].source == required.UK_RECORDS.source
    assert "records" not in lines(season, "2030-07-02", "GB")


def test_the_union_wants_a_proof_and_a_country_without_known_law_nothing():
    """Regulation (EU) 2019/6 names evidence of acquisition; no country borrows it."""
    season = LedgerSeason()
    season.buy("2025-07-01", 20, supplier="a dealer", address="a street", lot="22")
    found = lines(season, "2025-08-02", "DE")["records"]
    assert spoken(found.reasons[0].phrase) == "1 purchase without a proof of it"
    assert lines(season, "2025-08-02", "US") == {}


def test_how_and_where_it_was_disposed_of_is_wanted_where_a_law_says_so():
    """Great Britain: date, quantity, how and where (VMD, texts on keeping records, row F5)."""
    season = LedgerSeason()
    says = {"supplier": "a dealer", "address": "a street", "lot": "22", "proof": "7"}
    lot = season.buy("2025-07-01", 20, **says)
    season.dispose(lot, "2025-08-01", 2, how="hazardous waste")
    line = lines(season, "2025-08-02", "GB")["records"]
    assert spoken(line.reasons[0].phrase) == "1 disposal that does not say where"
    assert "records" not in lines(season, "2025-08-02", "DE")
    season.dispose(lot, "2025-08-01", 2)
    said = [spoken(each.phrase) for each in lines(season, "2025-08-02", "GB")["records"].reasons]
    assert said[:2] == ["1 disposal that does not say how", "2 disposals that do not say where"]


def washed(season: LedgerSeason, mites: int, day: str = "2025-08-01") -> str:
    body = {"way": "wash", "mites": mites, "bees": 300}
    return season.add("count", day, body, apiary=APIARY)


def test_new_south_wales_wants_all_hives_treated_within_14_days():
    """7 mites in a wash on 1 August: all hives by 15 August, and one is left."""
    season = LedgerSeason()
    washed(season, 7)
    season.apply(season.terms(), "2025-08-03", HIVE)
    line = lines(season, "2025-08-10", "AU-NSW")["treat_all"]
    assert (line.timing, line.last) == ("due", date(2025, 8, 15))
    assert spoken(line.what) == "Treat all hives: 1 is left"
    assert lines(season, "2025-08-16", "AU-NSW")["treat_all"].timing == "late"
    season.apply(season.terms(), "2025-08-14", OTHER)
    assert "treat_all" not in lines(season, "2025-08-16", "AU-NSW")


def test_six_mites_are_not_over_six():
    """The mark itself does not trigger it; another country's hives neither."""
    season = LedgerSeason()
    washed(season, 6)
    assert "treat_all" not in lines(season, "2025-08-10", "AU-NSW")
    washed(season, 9)
    assert "treat_all" not in lines(season, "2025-08-10", "AU")


def test_a_count_is_reported_once():
    """Until a record says that it was reported, it is asked for."""
    season = LedgerSeason()
    root = washed(season, 2)
    assert spoken(lines(season, "2025-08-10", "AU-NSW")["report"].what) == "Report 1 count"
    season.add("reported", "2025-08-11", {"records": [root], "to": "the authority"}, hive=None)
    assert "report" not in lines(season, "2025-08-12", "AU-NSW")


def test_new_south_wales_counts_every_16_weeks():
    """A count on 1 August is to be repeated by 21 November."""
    season = LedgerSeason()
    washed(season, 2)
    line = lines(season, "2025-11-22", "AU-NSW")["count_by_law"]
    assert (line.timing, line.last) == ("late", date(2025, 11, 21))


def test_a_standstill_stands_on_the_agenda():
    """Once set it is said every day until it is lifted."""
    season = LedgerSeason()
    season.visit("2025-05-03", "set")
    line = lines(season, "2025-06-01")["standstill"]
    assert (line.apiary, line.first) == (APIARY, date(2025, 5, 3))


@pytest.mark.parametrize(
    ("law", "figures"),
    [
        (required.EU_RECORDS, {required.YEARS_KEPT}),
        (required.UK_RECORDS, {required.YEARS_KEPT}),
        (required.NSW_TREAT, {required.NSW_MITES, required.NSW_DAYS}),
        (required.NSW_COUNT, {required.NSW_COUNT_DAYS // 7}),
        (required.NSW_REPORT, set()),
    ],
    ids=lambda value: value.row if isinstance(value, required.Law) else "",
)
def test_every_law_stands_in_the_sources_as_it_is_used(law, figures):
    """Figure and standing are those of its row in docs/sources.md."""
    rows = SOURCES.read_text(encoding="utf-8").splitlines()
    (row,) = (row for row in rows if row.startswith(f"| {law.row} |"))
    cells = [cell.strip() for cell in row.strip("|").split(" | ")]
    assert {int(n) for n in re.findall(r"\d+", cells[2])} == figures
    assert cells[4] == law.standing
