"""The demo season holds what it promises, and is the same each time."""

from __future__ import annotations

import os
import subprocess
import sys
from collections import Counter
from datetime import date
from itertools import pairwise
from pathlib import Path

import pytest

from fieldapp.assets import folder
from fieldapp.demo.herd import herd
from fieldapp.demo.remedies import (
    AMITRAZ,
    FLUVALINATE,
    INVENTED,
    MIST,
    SPONGE,
    TRICKLE,
    VAPOUR,
    NotInLibrary,
    named,
)
from fieldapp.demo.scene import Entry
from fieldapp.demo.season import HELPERS_PHONE, KEEPERS_PHONE, TODAY, Season, abroad, season
from fieldapp.demo.upland.cast import OFFLINE_FROM
from fieldapp.husbandry.library import Library, load
from fieldapp.journal import happened
from fieldapp.journal.kinds import KINDS

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture(scope="module")
def library() -> Library:
    return load(folder("treatments"))


@pytest.fixture(scope="module")
def year(library: Library) -> Season:
    return season(library)


def of_kind(year: Season, kind: str) -> list[Entry]:
    return [entry for entry in year.entries if entry.draft.kind == kind]


def applications(year: Season, identity: str) -> list[Entry]:
    return [
        entry
        for entry in of_kind(year, "application")
        if entry.draft.body["treatment"] == identity and not entry.draft.void
    ]


def by_number(year: Season) -> dict[str, str]:
    """Hive id by the number painted on it."""
    return {e.draft.body["number"]: str(e.draft.hive) for e in of_kind(year, "hive")}


def days_of(year: Season, identity: str, number: str) -> list[str]:
    hive = by_number(year)[number]
    return [e.day for e in applications(year, identity) if e.draft.hive == hive]


def test_the_same_seed_gives_the_same_year(library: Library, year: Season) -> None:
    """Twice from one seed: equal in every draft; another seed: another year."""
    assert season(library) == year
    assert season(library, seed=7).entries != year.entries


def test_the_year_is_of_the_promised_size(year: Season) -> None:
    """Three apiaries, 24 hives, about 900 records, two phones, one whole year up to today."""
    kinds = Counter(entry.draft.kind for entry in year.entries)
    assert (kinds["apiary"], kinds["hive"], kinds["keeper"]) == (3, 24, 2)
    assert 850 <= len(year.entries) <= 950
    assert {entry.phone for entry in year.entries} == {KEEPERS_PHONE, HELPERS_PHONE}
    days = [entry.day for entry in year.entries]
    assert min(days) == "2025-09-20"
    assert "2026-09-12" < max(days) < TODAY.isoformat()


def test_every_draft_fits_its_kind(library: Library, year: Season) -> None:
    """No draft of any season would be refused by the journal's own table of kinds."""
    for entry in [*year.entries, *(e for other in abroad(library) for e in other.entries)]:
        kind = KINDS[entry.draft.kind, entry.draft.v]
        assert kind.check(entry.draft.body) is None, entry.draft
        assert all(getattr(entry.draft, name) for name in kind.needs), entry.draft


def test_every_id_is_new_and_every_reference_is_older(year: Season) -> None:
    """A record names only what its own phone could already know."""
    known: set[str] = set()
    for entry in year.entries:
        draft = entry.draft
        assert draft.id not in known
        for named_id in (draft.adds_to, draft.corrects, draft.body.get("terms")):
            assert named_id is None or named_id in known, draft
        known.add(str(draft.id))


def test_vapours_are_due_and_late_today(year: Season) -> None:
    """Own plan, 4 to 7 days: ten hives' fifth is due today, two hives' fourth is late."""
    assert days_of(year, VAPOUR, "3")[-1] == "2026-09-14"
    assert days_of(year, VAPOUR, "12")[-1] == "2026-09-09"
    assert (TODAY - date(2026, 9, 9)).days > 7


def test_both_logged_hive_7_on_one_morning(year: Season) -> None:
    """Two phones, one hive, one treatment, one date."""
    seven = by_number(year)["7"]
    same = [
        e
        for e in applications(year, VAPOUR)
        if e.draft.hive == seven and e.draft.happened.startswith("2026-09-04")
    ]
    assert {e.phone for e in same} == {KEEPERS_PHONE, HELPERS_PHONE}


def test_the_helpers_clock_was_eleven_minutes_fast_while_offline(year: Season) -> None:
    """What that phone noted is eleven minutes ahead of the truth for five weeks, never before."""
    for entry in year.entries:
        ahead_s = happened.instant(entry.draft.happened) // 1_000_000 - entry.at // 1_000_000
        alone = entry.phone == HELPERS_PHONE and entry.day >= OFFLINE_FROM.isoformat()
        assert ahead_s == (660 if alone else 0)
    assert max(year.meetings) // 1_000_000 < min(
        e.at // 1_000_000
        for e in year.entries
        if e.phone == HELPERS_PHONE and e.day >= OFFLINE_FROM.isoformat()
    )


def test_two_hives_keep_last_autumns_strips(year: Season) -> None:
    """23 and 26 got strips that nobody took out; one of 25 was found after the harvest."""
    hives = by_number(year)
    moves = [e for e in of_kind(year, "pieces") if e.draft.body["treatment"] == FLUVALINATE]
    out = {e.draft.hive for e in moves if e.draft.body["did"] == "out"}
    put_in = {e.draft.hive for e in applications(year, FLUVALINATE)}
    assert put_in - out == {hives["23"], hives["26"]}
    found = next(e for e in moves if e.draft.body["did"] == "found")
    lots = [e for e in of_kind(year, "harvest") if e.day < found.day]
    assert any(take["hive"] == found.draft.hive for lot in lots for take in lot.draft.body["takes"])


