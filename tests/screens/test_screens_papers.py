"""Files from the phone: record book, calendar, backup and back; by touch, on real files."""

from __future__ import annotations

import time
import zipfile

from driver import Phone
from eyes import troubles
from icalendar import Calendar
from pypdf import PdfReader


def wait_for(app, words, seconds=20):
    end = time.monotonic() + seconds
    while not app.hand.reads(words):
        assert time.monotonic() < end, app.hand.texts()
        app.hand.frames(1)


def files(app):
    app.hand.find("Home")
    app.hand.tap("Home")
    app.hand.find("Record book")
    app.hand.tap("Record book")


def test_the_inspector_is_shown_the_gaps_and_gets_pdf_and_csv(keeper):
    """With no signal: what the book rests on, what it lacks, and two files that can be opened."""
    keeper.begin("Amitraz strips", days="14")
    keeper.hand.tap("Hive 1")
    keeper.wait(60)
    while keeper.hand.has_key("End round"):
        keeper.hand.tap("End round")
    keeper.hand.tap("What is due")
    files(keeper)
    keeper.hand.find("Ferry Lane")
    keeper.hand.tap("Ferry Lane")
    wait_for(keeper, "of gap")
    keeper.hand.find("Make PDF")
    keeper.hand.tap("Make PDF and CSV")
    wait_for(keeper, "The record book is made")
    [pdf] = (keeper.folder / "files").glob("record book *.pdf")
    assert "amitraz" in PdfReader(pdf).pages[0].extract_text().lower()
    [tables] = (keeper.folder / "files").glob("record book *.zip")
    assert "treatments.csv" in zipfile.ZipFile(tables).namelist()


def test_due_dates_go_out_as_a_calendar(keeper):
    """One event a line of the agenda."""
    files(keeper)
    keeper.hand.find("calendar file")
    keeper.hand.tap("calendar file")
    wait_for(keeper, "a calendar file now")
    made = Calendar.from_ical((keeper.folder / "files" / "due dates.ics").read_bytes())
    assert made.walk("VEVENT")


def test_a_backup_brings_all_records_back_on_a_new_phone(keeper, tmp_path):
    """Made by touch, put into the folder of a new phone, brought back by touch."""
    files(keeper)
    keeper.hand.find("Make a backup")
    keeper.hand.tap("Make a backup")
    wait_for(keeper, "read back whole")
    [backup] = (keeper.folder / "files").glob("backup *.zip")
    before = {record.id for record in keeper.records}
    keeper.close()
    keeper.folder = tmp_path / "new phone"
    keeper.open()
    keeper.set_up("Quarry Top", 1)
    (keeper.folder / "files").mkdir()
    (keeper.folder / "files" / backup.name).write_bytes(backup.read_bytes())
    files(keeper)
    keeper.hand.find("Bring back")
    keeper.hand.tap("Bring back")
    wait_for(keeper, f"{len(before)} records came back")
    assert before < {record.id for record in keeper.records}


def test_a_damaged_backup_is_refused_in_words_and_nothing_changes(keeper):
    """Half a file is not brought back by halves in silence."""
    (keeper.folder / "files").mkdir()
    (keeper.folder / "files" / "backup 2026-01-01 0900.zip").write_bytes(b"PK half a file")
    before = len(keeper.records)
    files(keeper)
    keeper.hand.find("Bring back")
    keeper.hand.tap("Bring back")
    wait_for(keeper, "damaged")
    assert len(keeper.records) == before


def test_the_pages_suit_the_eye_on_a_small_phone_with_large_letters(open_app):
    """Home, files and record book at 360 x 640 and 1.8."""
    app = open_app(Phone(360, 640, 1.8))
    app.set_up("Ferry Lane", 2)
    found = []

    def here():
        first = app.hand.texts()
        for _ in range(40):
            found.extend(troubles(app.hand, app.page))
            if not app.hand.has_key("More"):
                return
            app.hand.tap("More")
            if app.hand.texts() == first:
                return

    files(app)
    here()
    app.hand.find("All apiaries")
    app.hand.tap("All apiaries")
    wait_for(app, "gap")
    here()
    app.hand.find("Make PDF and CSV")
    app.hand.tap("Make PDF and CSV")
    wait_for(app, "The record book is made")
    here()
    for words in ("Back", "Yes: leave"):
        app.hand.find(words)
        app.hand.tap(words)
    app.hand.find("Make a backup")
    app.hand.tap("Make a backup")
    wait_for(app, "read back whole")
    here()
    assert found == []


class Shares:
    """A phone that hands files and days to its other programs, and notes what it was given."""

    there = True

    def __init__(self) -> None:
        self.files, self.days = [], []

    def share(self, name, media, data) -> str:
        self.files.append((name, media, data))
        return f"Downloads/{name}"

    def to_calendar(self, title, text, day) -> bool:
        self.days.append((title, day))
        return True


def test_a_phone_hands_a_file_and_a_day_to_its_other_programs(open_app):
    """Where the program's folder is its own, each file has a key that sends it, whole."""
    given = Shares()
    app = open_app(sharing=given)
    app.set_up("Ferry Lane", 2)
    files(app)
    app.hand.find("into the calendar")
    app.hand.tap("into the calendar")
    assert given.days
    app.hand.find("calendar file")
    app.hand.tap("calendar file")
    wait_for(app, "a calendar file now")
    app.hand.find("Send due dates.ics")
    app.hand.tap("Send due dates.ics")
    wait_for(app, "Downloads/due dates.ics")
    [(name, media, data)] = given.files
    assert (name, media) == ("due dates.ics", "text/calendar")
    assert data == (app.folder / "files" / name).read_bytes()


class Picks:
    """A phone's choice of files: gives a copy of one file, or says why there is none."""

    there = True

    def __init__(self) -> None:
        self.gives: object = "nothing"

    def pick(self, media, folder, picked) -> bool:
        assert media == ("*/*",)
        if isinstance(self.gives, str):
            picked(self.gives)
            return True
        folder.mkdir(parents=True, exist_ok=True)
        copy = folder / self.gives.name
        copy.write_bytes(self.gives.read_bytes())
        picked(copy)
        return True


def test_a_phone_brings_a_backup_back_from_any_of_its_files(open_app, tmp_path):
    """From Downloads or a stick: checked as ever, and its copy does not stay."""
    picks = Picks()
    app = open_app(picking=picks)
    app.set_up("Ferry Lane", 2)
    files(app)
    app.hand.find("Make a backup")
    app.hand.tap("Make a backup")
    wait_for(app, "read back whole")
    [backup] = (app.folder / "files").glob("backup *.zip")
    before = {record.id for record in app.records}
    app.close()
    app.folder = tmp_path / "new phone"
    app.open()
    app.set_up("Quarry Top", 1)
    files(app)
    for gives, words in (
        ("nothing", "No file was picked"),
        ("unread", "could not be read to its end"),
        (tmp_path / "holiday.jpg", "holiday.jpg is no backup"),
        (backup, f"{len(before)} records came back"),
    ):
        (tmp_path / "holiday.jpg").write_bytes(b"\xff\xd8\xff no backup")
        picks.gives = gives
        app.hand.find("Bring back from a file")
        app.hand.tap("Bring back from a file")
        wait_for(app, words)
    assert before < {record.id for record in app.records}
    assert list((app.folder / "files" / "picked").iterdir()) == []
