"""Reads the served page as a browser would: logs in over HTTPS, takes the agenda from the HTML."""

from __future__ import annotations

import hashlib
from datetime import date
from html.parser import HTMLParser

from fieldapp.demo.play.errors import PageRefused
from fieldapp.demo.play.server import HomeServer
from fieldapp.sync.pinned import certificate_at, pinned_session

PASSWORD = "demo season only"  # noqa: S105  # of a server that lives for a minute
SHOWN = ("what", "where", "when")

AgendaLine = tuple[str, ...]
"""What, where, when, as they are read."""


class Browser:
    """A browser that has logged in to the pages of one server."""

    def __init__(self, server: HomeServer) -> None:
        """Set the pages' password with the server's page code, and log in by it."""
        self._root = f"https://{server.address}"
        certificate = certificate_at(server.address)
        self._session = pinned_session(hashlib.sha256(certificate).hexdigest())
        answer = self._session.post(
            f"{self._root}/first",
            data={"code": server.page_code, "password": PASSWORD},
            headers={"Origin": self._root},
            timeout=20,
        )
        if not answer.ok:
            raise PageRefused(f"The server's pages did not open: {answer.status_code}")

    def page(self, day: date) -> str:
        """Return the HTML of the agenda of `day`."""
        answer = self._session.get(self._root, params={"day": day.isoformat()}, timeout=20)
        if not answer.ok:
            raise PageRefused(f"The agenda was not shown: {answer.status_code}")
        return answer.text

    def agenda(self, day: date) -> list[AgendaLine]:
        """Return the lines of the agenda of `day`, in the page's order."""
        return read_agenda(self.page(day))


def read_agenda(html: str) -> list[AgendaLine]:
    """Return the lines of the agenda that a page shows, in its order."""
    reader = _AgendaReader()
    reader.feed(html)
    return [tuple(line.get(name, "") for name in SHOWN) for line in reader.lines]


class _AgendaReader(HTMLParser):
    """Collects what, where and when of each line in the list labelled *due*."""

    def __init__(self) -> None:
        super().__init__()
        self.lines: list[dict[str, str]] = []
        self._in_agenda = False
        self._name = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Note where a line or one of its parts begins."""
        given = dict(attrs)
        classes = (given.get("class") or "").split()
        if tag == "ol" and given.get("aria-labelledby") == "due":
            self._in_agenda = True
        elif self._in_agenda and "line" in classes:
            self.lines.append({})
        elif self._in_agenda and tag == "p":
            self._name = next((name for name in SHOWN if name in classes), "")

    def handle_endtag(self, tag: str) -> None:
        """Note where a part, or the agenda, ends."""
        if tag == "p":
            self._name = ""
        elif tag == "ol":
            self._in_agenda = False

    def handle_data(self, data: str) -> None:
        """Keep the words of a part."""
        if self._name and self.lines:
            self.lines[-1][self._name] = (self.lines[-1].get(self._name, "") + data).strip()
