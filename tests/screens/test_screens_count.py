"""A count on the pixels: the question first, the tally, the shake, what it says, the year."""

from __future__ import annotations

import pytest
from PIL import Image

from fieldapp.journal.record import Draft
from fieldapp.screens.count_picture import YearPicture


def go(app, *words):
    for each in words:
        app.hand.find(each)
        app.hand.tap(each)


def hive_of(app, number):
    notebook = app.kit.notebook
    stops = notebook.book.walk(notebook.local.get("apiary"), notebook.today())
    return next(stop.hive for stop in stops if stop.number == number)


def to_hive(app, number="7"):
    go(app, "Hives")
    app.hand.tap("Ferry Lane")
    app.hand.find(number)
    app.hand.tap(number, exactly=True)


def wash(app, day, mites, number="7"):
    notebook = app.kit.notebook
    body = {"way": "wash", "mites": mites, "bees": 300, "bees_by": "counted"}
    happened = f"2026-{day}T10:00:00+01:00[Europe/London]"
    notebook.write(
        [
            Draft(
                "count",
                happened,
                notebook.keeper,
                body,
                apiary=notebook.local.get("apiary"),
                hive=hive_of(app, number),
            )
        ]
    )


@pytest.fixture
def tally(keeper):
    """The tally of a wash at hive 7."""
    to_hive(keeper)
    go(keeper, "Count mites", "Wash in alcohol")
    keeper.hand.tap("Count", exactly=True)
    return keeper


def tap_anywhere(app, x, y, gap):
    app.hand.touch(x, y)
    app.hand.hands.pass_(gap)


def test_before_the_count_it_says_whether_it_can_answer(keeper):
    """Up to how many mites is below, from how many on it is over; how many hives to wash."""
    to_hive(keeper)
    go(keeper, "Count mites", "Wash in alcohol")
    said = keeper.hand.all_pages()
    assert any("No current threshold" in text for text in said)
    assert any("300 bees: up to" in text for text in said)
    assert any(text.startswith("Wash 8 hives") for text in said)


def test_tapping_anywhere_counts_as_fast_as_a_keeper_counts(tally):
    """Five taps a second all over the field are five mites each; a bounce is none."""
    for n in range(10):
        tap_anywhere(tally, 60 + 30 * n, 320 + 30 * (n % 5), 0.2)
    tally.hand.frames(1)
    assert tally.hand.reads("10")
    tap_anywhere(tally, 200, 400, 0.05)
    tap_anywhere(tally, 200, 400, 0.5)
    tally.hand.frames(1)
    assert "11" in tally.hand.texts()
    tally.hand.tap("One less")
    assert "10" in tally.hand.texts()
    assert tally.buzzer.felt.count("tap") == 11


def test_the_quick_tally_ends_with_the_tally(tally):
    """On the next page a bounce of 0.2 s is a bounce again."""
    tally.hand.tap("All counted")
    where = tally.hand.key("half a US cup").center
    tally.hand.touch(*where)
    assert tally.page == "meaning"
    tally.hand.hands.pass_(0.2)
    tally.hand.touch(*tally.hand.key("Save").center)
    assert tally.page == "meaning"
    assert "count" not in tally.kinds()


def test_a_count_shows_both_readings_before_it_is_saved(tally):
    """6 mites in half a cup: 2 or 1.5 per 100, each with its interval; then the year."""
    for _ in range(6):
        tap_anywhere(tally, 200, 400, 0.3)
    tally.hand.tap("All counted")
    tally.hand.tap("half a US cup")
    assert "count" not in tally.kinds()
    said = tally.hand.all_pages()
    assert any(text.startswith("2 per 100 bees, 0.7 to 4.4, taken as 300") for text in said)
    assert any(text.startswith("1.5 per 100 bees, 0.6 to 3.3, taken as 400") for text in said)
    go(tally, "Save")
    record = next(r for r in tally.records if r.kind == "count")
    assert record.body["mites"] == 6
    assert record.body["measure"] == "half a US cup"
    assert tally.page == "counts"


def test_a_tally_goes_on_after_the_phone_died(tally):
    """Three mites counted; the phone dies; the fourth is the fourth."""
    for _ in range(3):
        tap_anywhere(tally, 200, 400, 0.3)
    tally.reopen()
    to_hive(tally)
    go(tally, "Count mites")
    assert tally.page == "tally"
    tap_anywhere(tally, 200, 400, 0.3)
    tally.hand.frames(1)
    assert "4" in tally.hand.texts()


def test_the_shake_is_timed_and_its_end_is_felt_and_spoken(keeper):
    """Seconds left stand on the key; at the end hand and ear are told, once."""
    keeper.kit.notebook.local.put("speaks", True)
    to_hive(keeper)
    go(keeper, "Count mites", "Wash in alcohol", "Shake")
    keeper.wait(20)
    assert "39 s left" in keeper.hand.key("Shake").text
    keeper.wait(41)
    keeper.wait(5)
    assert "shaken long enough" in keeper.hand.key("Shake").text
    assert keeper.speaker.said.count("Shaken long enough") == 1


def test_the_year_is_drawn_with_its_levels(open_app, tmp_path):
    """United States: discs at the counts, a line where its level lies, in the colour of *late*."""
    app = open_app()
    app.set_up("Ferry Lane", 2, "United States")
    for day, mites in (("04-12", 1), ("05-15", 4), ("06-14", 9)):
        wash(app, day, mites, "1")
    to_hive(app, "1")
    go(app, "All counts")
    picture = next(w for w in app.hand.widgets() if isinstance(w, YearPicture))
    image = Image.open(app.hand.shot(tmp_path / "year.png")).convert("RGB")
    left, top = round(picture.x), round(image.height - picture.y - picture.height)
    part = image.crop((left, top, left + round(picture.width), top + round(picture.height)))
    theme = app.app.flow.look.theme
    found = {colour: n for n, colour in part.getcolors(part.width * part.height)}

    def pixels(role):
        return found.get(tuple(round(255 * value) for value in theme.ink[role][:3]), 0)

    assert pixels("due") > 3 * 60
    assert pixels("late") > 100


def test_without_a_count_the_page_says_what_to_do_first(keeper):
    """An empty state, and the key that begins."""
    to_hive(keeper)
    go(keeper, "All counts")
    assert keeper.hand.reads("No count yet. Tap Count mites to begin.")
    keeper.hand.tap("Count mites")
    assert keeper.page == "count way"


def test_a_board_is_read_and_taken_out_from_the_agenda(keeper):
    """In by the look inside; three days later its line begins the round that reads it."""
    to_hive(keeper)
    go(keeper, "Look inside", "Bottom board", "in", "Save")
    keeper.hand.hands.pass_(3 * 86_400)
    keeper.reopen()
    go(keeper, "Read the board", "Begin the round", "Hive 7")
    keeper.hand.tap("Count", exactly=True)
    for _ in range(6):
        tap_anywhere(keeper, 200, 400, 0.3)
    go(keeper, "All counted", "all of the board", "3 by the records")
    assert any(text.startswith("2 mites a day") for text in keeper.hand.all_pages())
    go(keeper, "Save")
    assert [r.body["did"] for r in keeper.records if r.kind == "board"] == ["in", "out"]
    assert keeper.hand.reads("The walk is done")
