"""A hive's page, its history, and records put right or taken back, on the pixels."""

from __future__ import annotations

import pytest

from fieldapp.journal.record import Draft


def go(app, *words):
    for each in words:
        app.hand.find(each)
        app.hand.tap(each)


def hive_of(app, number):
    notebook = app.kit.notebook
    stops = notebook.book.walk(notebook.local.get("apiary"), notebook.today())
    return next(stop.hive for stop in stops if stop.number == number)


def write(app, kind, body, number="7", **envelope):
    notebook = app.kit.notebook
    apiary = notebook.local.get("apiary")
    draft = Draft(
        kind,
        notebook.moment(),
        notebook.keeper,
        body,
        apiary=apiary,
        hive=hive_of(app, number),
        **envelope,
    )
    return notebook.write([draft])[0]


def to_hive(app, number="7"):
    go(app, "Hives", "Ferry Lane")
    app.hand.find(number)
    app.hand.tap(number, exactly=True)


WASH = {"way": "wash", "mites": 7, "bees": 300, "bees_by": "counted"}


@pytest.fixture
def counted(keeper):
    """The record page of a count of 7 mites at hive 7."""
    keeper.root = write(keeper, "count", WASH)
    to_hive(keeper)
    go(keeper, "History", "Count, 7 mites")
    return keeper


def test_one_look_has_honey_course_load_and_brood_in_this_order(keeper):
    """What the keeper asks first, before what comes next and the history."""
    write(keeper, "count", WASH)
    write(keeper, "look", {"brood": "yes", "queen": "queenless"})
    to_hive(keeper)
    said = keeper.hand.all_pages()
    order = ["Honey: open", "Course", "Load and brood", "2.3 per 100 bees", "Sealed brood: yes"]
    order += ["Queen: queenless", "What comes next", "1 Jul 2026: Look inside"]
    at = [next(n for n, text in enumerate(said) if text.startswith(each)) for each in order]
    assert at == sorted(at)


def test_a_hive_nobody_looked_into_says_not_known(keeper):
    """Unknown brood, queen and load are said to be unknown."""
    to_hive(keeper)
    said = keeper.hand.all_pages()
    assert "Load: not known, no count yet" in said
    assert "Sealed brood: not known, no look yet" in said


def test_a_record_is_put_right_with_a_reason(counted):
    """Digits, then why; the history shows it as corrected and why stands beside it."""
    go(counted, "Put right", "Mites")
    counted.hand.tap("9", exactly=True)
    go(counted, "Take this", "Go on", "misread")
    record = [r for r in counted.records if r.kind == "count"][-1]
    assert (record.body["mites"], record.corrects, record.void) == (9, counted.root.id, False)
    said = counted.hand.all_pages()
    assert any(text.startswith("Corrected: 1 Jul 2026") for text in said)
    assert any(text.endswith("why: misread") for text in said)
    go(counted, "Back")
    assert counted.hand.has_key("Count, 9 mites (corrected)")


def test_a_wrong_hive_is_put_right(counted):
    """The count moves to hive 5."""
    go(counted, "Put right", "Hive")
    counted.hand.find("5")
    counted.hand.tap("5", exactly=True)
    go(counted, "Go on", "wrong hive")
    assert [r for r in counted.records if r.kind == "count"][-1].hive == hive_of(counted, "5")


def test_a_record_is_taken_back_with_a_reason(counted):
    """It counts no more and stays in the history as taken back."""
    go(counted, "Take back", "logged twice")
    assert counted.page == "history"
    assert counted.hand.has_key("Count, 7 mites (taken back)")
    assert [r for r in counted.records if r.kind == "count"][-1].void
    go(counted, "Count, 7 mites")
    assert not counted.hand.has_key("Put right")


def test_two_versions_are_asked_and_answered_by_a_tap(counted):
    """Corrections made apart stand side by side; the tap on one settles it."""
    for mites in (6, 9):
        write(counted, "count", {**WASH, "mites": mites}, corrects=counted.root.id)
    go(counted, "Back")
    go(counted, "Count, 9 mites")
    assert counted.hand.reads("which one holds?")
    keys = [key for key in counted.hand.shown_keys() if "Keeper" in key.text]
    assert len(keys) == 2
    counted.hand.touch(*keys[0].center)
    counted.hand.hands.pass_(1)
    answer = [r for r in counted.records if r.kind == "count"][-1]
    assert answer.body["mites"] == 6
    assert len(answer.heads) == 2
    assert counted.hand.has_key("Count, 6 mites (corrected)")


def test_words_are_added_at_the_desk(counted):
    """Typed or dictated into one line; the record itself stays as it is."""
    go(counted, "Add words")
    counted.hand.tap_entry()
    counted.hand.type("warm, no wind")
    go(counted, "Save")
    assert any("warm, no wind" in text for text in counted.hand.all_pages())
    note = next(r for r in counted.records if r.kind == "note")
    assert note.adds_to == counted.root.id
