"""The pages as a browser gets them: who may see them, what they show, what they let in."""

from __future__ import annotations

import re
import secrets
from collections.abc import Iterator
from contextlib import ExitStack
from datetime import date
from pathlib import Path

import pytest
import requests
from page_reader import read_page
from phone_process import APIARY, KEEPER
from server_process import ServerProcess, running

from fieldapp.assets import folder as assets
from fieldapp.book.book import Book
from fieldapp.demo.phones import write_phones
from fieldapp.demo.season import TODAY, season
from fieldapp.husbandry import spoken
from fieldapp.husbandry.library import load
from fieldapp.journal.record import Draft
from fieldapp.journal.store import Journal
from fieldapp.sync import Sync
from fieldapp.sync.pinned import pinned_session
from fieldapp.words.speech import Speech

PASSWORD = "three small words"
speech = Speech()


class Browser:
    """A browser with its cookies, which sends the origin of its forms as browsers do."""

    def __init__(self, server: ServerProcess) -> None:
        self.root = f"https://{server.address}"
        self.session = pinned_session(server.fingerprint)

    def get(self, path: str, follow: bool = True) -> requests.Response:
        return self.session.get(self.root + path, timeout=20, allow_redirects=follow)

    def send(self, path: str, origin: str = "", **fields: str) -> requests.Response:
        headers = {"Origin": origin or self.root}
        return self.session.post(
            self.root + path, data=fields, headers=headers, timeout=20, allow_redirects=False
        )


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[ServerProcess]:
    with running(tmp_path_factory.mktemp("server")) as process:
        yield process


@pytest.fixture(scope="module")
def keeper(server: ServerProcess) -> Browser:
    """A browser that is logged in to the operation Home."""
    browser = Browser(server)
    assert browser.send("/first", code=server.page_code, password=PASSWORD).status_code == 303
    return browser


@pytest.fixture(scope="module")
def phone(server: ServerProcess, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Journal]:
    """The keeper's phone with the demo season, synced with the server."""
    folder = tmp_path_factory.mktemp("phones")
    paths = write_phones(season(load(assets("treatments"))), folder)
    with ExitStack() as stack:
        for path in paths.values():
            journal = stack.enter_context(
                Journal.open(path, now_ms=lambda: 1_795_000_000_000, entropy=secrets.token_bytes)
            )
            sync = Sync(path.parent, journal, path.parent.name)
            sync.pair(server.new_code(), server.address)
            assert sync.run(lambda _: None).ok
        assert sync.run(lambda _: None).ok
        yield journal


@pytest.mark.parametrize("path", ["/", "/records", "/hives/x", "/?day=2026-08-01"])
def test_nobody_sees_a_page_without_logging_in(server: ServerProcess, path: str):
    """Every page sends a stranger to the log-in."""
    answer = Browser(server).get(path, follow=False)
    assert (answer.status_code, answer.headers["Location"]) == (303, "/log-in")
    assert not answer.content


def test_the_page_names_the_same_agenda_as_the_phone(keeper: Browser, phone: Journal):
    """Every line of the phone's agenda is on the page in the same words and order."""
    book = Book.open(phone)
    book.refresh()
    names = {apiary.id: apiary.name for apiary in book.apiaries(TODAY)}
    lines = spoken.in_sight(book.agenda(TODAY), TODAY)
    said = [spoken.spoken(line, names, TODAY) for line in lines]
    expected = [(speech(it.what), speech(it.where), speech(it.when)) for it in said]
    assert read_page(keeper.get(f"/?day={TODAY}").text).agenda == expected
    assert len(expected) > 5


def test_the_page_names_each_hives_honey_as_the_phone_does(keeper: Browser, phone: Journal):
    """Open, closed or not known, with the first open day, for every hive in walk order."""
    book = Book.open(phone)
    book.refresh()
    states = set()
    for day in (date(2026, 3, 1), TODAY):
        shown = read_page(keeper.get(f"/?day={day}").text).hives
        stops = [
            stop
            for apiary in book.apiaries(day)
            for stop in book.walk(apiary.id, day)
            if not stop.ended
        ]
        assert [number for number, _, _ in shown] == [stop.number for stop in stops]
        for stop, (_, state, words) in zip(stops, shown, strict=True):
            honey = book.honey(stop.hive, day)
            states.add(honey.state)
            assert state.startswith(honey.state)
            if honey.state != "open" and honey.honey_from:
                assert speech.day(honey.honey_from) in words
    assert states == {"open", "closed", "not known"}


def test_a_hive_page_gives_causes(keeper: Browser, phone: Journal):
    """Closed days stand with what closed them."""
    hrefs = read_page(keeper.get(f"/?day={TODAY}").text).links
    hive = next(href for href in hrefs if href.startswith("/hives/"))
    page = keeper.get(hive).text
    assert "Closed days" in page
    assert re.search(r'<ul class="why"><li>[^<]+</li>', page)


def test_another_day_can_be_asked(keeper: Browser, phone: Journal):
    """The day stands on the page; a day that is none is told, not guessed."""
    assert speech.day(date(2026, 6, 1)) in keeper.get("/?day=2026-06-01").text
    answer = keeper.get("/?day=yesterday")
    assert answer.status_code == 422
    assert "Traceback" not in answer.text
    assert "query.day" in answer.text


def test_a_hive_of_another_operation_is_as_if_it_were_not(
    server: ServerProcess, keeper: Browser, phone: Journal
):
    """A stranger who is logged in gets the same page for a real id as for a made-up one."""
    real = next(h for h in read_page(keeper.get("/").text).links if h.startswith("/hives/"))
    operation = server.new_operation()
    stranger = Browser(server)
    code = server.new_code(operation, "page")
    assert stranger.send("/first", code=code, password=PASSWORD).status_code == 303
    answers = [stranger.get(path) for path in (real.partition("?")[0], "/hives/" + "0" * 36)]
    assert [answer.status_code for answer in answers] == [404, 404]
    assert answers[0].text == answers[1].text
    assert keeper.get(real).status_code == 200


