"""The pages of rounds that not every round has: measured at every size, in both themes."""

from __future__ import annotations

from collections import Counter

import pytest
from eyes import contrasts, troubles
from test_screens_eyes import PHONES
from test_screens_round import field

from fieldapp.journal.record import Draft

SEEN = {"times", "start", "round", "grid", "otherwise", "strokes given", "others", "pieces", "seen"}
SEEN |= {"reason", "summary", "look round", "why"}
#: Pages that this walk comes to again and again: looked at twice.
OFTEN = {"due", "start", "summary", "treatment", "others"}


def walk(app, look):
    """Go through rounds with timers, strokes, pieces and boards; call `look` with each page."""
    hand = app.hand
    turned = Counter()

    def here():
        turned[app.page] += 1
        if app.page in OFTEN and turned[app.page] > 2:
            return
        for _ in range(60):
            look(app.page)
            if not hand.has_key("More"):
                return
            hand.tap("More")
            if app.app.flow.stage.page.at == 0:
                return
        raise AssertionError(f"the pages of {app.page} do not come round")

    def go(*words):
        for each in words:
            hand.find(each)
            hand.tap(each)
        here()

    def tap():
        """Tap the field."""
        hand.touch(*field(app).center)
        hand.hands.pass_(1)
        hand.frames(2)

    app.set_up("Ferry Lane, upper field", 12)
    _gear(app.kit.notebook)
    hand.tap("Round at")
    go("as a mist", "Not on the label")
    go("Time a hive")
    for words in ("Runs: 10 s more", "Closed: 1 min more"):
        go(words)
    go("Take this")
    go("clear or cloudy?", "clear or cloudy?")
    go("As shown")
    tap()
    app.wait(1)
    here()
    tap()
    app.wait(2)
    here()
    app.wait(14)
    here()
    hand.tap("Other hive")
    here()
    go("Back")
    tap()
    go("Not like that")
    go("Other strokes")
    go("one more", "So it was")
    app.wait(200)
    here()
    go("Other hive", "Pass over hive")
    go("queenless")
    app.wait(60)
    go("End round")
    go("End round", "What is due")
    _reasons(app, go, tap)
    _pieces(app, go, tap)


def _gear(notebook):
    """An applicator that was measured, with a batch in it and strokes planned."""

    def write(kind, body):
        return notebook.write([Draft(kind, notebook.moment(), notebook.keeper, body)])[0].id

    gear = write("gear", {"what": "applicator", "name": "Fogger with the long nozzle"})
    write("measured", {"gear": gear, "strokes": [{"strokes": 10, "amount": 25.0, "unit": "mL"}]})
    mixed = {"recipe": "own recipe", "amount": 400, "unit": "mL", "strength": 15}
    batch = write("batch", mixed | {"strength_of": "dihydrate", "strength_as": "w/v"})
    kept = {"places": {"left": 4, "middle": 3, "right": 2}, "mix": batch}
    notebook.local.put(f"applicator {gear}", kept)


def _reasons(app, go, tap):
    """A second vapour a day after the first, inside a plan: early, and over label."""
    app.hand.tap("Round at")
    go("Oxalic acid powder, sublimed", "Not on the label", "Own plan", "Take this plan")
    go("As shown")
    tap()
    app.wait(60)
    go("End round")
    go("End round", "What is due")
    app.hand.hands.pass_(86_400)
    app.reopen()
    app.hand.tap("Round at")
    go("Oxalic acid powder, sublimed", "As shown")
    tap()
    app.wait(60)
    go("End round")
    go("early by")
    go("too many mites")
    go("End round", "What is due")


def _pieces(app, go, tap):
    """Strips in one hive, moved, then out, one of them lost; then boards."""
    app.hand.tap("Round at")
    go("Amitraz strips", "Not on the label", "As shown")
    tap()
    tap()
    app.wait(60)
    go("End round", "End round", "What is due")
    app.hand.tap("Round at")
    go("Another round")
    go("Move pieces")
    go("As shown")
    tap()
    app.wait(60)
    go("End round", "End round", "What is due")
    app.hand.tap("Round at")
    go("Another round", "Pieces out", "As shown")
    tap()
    go("Not like that")
    go("Other number")
    app.hand.tap("1", exactly=True)
    go("Not like that", "Lost")
    app.hand.tap("1", exactly=True)
    go()
    go("every box")
    app.wait(60)
    go("End round", "End round", "What is due")
    app.hand.tap("Round at")
    go("Another round", "Bottom boards out")
    tap()
    app.wait(1)
    go("Undo")


@pytest.mark.parametrize("phone", PHONES, ids=lambda p: f"{p.width}x{p.height}@{p.font}")
def test_the_pages_of_rounds_suit_glove_and_eye(open_app, phone):
    """20 mm keys, 3 mm round undo and end, nothing cut, nothing over another."""
    app = open_app(phone)
    found, seen = [], set()

    def look(page):
        seen.add(page)
        found.extend(troubles(app.hand, page))

    walk(app, look)
    assert found == []
    assert seen >= SEEN


@pytest.mark.parametrize("theme", ["sun", "dark"])
def test_their_texts_stand_out_from_their_ground(open_app, tmp_path, theme):
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
