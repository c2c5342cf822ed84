"""The record book in another's hand: by touch, with no way out but the keeper's two steps."""

from __future__ import annotations

import time


def wait_for(app, words, seconds=20):
    end = time.monotonic() + seconds
    while not app.hand.reads(words):
        assert time.monotonic() < end, app.hand.texts()
        app.hand.frames(1)


def treated(app, days: int) -> None:
    """Strips in hive 1, on so many days."""
    for _ in range(days):
        app.begin("Amitraz strips", days="14")
        app.hand.tap("Hive 1")
        app.wait(60)
        while app.hand.has_key("End round"):
            app.hand.tap("End round")
        app.hand.tap("What is due")
        app.hand.hands.pass_(86_400)


def to_inspector(app) -> None:
    for words in ("Home", "Record book", "All apiaries"):
        app.hand.find(words)
        app.hand.tap(words)
    app.hand.until(lambda: app.kit.inspector.shown is not None, 6000)
    app.hand.frames(2)


def out(app) -> None:
    app.hand.find("Back")
    app.hand.tap("Back")


def test_the_phone_in_anothers_hand_shows_the_record_book_and_nothing_else(keeper):
    """Every key is tapped, the system's back too, the program is started anew: it stays."""
    treated(keeper, 1)
    to_inspector(keeper)
    before = len(keeper.records)
    assert keeper.hand.reads("kinds of gaps") or keeper.hand.reads("kind of gap")
    keeper.hand.tap("Show them")
    read = keeper.hand.all_pages()
    assert "1 Jul 2026: hive 1, Ferry Lane" in read
    assert "How much: 2 pieces" in read
    assert "By: Keeper" in read
    assert keeper.app.flow.stage.back()
    assert keeper.page == "inspector leave"
    assert keeper.app.flow.stage.back()
    assert keeper.page == "inspector"
    keeper.reopen()
    wait_for(keeper, "kind")
    assert keeper.page == "inspector"
    keeper.hand.tap("First aid")
    keeper.hand.find("Back")
    keeper.hand.tap("Back")
    assert keeper.page == "inspector"
    assert len(keeper.records) == before


def test_it_is_left_by_two_taps_in_two_places_and_by_no_double_tap(keeper):
    """The second key lies where the first was not."""
    to_inspector(keeper)
    keeper.hand.find("Back")
    first = keeper.hand.key("Back")
    x, y = first.center
    keeper.hand.tap("Back")
    keeper.hand.touch(x, y)
    keeper.hand.hands.pass_(1)
    assert keeper.page in ("inspector", "inspector leave")
    if keeper.page == "inspector":
        out(keeper)
    keeper.hand.tap("Yes: leave")
    assert keeper.page == "papers"
    keeper.reopen()
    assert keeper.page == "due"


def test_what_is_too_much_for_one_part_stands_in_the_next(keeper):
    """Ten treatments in two parts, the last first, each day on one of them; then the register."""
    treated(keeper, 10)
    to_inspector(keeper)
    assert keeper.kit.inspector.shown.parts == 3
    keeper.hand.find("Show them")
    keeper.hand.tap("Show them")
    read = keeper.hand.all_pages()
    keeper.hand.find("Earlier")
    keeper.hand.tap("Earlier")
    read += keeper.hand.all_pages()
    days = [text.split(":")[0] for text in read if text.endswith("Jul 2026: hive 1, Ferry Lane")]
    assert days == [f"{day} Jul 2026" for day in range(10, 0, -1)]
    keeper.hand.find("Earlier")
    keeper.hand.tap("Earlier")
    assert keeper.hand.reads("part 3 of 3")
    assert keeper.hand.reads("Colonies, movements, visits")
    assert any(text.startswith("1 Jul 2026: Hive came") for text in keeper.hand.all_pages())
    keeper.hand.find("To the start")
    keeper.hand.tap("To the start")
    assert keeper.hand.reads("kind")
