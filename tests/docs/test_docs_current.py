"""The documents say what is so: commands, links, tables of records."""

from __future__ import annotations

import importlib.util
import os
import re
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
PAGES = [ROOT / "README.md", ROOT / "DEVELOPERS.md", *sorted((ROOT / "docs").glob("*.md"))]


def fenced_under(heading: str) -> list[str]:
    """The fenced blocks of the README under `heading`, without their fences."""
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    section = re.split(r"^## ", readme.split(f"## {heading}\n", 1)[1], flags=re.M)[0]
    return [block.strip() for block in re.findall(r"^```\w*\n(.*?)^```", section, re.M | re.S)]


@pytest.mark.parametrize("heading", ["Try it", "Test it"])
def test_each_readme_command_stands_alone_and_can_be_run(heading: str) -> None:
    """One block under the heading, one line in it, and that is a program of this checkout."""
    [command] = fenced_under(heading)
    assert "\n" not in command
    program = ROOT / command.split()[0]
    assert os.access(program, os.X_OK)


def test_ci_runs_the_readmes_own_test_command() -> None:
    """.ci/run reads the command from the README, so the two cannot drift apart."""
    run = (ROOT / ".ci" / "run").read_text(encoding="utf-8")
    [command] = fenced_under("Test it")
    assert "README.md" in run
    assert command not in [line.strip() for line in run.splitlines()]


def test_the_readme_opens_with_the_job_and_says_who_decides() -> None:
    """One paragraph of the job before anything else; label, rules and veterinarian decide."""
    title, job = (ROOT / "README.md").read_text(encoding="utf-8").split("\n\n")[:2]
    assert title == "# Apiary Rounds"
    assert not job.startswith(("#", "-", "!", "```"))
    readme = " ".join((ROOT / "README.md").read_text(encoding="utf-8").split())
    assert "The product's label, local rules and a veterinarian decide." in readme


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.name)
def test_every_link_to_a_file_leads_somewhere(page: Path) -> None:
    """Links and pictures that name files of this checkout name some that are there."""
    named = re.findall(r"\]\(([^)#\s]+)|src=\"([^\"]+)", page.read_text(encoding="utf-8"))
    for target in (link or picture for link, picture in named):
        if "://" not in target:
            assert (page.parent / target).exists(), f"{page.name}: {target}"


def test_the_page_of_records_is_current() -> None:
    """docs/records.md equals what the tables of kinds give now."""
    made = ROOT / "docs" / "make_records.py"
    spec = importlib.util.spec_from_file_location("make_records", made)
    assert spec is not None and spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    current = (ROOT / "docs" / "records.md").read_text(encoding="utf-8")
    assert module.page() == current, "run: python docs/make_records.py"
