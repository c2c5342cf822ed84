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


<<<<<<< HEAD
def test_what_is_too_much_for_one_part_stands_in_the_next(keeper):
    """Ten treatments in two parts: each of the ten days is on one of them, the last first."""
    treated(keeper, 10)
    to_inspector(keeper)
    assert keeper.kit.inspector.shown.parts == 2
    keeper.hand.find("Show them")
    keeper.hand.tap("Show them")
    read = keeper.hand.all_pages()
    keeper.hand.find("Earlier")
    keeper.hand.tap("Earlier")
    read += keeper.hand.all_pages()
    days = [text.split(":")[0] for text in read if text.endswith("Jul 2026: hive 1, Ferry Lane")]
    assert days == [f"{day} Jul 2026" for day in range(10, 0, -1)]
    keeper.hand.find("To the start")
    keeper.hand.tap("To the start")
    assert keeper.hand.reads("kind")
=======
@pytest.mark.parametrize(
    ("phone", "language"),
    [*((phone, "en") for phone in PHONES), (PHONES[1], "de-DE")],
    ids=lambda it: it if isinstance(it, str) else f"{it.width}x{it.height}@{it.font}",
)
def test_no_line_is_cut_off_at_any_size(open_app, phone, language):
    """Targets, gaps, overlap and cut text on each part; every treatment stands there."""
    app = open_app(phone, language=language)
    app.set_up("Ferry Lane, upper field", 1)
    treated(app, 10)
    found = set()

    def look(page):
        found.update(troubles(app.hand, page))

    inspected(app, look)
    assert not found, "\n".join(sorted(found))
    assert app.kit.inspector.shown.parts == 3


@pytest.mark.parametrize("theme", ["sun", "dark"])
def test_its_texts_stand_out_from_their_ground(open_app, tmp_path, theme):
    """7:1 on the pixels, in both themes (WCAG 2.2, 1.4.6)."""
    app = open_app()
    app.set_up("Ferry Lane", 1)
    treated(app, 2)
    app.kit.notebook.local.put("theme", theme)
    app.reopen()
    weak = []

    def look(page):
        for text, contrast in contrasts(app.hand, tmp_path / "page.png"):
            if contrast < 7:
                weak.append((page, text, round(contrast, 1)))

    inspected(app, look)
    assert weak == []
>>>>>>> ad18c6d (Show the register to the inspector on the phone, after the treatments)
