"""What is said, by the command that gathers it, and each language's catalogue as it lies there."""

from __future__ import annotations

import importlib.util
import string
from pathlib import Path
from types import ModuleType

from babel.messages.catalog import Catalog
from babel.messages.pofile import read_po

from fieldapp.words import LANGUAGES

ROOT = Path(__file__).resolve().parents[2]
OTHERS = [language for language in LANGUAGES if language != "en"]


def _loaded() -> ModuleType:
    spec = importlib.util.spec_from_file_location("make_words", ROOT / "docs" / "make_words.py")
    assert spec is not None and spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


make_words = _loaded()


def catalogue(language: str) -> Catalog:
    """Return a language's catalogue as translators see it."""
    with make_words.catalogue_file(language).open("rb") as file:
        return read_po(file, locale=language)


def forms(text: str | tuple[str, ...] | list[str]) -> tuple[str, ...]:
    """Return the one form of a text, or all of a counted one."""
    return (text,) if isinstance(text, str) else tuple(text)


def places(text: str) -> set[str]:
    """Return the named places of a text."""
    return {name for _, name, _, _ in string.Formatter().parse(text) if name is not None}
