"""Options, hole, weather, bench and applicators at three phone sizes and two font sizes."""

from __future__ import annotations

import pytest
from eyes import contrasts, troubles
from walking import PHONES, Walk

from fieldapp.journal.record import Draft


def stocked(app):
    """Twelve hives in Germany, one with brood; acid and a strong batch in the books."""
    app.set_up("Ferry Lane, upper field", 12, country="Germany")
    notebook = app.kit.notebook
    apiary = notebook.local.get("apiary")
    hive = notebook.book.walk(apiary, notebook.today())[2].hive
    bought = {"product": "oxalic acid dihydrate", "lot": "L7", "amount": 100, "unit": "g"}
    batch = {"recipe": "Winter mix (1)", "amount": 250, "unit": "mL", "strength": 20}
    batch |= {"strength_of": "dihydrate", "strength_as": "w/v"}
    moment, keeper = notebook.moment(), notebook.keeper
    notebook.write(
        [
            Draft("look", moment, keeper, {"brood": "yes"}, apiary=apiary, hive=hive),
            Draft("bought", moment, keeper, bought),
            Draft("batch", moment, keeper, batch),
        ]
    )
    app.app.flow.again()


def options(walk: Walk) -> None:
    walk.go("Hives")
    walk.hand.find("Ferry Lane")
    walk.go("Ferry Lane")
    walk.go("What may I do here?")
    walk.go("Weather")
    walk.hand.find("2. Jul 2026")
    walk.go("2. Jul 2026")
    walk.go("+ 1")
    walk.go("Save")
    walk.go("Back", "Also asked")
    walk.go("Nectar flow", "Back")
    walk.go("Oxalic acid 3.5 %")
    walk.go("The hole in the course")
    walk.go("1 visit more", "Look at a late visit")
    walk.go("Back", "Back", "Back")
    walk.go("3")
    walk.go("What may I do here?")
    walk.go("Back", "Back", "Back")


def bench(walk: Walk) -> None:
    walk.go("Home")
    walk.go("The bench")
    walk.go("3.5 % m/V")
    walk.hand.find("How many?")
    walk.hand.tap("How many?")
    walk.digits("6")
    walk.go("How much?")
    walk.digits("50")
    walk.go("Scales: yes")
    walk.go("How strong")
    walk.go("Back")
    walk.go("Step by step")
    walk.go("Goggles", "Go on")
    for _ in range(4):
        walk.go("Done: next")
    walk.go("Done: next")
    walk.go("L7", "Write it down")
    walk.go("It stands")
    walk.go("The bench", "Own recipe")
    for part, amount in (("water", "200"), ("oxalic acid dihydrate", "60"), ("glycerol", "80")):
        walk.go("Put in")
        walk.hand.find(part)
        walk.hand.tap(part, exactly=True)
        walk.here()
        walk.hand.find("g")
        walk.hand.tap("g", exactly=True)
        walk.digits(amount)
    walk.go("Heat to")
    walk.digits("80")
    walk.go("Put in", "water")
    walk.hand.find("g")
    walk.hand.tap("g", exactly=True)
    walk.digits("9")
    walk.here()
    walk.go("Off the heat", "Keep it")
    walk.go("Step by step", "Go on")
    walk.go("Done: next", "Done: next", "Done: next")
    for _ in range(3):
        walk.go("Back")
    walk.hand.find("Back") if walk.app.page == "step" else None
    while walk.app.page != "home":
        walk.hand.find("Back")
        walk.hand.tap("Back")


def applicators(walk: Walk) -> None:
    walk.go("Applicators")
    walk.hand.tap_entry()
    walk.hand.type("Fogger")
    walk.go("Write a new one down")
    for far, degrees, spat in (("5", "88", "Liquid spat"), ("10", "66", "No liquid")):
        walk.go("Temperature at a distance")
        walk.go("fast")
        walk.digits(far)
        walk.digits(degrees)
        walk.go(spat)
    walk.go("Strokes into a measure")
    walk.digits("10")
    walk.go("In mL")
    walk.digits("40")
    walk.go("Your own limit")
    walk.digits("77")
    walk.here()
    walk.go("What strokes give")
    walk.go("Which batch")
    walk.go("+")
    walk.go("A veterinarian wrote")
    walk.go("- 30", "Write it down")
    walk.go("Back")


@pytest.mark.parametrize("phone", PHONES, ids=lambda p: f"{p.width}x{p.height}@{p.font}")
def test_these_screens_suit_glove_and_eye(open_app, phone):
    """Targets, gaps, overlap and cut text on every page."""
    app = open_app(phone)
    stocked(app)
    found, seen = [], set()

    def look(page):
        seen.add(page)
        found.extend(troubles(app.hand, page))

    walk = Walk(app, look)
    options(walk)
    bench(walk)
    applicators(walk)
    assert sorted(set(found)) == []
    assert seen >= {"options", "method", "outlook", "outlook day", "asked", "hole"}
    assert seen >= {"bench", "mix", "bench first", "step", "facts", "batch", "bottle"}
    assert seen >= {"own recipe", "own choice", "off heat"}
    assert seen >= {"applicators", "applicator", "strokes", "measured how", "vet's dose"}


@pytest.mark.parametrize("theme", ["sun", "dark"])
def test_their_texts_stand_out_from_their_ground(open_app, tmp_path, theme):
    """7:1 on the pixels, in both themes (WCAG 2.2, 1.4.6)."""
    app = open_app()
    stocked(app)
    app.kit.notebook.local.put("theme", theme)
    app.reopen()
    weak = []

    def look(page):
        for text, contrast in contrasts(app.hand, tmp_path / "page.png"):
            if contrast < 7:
                weak.append((page, text, round(contrast, 1)))

    walk = Walk(app, look)
    options(walk)
    bench(walk)
    applicators(walk)
    assert weak == []
