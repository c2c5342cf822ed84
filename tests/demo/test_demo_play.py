"""The demo as `.ci/try` runs it: real app, real window, real server, from one command."""

from __future__ import annotations

import os
import re
import signal
import subprocess
import sys
import time
from contextlib import closing
from pathlib import Path

import pytest
from PIL import Image

from fieldapp.bootstrap import LOCAL
from fieldapp.demo.season import KEEPERS_PHONE
from fieldapp.rounds.local import Local

ROOT = Path(__file__).resolve().parents[2]


def command(folder: Path, *options: str) -> list[str]:
    return [sys.executable, "-m", "fieldapp.demo", "--folder", str(folder), *options]


@pytest.fixture(scope="module")
def played(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, str]:
    """The play, run once to its end: its folder, and what it said."""
    folder = tmp_path_factory.mktemp("play") / "demo"
    screenless = {
        name: value
        for name, value in os.environ.items()
        if name not in ("DISPLAY", "WAYLAND_DISPLAY")
    }
    done = subprocess.run(
        command(folder),
        cwd=ROOT,
        env=screenless,
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
    )
    assert done.returncode == 0, done.stdout + done.stderr
    assert done.stderr == ""
    return folder, done.stdout


def test_both_agendas_are_printed_and_are_the_same(played: tuple[Path, str]) -> None:
    """Every line that the screen showed stands on the served page, in the same words."""
    said = played[1]
    rows = re.findall(r"^ *(\d+) (phone|page ) (.+)$", said, re.M)
    phone = [words for _, side, words in rows if side == "phone"]
    page = [words for _, side, words in rows if side == "page "]
    assert len(phone) > 5
    assert phone == page
    assert f"Identical: {len(phone)} lines." in said


def test_the_round_that_was_tapped_moved_the_agenda(played: tuple[Path, str]) -> None:
    """Ten hives were done with their five; the two laggards go on with a later date."""
    vapours = [line for line in played[1].splitlines() if "phone" in line and "sublimed" in line]
    assert any("4 of 5 given" in line and "2 hives" in line for line in vapours)
    assert not any("late" in line for line in vapours)


def test_phone_and_server_live_on_the_same_day(played: tuple[Path, str]) -> None:
    """The phone heard a clock that agrees with its own: there is nothing to ask."""
    with closing(Local.open(played[0] / "phones" / KEEPERS_PHONE / LOCAL)) as local:
        assert local.get("clock agreed") is not None
        assert local.get("clock off") is None


def test_the_sync_brought_what_the_helper_logged_offline(played: tuple[Path, str]) -> None:
    """The screen says what was sent and received, and that both sides hold the same."""
    found = re.search(
        r"Both sides hold the same (\d+) records: (\d+) sent, (\d+) received", played[1]
    )
    assert found is not None
    final = played[1].split("Sync, on the screen: ")[1]
    total, sent, received = map(int, re.findall(r"\d+", final)[:3])
    assert sent > 12 and received > 30 and total > 930


def test_pictures_of_each_screen_are_left(played: tuple[Path, str]) -> None:
    """Phone-sized, of different screens, and none of them empty."""
    pictures = sorted((played[0] / "pictures").glob("*.png"))
    assert len(pictures) >= 10
    seen = set()
    for picture in pictures:
        with Image.open(picture) as image:
            assert image.size == (540, 1170)
            assert len(image.convert("RGB").getcolors(1 << 20) or ()) > 3
            seen.add(image.tobytes())
    assert len(seen) == len(pictures)


def test_no_server_is_left_when_the_demo_is_stopped(tmp_path: Path) -> None:
    """Ended from outside while the app is open, it takes its server with it."""
    process = subprocess.Popen(
        command(tmp_path / "demo", "--open"),
        cwd=ROOT,
        env=os.environ | {"SDL_VIDEODRIVER": "offscreen", "KIVY_CLIPBOARD": "dummy"},
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        text=True,
    )
    assert process.stdout is not None
    said = []
    for line in process.stdout:
        said.append(line)
        if line.startswith("The demo ends"):
            break
    time.sleep(2)  # the window is opening or open: both must end well
    process.send_signal(signal.SIGTERM)
    assert process.wait(30) == 143
    address = re.search(r"https://(127\.0\.0\.1:\d+)", "".join(said))
    assert address is not None
    assert str(tmp_path) not in processes()


def processes() -> str:
    """The command lines of everything that runs here."""
    lines = []
    for entry in Path("/proc").glob("[0-9]*/cmdline"):
        try:
            lines.append(entry.read_bytes().replace(b"\0", b" ").decode(errors="replace"))
        except OSError:
            continue
    return "\n".join(lines)
