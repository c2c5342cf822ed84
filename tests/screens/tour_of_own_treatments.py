"""An own treatment entered from its label, each question answered in one of its ways."""

from __future__ import annotations

from walking import Walk


def called(walk: Walk) -> str:
    """Return the name that is offered for it: in the keeper's language."""
    speak = walk.app.kit.speech
    return f"{speak('thymol')}, {speak('sponge')}"


def about(walk: Walk, today: str) -> None:
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
    walk.go(today)


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


def own_treatment(walk: Walk) -> None:
    """The whole way to the summary, written down, put right."""
    tapped_exactly(walk.app)
    to_own(walk)
    about(walk, "19 Sep 2026")
    values(walk)
    assert walk.app.page == "own summary"
    walk.go("rinse")
    walk.go("Not known", "Write it down")
    walk.go(called(walk))
    walk.go("Honey withheld")
    walk.go("a number of days")
    walk.digits("21")
    walk.go("Not on the label", "Write it down")
