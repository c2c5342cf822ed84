"""The pages in a real browser, wide and narrow, light and dark: readable, reachable, whole."""

from __future__ import annotations

import secrets
import shutil
from collections.abc import Iterator

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page, sync_playwright
from server_process import ServerProcess, running

from fieldapp.assets import folder as assets
from fieldapp.demo.phones import write_phones
from fieldapp.demo.season import TODAY, season
from fieldapp.husbandry.library import load
from fieldapp.journal.store import Journal
from fieldapp.sync import Sync

PASSWORD = "three small words"
WIDE = {"viewport": {"width": 1280, "height": 900}, "color_scheme": "light"}
NARROW = {"viewport": {"width": 360, "height": 780}, "color_scheme": "dark"}


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[ServerProcess]:
    """A server that holds the demo season."""
    folder = tmp_path_factory.mktemp("home")
    phones = write_phones(season(load(assets("treatments"))), folder)
    with running(folder / "server") as process:
        for path in phones.values():
            with Journal.open(path, now_ms=lambda: 1, entropy=secrets.token_bytes) as journal:
                sync = Sync(path.parent, journal, path.parent.name)
                sync.pair(process.new_code(), process.address)
                assert sync.run(lambda _: None).ok
        yield process


@pytest.fixture(scope="module", params=[WIDE, NARROW], ids=["wide", "narrow"])
def page(server: ServerProcess, request: pytest.FixtureRequest) -> Iterator[Page]:
    """A page of a browser that has just logged in with a fresh page code."""
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path=shutil.which("chromium"), args=["--no-sandbox"]
        )
        context = browser.new_context(
            base_url=f"https://{server.address}", ignore_https_errors=True, **request.param
        )
        opened = context.new_page()
        opened.goto("/first")
        opened.fill("[name=code]", server.new_code(purpose="page"))
        opened.fill("[name=password]", PASSWORD)
        opened.click("main button")
        opened.wait_for_url("**/")
        yield opened
        browser.close()


def _open(page: Page, path: str) -> list[str]:
    """Open a page; return what the browser complained of."""
    complaints: list[str] = []
    page.on("console", lambda message: complaints.append(message.text))
    page.on(
        "requestfailed",
        # What a page had not fetched when the next one was opened is no complaint.
        lambda failed: failed.failure == "net::ERR_ABORTED" or complaints.append(failed.url),
    )
    page.goto(path)
    return complaints


@pytest.mark.parametrize(
    "path", [f"/?day={TODAY}", "hive", "/questions", "/records", "/log-in", "/first"]
)
def test_a_page_is_readable_and_reachable(page: Page, path: str):
    """No fault of contrast, names, headings, landmarks; nothing blocked or off the side."""
    if path == "hive":
        page.goto(f"/?day={TODAY}")
        path = page.locator(".hive a").nth(10).get_attribute("href")
    assert _open(page, path) == []
    found = Axe().run(page, options={"rules": {"color-contrast-enhanced": {"enabled": True}}})
    assert found.violations_count == 0, found.generate_report()
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")


def test_signs_differ_in_shape_and_stand_beside_words(page: Page):
    """Told by shape as well as colour, and never without words."""
    page.goto(f"/?day={TODAY}")
    lines = page.locator("ol.lines > .line")
    shapes = {lines.nth(at).locator("svg").inner_html() for at in range(lines.count())}
    assert len(shapes) >= 3
    for at in range(lines.count()):
        assert lines.nth(at).locator(".what").inner_text()
    for state in page.locator(".state").all():
        assert state.inner_text().strip()


def test_what_is_touched_is_large_enough(page: Page):
    """Buttons, fields and the hives' numbers are at least 48 px each way."""
    for path in (f"/?day={TODAY}", "/questions"):
        page.goto(path)
        for touched in page.locator("main button, main input, main select, main a").all():
            box = touched.bounding_box()
            assert min(box["width"], box["height"]) >= 48, touched.inner_text()


def test_the_keyboard_reaches_everything(page: Page):
    """The first stop is the way past the header; focus is seen."""
    page.goto(f"/?day={TODAY}")
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.textContent") == "To the content"
    outline = page.evaluate("getComputedStyle(document.activeElement).outlineWidth")
    assert outline == "4px"