def test_thymol_went_in_too_warm_and_twice_too_late(year: Season) -> None:
    """The day's maximum was over the label's 30 degC; two second visits came after 28 days."""
    first = {e.day for e in applications(year, SPONGE)}
    highs = {d["day"]: d["high"] for d in of_kind(year, "outlook")[0].draft.body["days"]}
    assert highs[min(first)] > 30
    assert [days_of(year, SPONGE, n)[-1] for n in ("31", "33", "35")] == [
        "2026-08-30",
        "2026-09-12",
        "2026-08-08",
    ]


def test_the_mist_has_no_period(year: Season) -> None:
    """Two hives got it; its whole making stands there, and nobody entered a period."""
    assert len(applications(year, MIST)) == 2
    assert all(e.draft.body["treatment"] != MIST for e in of_kind(year, "period"))
    assert len(of_kind(year, "measured")[0].draft.body["heat"]) == 10


def test_the_mist_is_no_value_called_common_practice(year: Season) -> None:
    """None of the demo's own measures equals a figure passed on as common practice."""
    measured = of_kind(year, "measured")[0].draft.body["heat"]
    inches = {5.08, 10.16, 15.24}
    fahrenheit = {54.4, 87.8, 48.9, 65.6, 43.3, 76.7}
    assert not inches & {row["distance"] for row in measured}
    assert not fahrenheit & {round(float(row["temperature"]), 1) for row in measured}


@pytest.mark.parametrize(
    ("kind", "number"), [("death", 1), ("swarm", 1), ("unite", 1), ("split", 2), ("queen", 2)]
)
def test_colonies_come_part_and_go(year: Season, kind: str, number: int) -> None:
    """One died, one swarmed, two were united, two split, one queen was caged and released."""
    assert len(of_kind(year, kind)) == number


def test_one_strip_was_lost_and_label_lines_say_that_they_are_invented(year: Season) -> None:
    """The lost one was not found; each label in hand names itself invented."""
    lost = [e for e in of_kind(year, "pieces") if e.draft.body["did"] == "lost"]
    assert [e.draft.body["treatment"] for e in lost] == [AMITRAZ]
    assert {e.draft.body["given_by"]["document"] for e in of_kind(year, "period")} == {INVENTED}


def test_winter_was_trickled_by_seams(year: Season) -> None:
    """5 mL a seam, at most 50 mL, in every colony that lived."""
    winter = [e for e in applications(year, TRICKLE) if e.day < "2026-02"]
    for entry in winter:
        body = entry.draft.body
        assert body["dose"]["amount"] == min(50, 5 * body["seams"])
    assert len(winter) == 24  # 23 colonies, and one slip that was undone


def test_washes_found_0_to_14_mites_in_about_300_bees(year: Season) -> None:
    """Both ends of the range occur or nearly so."""
    washes = [e.draft.body for e in of_kind(year, "count") if e.draft.body["way"] == "wash"]
    mites = [body["mites"] for body in washes]
    assert min(mites) == 0 and 10 <= max(mites) <= 14
    assert all(280 <= body["bees"] <= 320 for body in washes)


def test_a_treatment_that_is_not_there_is_named(library: Library) -> None:
    """The message names the identity that was looked for."""
    with pytest.raises(NotInLibrary, match="GB/none"):
        named(library, "GB/none")


def test_the_herd_streams_in_order_and_in_the_promised_size(library: Library) -> None:
    """About 40 records a hive and year, oldest first, the same again from the same seed."""
    entries = list(herd(library, hives=50, years=3))
    assert len(entries) / (50 * 3) == pytest.approx(40, abs=3)
    assert all(a.at <= b.at for a, b in pairwise(entries))
    assert max(e.day for e in entries) <= TODAY.isoformat()
    assert entries == list(herd(library, hives=50, years=3))
    assert len({e.draft.hive for e in entries if e.draft.kind == "hive"}) == 50
    assert all(KINDS[e.draft.kind, 1].check(e.draft.body) is None for e in entries)


def test_another_process_makes_the_same_year(year: Season) -> None:
    """Nothing of the year hangs on the order of sets or on this process."""
    program = (
        "from fieldapp.assets import folder\n"
        "from fieldapp.demo.season import season\n"
        "from fieldapp.husbandry.library import load\n"
        "print(repr(season(load(folder('treatments')))))"
    )
    for hash_seed in ("1", "2"):
        done = subprocess.run(
            [sys.executable, "-c", program],
            cwd=ROOT,
            env=os.environ | {"PYTHONHASHSEED": hash_seed},
            capture_output=True,
            text=True,
            check=True,
        )
        assert done.stdout.rstrip("\n") == repr(year)


def test_the_autumn_strips_worked_in_some_hives_and_not_in_one(year: Season) -> None:
    """Daily drop before and after: down by three quarters in most, hardly in hive 22."""
    drops: dict[tuple[str, str], float] = {}
    for entry in of_kind(year, "count"):
        body = entry.draft.body
        if body["way"] == "drop" and entry.day < "2025-12":
            drops[str(entry.draft.hive), body["purpose"]] = body["mites"] / body["days"]
    left = {
        number: drops[hive, "after"] / drops[hive, "before"]
        for number, hive in by_number(year).items()
        if (hive, "before") in drops
    }
    assert left["22"] > 0.5
    assert sum(share < 0.25 for share in left.values()) >= 5


def test_the_register_counts_the_colonies_of_that_day(year: Season) -> None:
    """On 1 April: eleven at Ferry Lane (one died), seven and four elsewhere."""
    counted = [entry.draft.body["number"] for entry in of_kind(year, "colony_count")]
    assert counted == [11, 7, 4]
