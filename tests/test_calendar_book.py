"""The calendar of the demo season, from both its phones."""

from __future__ import annotations

import os
from datetime import UTC, datetime
from pathlib import Path

import vobject

from fieldapp.assets import folder
from fieldapp.book.book import Book
from fieldapp.calendar import MORNING, of_book
from fieldapp.demo.phones import write_phones
from fieldapp.demo.season import HELPERS_PHONE, KEEPERS_PHONE, TODAY, season
from fieldapp.husbandry.library import load
from fieldapp.journal.losses import Finder
from fieldapp.journal.merging import sync
from fieldapp.journal.replica import Host
from fieldapp.journal.store import Journal
from fieldapp.words import Speech

SIGNED = Finder(
    "test",
    "00000000-0000-7000-8000-000000000000",
    "2026-09-19T09:00:00+01:00[Europe/London]",
)
NOW = datetime(2026, 9, 19, 8, tzinfo=UTC)


def written(journal: Journal) -> bytes:
    book = Book.open(journal)
    raw = of_book(book, TODAY, speech=Speech(), now=NOW, alarm=MORNING)
    book.close()
    return raw


def test_two_devices_that_hold_the_same_write_the_same_file(tmp_path: Path) -> None:
    """After a sync every event has the same UID, day and words on both, to the last byte."""
    paths = write_phones(season(load(folder("treatments"))), tmp_path)
    keepers, helpers = (
        Journal.open(paths[phone], now_ms=lambda: 0, entropy=os.urandom)
        for phone in (KEEPERS_PHONE, HELPERS_PHONE)
    )
    with keepers, helpers:
        assert written(keepers) != written(helpers)
        sync(keepers, Host(helpers, SIGNED), SIGNED)
        raw = written(keepers)
        assert raw == written(helpers)
    events = vobject.readOne(raw.decode()).vevent_list
    said = {event.summary.value: event for event in events}
    late = said["Tau-fluvalinate strips: pieces out: Quarry Top, 2 hives"]
    assert late.dtstart.value == TODAY
    assert "hives 23, 26" in late.description.value
    assert len({event.uid.value for event in events}) == len(events)
