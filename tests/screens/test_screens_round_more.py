"""Rounds of pieces and boards, strokes, exceptions, reasons and the volume key, on the pixels."""

from __future__ import annotations

import pytest
from kivy.core.window import Window
from test_screens_round import AMITRAZ, applications, field, tap_field

from fieldapp.journal.record import Draft

DAY = 86_400
MIST = "as a mist"
LOUDER, SOFTER = 0x40000080, 0x40000081


def newest(app, kind):
    return [record for record in app.records if record.kind == kind][-1]


def go(app, *words, exactly=False):
    for word in words:
        app.hand.find(word)
        app.hand.tap(word, exactly=exactly)


@pytest.fixture
def strips(keeper):
    """Two amitraz strips in each of twelve hives, three weeks ago."""
    keeper.begin(AMITRAZ)
    tap_field(keeper, 13)
    go(keeper, "What is due")
    keeper.hand.hands.pass_(21 * DAY)
    keeper.reopen()
    return keeper


def another(app, words):
    go(app, "Round at", "Another round", words)


# -- pieces and boards


def test_a_round_of_moving_takes_a_tap_a_hive(strips):
    """Begun at the apiary: two pieces moved in each, and they stay in."""
    another(strips, "Move pieces")
    go(strips, "As shown")
    assert "2 pieces moved" in field(strips).text
    tap_field(strips, 12)
    moved = [r.body for r in strips.records if r.kind == "pieces"]
    assert [(body["did"], body["count"]) for body in moved] == [("moved", 2)] * 12
    tap_field(strips)
    assert strips.page == "summary"
    assert "Hives 1-12: 2 pieces moved" in strips.hand.all_pages()


def test_taking_out_with_one_lost_in_large_keys(strips):
    """Not like that, lost, one, not found: the piece stays open, undo takes all back."""
    another(strips, "Pieces out")
    go(strips, "As shown")
    tap_field(strips)
    strips.hand.tap("Not like that")
    go(strips, "Lost")
    assert [key.text for key in strips.hand.shown_keys()][:2] == ["1", "2"]
    strips.hand.tap("1", exactly=True)
    go(strips, "not found")
    assert strips.hand.reads("1 lost: not found")
    bodies = [r.body for r in strips.records if r.kind == "pieces"][-2:]
    assert [(body["did"], body["count"]) for body in bodies] == [("lost", 1), ("out", 1)]
    hive = newest(strips, "pieces").hive
    assert strips.kit.notebook.book.hive(hive).exposures[0].open
    strips.hand.tap("Undo")
    assert strips.kit.notebook.book.hive(hive).exposures[0].remaining == 2


def test_more_found_than_should_be(strips):
    """A third strip: found, and three are out."""
    another(strips, "Pieces out")
    go(strips, "As shown")
    tap_field(strips)
    strips.hand.tap("Not like that")
    go(strips, "Found more")
    strips.hand.tap("1", exactly=True)
    bodies = [r.body for r in strips.records if r.kind == "pieces"][-2:]
    assert [(body["did"], body["count"]) for body in bodies] == [("found", 1), ("out", 3)]


def test_pieces_without_a_number_are_asked_for(keeper):
    """Sponges put in as the label says, without a number: none is made up when they come out."""
    keeper.hand.tap("Round at")
    go(keeper, "Thymol sponge", "Not on the label", "As the label says", "As shown")
    tap_field(keeper)
    assert "pieces" not in applications(keeper)["1"]
    keeper.wait(60)
    go(keeper, "End round", "End round", "What is due")
    another(keeper, "Pieces out")
    go(keeper, "As shown")
    assert "pieces out: how many?" in field(keeper).text
    tap_field(keeper)
    assert keeper.page == "pieces"
    assert "pieces" not in keeper.kinds()
    keeper.hand.tap("2", exactly=True)
    assert newest(keeper, "pieces").body["count"] == 2
    assert keeper.hand.reads("Hive 1 done")


def test_boards_in_and_boards_out_take_a_tap_a_hive(keeper):
    """Rounds of their own, in the same field; a doubled tap logs one board."""
    another(keeper, "Bottom boards in")
    assert keeper.page == "look round"
    place = (*field(keeper).pos, *field(keeper).size)
    keeper.hand.touch(*field(keeper).center)
    keeper.hand.hands.pass_(0.1)
    keeper.hand.touch(*field(keeper).center)
    keeper.hand.hands.pass_(1)
    keeper.hand.frames(2)
    assert [r.body for r in keeper.records if r.kind == "board"] == [{"did": "in"}]
    assert (*field(keeper).pos, *field(keeper).size) == place
    tap_field(keeper, 11)
    tap_field(keeper)
    assert keeper.page == "due"
    another(keeper, "Bottom boards out")
    tap_field(keeper)
    assert newest(keeper, "board").body == {"did": "out"}
    assert keeper.kinds().count("board") == 13


