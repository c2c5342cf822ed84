"""Questions on the server's page: asked as on the phone, answered by a form, heard by phones."""

from __future__ import annotations

import re
import secrets
import shutil
import sqlite3
from collections.abc import Iterator
from contextlib import ExitStack, closing
from pathlib import Path
from typing import Any, NamedTuple

import pytest
import requests
from page_reader import read_page
from phone_process import APIARY, KEEPER, PhoneProcess, phone
from playwright.sync_api import sync_playwright
from server_process import ServerProcess, running

from fieldapp.assets import folder as assets
from fieldapp.husbandry.library import load
from fieldapp.journal.store import Journal
from fieldapp.sync.pinned import pinned_session

PASSWORD = "three small words"
HELPER = "01890000-0000-7000-8000-000000000002"
HIVE = "01890000-0000-7000-8000-00000000000b"
SPONGE = "GB/AN-01911-2010/2010/thymol/sponge"
TERMS = "01890000-0000-7000-8000-0000000000aa"
DAY = "2026-08-20"


def at(time: str, day: str = "2026-08-01") -> str:
    return f"{day}T{time}+01:00[Europe/London]"


def draft(kind: str, body: dict[str, Any], **more: Any) -> dict[str, Any]:
    return {"kind": kind, "happened": at("10:00:00"), "keeper": KEEPER, "body": body, **more}


BEGINNING = [
    draft("keeper", {"name": "Anna"}),
    draft("keeper", {"name": "Ben"}, keeper=HELPER),
    draft(
        "apiary", {"name": "Ferry Lane", "country": "GB", "zone": "Europe/London"}, apiary=APIARY
    ),
    draft("hive", {"number": "7"}, apiary=APIARY, hive=HIVE),
]


def applied(time: str, keeper: str = KEEPER) -> dict[str, Any]:
    body = {"treatment": SPONGE, "terms": TERMS, "supers": "off"}
    return draft("application", body, happened=at(time), keeper=keeper, apiary=APIARY, hive=HIVE)


class Home(NamedTuple):
    """A server, one of its operations, a browser that is logged in, and two paired phones."""

    server: ServerProcess
    operation: str
    session: requests.Session
    phones: list[PhoneProcess]

    def get(self, path: str = "/questions") -> str:
        return self.session.get(f"https://{self.server.address}{path}", timeout=20).text

    def post(self, key: str, origin: str = "", **fields: str) -> requests.Response:
        root = f"https://{self.server.address}"
        return self.session.post(
            f"{root}/questions/{key}",
            data=fields,
            headers={"Origin": origin or root},
            timeout=20,
            allow_redirects=False,
        )

    def sync(self) -> None:
        """Let each phone have what all hold."""
        for _ in range(2):
            for one in self.phones:
                told = one.do("sync")
                assert told["ok"], told


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[ServerProcess]:
    with running(tmp_path_factory.mktemp("server")) as process:
        yield process


def logged_in(server: ServerProcess, operation: str) -> requests.Session:
    """Return a browser that set the operation's password."""
    session = pinned_session(server.fingerprint)
    root = f"https://{server.address}"
    code = server.new_code(operation, "page")
    session.post(
        f"{root}/first",
        data={"code": code, "password": PASSWORD},
        headers={"Origin": root},
        timeout=20,
    )
    return session


@pytest.fixture
def at_home(server: ServerProcess, tmp_path: Path) -> Iterator[Home]:
    """An operation of its own; its phones hold the same beginning."""
    name = server.new_operation()
    with ExitStack() as stack:
        phones = [stack.enter_context(phone(tmp_path / one)) for one in ("one", "two")]
        terms = load(assets("treatments")).get(SPONGE).terms_body()
        phones[0].do("write", drafts=[*BEGINNING, draft("terms", terms, id=TERMS)])
        for one in phones:
            assert one.do("pair", code=server.new_code(name), address=server.address)["ok"]
            one.do("join")
        held = Home(server, name, logged_in(server, name), phones)
        held.sync()
        yield held


