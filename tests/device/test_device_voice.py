"""A computer's voice: a program that speaks, called with the language of the app."""

from __future__ import annotations

import time
from pathlib import Path

import pytest

from fieldapp.device.voice import NoVoice, desktop_voice

PROGRAM = """#!/bin/sh
printf '%s|' "$@" >> "{heard}"; cat >> "{heard}"; echo >> "{heard}"; exit {status}
"""


@pytest.fixture
def heard(tmp_path, monkeypatch) -> Path:
    """What the computer's programs were told, line by line; there is none at first."""
    (tmp_path / "bin").mkdir()
    monkeypatch.setenv("PATH", f"{tmp_path / 'bin'}:/usr/bin:/bin")
    monkeypatch.setattr("shutil.which", lambda name: _found(tmp_path / "bin" / name))
    return tmp_path / "heard"


def _found(path: Path) -> str | None:
    return str(path) if path.exists() else None


def install(heard: Path, name: str, status: int = 0) -> None:
    program = heard.parent / "bin" / name
    program.write_text(PROGRAM.format(heard=heard, status=status))
    program.chmod(0o755)


def lines(heard: Path, count: int) -> list[str]:
    end = time.monotonic() + 10
    while time.monotonic() < end:
        # What follows the last line's end is still being written.
        found = heard.read_text().split("\n")[:-1] if heard.exists() else []
        if len(found) >= count:
            return found
        time.sleep(0.02)
    raise AssertionError(f"{count} lines did not come")


@pytest.mark.parametrize("name", ["espeak-ng", "espeak"])
def test_words_are_spoken_in_their_language_and_are_no_arguments(heard, name):
    """What begins like an option is spoken too."""
    install(heard, name)
    voice = desktop_voice()
    voice.speak("-f Beute 1, fertig", "de")
    assert lines(heard, 1) == ["-v|de|--stdin|-f Beute 1, fertig"]
    voice.speak("hive 2, done", "en")
    assert lines(heard, 2)[1] == "-v|en|--stdin|hive 2, done"


def test_a_program_without_languages_speaks_as_it_can(heard):
    """It has one voice."""
    install(heard, "flite")
    desktop_voice().speak("hive 1, done", "en")
    assert lines(heard, 1) == ["-t|-|hive 1, done"]


def test_a_program_that_fails_is_not_asked_again(heard):
    """The screen says it too."""
    install(heard, "espeak", status=1)
    voice = desktop_voice()
    voice.speak("hive 1, done", "en")
    lines(heard, 1)
    end = time.monotonic() + 10
    while voice.there and time.monotonic() < end:
        time.sleep(0.02)
    assert not voice.there
    voice.speak("hive 2, done", "en")
    assert len(lines(heard, 1)) == 1


def test_a_computer_without_such_a_program_has_no_voice(heard):
    """Nothing is spoken, nothing fails."""
    voice = desktop_voice()
    assert isinstance(voice, NoVoice)
    voice.speak("hive 1, done", "en")
