"""Every text on a screen can be translated and shown: found by reading the source."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest
from fontTools.ttLib import TTFont

import fieldapp

ROOT = Path(fieldapp.__file__).parent
FONTS = ROOT.parent / "assets" / "fonts"
SHOWN = {"Words", "Tell", "Key", "BigField", "title", "heading", "line", "desk_key", "main_key"}


def calls(names: set[str], folder: Path = ROOT) -> Iterator[tuple[Path, ast.Call]]:
    for file in sorted(folder.rglob("*.py")):
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call) and getattr(node.func, "id", "") in names:
                yield file, node


def literals() -> Iterator[tuple[Path, str]]:
    """Every text of `say` and `count`."""
    for file, call in calls({"say", "count"}):
        texts = call.args[: 2 if call.func.id == "count" else 1]
        for text in texts:
            if isinstance(text, ast.Constant):
                yield file, text.value


def test_every_phrase_is_made_from_a_literal():
    """A text put together at run time could not be found for translation."""
    made = [
        f"{file.name}:{call.lineno}"
        for file, call in calls({"say", "count"})
        for text in call.args[: 2 if call.func.id == "count" else 1]
        if not (isinstance(text, ast.Constant) and isinstance(text.value, str))
    ]
    assert made == []


def test_no_widget_is_given_words_that_are_not_a_phrase():
    """Only numbers and signs stand in widgets as they are; words come through say and count."""
    bare = [
        f"{file.name}:{call.lineno} {text.value!r}"
        for file, call in calls(SHOWN, ROOT / "screens")
        for text in call.args[1:3]
        if isinstance(text, ast.Constant)
        and isinstance(text.value, str)
        and any(letter.isalpha() for letter in text.value)
        and text.value not in {"done", "due", "late", "closed", "quiet", "unknown", "text"}
        and text.value not in {"figure", "title", "body", "small"}
    ]
    assert bare == []


@pytest.mark.parametrize("style", ["Regular", "Bold"])
def test_the_font_has_every_character_that_is_said(style):
    """No box stands where a letter should."""
    known = TTFont(FONTS / f"NotoSans-{style}.ttf").getBestCmap()
    missing = {
        letter: text
        for _, text in literals()
        for letter in text
        if ord(letter) not in known and letter != "\n"
    }
    assert missing == {}


def test_the_reader_of_the_source_finds_phrases():
    """The checks above have something to look at."""
    assert sum(1 for _ in literals()) > 100


def test_the_fonts_figures_are_all_equally_wide():
    """Columns of numbers stand under each other."""
    font = TTFont(FONTS / "NotoSans-Bold.ttf")
    known, widths = font.getBestCmap(), font["hmtx"]
    assert len({widths[known[ord(figure)]][0] for figure in "0123456789"}) == 1