def forms(html: str) -> list[tuple[str, str, list[tuple[str, str]]]]:
    """Return of each question its words, where its form goes, and its answers by key."""
    found = []
    for section in html.split('<section class="question"')[1:]:
        words = re.search(r"<span>(.*?)</span></h2>", section).group(1)
        action = re.search(r'action="/questions/(\w+)"', section)
        answers = re.findall(r'<button name="answer" value="([^"]+)">(.*?)</button>', section)
        found.append((words, action.group(1) if action else "", answers))
    return found


def written(held: Home, kind: str) -> list[Any]:
    """Return the operation's records of a kind on the server's disk."""
    with held.server.store() as store:
        number = next(one.id for one in store.operations() if one.name == held.operation)
    path = held.server.folder / "journals" / f"{number}.sqlite"
    copy = path.with_name(f"{secrets.token_hex(4)}.copy")
    with closing(sqlite3.connect(path)) as live:
        live.execute("VACUUM INTO ?", (str(copy),))
    with Journal.open(copy, now_ms=lambda: 1, entropy=secrets.token_bytes) as journal:
        return [record for _, record in journal.arrivals() if record.kind == kind]


def twice(held: Home) -> None:
    """Log the same application on both phones, apart, then sync."""
    held.phones[0].do("write", drafts=[applied("11:00:00")])
    held.phones[1].do("write", drafts=[applied("11:20:00", HELPER)])
    held.sync()


def test_the_page_asks_what_both_phones_ask(at_home: Home):
    """One question for all, with who logged what and when, and the same answers as there."""
    assert forms(at_home.get()) == []
    assert "No questions" in at_home.get()
    twice(at_home)
    first, second = (one.do("asked") for one in at_home.phones)
    [(words, _, answers)] = [f for f in forms(at_home.get()) if "one application" in f[0]]
    assert words in first
    assert first == second == [each for each, _, _ in forms(at_home.get())]
    assert [key for key, _ in answers] == ["one", "each"]
    assert "1 Aug 2026, 11:00, Anna" in at_home.get()
    assert "1 Aug 2026, 11:20, Ben" in at_home.get()
    assert words in at_home.get(f"/?day={DAY}")


def test_an_answer_in_a_browser_changes_the_phones_agenda_with_the_next_sync(at_home: Home):
    """Real Chromium, no script: a tap on the page; then nobody asks and all say the same."""
    twice(at_home)
    before = at_home.phones[0].do("agenda", day=DAY)
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path=shutil.which("chromium"), args=["--no-sandbox"]
        )
        page = browser.new_context(
            base_url=f"https://{at_home.server.address}",
            ignore_https_errors=True,
            java_script_enabled=False,
        ).new_page()
        page.goto("/log-in")
        page.fill("[name=operation]", at_home.operation)
        page.fill("[name=password]", PASSWORD)
        page.click("main button")
        page.get_by_role("link", name=re.compile("Is it one application")).click()
        question = page.locator("section", has_text="Is it one application")
        question.get_by_label("Who answers?").select_option("Ben")
        question.get_by_role("button", name="Each was given").click()
        assert page.get_by_role("status").inner_text().startswith("Answered.")
        assert page.locator("section", has_text="Is it one application").count() == 0
        browser.close()
    assert at_home.phones[0].do("agenda", day=DAY) == before
    at_home.sync()
    after = [one.do("agenda", day=DAY) for one in at_home.phones]
    assert after[0] == after[1] != before
    assert read_page(at_home.get(f"/?day={DAY}")).agenda == [tuple(line) for line in after[0]]
    assert not any("one application" in each for each in at_home.phones[1].do("asked"))
    [record] = written(at_home, "answer_twice")
    assert record.keeper == HELPER
    assert record.happened.endswith("[Europe/London]")
    assert record.writer not in {
        application.writer for application in written(at_home, "application")
    }


