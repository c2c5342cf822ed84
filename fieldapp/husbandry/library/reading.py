"""Reads the library from its TOML files, and refuses what a label could not say.

One file a treatment; ``sources.toml`` beside them holds the sources and the library's version.
"""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from fieldapp.husbandry.library.errors import LibraryError
from fieldapp.husbandry.library.library import Library
from fieldapp.husbandry.library.treatment import Source, Treatment, Value
from fieldapp.journal.kinds import KINDS
from fieldapp.journal.kinds.labels import VALUES

SOURCES = "sources.toml"

#: Values that only a label of the country can give. The others are knowledge of the substance.
OF_A_LABEL = frozenset(VALUES) - {
    "cautions",
    "class",
    "first_aid",
    "protective",
    "reaches_capped",
    "residual",
}
#: Standings that need a source with title, issuer and year.
GROUNDED = frozenset({"read", "computed"})

_HEAD = {"name": str, "active": str, "method": str, "label": str, "version": str, "form": str}


def load(folder: Path) -> Library:
    """Return the library that the TOML files of `folder` hold.

    Raises `LibraryError`, which names file and place, where one of them is not as it should be.
    """
    texts: dict[str, str] = {}
    for path in sorted(folder.glob("*.toml")):
        try:
            texts[path.name] = path.read_text(encoding="utf-8")
        except UnicodeDecodeError as error:
            raise LibraryError(path.name, "text in UTF-8") from error
    return parse(texts)


def library_version(folder: Path) -> str:
    """Return the version of the library in `folder`, without reading its treatments.

    Raises `LibraryError` where it has none.
    """
    try:
        text = (folder / SOURCES).read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError) as error:
        raise LibraryError(SOURCES, "a file of text in UTF-8") from error
    version: str = _take(_toml(SOURCES, text), "version", str, SOURCES)
    return version


def parse(texts: Mapping[str, str]) -> Library:
    """Return the library held by `texts`, TOML texts by file name, ``sources.toml`` among them.

    Raises `LibraryError`.
    """
    files = {name: _toml(name, text) for name, text in texts.items()}
    if SOURCES not in files:
        raise LibraryError(SOURCES, "this file, which is missing, beside the treatments")
    version, sources = _sources(files.pop(SOURCES))
    treatments = [
        treatment
        for name, data in files.items()
        for treatment in _treatments(name, data, version, sources)
    ]
    return Library(version, treatments)


def _toml(name: str, text: str) -> dict[str, Any]:
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise LibraryError(name, f"TOML ({error})") from error


def _sources(data: dict[str, Any]) -> tuple[str, dict[str, Source]]:
    version = _take(data, "version", str, SOURCES)
    sources: dict[str, Source] = {}
    for key, entry in data.items():
        where = f"{SOURCES}, {key}"
        if not isinstance(entry, dict) or not entry.get("title"):
            raise LibraryError(where, "a source with a title")
        covers = entry.pop("covers", [])
        if not _texts(covers):
            raise LibraryError(where, "a list of countries in covers")
        sources[key] = Source(
            **{name: entry.pop(name, None) for name in Source._fields if name != "covers"},
            covers=frozenset(covers),
        )
        if entry:
            raise LibraryError(where, f"no field {min(entry)}")
    return version, sources


def _treatments(
    name: str, data: dict[str, Any], version: str, sources: Mapping[str, Source]
) -> Iterator[Treatment]:
    countries = data.pop("countries", None)
    published = _take(data, "published", bool, name)
    entries = _take(data, "values", dict, name)
    head = {key: _take(data, key, kind, name) for key, kind in _HEAD.items()}
    if data:
        raise LibraryError(name, f"no field {min(data)}")
    if countries is not None and not (countries and _texts(countries)):
        raise LibraryError(f"{name}, countries", "a list of countries, or none for no label")
    values = {key: _value(f"{name}, {key}", key, entry) for key, entry in entries.items()}
    for country in countries or [None]:
        for key, value in values.items():
            _judge(f"{name}, {key}", key, value, country, sources)
        used = {value.source: sources[value.source] for value in values.values()}
        treatment = Treatment(
            **head,
            country=country,
            published=published,
            values=values,
            sources=used,
            library=version,
        )
        if unfit := KINDS["terms", 1].check(treatment.terms_body()):
            raise LibraryError(f"{name}, {unfit.where}", unfit.expected)
        yield treatment


def _value(where: str, key: str, entry: Any) -> Value:
    if key not in VALUES:
        raise LibraryError(where, "the name of a value that rules read")
    if not isinstance(entry, dict) or set(entry) != set(Value._fields):
        raise LibraryError(where, "value, standing, source and row, all four and no more")
    if not _texts([entry["standing"], entry["source"], entry["row"]]):
        raise LibraryError(where, "standing, source and row as texts")
    return Value(**entry)


def _judge(
    where: str, key: str, value: Value, country: str | None, sources: Mapping[str, Source]
) -> None:
    source = sources.get(value.source)
    if source is None:
        raise LibraryError(where, f"a source of {SOURCES}, not {value.source}")
    if value.standing in GROUNDED and not source.complete:
        raise LibraryError(
            where, f"title, issuer and year of {value.source}; without them it is only reported"
        )
    speaks = value.standing == "from memory" or country is None
    if key in OF_A_LABEL and not speaks and country not in source.covers:
        raise LibraryError(where, f"a source that speaks for {country}; {value.source} does not")


def _texts(items: Any) -> bool:
    return isinstance(items, list) and all(isinstance(item, str) for item in items)


def _take(data: dict[str, Any], key: str, kind: type, where: str) -> Any:
    value = data.pop(key, None)
    if not isinstance(value, kind):
        raise LibraryError(f"{where}, {key}", f"this field as {kind.__name__}")
    return value
