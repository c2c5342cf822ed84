"""The season as two phones wrote it: real journals, the same bytes each time."""

from __future__ import annotations

from hashlib import sha256
from pathlib import Path

import pytest

from fieldapp.assets import folder
from fieldapp.demo.phones import write_phones
from fieldapp.demo.season import HELPERS_PHONE, KEEPERS_PHONE, Season, abroad, season
from fieldapp.demo.upland.cast import OFFLINE_FROM
from fieldapp.husbandry.library import load
from fieldapp.journal.losses import Finder
from fieldapp.journal.merging import sync
from fieldapp.journal.record import Record
from fieldapp.journal.replica import Host
from fieldapp.journal.store import Journal

SIGNED = Finder("test", "0" * 32, "2026-09-19T09:00:00+01:00[Europe/London]")


@pytest.fixture(scope="module")
def year() -> Season:
    return season(load(folder("treatments")))


def opened(path: Path) -> Journal:
    return Journal.open(path, now_ms=lambda: 0, entropy=bytes)


def records(journal: Journal) -> list[Record]:
    return [record for _, record in journal.arrivals()]


def digest(path: Path) -> str:
    """Over the exact bytes of every record, in the order in which they arrived."""
    with opened(path) as journal:
        return sha256(
            b"\n".join(journal.raw_by_id(record.id) or b"" for record in records(journal))
        ).hexdigest()


def test_the_same_seed_writes_the_same_bytes(year: Season, tmp_path: Path) -> None:
    """Both phones' records equal to the last byte in a second writing; not with another seed."""
    once, twice = (write_phones(year, tmp_path / name) for name in ("once", "twice"))
    other = write_phones(year, tmp_path / "other", seed=7)
    for phone in (KEEPERS_PHONE, HELPERS_PHONE):
        assert digest(once[phone]) == digest(twice[phone]) != digest(other[phone])


def test_each_phone_lacks_what_the_other_wrote_in_the_five_weeks(
    year: Season, tmp_path: Path
) -> None:
    """Until they meet again: then both hold the whole year, and all of it is understood."""
    paths = write_phones(year, tmp_path)
    with opened(paths[KEEPERS_PHONE]) as keepers, opened(paths[HELPERS_PHONE]) as helpers:
        whole = {str(entry.draft.id) for entry in year.entries}
        for journal, other in ((keepers, HELPERS_PHONE), (helpers, KEEPERS_PHONE)):
            missing = whole - {record.id for record in records(journal)}
            assert missing == {
                entry.draft.id
                for entry in year.entries
                if entry.phone == other and entry.at > max(year.meetings)
            }
            assert missing
        outcome = sync(keepers, Host(helpers, SIGNED), SIGNED)
        assert outcome.equal
        assert keepers.count() == helpers.count() == len(whole)
        assert not keepers.not_understood() and not keepers.other_contents()


def test_a_fast_clock_shows_in_what_it_wrote_only(year: Season, tmp_path: Path) -> None:
    """Two writers, one a phone; stamps rise along each."""
    paths = write_phones(year, tmp_path)
    with opened(paths[HELPERS_PHONE]) as journal:
        written = records(journal)
        assert len({record.writer for record in written}) == 2
        for writer in {record.writer for record in written}:
            stamps = [record.stamp for record in written if record.writer == writer]
            assert stamps == sorted(set(stamps))
        assert max(record.day for record in written) > OFFLINE_FROM.isoformat()


def test_the_operations_abroad_have_a_journal_each(tmp_path: Path) -> None:
    """Germany and the US: other countries, zones and labels, understood alike."""
    for other in abroad(load(folder("treatments"))):
        [path] = write_phones(other, tmp_path / other.country).values()
        with opened(path) as journal:
            assert journal.count() == len(other.entries)
            terms = [record.body for record in records(journal) if record.kind == "terms"]
            assert {body.get("country") for body in terms} == {other.country}
