"""Writes docs/commands.md from the help of each command; run it as it stands.

A test fails where the file and the commands differ.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path

import click
from click.testing import CliRunner

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT))

from fieldapp.__main__ import main as app  # noqa: E402
from fieldapp.android.__main__ import main as android  # noqa: E402
from fieldapp.demo.__main__ import main as demo  # noqa: E402
from syncserver.commands import server  # noqa: E402

OPENING = """\
# Commands

<!-- Made by docs/make_commands.py from the commands themselves. Do not edit by hand. -->

What each command says of itself with `--help`.
"""

PROGRAMS = {
    "apiary-rounds": app,
    "apiary-rounds-server": server,
    "python -m fieldapp.demo": demo,
    "python -m fieldapp.android": android,
}


def page() -> str:
    """Return the whole page."""
    parts = [OPENING]
    for program, command in PROGRAMS.items():
        for words, _ in every_command(program, command):
            parts.append(f"\n## {words}\n\n```\n{said(program, command, words)}\n```\n")
    return "".join(parts)


def every_command(program: str, command: click.Command) -> Iterator[tuple[str, click.Command]]:
    """Yield the words that call each command of a program, with the command."""
    yield program, command
    if isinstance(command, click.Group):
        for name, below in sorted(command.commands.items()):
            yield f"{program} {name}", below


def said(program: str, command: click.Command, words: str) -> str:
    """Return what the command says with --help."""
    below = words.removeprefix(program).split()
    result = CliRunner().invoke(
        command, [*below, "--help"], prog_name=program, terminal_width=80, catch_exceptions=False
    )
    return result.output.rstrip()


if __name__ == "__main__":
    (ROOT / "docs" / "commands.md").write_text(page(), encoding="utf-8")