def test_what_a_phone_answered_is_no_longer_asked_on_the_page(at_home: Home):
    """The other way round; a form that was open meanwhile writes nothing and says so."""
    twice(at_home)
    [key] = [action for words, action, _ in forms(at_home.get()) if "one application" in words]
    ids = [record.id for record in written(at_home, "application")]
    at_home.phones[0].do("write", drafts=[draft("answer_twice", {"parts": [ids]})])
    at_home.sync()
    assert not [f for f in forms(at_home.get()) if "one application" in f[0]]
    answer = at_home.post(key, answer="each", keeper=KEEPER)
    assert answer.status_code == 409
    assert "answered or has changed meanwhile" in answer.text
    assert len(written(at_home, "answer_twice")) == 1


def test_versions_side_by_side_are_told_apart_and_one_holds(at_home: Home):
    """Two corrections that have not seen each other; one that comes later makes it another form."""
    [root] = at_home.phones[0].do("write", drafts=[applied("11:00:00")])
    at_home.sync()

    def correct(number: int, **body: Any) -> None:
        again = applied("11:00:00")
        again["body"] |= body
        at_home.phones[number].do("write", drafts=[{**again, "corrects": root, "heads": [root]}])

    correct(0, supers="on")
    correct(1, part=True)
    at_home.sync()
    [(_, key, answers)] = [f for f in forms(at_home.get()) if "side by side" in f[0]]
    assert len({words for _, words in answers}) == len(answers) == 2
    assert any("supers: on" in words for _, words in answers)
    correct(0, supers="on", temperature=21)
    at_home.sync()
    refused = at_home.post(key, answer=answers[0][0], keeper=KEEPER)
    assert refused.status_code == 409
    [(_, key, answers)] = [f for f in forms(at_home.get()) if "side by side" in f[0]]
    assert len(answers) == 3
    chosen = next(name for name, words in answers if "temperature: 21" in words)
    assert at_home.post(key, answer=chosen, keeper=HELPER).status_code == 303
    at_home.sync()
    for one in at_home.phones:
        assert not any("side by side" in each for each in one.do("asked"))
    last = written(at_home, "application")[-1]
    assert last.body["temperature"] == 21
    assert set(last.heads) == {name for name, _ in answers}


def test_a_number_is_asked_with_its_bounds_and_answered(at_home: Home):
    """Pieces that went along in a split: nonsense is refused in words, a number is a record."""
    terms = {**load(assets("treatments")).get(SPONGE).terms_body()}
    assert terms["form"] == "pieces"
    other, colony = secrets.token_hex(2), secrets.token_hex(2)
    new_hive = f"01890000-0000-7000-8000-00000000{other}"
    new_colony = f"01890000-0000-7000-8000-00000001{colony}"
    body = {"to_hive": new_hive, "to_colony": new_colony}
    with_pieces = applied("11:00:00")
    with_pieces["body"] |= {"pieces": 2}
    at_home.phones[0].do(
        "write",
        drafts=[
            with_pieces,
            draft("hive", {"number": "8"}, apiary=APIARY, hive=new_hive),
            draft(
                "split",
                body,
                happened=at("12:00:00", "2026-08-05"),
                apiary=APIARY,
                hive=HIVE,
                colony=HIVE,
            ),
        ],
    )
    at_home.sync()
    [(_, key, answers)] = [f for f in forms(at_home.get()) if "went along in the split" in f[0]][:1]
    assert answers == []
    assert 'type="number"' in at_home.get()
    for wrong in ("", "-1", "100", "two", "1.5", "9" * 150):
        answer = at_home.post(key, number=wrong, keeper=KEEPER)
        assert answer.status_code == 409, wrong
        assert "whole number from 0 to 99" in answer.text
    assert written(at_home, "answer_split") == []
    assert at_home.post(key, number="1", keeper=KEEPER).status_code == 303
    [record] = written(at_home, "answer_split")
    assert record.body["pieces_along"] == 1
    at_home.sync()
    for one in at_home.phones:
        assert not any("went along" in each for each in one.do("asked"))


