"""A fault of the program's own: kept in a file, told on a page, and nothing is lost."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest
from eyes import troubles
from walking import PHONES

from fieldapp.journal.store import Journal
from fieldapp.rounds.faults import MOST, FaultLog
from fieldapp.screens.fault_page import FaultApp
from fieldapp.words import say

HERE = Path(__file__).parent
ROOT = HERE.parents[1]


def environment() -> dict[str, str]:
    return {
        **os.environ,
        "PYTHONPATH": os.pathsep.join([str(ROOT), str(HERE), *sys.path]),
        "KIVY_NO_CONSOLELOG": "1",
    }


@pytest.mark.parametrize("where", ["key", "clock", "thread", "papers"])
def test_what_nobody_foresaw_is_kept_and_told_and_the_program_goes_on(tmp_path, where):
    """With the console silent, as on a desktop: from a key, the clock, a thread, a file made."""
    told = subprocess.run(
        [sys.executable, str(HERE / "faulty_program.py"), str(tmp_path / "records"), where],
        capture_output=True,
        text=True,
        timeout=120,
        env=environment(),
        check=True,
    ).stdout.splitlines()
    assert told[0] == "page fault"
    assert any("went wrong that it was not made for" in line for line in told)
    assert "What happened stands in records/faults.log." in told
    assert told[-2:] == ["page due", "busy None"]
    log = (tmp_path / "records" / "faults.log").read_text(encoding="utf-8")
    assert "Broken: a value that cannot be" in log
    assert "faulty_program.py" in log
    with Journal.open(
        tmp_path / "records" / "journal.db", now_ms=lambda: 0, entropy=os.urandom
    ) as journal:
        assert sum(record.kind == "hive" for _, record in journal.arrivals()) == 2


def test_a_program_that_cannot_start_says_so_in_words_and_keeps_why(tmp_path):
    """On a desktop: no traceback in the terminal, but its file's name."""
    (tmp_path / "phone.db").mkdir()  # it would be set aside, if there were a place for it
    (tmp_path / "phone.damaged" / "full").mkdir(parents=True)
    ended = subprocess.run(
        [sys.executable, "-m", "fieldapp", "--data", str(tmp_path)],
        capture_output=True,
        text=True,
        timeout=120,
        env=environment() | {"SDL_VIDEODRIVER": "offscreen"},
        check=False,
        cwd=ROOT,
    )
    assert ended.returncode == 1
    assert "Traceback" not in ended.stderr
    assert str(tmp_path / "faults.log") in ended.stderr
    assert "Traceback" in (tmp_path / "faults.log").read_text(encoding="utf-8")


def test_the_log_never_grows_without_end_and_a_full_disk_hides_nothing(tmp_path):
    """The latest stays; where nothing can be written, that is said by the answer."""
    log = FaultLog(tmp_path / "faults.log", lambda: "2026-07-01T09:00:00+01:00")
    for number in range(40):
        assert log.write(ValueError(f"{number} " + "x" * 20_000))
    kept = log.file.read_text(encoding="utf-8")
    assert len(kept) < MOST + 50_000
    assert "ValueError: 39 " in kept
    assert not FaultLog(tmp_path, lambda: "now").write(ValueError("a folder is no file"))


@pytest.mark.parametrize("phone", PHONES, ids=lambda p: f"{p.width}x{p.height}@{p.font}")
def test_the_page_suits_glove_and_eye(open_app, phone):
    """At every size; it leads back to the first page."""
    app = open_app(phone)
    app.set_up("Ferry Lane", 1)
    app.kit.faults.write(ValueError("a value that cannot be"))
    app.app.flow.fault()
    app.hand.frames(2)
    assert app.page == "fault"
    assert troubles(app.hand, "fault") == []
    app.hand.find("Go on")
    app.hand.tap("Go on")
    assert app.page == "due"


def test_a_phone_without_a_terminal_shows_why_it_could_not_start(phone, tmp_path):
    """In a window, with the words of the error and where its traceback is."""
    log = FaultLog(tmp_path / "records" / "faults.log", lambda: "now")
    log.write(ValueError("no"))
    phone.show(FaultApp(say("The journal is damaged."), log).build())
    assert phone.reads("The journal is damaged.")
    assert phone.reads("records/faults.log")
    assert troubles(phone, "fault") == []
