"""Stock, gear and honey at three phone sizes and two font sizes, in both themes."""

from __future__ import annotations

import pytest
from eyes import contrasts, troubles
from stock_scene import Scene
from walking import PHONES, Walk


def furnished(app) -> None:
    """Twelve hives in Great Britain with something of everything."""
    app.set_up("Ferry Lane, upper field", 12)
    scene = Scene(app)
    scene.stock()
    scene.gear()
    scene.supers()
    app.app.flow.again()


def stock(walk: Walk) -> None:
    """Every page of the stock, one of each question."""
    walk.go("Home")
    walk.go("Stock")
    walk.go("Write a purchase down")
    walk.go("For which treatment")
    walk.go("Amitraz strips")
    walk.go("Product")
    walk.go("Take this", "How much")
    walk.digits("20")
    walk.go("Kept in")
    walk.go("strip", "Last day")
    walk.go("2027")
    walk.go("March")
    walk.go("No day on it", "Bought on")
    walk.go("2025")
    walk.go("June")
    walk.go("30", "Write it down")
    walk.go("Used up")
    walk.go("Back", "lot 22")
    walk.go("Count it")
    walk.go("How much is there")
    walk.digits("15")
    walk.go("Write it down", "Dispose of it")
    walk.go("How much")
    walk.go("all on hand", "In which way")
    walk.go("collection of hazardous waste", "Why")
    walk.go("left over", "Back", "Used outside a round")
    walk.go("Which hives")
    walk.hand.find("12")
    walk.hand.tap("12", exactly=True)
    walk.go("Go on", "How much each")
    walk.digits("2")
    walk.go("Honey supers were")
    walk.go("not known", "Write it down")
    walk.go("hive 12")
    walk.go("Back", "The record")
    walk.go("Put right")
    walk.go("Supplier")
    walk.go("a dealer", "Go on")
    walk.go("other reason")
    while walk.app.page != "stock":
        walk.hand.find("Back")
        walk.hand.tap("Back")


def gear(walk: Walk) -> None:
    """What wears and expires."""
    walk.go("Wear parts and filters")
    walk.go("A2P3")
    walk.go("Changed for a new one")
    walk.go("Opened on")
    walk.go("1 Jul 2026", "Write it down")
    walk.go("nozzle 0.5")
    walk.go("Thrown away")
    walk.go("Write a new one down", "What is it")
    walk.go("part that wears", "Part of")
    walk.go("hand mister", "Hours run before")
    walk.go("none: it is new")
    while walk.app.page != "home":
        walk.hand.find("Back")
        walk.hand.tap("Back")


def honey(walk: Walk) -> None:
    """Supers to a lot, what it holds, exposed supers."""
    walk.go("Honey")
    walk.go("Exposed supers")
    walk.go("Super S5")
    walk.go("melted", "Back")
    walk.go("2026-2")
    walk.go("Record 1")
    walk.go("Put right")
    walk.go("Went in")
    for _ in range(4):
        walk.hand.find("Back")
        walk.hand.tap("Back")
    walk.go("Take honey")
    walk.go("Taken off on")
    walk.go("30 Jun 2026", "super S2")
    walk.go("super S3")
    walk.go("Take it all the same", "Into a lot")
    walk.go("The lot's mark")
    walk.go("2026-3", "These supers are off")
    walk.go("yes", "Write it down")
    while walk.app.page != "home":
        walk.hand.find("Back")
        walk.hand.tap("Back")
    walk.hand.find("Back")
    walk.go("Back", "Hives", "Ferry Lane")
    walk.hand.find("3")
    walk.hand.tap("3", exactly=True)
    walk.here()
    walk.go("Honey lots")
    walk.go("2026-3")
    walk.go("Back")


def everywhere(walk: Walk) -> None:
    """All of it."""
    stock(walk)
    gear(walk)
    honey(walk)


@pytest.mark.parametrize("phone", PHONES, ids=lambda p: f"{p.width}x{p.height}@{p.font}")
def test_stock_and_honey_suit_glove_and_eye(open_app, phone):
    """Targets, gaps, overlap and cut text on every page; 20 mm where supers are chosen."""
    app = open_app(phone)
    furnished(app)
    found, seen = [], set()

    def look(page):
        seen.add(page)
        found.extend(troubles(app.hand, page))

    everywhere(Walk(app, look))
    assert sorted(set(found)) == []
    assert seen >= {"stock", "lot", "stock over", "desk form", "desk question", "desk day"}
    assert seen >= {"gear", "thing", "number", "record"}
    assert seen >= {"honey", "honey lot", "hive's honey", "harvest", "not fine"}
    assert seen >= {"exposed", "emptied"}


@pytest.mark.parametrize("theme", ["sun", "dark"])
def test_their_texts_stand_out_from_their_ground(open_app, tmp_path, theme):
    """7:1 on the pixels, in both themes (WCAG 2.2, 1.4.6)."""
    app = open_app()
    furnished(app)
    app.kit.notebook.local.put("theme", theme)
    app.reopen()
    weak = []

    def look(page):
        for text, contrast in contrasts(app.hand, tmp_path / "page.png"):
            if contrast < 7:
                weak.append((page, text, round(contrast, 1)))

    everywhere(Walk(app, look))
    assert weak == []
