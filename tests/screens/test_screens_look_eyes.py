"""The pages of looks, counts and records at three phone sizes and two font sizes."""

from __future__ import annotations

from collections import Counter

import pytest
from driver import Phone
from eyes import contrasts, troubles

from fieldapp.journal.record import Draft

PHONES = [
    Phone(width, height, font)
    for width, height in ((360, 640), (412, 892), (480, 1000))
    for font in (1.0, 1.8)
]
SEEN = {
    *("hive", "form", "question", "count way", "count before", "tally", "bees", "meaning"),
    *("counts", "board part", "board days", "history", "record", "void", "correct why", "words"),
    *("line", "look round", "look grid", "look why"),
}


def walk(app, look):
    """Go through every such page, turn all of its parts, and call `look` with its name."""
    hand = app.hand

    turned = Counter()

    def here():
        """Look at every part of the page; of pages met again and again, twice only."""
        first = hand.texts()
        turned[app.page] += 1
        again = turned[app.page] > 2 and app.page in ("hive", "record", "history")
        for _ in range(1 if again else 60):
            look(app.page)
            if not hand.has_key("More"):
                return
            hand.tap("More")
            if hand.texts() == first:
                return
        if again:
            return
        raise AssertionError(f"the pages of {app.page} do not come round")

    def go(*words):
        for each in words:
            hand.find(each)
            hand.tap(each)
        here()

    def exactly(word):
        while not any(hand.meant(key) == word for key in hand.shown_keys()):
            hand.tap("More")
        hand.touch(*next(key for key in hand.shown_keys() if hand.meant(key) == word).center)
        hand.hands.pass_(1)
        hand.frames(1)
        here()

    app.set_up("Ferry Lane, upper field", 2, "United States")
    notebook = app.kit.notebook
    apiary = notebook.local.get("apiary")
    hive = notebook.book.walk(apiary, notebook.today())[0].hive
    body = {"way": "wash", "mites": 6, "bees_by": "measured", "measure": "half a US cup"}
    drafts = [
        Draft("count", notebook.moment(), notebook.keeper, body, apiary=apiary, hive=hive),
        Draft("board", notebook.moment(), notebook.keeper, {"did": "in"}, hive=hive),
    ]
    root = notebook.write(drafts)[0]
    hand.hands.pass_(3 * 86_400)
    app.reopen()
    notebook = app.kit.notebook
    go("Hives")
    go("Ferry Lane")
    exactly("1")
    go("Look inside")
    go("Seams of bees")
    go("a quarter more")
    exactly("2 ¼")
    go("Done with the queen", "introduced")
    go("Done with supers", "one put on")
    go("Feed given", "combs")
    go("Save")
    go("The day after")
    go("Dead at the entrance")
    go("101 to 500")
    go("Save")
    go("Pieces")
    go("Lost")
    exactly("1")
    go("Back")
    go("Count mites")
    go("Wash in soapy water")
    hand.find("Shake")
    hand.tap("Shake")
    look(app.page)
    exactly("Count")
    go("All counted")
    go("half a US cup")
    go("Save")
    go("Count mites")
    go("Mites on the board")
    exactly("Count")
    go("All counted")
    go("a third of it")
    exactly("3")
    go("Save")
    go("Back")
    go("History")
    envelope = {"apiary": apiary, "hive": hive, "corrects": root.id}
    for mites in (5, 8):
        notebook.write(
            [
                Draft(
                    "count",
                    root.happened,
                    notebook.keeper,
                    {**body, "mites": mites},
                    **envelope,
                )
            ]
        )
    app.app.flow.again()
    go("Count, 8 mites")
    go("Add words")
    go("Back")
    go("Put right")
    go("Mites")
    hand.tap("4", exactly=True)
    go("Take this")
    go("Go on")
    go("wrong number")
    go("Take back")
    go("logged twice")
    app.app.flow.due()
    hand.frames(2)
    go("Count mites")
    go("Begin the round")
    go("Other hive")
    go("Pass over hive")
    go("queenless")
    app.wait(60)
    here()


@pytest.mark.parametrize("phone", PHONES, ids=lambda p: f"{p.width}x{p.height}@{p.font}")
def test_every_page_suits_glove_and_eye(open_app, phone):
    """20 mm keys at the hive, 48 dp elsewhere, 3 mm round undo and end, no cut text."""
    app = open_app(phone)
    found, seen = [], set()

    def look(page):
        seen.add(page)
        found.extend(troubles(app.hand, page))

    walk(app, look)
    assert found == []
    assert seen >= SEEN


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
