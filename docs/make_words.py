"""Gathers all words and brings the catalogues of assets/words up to them; run it as it stands.

It finds every literal of `say` and `count` in the source and the pages' templates, and the words
of the treatment library and the tables. What is new stands without a translation in each
``apiary.po``, what nobody says any more is taken out, and ``apiary.mo`` is made from it. It
prints what still has to be translated, and ends with status 1 while there is any.

A test fails where catalogues, source and assets differ.
"""

from __future__ import annotations

import ast
import io
import sys
import tomllib
from collections.abc import Iterable, Iterator, Sequence
from inspect import getclosurevars
from pathlib import Path
from typing import Any

from babel.messages.catalog import Catalog
from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po, write_po
from jinja2 import Environment
from jinja2.ext import extract_from_ast

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT))

from fieldapp.husbandry.figures import STANDINGS  # noqa: E402
from fieldapp.husbandry.vocabulary import RECORDED  # noqa: E402
from fieldapp.journal.kinds import KINDS  # noqa: E402
from fieldapp.words.languages import DOMAIN, LANGUAGES, SOURCE  # noqa: E402
from fieldapp.words.speech import HELD  # noqa: E402

HEAD = "# Brought up to date by docs/make_words.py: translate what is empty."
WORDS = ROOT / "assets" / "words"
#: What makes a phrase, and how many texts it is given.
SAID = {"say": 1, "count": 2}
#: Fields of the assets that hold words to be shown. What cites a document, its title and
#: issuer, is held by `sources` and stays as it stands there, so that it can be found.
OF_A_TREATMENT = frozenset({"name", "active", "method", "label"})
OF_ITS_VALUES = frozenset({"cautions", "protective", "first_aid", "hive_set_up", "class", "when"})
#: Under these names checks hold those of the parts of a value.
_INSIDE = ("check", "keys", "values")
OF_TABLES = frozenset({"name", "what", "colony", "phase"})


class Undated(Catalog):
    """A catalogue whose head says what its reader needs, and nothing of who made it when."""

    @property
    def mime_headers(self) -> list[tuple[str, str]]:
        """The lines of the head."""
        of_language = [("Language", str(self.locale)), ("Plural-Forms", self.plural_forms)]
        return [
            *(of_language if self.locale else []),
            ("Content-Type", "text/plain; charset=utf-8"),
        ]


def catalogue_file(language: str, ending: str = "po") -> Path:
    """Return where a language's catalogue lies."""
    return WORDS / language / "LC_MESSAGES" / f"{DOMAIN}.{ending}"


def template() -> Catalog:
    """Return all that is said, without translations."""
    found = Undated()
    for file, text in said():
        found.add(text, locations=[(file, None)])
    for file, text in held():
        found.add(text, context=HELD, locations=[(file, None)])
    return found


def said() -> Iterator[tuple[str, str | tuple[str, str]]]:
    """Yield each literal text of `say`, and the two of `count`, with its file."""
    for package in ("fieldapp", "syncserver"):
        for path in sorted((ROOT / package).rglob("*.py")):
            for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
                if isinstance(node, ast.Call) and getattr(node.func, "id", "") in SAID:
                    texts = [arg.value for arg in node.args if isinstance(arg, ast.Constant)]
                    yield _file(path), _id(texts[: SAID[node.func.id]])
    for path in sorted((ROOT / "syncserver").rglob("templates/*.html")):
        tree = Environment(autoescape=True).parse(path.read_text(encoding="utf-8"))
        for _, called, texts in extract_from_ast(tree, tuple(SAID), babel_style=False):
            yield _file(path), _id([text for text in texts if text][: SAID[called]])


def _id(texts: Sequence[str]) -> str | tuple[str, str]:
    return texts[0] if len(texts) == 1 else (texts[0], texts[1])


def _file(path: Path) -> str:
    return path.relative_to(ROOT).as_posix()


