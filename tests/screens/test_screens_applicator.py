"""Applicators on the pixels: measured in taps, plotted, strokes beside labels."""

from __future__ import annotations

import itertools

import pytest
from eyes import troubles
from PIL import Image
from walking import PHONES, Walk

from fieldapp.journal.record import Draft
from fieldapp.screens.heat_picture import HeatPicture
from fieldapp.screens.theme import HAND, SPACE


def go(app, *words):
    for each in words:
        app.hand.find(each)
        app.hand.tap(each)


def digits(app, number):
    for digit in number:
        app.hand.find(digit)
        app.hand.tap(digit, exactly=True)
    app.hand.tap("Take this")


@pytest.fixture
def fogger(app):
    """An applicator written down by touch, in Germany."""
    app.set_up("Ferry Lane", 2, country="Germany")
    go(app, "Home", "Applicators")
    assert app.hand.reads("No applicator yet")
    app.hand.tap_entry()
    app.hand.type("Fogger")
    go(app, "Write a new one down")
    return app


def heat(app, pace, far, degrees, spat):
    go(app, "Temperature at a distance", pace)
    digits(app, far)
    digits(app, degrees)
    go(app, spat)


def test_strokes_are_measured_in_taps_and_written_down(fogger):
    """Ten strokes, 40 mL; again; the mean and its range; then on the disk."""
    for amount in ("40", "42"):
        go(fogger, "Strokes into a measure")
        digits(fogger, "10")
        go(fogger, "In mL")
        digits(fogger, amount)
    assert "One stroke: 4,1 mL, from 4 to 4,2 in 2 repeats." in fogger.hand.all_pages()
    go(fogger, "Write the measuring down")
    record = next(r for r in fogger.records if r.kind == "measured")
    assert [each["amount"] for each in record.body["strokes"]] == [40, 42]
    assert not fogger.hand.has_key("Write the measuring down")


def test_the_plot_of_temperature_against_distance(fogger, tmp_path):
    """Fast is higher than slow and falls with distance; where liquid spat stands a triangle."""
    heat(fogger, "fast", "5", "88", "Liquid spat")
    heat(fogger, "fast", "10", "66", "No liquid")
    heat(fogger, "slow", "5", "54", "No liquid")
    heat(fogger, "slow", "10", "49", "No liquid")
    while not any(isinstance(each, HeatPicture) for each in fogger.hand.widgets()):
        fogger.hand.tap("More")
    picture = next(each for each in fogger.hand.widgets() if isinstance(each, HeatPicture))
    image = Image.open(fogger.hand.shot(tmp_path / "plot.png")).convert("RGB")
    theme = fogger.app.flow.look.theme

    def found(role):
        wanted = tuple(round(255 * part) for part in theme.ink[role][:3])
        return [
            (x, y)
            for x in range(round(picture.x), round(picture.right))
            for y in range(image.height - round(picture.top), image.height - round(picture.y))
            if image.getpixel((x, y)) == wanted
        ]

    middle = picture.x + picture.width * 0.75
    triangle = found("late")
    near, far = min(y for _, y in triangle), [y for x, y in found("due") if x > middle]
    assert near < min(far), "88 degC stands over 66"
    assert max(x for x, _ in triangle) < middle, "liquid spat at the nearer distance only"
    assert fogger.hand.reads("5 cm")
    assert fogger.hand.reads("88 °C")


@pytest.mark.parametrize(
    ("country", "digits_tapped", "shown", "celsius"),
    [("Germany", "-25", "-2 °C", -2.0), ("United States", "1-", "-1 °F", -18.3)],
)
def test_a_temperature_below_zero_has_its_minus(app, country, digits_tapped, shown, celsius):
    """Tapped first or last, taken away again by a tap; colder than is kept: not taken."""
    app.set_up("Ferry Lane", 1, country=country)
    go(app, "Home", "Applicators", "Write a new one down")
    go(app, "Temperature at a distance", "slow")
    digits(app, "5")
    for key in digits_tapped:
        app.hand.tap(key, exactly=True)
    assert app.hand.reads(shown)
    app.hand.tap("-", exactly=True)
    assert app.hand.reads(shown.removeprefix("-"))
    app.hand.tap("-", exactly=True)
    go(app, "Take this", "No liquid", "Write the measuring down")
    record = next(r for r in app.records if r.kind == "measured")
    assert [each["temperature"] for each in record.body["heat"]] == [celsius]


@pytest.mark.parametrize("phone", PHONES, ids=lambda p: f"{p.width}x{p.height}@{p.font}")
@pytest.mark.parametrize("asks", ["Your own limit", "Strokes into a measure"])
def test_the_pad_stays_under_the_finger(open_app, phone, asks):
    """The first digit brings the key that takes the number, and moves no other."""
    app = open_app(phone)
    app.set_up("Ferry Lane", 1, country="Germany")
    go(app, "Home", "Applicators", "Write a new one down", asks)

    def places():
        return {key.text: tuple(key.pos) for key in app.hand.shown_keys() if key.text.isdigit()}

    before = places()
    app.hand.tap("1", exactly=True)
    assert app.hand.has_key("Take this")
    assert places() == before
    app.hand.find("Clear")
    app.hand.tap("Clear")
    app.hand.find("1")
    assert not app.hand.has_key("Take this")