# -- strokes


@pytest.fixture
def mist(keeper):
    """A round with a measured applicator and a batch in it: 4, 3 and 2 strokes planned."""
    notebook = keeper.kit.notebook

    def write(kind, body):
        return notebook.write([Draft(kind, notebook.moment(), notebook.keeper, body)])[0].id

    gear = write("gear", {"what": "applicator", "name": "Fogger"})
    write("measured", {"gear": gear, "strokes": [{"strokes": 10, "amount": 25.0, "unit": "mL"}]})
    batch = write(
        "batch",
        {
            "recipe": "own",
            "amount": 400,
            "unit": "mL",
            "strength": 15,
            "strength_of": "dihydrate",
            "strength_as": "w/v",
        },
    )
    kept = {"places": {"left": 4, "middle": 3, "right": 2}, "mix": batch}
    notebook.local.put(f"applicator {gear}", kept)
    keeper.hand.tap("Round at")
    go(keeper, MIST, "Not on the label")
    return keeper


def test_the_planned_strokes_are_the_default(mist):
    """One tap logs them by place, with applicator, batch and what came out."""
    assert any("9 strokes: left 4, middle 3, right 2" in text for text in mist.hand.all_pages())
    mist.hand.tap("As shown")
    assert "9 strokes: 4, 3, 2" in field(mist).text
    tap_field(mist)
    body = applications(mist)["1"]
    assert [each["strokes"] for each in body["strokes"]] == [4, 3, 2]
    assert body["dose"]["amount"] == 22.5
    assert "batch" in body


def test_other_strokes_by_large_keys(mist):
    """One more at the right, one fewer at the left; corrected as one record."""
    mist.hand.tap("As shown")
    tap_field(mist)
    mist.hand.tap("Not like that")
    go(mist, "Other strokes", "right 2: one more", "left 4: one fewer", "left 3: one fewer")
    go(mist, "So it was")
    body = applications(mist)["1"]
    assert [each["strokes"] for each in body["strokes"]] == [2, 3, 3]
    assert body["dose"]["amount"] == 20
    assert mist.hand.reads("Hive 1 done: 8 strokes: 2, 3, 3")


@pytest.mark.parametrize(("taps", "kept"), [(0, None), (1, "clear"), (2, "cloudy")])
def test_the_batch_is_asked_clear_or_cloudy(mist, taps, kept):
    """Cloudy says at once what to do first; not answered is not known."""
    for _ in range(taps):
        go(mist, "clear or cloudy?")
    mist.hand.find("clear or cloudy?")
    said = {0: "not answered", 1: "clear", 2: "cloudy"}[taps]
    assert mist.hand.key("clear or cloudy?").text.endswith(said)
    told = any("Cloudy: warm it, stir" in text for text in mist.hand.all_pages())
    assert told is (taps == 2)
    mist.hand.tap("As shown")
    tap_field(mist)
    assert applications(mist)["1"].get("clear") == kept


# -- exceptions


@pytest.mark.parametrize(
    ("words", "kind"),
    [("Dead", "death"), ("Queenless", "look")],
)
def test_an_exception_takes_two_taps(keeper, words, kind):
    """From the answer to the tap: *not like that*, then what it was."""
    keeper.begin(AMITRAZ)
    tap_field(keeper)
    keeper.hand.tap("Not like that")
    keeper.hand.tap(words)
    assert keeper.kinds().count(kind) == 1
    assert keeper.page == "round"


def test_a_hive_is_passed_over_without_turning_a_page(keeper):
    """Two taps to the reasons, whatever stands in the grid."""
    keeper.begin(AMITRAZ)
    keeper.hand.tap("Other hive")
    keeper.hand.tap("Pass over hive 1")
    assert keeper.page == "why"


def test_queenless_before_treating(keeper):
    """Passed over with its reason: the look says so, the summary too, before what was done."""
    keeper.begin(AMITRAZ)
    go(keeper, "Other hive", "Pass over hive 1", "queenless")
    assert newest(keeper, "look").body == {"queen": "queenless"}
    keeper.wait(60)
    keeper.hand.tap("End round")
    assert keeper.hand.reads("Hive 1: queenless")


# -- reasons


