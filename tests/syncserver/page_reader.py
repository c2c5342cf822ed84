"""Reads the served HTML as text by its structure, as a person reads the page."""

from __future__ import annotations

from html.parser import HTMLParser
from typing import NamedTuple


class Page(NamedTuple):
    """The agenda (what, where, when), the hives (number, state, words) and all links."""

    agenda: list[tuple[str, str, str]]
    hives: list[tuple[str, str, str]]
    links: list[str]


def read_page(html: str) -> Page:
    """Return what stands on an agenda page."""
    reader = _Reader()
    reader.feed(html)
    return Page(
        [(it.get("what", ""), it.get("where", ""), it.get("when", "")) for it in reader.lines],
        [(it.get("number", ""), it.get("state", ""), it.get("small", "")) for it in reader.hives],
        reader.links,
    )


class _Reader(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.lines: list[dict[str, str]] = []
        self.hives: list[dict[str, str]] = []
        self.links: list[str] = []
        self._within: list[dict[str, str]] = []
        self._part = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = {name: value or "" for name, value in attrs}
        classes = given.get("class", "").split()
        if tag == "a":
            self.links.append(given.get("href", ""))
        if tag == "ol" and given.get("aria-labelledby") == "due":
            self._within = self.lines
        elif tag == "ul" and "hives" in classes:
            self._within = self.hives
        elif tag == "ul" and given.get("aria-labelledby") == "questions":
            self._within = []
        elif tag == "li" and ("line" in classes or "hive" in classes):
            self._within.append({})
        for part in ("what", "where", "when", "number", "state", "small"):
            if part in classes:
                self._part = part

    def handle_endtag(self, tag: str) -> None:
        if tag in ("p", "div"):
            self._part = ""

    def handle_data(self, data: str) -> None:
        if self._part and self._within and data.strip():
            kept = self._within[-1].get(self._part, "")
            self._within[-1][self._part] = f"{kept} {data.strip()}".strip()