def held() -> Iterator[tuple[str, str]]:
    """Yield the words that assets hold, each with its file."""
    for text in STANDINGS:
        yield "fieldapp/husbandry/figures.py", text
    for text in RECORDED:
        yield "fieldapp/husbandry/vocabulary.py", text
    for kind in KINDS.values():
        for text in _choices(kind.check):
            yield "fieldapp/journal/kinds", text
    for path in sorted((ROOT / "assets" / "treatments").glob("*.toml")):
        entry = _toml(path)
        file = _file(path)
        if path.name == "sources.toml":
            yield from ((file, text) for text in _own_titles(entry))
            continue
        yield file, f"{entry['label']}, version {entry['version']}"
        for text in (*_texts(entry, OF_A_TREATMENT), *_texts(entry.get("values"), OF_ITS_VALUES)):
            yield file, text
    for path in sorted((ROOT / "assets" / "tables").glob("*.toml")):
        entry = _toml(path)
        yield from ((_file(path), text) for text in _own_titles(entry.pop("sources", {})))
        for text in _texts(entry, OF_TABLES):
            yield _file(path), text
        for recipe in entry.get("recipe", ()):
            yield _file(path), f"{recipe['name']} ({recipe['version']})"


def _choices(check: Any) -> Iterator[str]:
    """Yield the words among which a field of a record has one: they are spoken where it is."""
    parts = dict(getclosurevars(check).nonlocals)
    yield from (word for word in sorted(parts.get("allowed", ())) if word[-1:].isalpha())
    inside = [*parts.get("checks", {}).values(), *(parts.get(name) for name in _INSIDE)]
    for each in inside:
        if each is not None:
            yield from _choices(each)


def _own_titles(sources: dict[str, Any]) -> Iterator[str]:
    """Yield the titles of sources that are nothing but a title: they cite no document."""
    for source in sources.values():
        if isinstance(source, dict) and set(source) <= {"title", "covers"}:
            yield source["title"]


def _texts(value: Any, names: Iterable[str], *, wanted: bool = False) -> Iterator[str]:
    """Yield every text under one of `names`, at any depth; of a label's value its `value` only."""
    if isinstance(value, dict):
        for name, inside in value.items():
            below = name in names or (wanted and name == "value")
            yield from _texts(inside, names, wanted=below)
    elif isinstance(value, list):
        for inside in value:
            yield from _texts(inside, names, wanted=wanted)
    elif isinstance(value, str) and wanted and any(letter.isalpha() for letter in value):
        yield value


def _toml(path: Path) -> dict[str, Any]:
    return tomllib.loads(path.read_text(encoding="utf-8"))


def updated(language: str, words: Catalog) -> Catalog:
    """Return a language's catalogue with all of `words` in it and nothing else."""
    path = catalogue_file(language)
    kept = Catalog()
    if path.exists():
        with path.open("rb") as file:
            kept = read_po(file, locale=language)
    found = Undated(language, header_comment=HEAD, fuzzy=False)
    for message in words:
        if message.id:
            known = kept.get(message.id, message.context)
            found.add(
                message.id,
                known.string if known and type(known.id) is type(message.id) else None,
                locations=message.locations,
                context=message.context,
            )
    return found


def untranslated(catalogue: Catalog) -> list[Any]:
    """Return the messages in which a form is missing."""
    return [
        message
        for message in catalogue
        if message.id and not all(message.string if message.pluralizable else [message.string])
    ]


def as_po(catalogue: Catalog) -> bytes:
    """Return a catalogue as translators read it; the same bytes for the same words."""
    out = io.BytesIO()
    write_po(out, catalogue, width=100, sort_output=True, include_lineno=False)
    return out.getvalue()


def as_mo(po: bytes, language: str) -> bytes:
    """Return a catalogue, given as translators read it, as the program reads it."""
    catalogue = Undated(locale=language)
    for message in read_po(io.BytesIO(po), locale=language):
        if message.id:
            catalogue.add(message.id, message.string, context=message.context)
    out = io.BytesIO()
    write_mo(out, catalogue)
    return out.getvalue()


def main() -> int:
    """Bring every catalogue up to date; return how many texts lack a translation."""
    words, missing = template(), 0
    for language in LANGUAGES:
        if language == SOURCE:
            continue
        catalogue = updated(language, words)
        po = as_po(catalogue)
        for ending, raw in {"po": po, "mo": as_mo(po, language)}.items():
            path = catalogue_file(language, ending)
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(raw)
        lacking = untranslated(catalogue)
        missing += len(lacking)
        print(f"{language}: {len(catalogue)} texts, {len(lacking)} to translate")
        for message in lacking:
            print(f"  {message.id!r}")
    return missing


if __name__ == "__main__":
    sys.exit(1 if main() else 0)