def test_why_it_was_early_is_asked_in_the_summary_only(keeper):
    """A second round of vapour a day after the first, inside the keeper's plan."""
    vapour = "Oxalic acid powder, sublimed"
    keeper.hand.tap("Round at")
    go(keeper, vapour, "Not on the label", "Own plan", "Take this plan", "As shown")
    tap_field(keeper)
    keeper.wait(60)
    go(keeper, "End round", "End round", "What is due")
    keeper.hand.hands.pass_(DAY)
    keeper.reopen()
    keeper.hand.tap("Round at")
    go(keeper, vapour, "As shown")
    tap_field(keeper)
    assert keeper.page == "round"
    keeper.wait(60)
    keeper.hand.tap("End round")
    go(keeper, "early by 6")
    assert keeper.page == "reason"
    go(keeper, "the weather was right")
    assert keeper.page == "summary"
    assert newest(keeper, "note").body == {"words": "the weather was right"}
    keeper.hand.find("early by 6")
    assert "the weather was right" in keeper.hand.key("early by 6").text
    go(keeper, "End round")
    keeper.hand.find("early by 6")
    assert "the weather was right" in keeper.hand.key("early by 6").text


# -- the volume key


def press(app, key):
    return Window.dispatch("on_key_down", key, 0, None, [])


def lift(app, key):
    Window.dispatch("on_key_up", key, 0)
    app.hand.hands.pass_(1)
    app.hand.frames(1)


def test_the_volume_key_does_nothing_before_it_is_switched_on(keeper):
    """Off at first: it makes the phone louder, and that is all."""
    keeper.begin(AMITRAZ)
    press(keeper, LOUDER)
    lift(keeper, LOUDER)
    assert applications(keeper) == {}


@pytest.fixture
def by_key(keeper):
    """Switched on at home, in a round just begun."""
    go(keeper, "Home", "Settings", "Volume key", "taps the round's field")
    assert "taps the round's field" in keeper.hand.key("Volume key").text
    go(keeper, "Back", "Back")
    keeper.begin(AMITRAZ)
    return keeper


@pytest.mark.parametrize("key", [LOUDER, SOFTER])
def test_a_volume_key_stands_for_the_field(by_key, key):
    """One press, one hive; the next press the next one."""
    for done in (1, 2):
        press(by_key, key)
        lift(by_key, key)
        assert list(applications(by_key)) == [str(n) for n in range(1, done + 1)]


class PhonesKeys:
    """A phone whose volume keys reach nobody who does not ask for them."""

    def __init__(self) -> None:
        self.moved = None

    def give_to(self, moved) -> None:
        self.moved = moved


def test_a_phones_volume_keys_are_asked_for_while_they_stand_for_the_field(open_app):
    """Not before the setting; then one hive a press; switched off, the phone has them again."""
    keys = PhonesKeys()
    app = open_app(volume=keys)
    app.set_up("Ferry Lane", 12)
    assert keys.moved is None
    go(app, "Home", "Settings", "Volume key", "taps the round's field")
    app.reopen()
    app.begin(AMITRAZ)
    for done in (1, 2):
        keys.moved(24, True)
        app.hand.frames(2)
        keys.moved(24, False)
        app.hand.frames(2)
        app.hand.hands.pass_(1)
        assert list(applications(app)) == [str(n) for n in range(1, done + 1)]
    app.app.flow.due()
    go(app, "Home", "Settings", "Volume key", "off")
    assert keys.moved is None


def test_the_voice_speaks_the_language_of_the_app(open_app):
    """German words by a German voice."""
    app = open_app(language="de")
    app.set_up("Ferry Lane", 12)
    go(app, "Home", "Settings", "Spoken answers", "on")
    go(app, "Back", "Back")
    app.begin(AMITRAZ)
    app.hand.tap("Hive 1")
    assert app.speaker.said == ["Beute 1 fertig"]
    assert app.speaker.languages == ["de"]


def test_a_key_that_is_held_and_repeats_logs_one_hive(by_key):
    """The system repeats it for seconds on end, longer than a lost finger is waited for."""
    for _ in range(40):
        press(by_key, LOUDER)
        by_key.hand.hands.pass_(0.25)
    lift(by_key, LOUDER)
    assert list(applications(by_key)) == ["1"]


def test_a_bounce_of_the_key_logs_one_hive(by_key):
    """Down, up, down, up within a tenth of a second."""
    for _ in range(2):
        press(by_key, LOUDER)
        Window.dispatch("on_key_up", LOUDER, 0)
        by_key.hand.hands.pass_(0.05)
    assert list(applications(by_key)) == ["1"]


def test_a_finger_on_the_page_has_the_key_ignored(by_key):
    """A phone that is gripped: one or the other, not both."""
    finger = by_key.hand.press(*field(by_key).center)
    press(by_key, LOUDER)
    Window.dispatch("on_key_up", LOUDER, 0)
    assert applications(by_key) == {}
    by_key.hand.lift(finger)
    assert list(applications(by_key)) == ["1"]


def test_on_other_pages_the_key_does_nothing(by_key):
    """In the grid there is no field to stand for."""
    by_key.hand.tap("Other hive")
    press(by_key, LOUDER)
    lift(by_key, LOUDER)
    assert by_key.page == "grid"
    assert applications(by_key) == {}
