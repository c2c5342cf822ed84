"""From an empty folder to the first logged treatment, and what each empty list says to do."""

from __future__ import annotations

from tour_at_the_desk import empty
from walking import Walk

#: Seconds: a word read, and a tap with what looking for its key takes. From memory: silent
#: reading of plain English is near 240 words a minute; two seconds a tap is slow.
A_WORD, A_TAP, A_LETTER = 60 / 240, 2.0, 0.5


class Newcomer:
    """Somebody without a manual, who reads each text that is new before the tap."""

    def __init__(self, app) -> None:
        self.app, self.hand = app, app.hand
        self.taps, self.letters = 0, 0
        self.read: set[str] = set()

    def reads(self) -> None:
        self.read.update(self.hand.texts())

    @property
    def words(self) -> int:
        return sum(len(text.split()) for text in self.read)

    def taps_on(self, text: str) -> None:
        while not self.hand.has_key(text):
            self.reads()
            self.hand.tap("More")
            self.taps += 1
        self.reads()
        self.hand.tap(text)
        self.taps += 1

    def types(self, text: str) -> None:
        self.hand.tap_entry()
        self.hand.type(text)
        self.taps += 1
        self.letters += len(text)

    @property
    def seconds(self) -> float:
        return self.words * A_WORD + self.taps * A_TAP + self.letters * A_LETTER


def test_the_first_treatment_is_logged_within_two_minutes_of_the_first_start(open_app):
    """Every text on the way is read and every tap slow; nothing but the screen helps."""
    app = open_app()
    one = Newcomer(app)
    one.types("Ann")
    one.taps_on("Go on")
    one.taps_on("Great Britain")
    one.types("Garden")
    one.taps_on("Go on")
    one.taps_on("3")
    one.taps_on("Take this")
    one.taps_on("Round at Garden")
    one.taps_on("Amitraz strips")
    one.taps_on("Not on the label")
    one.taps_on("As shown: begin")
    one.taps_on("Hive 1")
    assert app.kinds().count("application") == 1
    assert one.taps <= 24
    assert one.seconds < 120, (one.taps, one.words, one.letters, one.seconds)


def test_each_empty_list_says_what_to_do_first(open_app):
    """A key or a sentence on each page leads on; none is bare."""
    app = open_app()
    app.set_up("Ferry Lane", 0)
    said: dict[str, set[str]] = {}

    def look(page):
        keys = {app.hand.meant(key) for key in app.hand.shown_keys()}
        bare = {"Back", "First aid"}
        said.setdefault(page, set()).update(keys - bare, app.hand.texts())

    empty(Walk(app, look))
    first = {
        "due": "No hives yet. Add them under Hives.",
        "hives": "Add hives",
        "places": "Add an apiary",
        "applicators": "Write a new one down",
        "stock": "Write a purchase down",
        "gear": "Write a new one down",
        "honey": "Take honey",
        "own treatments": "Enter one from its label",
    }
    for page, words in first.items():
        assert any(words in each for each in said[page]), (page, said[page])


def test_hives_and_apiaries_are_added_when_there_are_more(open_app):
    """Numbers go on after the last; a second apiary asks for no second keeper."""
    app = open_app()
    app.set_up("Ferry Lane", 0)
    hand = app.hand
    for words in ("Hives", "Ferry Lane", "Add hives", "2", "Take this"):
        hand.tap(words)
    assert {"1", "2"} <= set(hand.texts())
    hand.tap("Back")
    for words in ("Home", "Apiaries", "Ferry Lane", "Add hives", "1", "Take this"):
        hand.find(words)
        hand.tap(words)
    assert hand.reads("3 living colonies")
    hand.tap("Back")
    assert hand.reads("3 hives")
    for words in ("Add an apiary", "Germany", "Go on", "4", "Take this"):
        hand.find(words)
        hand.tap(words)
    assert app.page == "due"
    assert app.kinds().count("keeper") == 1
    names = {record.body["name"] for record in app.records if record.kind == "apiary"}
    assert names == {"Ferry Lane", "Apiary 2"}
    numbers = [record.body["number"] for record in app.records if record.kind == "hive"]
    assert numbers == ["1", "2", "3", "1", "2", "3", "4"]
