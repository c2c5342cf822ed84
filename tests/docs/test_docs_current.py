"""The documents say what is so: commands, links, tables of records."""

from __future__ import annotations

import importlib.util
import os
import re
from pathlib import Path
from types import ModuleType

import click
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


def test_the_index_leads_to_every_page() -> None:
    """No page of docs/ is left where nobody finds it."""
    index = (ROOT / "docs" / "index.md").read_text(encoding="utf-8")
    pages = {page.name for page in (ROOT / "docs").glob("*.md")} - {"index.md"}
    assert {page for page in pages if f"({page})" not in index} == set()


def made_by(script: str) -> ModuleType:
    """Load one of the scripts that make a page."""
    spec = importlib.util.spec_from_file_location(script, ROOT / "docs" / f"{script}.py")
    assert spec is not None and spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.mark.parametrize("page", ["records", "commands"])
def test_a_page_that_is_made_is_current(page: str) -> None:
    """The page equals what its script makes now, from the tables and the commands."""
    current = (ROOT / "docs" / f"{page}.md").read_text(encoding="utf-8")
    assert made_by(f"make_{page}").page() == current, f"run: python docs/make_{page}.py"


def test_keepers_pages_name_only_commands_and_options_that_exist() -> None:
    """Every command line in a keeper's page calls a command of the program, with its options."""
    scripts = made_by("make_commands")
    known = {
        words: {option for parameter in command.params for option in parameter.opts}
        for program, top in scripts.PROGRAMS.items()
        for words, command in scripts.every_command(program, top)
    }
    pages = "".join((ROOT / "docs" / name).read_text() for name in ("first-steps.md", "backup.md"))
    called = re.findall(r"(?<![/\w])(apiary-rounds[^`\n]*)", pages)
    assert called
    for line in called:
        words = line.split()
        command = " ".join(words[:2]) if " ".join(words[:2]) in known else words[0]
        assert command in known, line
        given = {word for word in words if word.startswith("--")}
        assert given <= known[command] | {"--help"}, line


def test_every_command_of_the_server_is_described_for_keepers() -> None:
    """First steps and backup tell what each of the server's commands is for."""
    scripts = made_by("make_commands")
    pages = "".join((ROOT / "docs" / name).read_text() for name in ("first-steps.md", "backup.md"))
    for words, _ in scripts.every_command("apiary-rounds-server", scripts.server):
        assert words in pages, words


def test_every_option_says_what_it_is_for() -> None:
    """No command and no option without a help text."""
    scripts = made_by("make_commands")
    for program, top in scripts.PROGRAMS.items():
        for words, command in scripts.every_command(program, top):
            assert command.help, words
            options = [each for each in command.params if isinstance(each, click.Option)]
            assert all(option.help for option in options), words