def test_two_apiaries_that_are_one_are_joined_on_the_page(at_home: Home):
    """Two phones began apart: the answer is one record, and hives of one number are asked next."""
    twin, hive = "01890000-0000-7000-8000-0000000000e1", "01890000-0000-7000-8000-0000000000e2"
    at_home.phones[1].do(
        "write",
        drafts=[
            draft("apiary", {"name": "ferry  lane", "zone": "Europe/London"}, apiary=twin),
            draft("hive", {"number": "7"}, apiary=twin, hive=hive),
        ],
    )
    at_home.sync()
    [(words, key, _)] = forms(at_home.get())
    assert words == "Ferry Lane and ferry  lane: are they one apiary?"
    assert at_home.post(key, answer="one", keeper=KEEPER).status_code == 303
    [(words, key, _)] = forms(at_home.get())
    assert words.endswith(" are called 7. Are they one?")
    assert at_home.post(key, answer="two", keeper=KEEPER).status_code == 303
    at_home.sync()
    for one in at_home.phones:
        assert one.do("asked") == []


def test_who_answers_is_asked_where_several_could(at_home: Home):
    """Somebody who is none of them signs nothing."""
    twice(at_home)
    [key] = [action for words, action, _ in forms(at_home.get()) if "one application" in words]
    for keeper in ("", APIARY):
        answer = at_home.post(key, answer="one", keeper=keeper)
        assert answer.status_code == 409
        assert "Say who answers" in answer.text
    assert at_home.post(key, answer="neither", keeper=KEEPER).status_code == 409
    assert written(at_home, "answer_twice") == []


def test_no_other_site_and_no_stranger_answers(at_home: Home):
    """Forms of another origin are refused; without a session there is only the log-in."""
    twice(at_home)
    [key] = [action for words, action, _ in forms(at_home.get()) if "one application" in words]
    for origin in ("https://elsewhere.example", "null"):
        assert at_home.post(key, origin, answer="one", keeper=KEEPER).status_code == 403
    stranger = pinned_session(at_home.server.fingerprint)
    root = f"https://{at_home.server.address}"
    answer = stranger.post(
        f"{root}/questions/{key}",
        data={"answer": "one", "keeper": KEEPER},
        headers={"Origin": root},
        timeout=20,
        allow_redirects=False,
    )
    assert (answer.status_code, answer.headers["Location"]) == (303, "/log-in")
    assert written(at_home, "answer_twice") == []


def test_another_operation_sees_and_answers_nothing(at_home: Home):
    """A key of this operation's question opens nothing in another one."""
    twice(at_home)
    [key] = [action for words, action, _ in forms(at_home.get()) if "one application" in words]
    session = logged_in(at_home.server, at_home.server.new_operation())
    stranger = at_home._replace(session=session)
    assert forms(stranger.get()) == []
    assert stranger.post(key, answer="one", keeper=KEEPER).status_code == 409


def test_an_unknown_keeper_lets_the_operation_sign(server: ServerProcess, tmp_path: Path):
    """Where nobody has a name yet, the answer is signed by the operation itself."""
    name = server.new_operation()
    with phone(tmp_path / "phone") as one:
        terms = load(assets("treatments")).get(SPONGE).terms_body()
        drafts = [*BEGINNING[2:], draft("terms", terms, id=TERMS)]
        one.do("write", drafts=[*drafts, applied("11:00:00"), applied("11:05:00")])
        one.do("pair", code=server.new_code(name), address=server.address)
        assert one.do("sync")["ok"]
        held = Home(server, name, logged_in(server, name), [one])
        [key] = [action for words, action, _ in forms(held.get()) if "one application" in words]
        assert "Who answers?" not in held.get()
        assert held.post(key, answer="one").status_code == 303
        held.sync()
        assert not any("one application" in each for each in one.do("asked"))
    [record] = written(held, "answer_twice")
    with server.store() as store:
        assert record.keeper.replace("-", "") in {each.id for each in store.operations()}