def test_the_records_page_shows_the_phones(keeper: Browser, phone: Journal):
    """Counts and phones, and nothing odd in the demo season."""
    page = keeper.get("/records").text
    assert f"{phone.count()} records" in page
    assert ">helper<" in page


def test_every_answer_closes_what_a_page_does_not_need(server: ServerProcess, keeper: Browser):
    """Policy, framing, sniffing, referrer, caching: on pages, errors and files alike."""
    for path in ("/", "/log-in", "/nowhere", "/static/style.css", "/api/1/status"):
        headers = keeper.get(path).headers
        policy = headers["Content-Security-Policy"]
        assert "default-src 'none'" in policy
        assert "frame-ancestors 'none'" in policy
        assert "unsafe" not in policy
        assert headers["X-Content-Type-Options"] == "nosniff"
        assert headers["X-Frame-Options"] == "DENY"
        assert headers["Referrer-Policy"] == "same-origin"
        assert headers["Cache-Control"] == "no-store"
        assert "Server" not in headers


def test_pages_fetch_nothing_from_elsewhere(keeper: Browser, phone: Journal):
    """Every address in a page or the style is of this server; no script, no inline style."""
    for path in ("/", "/records", "/log-in", "/first"):
        page = keeper.get(path).text
        assert not re.search(r"""(?:src|href|action)=["'](?:[a-z]+:|//)""", page)
        assert "<script" not in page
        assert "style=" not in page
    style = keeper.get("/static/style.css").text
    assert "url(" not in style
    assert "@import" not in style


def test_the_cookie_is_for_this_server_alone(server: ServerProcess):
    """Secure, out of reach of scripts, never sent from another site, bound to host and path."""
    code = server.new_code(server.new_operation(), "page")
    cookie = Browser(server).send("/first", code=code, password=PASSWORD).headers["Set-Cookie"]
    name, *flags = (part.strip() for part in cookie.split(";"))
    assert name.startswith("__Host-session=")
    assert {"Secure", "HttpOnly", "SameSite=strict", "Path=/"} <= set(flags)
    assert not any(flag.startswith("Domain") for flag in flags)


def test_a_form_of_another_site_is_refused(server: ServerProcess):
    """By its origin, before the password is looked at."""
    browser = Browser(server)
    for origin in ("https://elsewhere.example", "null", f"http://{server.address}"):
        answer = browser.send("/log-in", origin, operation="Home", password=PASSWORD)
        assert answer.status_code == 403
        assert "did not come from a page of this server" in answer.text
    assert not browser.session.cookies


def test_a_wrong_password_is_told_and_guessing_is_slowed(tmp_path: Path):
    """The same words whatever was wrong; after ten tries in a minute none is looked at."""
    with running(tmp_path / "fresh") as server:
        browser = Browser(server)
        browser.send("/first", code=server.page_code, password=PASSWORD)
        for number in range(10):
            name = "Home" if number % 2 else "Nowhere"
            answer = browser.send("/log-in", operation=name, password="wrong")
            assert answer.status_code == 403
            assert "do not fit together" in answer.text
        answer = browser.send("/log-in", operation="Home", password=PASSWORD)
        assert answer.status_code == 429
        assert "Wait a minute" in answer.text


def test_a_log_out_ends_the_session_on_the_server(tmp_path: Path):
    """The old cookie, kept by somebody, opens nothing any more."""
    with running(tmp_path / "fresh") as server:
        browser = Browser(server)
        browser.send("/first", code=server.page_code, password=PASSWORD)
        kept = browser.session.cookies.copy()
        assert browser.get("/", follow=False).status_code == 200
        assert browser.send("/log-out").headers["Location"] == "/log-in"
        browser.session.cookies.update(kept)
        assert browser.get("/", follow=False).status_code == 303
        assert browser.send("/log-in", operation="Home", password=PASSWORD).status_code == 303
        assert browser.get("/", follow=False).status_code == 200


def test_what_a_name_says_is_text_on_the_page(server: ServerProcess):
    """A record with markup in it is shown, never run."""
    operation = server.new_operation()
    browser = Browser(server)
    browser.send("/first", code=server.new_code(operation, "page"), password=PASSWORD)
    folder = server.folder.parent / "markup"
    with Journal.open(folder / "j", now_ms=lambda: 1, entropy=secrets.token_bytes) as journal:
        when = "2026-08-01T10:00:00+01:00[Europe/London]"
        body = {"name": "<b>Lane</b> & {{ 7 * 7 }}"}
        hive = "01890000-0000-7000-8000-00000000000b"
        journal.write(
            [
                Draft("apiary", when, KEEPER, body, apiary=APIARY),
                Draft(
                    "hive",
                    when,
                    KEEPER,
                    {"number": "<i>"},
                    apiary=APIARY,
                    hive=hive,
                    id="01890000-0000-7000-8000-0000000000ff",
                ),
            ]
        )
        sync = Sync(folder, journal, "<u>phone</u>")
        sync.pair(server.new_code(operation), server.address)
        assert sync.run(lambda _: None).ok
    page = browser.get("/?day=2026-08-02").text
    assert "&lt;b&gt;Lane&lt;/b&gt; &amp; {{ 7 * 7 }}" in page
    assert "&lt;i&gt;" in page
    assert "&lt;u&gt;phone" in browser.get("/records").text
