"""The commands that set a checkout up and run its tests: what they say and how they end."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]

PASSING = "def test_one():\n    assert True\n"
FAILING = "def test_two():\n    assert 1 == 2\n"
SKIPPED = "import pytest\n\n@pytest.mark.skip(reason='no')\ndef test_three():\n    pass\n"


@pytest.fixture
def checkout(tmp_path: Path) -> Path:
    """A small checkout with the real commands and no tests yet."""
    shutil.copytree(ROOT / ".ci", tmp_path / ".ci", ignore=shutil.ignore_patterns("__pycache__"))
    (tmp_path / "pyproject.toml").write_text("[tool.pytest.ini_options]\n")
    (tmp_path / "tests" / "screens").mkdir(parents=True)
    return tmp_path


def ready(checkout: Path, what: str, user: int) -> subprocess.CompletedProcess[str]:
    """Run .ci/ready as `user`, by an `id` of the test's own in front of the system's."""
    tools = checkout / "tools"
    tools.mkdir()
    (tools / "id").write_text(f"#!/bin/sh\necho {user}\n")
    (tools / "id").chmod(0o755)
    path = f"{tools}{os.pathsep}{os.environ['PATH']}"
    return subprocess.run(
        ["sh", ".ci/ready", what],
        cwd=checkout,
        env=os.environ | {"PATH": path, "PYTHON": sys.executable},
        capture_output=True,
        text=True,
        check=False,
    )


def suite(checkout: Path, *options: str) -> subprocess.CompletedProcess[str]:
    """Run .ci/suite.py with no more of pytest's plugins than it needs, which is quicker."""
    return subprocess.run(
        [sys.executable, ".ci/suite.py", "-p", "xdist", "-n", "0", *options],
        cwd=checkout,
        env=os.environ | {"PYTEST_DISABLE_PLUGIN_AUTOLOAD": "1"},
        capture_output=True,
        text=True,
        check=False,
    )


def test_a_plain_user_is_told_the_one_line_to_run(checkout: Path) -> None:
    """Exit status 3, one apt-get install line that names what is missing, nothing made."""
    with (checkout / ".ci" / "packages").open("a") as packages:
        packages.write("first-thing try command:not-on-this-machine\n")
        packages.write("second-thing test library:libnot-there.so.9\n")
    done = ready(checkout, "test", user=1000)
    assert done.returncode == 3
    [line] = [line for line in done.stderr.splitlines() if "apt-get install" in line]
    assert line.split("--no-install-recommends ")[1].split()[-2:] == ["first-thing", "second-thing"]
    assert not (checkout / ".venv").exists()


def test_trying_needs_nothing_that_only_tests_need(checkout: Path) -> None:
    """What is for tests is not asked of somebody who only wants to try."""
    (checkout / ".ci" / "packages").write_text(
        "first-thing try command:not-on-this-machine\n"
        "second-thing test command:not-on-this-machine-either\n"
    )
    done = ready(checkout, "try", user=1000)
    assert done.returncode == 3
    assert "first-thing" in done.stderr
    assert "second-thing" not in done.stderr


def test_a_python_that_is_too_old_or_not_there_is_named(checkout: Path) -> None:
    """Exit status 3 and what to do, before anything else is looked at."""
    done = subprocess.run(
        ["sh", ".ci/ready", "try"],
        cwd=checkout,
        env=os.environ | {"PYTHON": "python-not-there"},
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 3
    assert "python-not-there" in done.stderr


def test_the_closing_line_is_the_sum_of_all_processes(checkout: Path) -> None:
    """Plain tests and each window file count together; the status is 0 if all passed."""
    (checkout / "tests" / "test_plain.py").write_text(PASSING + SKIPPED)
    (checkout / "tests" / "screens" / "test_window_a.py").write_text(PASSING)
    (checkout / "tests" / "screens" / "test_window_b.py").write_text(PASSING)
    done = suite(checkout)
    assert done.returncode == 0, done.stdout
    assert re.fullmatch(r"=+ 3 passed, 1 skipped in [\d.]+s =+", done.stdout.splitlines()[-1])


@pytest.mark.parametrize("where", ["test_plain.py", "screens/test_window_a.py"])
def test_a_failure_anywhere_fails_the_whole(checkout: Path, where: str) -> None:
    """One failing test in any process: not 0, and counted as failed in the closing line."""
    (checkout / "tests" / "test_other.py").write_text(PASSING)
    (checkout / "tests" / "screens" / "test_window_b.py").write_text(PASSING)
    (checkout / "tests" / where).write_text(FAILING)
    done = suite(checkout)
    assert done.returncode == 1
    assert "1 failed, 2 passed" in done.stdout.splitlines()[-1]


def test_a_process_that_dies_fails_the_whole(checkout: Path) -> None:
    """A window that takes its process with it is an error, not a silence."""
    (checkout / "tests" / "test_plain.py").write_text(PASSING)
    (checkout / "tests" / "screens" / "test_window_a.py").write_text(
        "import os\n\ndef test_gone():\n    os._exit(0)\n"
    )
    done = suite(checkout)
    assert done.returncode == 1
    assert "1 errors" in done.stdout.splitlines()[-1]


def test_nothing_selected_at_all_is_no_success(checkout: Path) -> None:
    """An empty suite never passes."""
    (checkout / "tests" / "test_plain.py").write_text(PASSING)
    (checkout / "tests" / "screens" / "test_window_a.py").write_text(PASSING)
    assert suite(checkout, "-k", "nothing_is_called_so").returncode == 1
    assert suite(checkout, "-k", "test_one").returncode == 0
