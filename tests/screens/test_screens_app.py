"""What the system asks of an app: back, pause, themes, and a start from the command line."""

from __future__ import annotations

import os
import subprocess
import sys
import time
from pathlib import Path

from click.testing import CliRunner
from kivy.core.window import Window

from fieldapp.__main__ import main

ROOT = Path(__file__).parents[2]
ANDROID_BACK = 27


def back(app):
    """Press the system's back key; return whether the app took it."""
    return Window.dispatch("on_keyboard", ANDROID_BACK, 0, None, [])


def test_back_goes_back_and_leaves_from_the_first_page(keeper):
    """On the first page the system decides: there is nothing behind it."""
    keeper.hand.tap("Home")
    assert back(keeper)
    assert keeper.page == "due"
    assert not back(keeper)


def test_back_in_a_round_never_ends_it(keeper):
    """It leads to what the round came to so far, and from there into the round again."""
    keeper.begin("Amitraz strips")
    assert back(keeper)
    assert keeper.page == "summary"
    assert back(keeper)
    assert keeper.page == "round"
    assert "round_end" not in keeper.kinds()


def test_pausing_is_allowed_and_resuming_shows_the_day_as_it_is(keeper):
    """Nothing waits to be saved."""
    assert keeper.app.on_pause()
    keeper.hand.hands.pass_(3 * 86_400)
    keeper.app.on_resume()
    keeper.hand.frames(2)
    assert keeper.hand.reads("4 Jul 2026")


def test_the_theme_is_kept(keeper):
    """Chosen once, it is there after a restart."""
    for words in ("Home", "Settings", "Colours", "dark"):
        keeper.hand.find(words)
        keeper.hand.tap(words)
    assert keeper.hand.reads("dark")
    keeper.reopen()
    assert keeper.app.flow.look.theme.name == "dark"


def test_turning_the_phone_sets_the_page_anew(keeper):
    """Every key stays in sight and 20 mm large."""
    keeper.begin("Amitraz strips")
    Window.size = (892, 412)
    keeper.hand.frames(3)
    assert keeper.hand.has_key("Hive 1")
    Window.size = (412, 892)
    keeper.hand.frames(3)
    assert keeper.hand.has_key("Hive 1")


def test_help_is_readable_by_a_beekeeper():
    """Every option says what it is for; the safety words stand in it."""
    shown = CliRunner().invoke(main, ["--help"])
    assert shown.exit_code == 0
    for words in ("--data", "--size", "--position", "hive by hive", "a veterinarian decide"):
        assert words in " ".join(shown.output.split())


def test_a_wrong_size_or_position_is_explained():
    """No traceback: what was wrong and what fits."""
    for options, words in (
        (["--size", "large"], "as 412x892"),
        (["--size", "1x1"], "width of 240"),
        (["--position", "here"], "as 54.21,-2.35"),
        (["--position", "99,0"], "-90 to 90"),
    ):
        shown = CliRunner().invoke(main, options)
        assert shown.exit_code == 2
        assert words in shown.output
        assert "Traceback" not in shown.output


def test_a_folder_that_is_no_journal_is_explained(tmp_path):
    """What lies there is not touched, and the program ends with words."""
    (tmp_path / "journal.db").write_text("my notes, not a journal")
    ended = start(tmp_path, [])
    out, _ = ended.communicate(timeout=60)
    assert ended.returncode == 1
    assert "Traceback" not in out
    assert "journal" in out
    assert (tmp_path / "journal.db").read_text() == "my notes, not a journal"


def start(folder, python_options):
    environment = {**os.environ, "PYTHONPATH": str(ROOT)}
    return subprocess.Popen(
        [sys.executable, *python_options, "-m", "fieldapp", "--data", str(folder)],
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        env=environment,
        cwd=folder,
    )


def test_it_opens_from_any_folder_also_without_asserts_and_docstrings(tmp_path):
    """``python -OO -m fieldapp``, a journal is begun, and nothing is said in the terminal."""
    process = start(tmp_path, ["-OO"])
    end = time.monotonic() + 30
    while time.monotonic() < end and not (tmp_path / "phone.db").exists():
        time.sleep(0.05)
    time.sleep(1.0)
    running = process.poll() is None
    process.kill()
    out, _ = process.communicate()
    assert running, out
    assert out == ""
    assert (tmp_path / "journal.db").exists()


LOADED = """
import sys
import screen_environment
from pathlib import Path
from running import PHONE, Running
app = Running(Path(sys.argv[1]), PHONE)
assert app.page == "due", app.page
assert "library" not in vars(app.kit.notebook)
print(sorted({"requests", "sqlite_utils", "plyer", "fieldapp.sync"} & set(sys.modules)))
"""


def test_the_first_page_waits_for_nothing_that_it_does_not_need(keeper):
    """Network, migrations, devices and the library are loaded when they are first used."""
    folder = keeper.folder
    keeper.reopen()
    ended = subprocess.run(
        [sys.executable, "-c", LOADED, str(folder)],
        capture_output=True,
        text=True,
        timeout=60,
        check=True,
        env={**os.environ, "PYTHONPATH": os.pathsep.join([str(ROOT), str(Path(__file__).parent)])},
    )
    assert ended.stdout.strip().splitlines()[-1] == "[]"


class Rings:
    """A phone that rings reminders while the program is closed, and notes what is armed."""

    there = True

    def __init__(self) -> None:
        self.armed = []

    def replace(self, alarms) -> bool:
        self.armed = list(alarms)
        return True


def test_a_program_put_aside_has_armed_what_is_coming(open_app):
    """Nothing else is called when the system ends it: the reminders are armed by then."""
    rings = Rings()
    app = open_app(alarms=rings)
    app.set_up("Ferry Lane", 2)
    assert app.app.on_pause()
    assert any("Ferry Lane" in alarm.text for alarm in rings.armed)
