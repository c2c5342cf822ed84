"""The bench on the pixels: chosen, scaled, followed step by step, written down."""

from __future__ import annotations

import pytest

from fieldapp.journal.record import Draft
from fieldapp.screens.theme import TYPE

GERMAN = "3.5 % m/V trickle, 500 mL"


def digits(app, number):
    for digit in number:
        app.hand.find(digit)
        app.hand.tap(digit, exactly=True)
    app.hand.tap("Take this")


def go(app, *words):
    for each in words:
        app.hand.find(each)
        app.hand.tap(each)


@pytest.fixture
def mix(app):
    """The German recipe chosen, in Germany, with a lot of acid in the books."""
    app.set_up("Ferry Lane", 6, country="Germany")
    notebook = app.kit.notebook
    bought = {"product": "oxalic acid dihydrate", "lot": "L7", "amount": 100, "unit": "g"}
    notebook.write([Draft("bought", notebook.moment(), notebook.keeper, bought)])
    go(app, "Home", "The bench", GERMAN)
    return app


def for_six(app):
    go(app, "How many?")
    digits(app, "6")
    go(app, "How much?")
    digits(app, "50")


def test_a_recipe_is_scaled_in_taps(mix):
    """Six hives of 50 mL and a margin: 330 mL large, and every amount with it."""
    assert mix.hand.reads("shown as printed")
    for_six(mix)
    texts = mix.hand.all_pages()
    assert "330 mL" in texts
    assert "Put in oxalic acid dihydrate: 11,6 g" in texts


def test_followed_step_by_step_in_the_largest_type(mix):
    """What must be so first; then one step a page, its amount in the figure size."""
    for_six(mix)
    go(mix, "Step by step")
    assert mix.page == "bench first"
    go(mix, "Go on")
    assert mix.hand.reads("Step 1 of 5")
    amount = next(w for w in mix.hand.widgets() if getattr(w, "text", "") == "198 g")
    assert amount.height >= TYPE["figure"]
    go(mix, "Done: next")
    assert mix.hand.reads("Put in oxalic acid dihydrate")


def test_the_step_stays_where_it_was_when_the_phone_was_put_away(mix):
    """Closed over the stove: the mix goes on at its step."""
    for_six(mix)
    go(mix, "Step by step", "Go on", "Done: next")
    mix.reopen()
    go(mix, "Home", "The bench", "Go on mixing", "Step by step")
    assert mix.hand.reads("Step 2 of 5")


def test_a_batch_is_written_down_and_its_label_shown(mix):
    """The lot tapped, the label to be copied, the record on the disk."""
    for_six(mix)
    go(mix, "Write the batch down", "L7", "Write it down")
    assert mix.page == "bottle"
    texts = mix.hand.all_pages()
    assert "lots: L7" in texts
    record = next(r for r in mix.records if r.kind == "batch")
    assert record.body["amount"] == 330
    go(mix, "It stands on the bottle")
    assert mix.page == "home"


def test_what_is_asked_at_the_bench_is_asked_on_its_own(mix):
    """One yes, one not known by its keeper's word, two not answered: no more is written down."""
    go(mix, "Step by step")
    said = {
        each: mix.hand.meant(mix.hand.key(each)).split("\n")[-1] for each in ("Goggles", "Vessels")
    }
    assert said == {"Goggles": "not answered", "Vessels": "not answered"}
    go(mix, "Goggles", "Vessels", "Vessels")
    assert mix.hand.meant(mix.hand.key("Vessels")).endswith("no")
    go(mix, "Vessels")
    assert mix.hand.meant(mix.hand.key("Vessels")).endswith("not known")
    go(mix, "Go on")
    for _ in range(5):
        mix.hand.tap("Done: next")
    go(mix, "Write it down")
    record = next(r for r in mix.records if r.kind == "batch")
    assert record.body["words"] == (
        "draught: not known; worn: yes; vessels: not known; for bees: not known"
    )


def test_an_own_recipe_that_heats_the_mix_is_stopped(app):
    """Entered in taps: water, acid, glycerol, then heat: a triangle says stop before anything."""
    app.set_up("Ferry Lane", 6, country="Germany")
    go(app, "Home", "The bench", "Own recipe")
    for part, amount in (("water", "200"), ("oxalic acid dihydrate", "60"), ("glycerol", "80")):
        go(app, "Put in")
        app.hand.find(part)
        app.hand.tap(part, exactly=True)
        app.hand.tap("g", exactly=True)
        digits(app, amount)
    go(app, "Heat to")
    digits(app, "80")
    assert any(text.startswith("Stop: never heat glycerol") for text in app.hand.all_pages())
    go(app, "Keep it")
    assert app.page == "mix"
    assert any(text.startswith("Stop: never heat glycerol") for text in app.hand.all_pages())
    go(app, "Step by step", "Go on", "Done: next", "Done: next", "Done: next")
    assert app.hand.reads("Step 4 of 4")
    assert not app.hand.has_key("Done: next"), "a stop is met with an answer of its own"
    go(app, "Leave this step out")
    assert app.hand.reads("Step 3 of 3")
    go(app, "Done: next", "Write it down")
    steps = next(r for r in app.records if r.kind == "batch").body["steps"]
    assert [step["do"] for step in steps] == ["add", "add", "add"]


def test_acid_into_water_is_said_where_the_acid_goes_in(mix):
    """At its moment, not before."""
    go(mix, "Step by step", "Go on")
    assert not mix.hand.reads("Acid into water")
    go(mix, "Done: next")
    assert mix.hand.reads("Acid into water, never water into acid")


def test_a_number_with_a_point(mix):
    """62,5 mL in five taps, as Germany writes it; two marks are one."""
    go(mix, "How much?")
    for key in ("6", "2", ",", ",", "5"):
        mix.hand.tap(key, exactly=True)
    assert mix.hand.reads("62,5 mL")
    mix.hand.tap("Take this")
    assert any("62,5 mL" in text for text in mix.hand.texts())


def test_an_acid_is_diluted_in_taps_water_first(app):
    """60 % to 15 %, 200 g: by gloves' keys, with what can hurt; nothing before all is said."""
    app.set_up("Ferry Lane", 2, country="Germany")
    go(app, "Home", "The bench", "Dilute an acid")
    assert any("nothing is assumed" in text for text in app.hand.all_pages())
    for asked, number in (("by its bottle", "60"), ("is it to be", "15"), ("is wanted", "200")):
        go(app, asked)
        assert app.page == "number in gloves"
        digits(app, number)
    texts = app.hand.all_pages()
    assert texts.index("First the water: 150 g") < texts.index("Then into it the acid: 50 g")
    assert any("acid into water, never water into acid" in text for text in texts)
    assert any("By volume: not known" in text for text in texts)
    go(app, "density")
    digits(app, "1,14")
    assert any("150 mL of water, 43,9 mL of acid" in text for text in app.hand.all_pages())
    assert not [kind for kind in app.kinds() if kind in ("batch", "disposed")]