def test_what_cannot_be_below_zero_has_no_minus(fogger):
    """Strokes and what came out of them."""
    go(fogger, "Strokes into a measure")
    assert "-" not in [key.text for key in fogger.hand.shown_keys()]
    digits(fogger, "10")
    go(fogger, "In mL")
    assert "-" not in [key.text for key in fogger.hand.shown_keys()]


@pytest.mark.parametrize("phone", PHONES, ids=lambda p: f"{p.width}x{p.height}@{p.font}")
def test_numbers_met_with_gloves_on_have_large_keys_near_the_thumb(open_app, phone):
    """Every digit of a measuring by touch: 20 mm, the pad on what acts, on pages where it must."""
    app = open_app(phone)
    app.set_up("Ferry Lane", 1, country="Germany")
    go(app, "Home", "Applicators", "Write a new one down", "Strokes into a measure")
    found = []

    def look(page):
        assert page == "number in gloves"
        found.extend(troubles(app.hand, page))
        keys = sorted(key.y for key in app.hand.shown_keys())
        low = [high - below for below, high in itertools.pairwise(sorted(set(keys)))]
        assert max(low[:-1], default=0) <= HAND + SPACE + 1, "no gap inside pad and what acts"

    walk = Walk(app, look)
    walk.here()
    for digit in "10":
        walk.exactly(digit)
    walk.tap("Take this", "In mL")
    for digit in ("4", ",", "5"):
        walk.exactly(digit)
    walk.tap("Take this")
    assert app.page == "applicator"
    assert found == []


def test_a_stand_off_in_words_for_the_keepers_own_limit(fogger):
    """No limit is shipped; 77 degC lies half way between 88 at 5 cm and 66 at 10."""
    heat(fogger, "fast", "5", "88", "Liquid spat")
    heat(fogger, "fast", "10", "66", "No liquid")
    assert any("no source gives one" in text for text in fogger.hand.all_pages())
    go(fogger, "Your own limit")
    digits(fogger, "77")
    texts = fogger.hand.all_pages()
    assert "Under 77 °C: further than 7,5 cm" in texts
    assert "Liquid spat at 5 cm, fast strokes" in texts


def test_strokes_stand_beside_labels_before_the_first_of_them(fogger):
    """Planned by place: grams with spread, so many times the labelled trickle, and no label."""
    notebook = fogger.kit.notebook
    batch = {
        "recipe": "Winter mix (1)",
        "amount": 250,
        "unit": "mL",
        "strength": 20,
        "strength_of": "dihydrate",
        "strength_as": "w/v",
    }
    notebook.write([Draft("batch", notebook.moment(), notebook.keeper, batch)])
    for amount in ("40", "40"):
        go(fogger, "Strokes into a measure")
        digits(fogger, "10")
        go(fogger, "In mL")
        digits(fogger, amount)
    go(fogger, "What strokes give", "Which batch")
    for _ in range(4):
        fogger.hand.find("+")
        plus = sorted((k for k in fogger.hand.shown_keys() if k.text == "+"), key=lambda k: -k.y)
        fogger.hand.touch(*plus[0].center)
        fogger.hand.hands.pass_(1)
    texts = fogger.hand.all_pages()
    assert any(text.startswith("4 strokes (left 4) gave 3,2 g") for text in texts)
    assert any("times what Oxalic acid 3" in text for text in texts)
    assert any(text.startswith("no published label is known") for text in texts)


def test_a_veterinarians_dose_is_written_down_in_taps(fogger):
    """Dose, name, document, date; what is missing is said; then it gives strokes."""
    notebook = fogger.kit.notebook
    batch = {"recipe": "Winter mix (1)", "amount": 250, "unit": "mL", "strength": 20}
    batch |= {"strength_of": "dihydrate", "strength_as": "w/v"}
    notebook.write([Draft("batch", notebook.moment(), notebook.keeper, batch)])
    go(fogger, "Strokes into a measure")
    digits(fogger, "10")
    go(fogger, "In mL")
    digits(fogger, "40")
    go(fogger, "What strokes give", "Which batch", "+")
    assert any("no written dose" in text for text in fogger.hand.all_pages())
    go(fogger, "A veterinarian wrote", "Write it down")
    assert any("one colony?" in text for text in fogger.hand.all_pages())
    go(fogger, "How much for one colony?")
    digits(fogger, "2,5")
    for index, text in enumerate(("Dr Invented", "letter 12")):
        fogger.hand.tap_entry(index)
        fogger.hand.type(text)
    go(fogger, "- 30", "Write it down")
    (record,) = (each for each in fogger.records if each.kind == "written_dose")
    assert record.body["dose"]["amount"] == 2.5
    assert record.body["given_by"]["document"] == "letter 12"
    assert record.body["given_by"]["day"] == "2026-06-01"
    texts = fogger.hand.all_pages()
    assert any("(Dr Invented, letter 12, 1. Jun 2026) is 3 strokes" in text for text in texts)
