"""An own treatment by touch: from its label to a round, kept through a kill, put right later."""

from __future__ import annotations

import pytest
from eyes import contrasts, troubles
from walking import PHONES, Walk


def called(walk: Walk) -> str:
    """Return the name that is offered for it: in the keeper's language."""
    speak = walk.app.kit.speech
    return f"{speak('thymol')}, {speak('sponge')}"


def about(walk: Walk) -> None:
    """What it is and which label it is."""
    walk.go("thymol")
    walk.go("sponge")
    walk.go("no")
    walk.go("pieces stay in")
    walk.go(called(walk))
    walk.hand.tap_entry()
    walk.hand.type("No 12")
    walk.go("Take this")
    walk.go("Not on the label")
    walk.digits("2024")
    walk.go("Great Britain")
    walk.go("1 Jul 2026")


def values(walk: Walk) -> None:
    """Each question, answered in each of its ways."""
    walk.go("several, or a range")
    walk.digits("2")
    walk.go("Not on the label")
    walk.go("Not on the label")
    walk.go("in weeks")
    walk.digits("1")
    walk.digits("2")
    walk.go("Not on the label")
    walk.go("one time with brood")
    walk.go("in weeks")
    for weeks in "6844":
        walk.digits(weeks)
    walk.go("in months")
    walk.digits("2")
    walk.go("courses a year")
    walk.digits("2")
    walk.go("two")
    for _ in range(2):
        walk.go("piece")
        walk.digits("2")
        walk.go("Not on the label")
        walk.go("Not on the label")
        walk.go("piece")
        walk.go("brood chamber")
        walk.go("Not on the label")
        walk.go("Not on the label")
    walk.go("off from the first")
    walk.go("Not known")
    walk.go("a number of weeks")
    walk.digits("2")
    walk.go("no")
    walk.go("one range")
    walk.go("°F")
    walk.go("the day's highest")
    walk.digits("50")
    walk.digits("86")
    walk.go("must be so")
    walk.go("Not on the label")
    walk.go("Not on the label")
    walk.go("any")
    walk.go("a queen has to")
    walk.go("frames of bees")
    walk.digits("6")
    walk.go("Not on the label")
    walk.go("not during")
    for _ in range(4):
        walk.go("Not on the label")
    walk.go("Enter what it says")
    walk.hand.tap_entry()
    walk.hand.type("monoterpene")
    walk.go("Take this")
    walk.go("in days")
    walk.digits("9")
    for _ in range(3):
        walk.go("Not on the label")
    walk.go("Enter what it says")
    walk.hand.tap_entry()
    walk.hand.type("rinse")
    walk.go("Take this")
    walk.hand.tap_entry()
    walk.hand.type("call")
    walk.go("No more lines")


def to_own(walk: Walk) -> None:
    """From the first page to the first question."""
    walk.go("Home")
    walk.go("Own treatments")
    walk.go("Enter one from its label")


def tapped_exactly(app) -> None:
    """Let a walk tap the keys whose first line is what was named, where there is one."""
    hand = app.hand
    whole = hand.key

    def key(text, exactly=False):
        first = [each for each in hand.shown_keys() if hand.meant(each).split("\n")[0] == text]
        return first[0] if first else whole(text, exactly)

    hand.key = key


def entered(app, look) -> None:
    """The whole way to the summary, written down, put right."""
    tapped_exactly(app)
    walk = Walk(app, look)
    to_own(walk)
    about(walk)
    values(walk)
    assert app.page == "own summary"
    walk.go("rinse")
    walk.go("Not known", "Write it down")
    walk.go(called(walk))
    walk.go("Honey withheld")
    walk.go("a number of days")
    walk.digits("21")
    walk.go("Not on the label", "Write it down")


def test_an_own_treatment_from_label_to_round(keeper):
    """Entered from the choice of a treatment, it is used at once; no period is asked again."""
    tapped_exactly(keeper)
    walk = Walk(keeper, lambda _: None)
    walk.go("Round at")
    walk.go("Not here: enter it from its label")
    about(walk)
    keeper.reopen()
    walk.go("Round at", "Not here: enter it from its label")
    assert keeper.hand.reads("How many applications")
    values(walk)
    assert keeper.kinds().count("terms") == 0
    walk.go("Write it down")
    assert keeper.page == "amount"  # the label has two doses
    walk.go("2 pieces")
    assert keeper.page == "start"
    walk.go("As shown: begin")
    keeper.hand.tap("1")
    (terms,) = (record for record in keeper.records if record.kind == "terms")
    applications = [record for record in keeper.records if record.kind == "application"]
    assert [each.body["terms"] for each in applications] == [terms.id]
    assert terms.body["values"]["period"]["value"] == {"form": "days", "days": 14}
    assert terms.body["values"]["temperature"]["value"][0]["high"] == 30
    assert applications[0].body["pieces"] == 2
    assert terms.body["values"]["first_aid"]["value"] == ["rinse", "call"]


@pytest.mark.parametrize(
    ("phone", "language"),
    [*((phone, "en") for phone in PHONES), (PHONES[1], "de-DE")],
    ids=lambda it: it if isinstance(it, str) else f"{it.width}x{it.height}@{it.font}",
)
def test_its_pages_suit_glove_and_eye(open_app, phone, language):
    """Targets, gaps, overlap and cut text on every page; in German where it is tightest."""
    app = open_app(phone, language=language)
    app.set_up("Ferry Lane, upper field", 12)
    found, seen = set(), set()

    def look(page):
        seen.add(page)
        found.update(troubles(app.hand, page))

    entered(app, look)
    assert not found, "\n".join(sorted(found))
    assert seen >= {"own treatments", "own summary", "desk question", "number"}


@pytest.mark.parametrize("theme", ["sun", "dark"])
def test_its_texts_stand_out_from_their_ground(open_app, tmp_path, theme):
    """7:1 on the pixels, in both themes (WCAG 2.2, 1.4.6)."""
    app = open_app()
    app.set_up("Ferry Lane", 2)
    app.kit.notebook.local.put("theme", theme)
    app.reopen()
    weak = []

    def look(page):
        for text, contrast in contrasts(app.hand, tmp_path / "page.png"):
            if contrast < 7:
                weak.append((page, text, round(contrast, 1)))

    entered(app, look)
    assert weak == []
