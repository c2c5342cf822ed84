"""Every screen at three phone sizes and two font sizes: targets, gaps, overlap, cut text."""

from __future__ import annotations

import pytest
from driver import Phone
from eyes import contrasts, troubles

from fieldapp.journal import chain, refusals
from fieldapp.journal.batches import Batch
from fieldapp.journal.receiving import receive
from fieldapp.journal.record import Draft
from fieldapp.rounds.clock_question import ClockQuestion
from fieldapp.rounds.errors import NotSaved
from fieldapp.words import say

PHONES = [
    Phone(width, height, font)
    for width, height in ((360, 640), (412, 892), (480, 1000))
    for font in (1.0, 1.8)
]
AMITRAZ = "Amitraz strips"


def walk(app, look):
    """Go through every screen, turn every page, and call `look` with the name of each."""
    hand = app.hand

    def here():
        first = hand.texts()
        for _ in range(60):
            look(app.page)
            if not hand.has_key("More"):
                return
            hand.tap("More")
            if hand.texts() == first:
                return
        raise AssertionError(f"the pages of {app.page} do not come round")

    def go(*words):
        for each in words:
            hand.find(each)
            hand.tap(each)
        here()

    here()
    hand.tap_entry()
    hand.type("Keeper")
    go("Go on")
    go("Great Britain")
    hand.tap_entry()
    hand.type("Ferry Lane, upper field")
    go("Go on")
    hand.find("1")
    hand.tap("1", exactly=True)
    hand.find("2")
    hand.tap("2", exactly=True)
    here()
    go("Take this")
    go("Count mites")
    go("Back")
    go("Round at")
    go("Thymol sponge")
    go("Enter the days")
    hand.find("7")
    hand.tap("7", exactly=True)
    go("Take this")
    go("one brood box")
    go("As shown")
    go("Hive 1")
    go("Not like that")
    go("Other amount")
    hand.find("3")
    hand.tap("3", exactly=True)
    here()
    go("Not like that", "Not done")
    go("too weak")
    app.wait(60)
    here()
    go("Other hive")
    go("Back")
    go("End round")
    go("Go on", "End round", "End round")
    go("What is due")
    go("Hives")
    hand.find("Ferry Lane")
    go("Ferry Lane")
    hand.find("1")
    hand.tap("1")
    here()
    go("Back", "Back")
    go("First aid")
    hand.find("thymol")
    go("thymol", "Back", "Back")
    go("Home")
    go("Settings")
    go("Language")
    go("Back", "Colours")
    go("dark", "No reminders from")
    go("22:00", "No reminders until")
    go("8:00", "Name of this device")
    go("Take this", "Back", "Back")
    go("Home")
    go("Pair with a server")
    go("Type the address")
    go("Back")
    hand.tap("Back") if hand.has_key("Back") else go("Back")
    hand.find("Back")
    hand.tap("Back")


@pytest.mark.parametrize("phone", PHONES, ids=lambda p: f"{p.width}x{p.height}@{p.font}")
def test_every_screen_suits_glove_and_eye(open_app, phone):
    """20 mm keys at the hive, 48 dp elsewhere, 3 mm round undo and end, no cut text."""
    app = open_app(phone)
    found, seen = [], set()

    def look(page):
        seen.add(page)
        found.extend(troubles(app.hand, page))

    walk(app, look)
    assert found == []
    assert seen >= {"due", "treatment", "label", "amount", "start", "round", "otherwise", "why"}
    assert seen >= {
        "pieces",
        "grid",
        "summary",
        "hives",
        "hive",
        "home",
        "servers",
        "pair",
        "number",
    }
    assert seen >= {"first name", "first country", "first apiary", "apiary", "line", "aid"}


@pytest.mark.parametrize("phone", PHONES[1::2], ids=lambda p: f"{p.width}x{p.height}@{p.font}")
def test_seams_stops_and_troubles_suit_glove_and_eye(open_app, phone):
    """The pages that only some rounds have, at the large font."""
    app = open_app(phone)
    hand = app.hand
    found, seen = [], set()

    def here():
        for _ in range(40):
            seen.add(app.page)
            found.extend(troubles(hand, app.page))
            if not hand.has_key("More"):
                return
            hand.tap("More")
            if "1 of" in hand.key("More").text:
                return

    app.set_up("Feldrand", 12, "Germany")
    notebook = app.kit.notebook
    for stop in notebook.book.walk(notebook.local.get("apiary"), notebook.today())[:5]:
        notebook.write(
            [Draft("super_on", notebook.moment(), notebook.keeper, {"mark": "A"}, hive=stop.hive)]
        )
    hand.tap("Round at")
    for words in ("Oxalic acid 3.5 %", "Not on the label", "5 mL a seam"):
        hand.find(words)
        hand.tap(words)
        here()
    hand.find("Off first")
    hand.tap("Off first")
    here()
    hand.tap("As shown")
    here()
    hand.tap("Hive 1")
    here()
    hand.find("5")
    hand.tap("5", exactly=True)
    hand.tap("Not like that")
    hand.find("Other amount")
    hand.tap("Other amount")
    here()
    app.app.flow.trouble(
        NotSaved(say("Not saved: there is no room left on this device. Make room."))
    )
    hand.frames(2)
    here()
    assert found == []
    assert seen >= {"amount", "start", "round", "seams", "steps", "trouble"}


@pytest.mark.parametrize("phone", PHONES, ids=lambda p: f"{p.width}x{p.height}@{p.font}")
def test_questions_and_odd_records_suit_glove_and_eye(open_app, phone):
    """The pages that only a sync can bring: what is one, whose clock was right, what is odd."""
    app = open_app(phone)
    hand = app.hand
    found, seen = [], set()

    def here(words):
        hand.find(words)
        hand.tap(words)
        for _ in range(40):
            seen.add(app.page)
            found.extend(troubles(hand, app.page))
            if not hand.has_key("More"):
                return
            hand.tap("More")
            if "1 of" in hand.key("More").text:
                return

    app.set_up("Ferry Lane", 2)
    journal = app.kit.notebook.journal
    notebook = app.kit.notebook
    writer, raw = bytes(range(16)), b'{"id":"1","kind":"from the future","v":9}'
    before = chain.start(writer)
    receive(journal, [Batch(writer, 1, before, chain.link(before, raw), (raw,))])
    refusals.keep(journal, "us", [refusals.Refusal(writer, 7, "digest before", 70_000)])
    body = {"name": "Ferry lane"}
    twin = notebook.new_id()
    notebook.write([Draft("apiary", notebook.moment(), notebook.keeper, body, apiary=twin)])
    ClockQuestion(notebook).heard(3 * 3_600_000)
    here("Home")
    here("Look at these records")
    here("Back")
    here("2 questions to answer")
    here("This phone's clock")
    here("Back")
    here("are they one apiary")
    assert found == []
    assert seen >= {"home", "odd", "questions", "question to keeper"}


@pytest.mark.parametrize("theme", ["sun", "dark"])
def test_every_text_stands_out_from_its_ground(open_app, tmp_path, theme):
    """7:1 on the pixels, in both themes (WCAG 2.2, 1.4.6)."""
    app = open_app()
    app.kit.notebook.local.put("theme", theme)
    app.reopen()
    weak = []

    def look(page):
        for text, contrast in contrasts(app.hand, tmp_path / "page.png"):
            if contrast < 7:
                weak.append((page, text, round(contrast, 1)))

    walk(app, look)
    assert weak == []
