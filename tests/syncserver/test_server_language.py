"""The pages speak the browser's language, in the habits of the country where the hives stand."""

from __future__ import annotations

import re
import secrets
from collections.abc import Iterator

import pytest
import requests
from phone_process import APIARY, KEEPER
from server_process import ServerProcess, running

from fieldapp.journal.record import Draft
from fieldapp.journal.store import Journal
from fieldapp.sync import Sync
from fieldapp.sync.pinned import pinned_session
from syncserver.pages.language import _wanted

PASSWORD = "drei kleine Wörter"


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[ServerProcess]:
    with running(tmp_path_factory.mktemp("server")) as process:
        yield process


@pytest.fixture(scope="module")
def session(server: ServerProcess) -> requests.Session:
    """A browser, logged in, of a keeper whose one apiary stands in Germany."""
    folder = server.folder.parent / "phone"
    with Journal.open(folder / "j", now_ms=lambda: 1, entropy=secrets.token_bytes) as journal:
        when = "2026-08-01T10:00:00+02:00[Europe/Berlin]"
        place = {"name": "Feldrand", "country": "DE", "zone": "Europe/Berlin"}
        journal.write([Draft("apiary", when, KEEPER, place, apiary=APIARY)])
        sync = Sync(folder, journal, "Telefon")
        sync.pair(server.new_code(), server.address)
        assert sync.run(lambda _: None).ok
    browser = pinned_session(server.fingerprint)
    root = f"https://{server.address}"
    form = {"code": server.page_code, "password": PASSWORD}
    browser.post(f"{root}/first", data=form, headers={"Origin": root}, timeout=20)
    return browser


def page(server: ServerProcess, session: requests.Session, path: str, languages: str) -> str:
    headers = {"Accept-Language": languages}
    return session.get(f"https://{server.address}{path}", headers=headers, timeout=20).text


@pytest.mark.parametrize(
    ("languages", "language", "due", "day"),
    [
        ("de-DE,de;q=0.9,en;q=0.5", "de", "Was ansteht", "2. Aug. 2026"),
        ("en-US,en;q=0.9", "en", "What is due", "2. Aug 2026"),
        ("fr", "en", "What is due", "2. Aug 2026"),
    ],
)
def test_words_follow_the_browser_and_days_the_country(
    server, session, languages, language, due, day
):
    """A German apiary's days are written as in Germany, whatever the browser speaks."""
    html = page(server, session, "/?day=2026-08-02", languages)
    assert f'<html lang="{language}">' in html
    assert f">{due}<" in html
    assert f"<h1>{day}</h1>" in html


@pytest.mark.parametrize("path", ["/", "/questions", "/records", "/log-in", "/first", "/nowhere"])
def test_no_page_says_the_same_in_two_languages(server, session, path):
    """All words of a page change with the language; names and commands stay."""
    shown = {}
    for language in ("de", "en"):
        html = page(server, session, path, language)
        texts = re.sub(r"<style.*?</style>|<[^>]*>", "\n", html, flags=re.S)
        shown[language] = {line.strip(" .\n") for line in texts.split("\n") if line.strip(" .\n")}
    same = {text for text in shown["de"] & shown["en"] if re.search("[a-z]", text)}
    assert shown["de"] - shown["en"]
    assert same <= {"Apiary Rounds", "Apiary Rounds · Home", "Feldrand", "Telefon"}


def test_what_is_wrong_is_said_in_the_browsers_language_and_to_programs_in_english(server):
    """A wrong password in German; the protocol's errors stay as docs/protocol.md has them."""
    root = f"https://{server.address}"
    browser = pinned_session(server.fingerprint)
    headers = {"Origin": root, "Accept-Language": "de"}
    form = {"operation": "Home", "password": "falsch"}
    wrong = browser.post(f"{root}/log-in", data=form, headers=headers, timeout=20)
    assert "Imkerei und Passwort passen nicht zusammen. Noch einmal versuchen." in wrong.text
    answer = browser.post(f"{root}/api/1/pair", json={}, headers=headers, timeout=20)
    assert answer.json()["error"]["what"].startswith("The question does not fit at")


def test_the_dearest_language_comes_first():
    """By weight, else in order; what is refused or no weight at all is left out."""
    assert _wanted("en;q=0.3, de-AT;q=0.8, de") == ["de", "de-AT", "en"]
    assert _wanted("de;q=0, en") == ["en"]
    assert _wanted("de;q=much, en") == ["en"]
    assert _wanted("") == [""]
