"""What may be done here, on the pixels: the table, its reasons, the weather, the hole."""

from __future__ import annotations

import pytest

from fieldapp.journal.record import Draft
from fieldapp.screens.hole_picture import HolePicture
from fieldapp.screens.sign import Sign


def write(app, kind, body, hive=None):
    notebook = app.kit.notebook
    apiary = notebook.local.get("apiary")
    notebook.write(
        [Draft(kind, notebook.moment(), notebook.keeper, body, apiary=apiary, hive=hive)]
    )


def hives(app):
    notebook = app.kit.notebook
    stops = notebook.book.walk(notebook.local.get("apiary"), notebook.today())
    return {stop.number: stop.hive for stop in stops}


def sign_of(key):
    return next(widget.role for widget in key.walk(restrict=True) if isinstance(widget, Sign))


@pytest.fixture
def table(keeper):
    """The table of the twelve hives of Ferry Lane, reached by touch."""
    keeper.hand.tap("Hives")
    keeper.hand.find("Ferry Lane")
    keeper.hand.tap("Ferry Lane")
    keeper.hand.find("What may I do here?")
    keeper.hand.tap("What may I do here?")
    return keeper


def test_choosing_a_treatment_shows_what_the_records_answer(keeper):
    """No disc where something is not known; a triangle with its reason where brood is against."""
    for hive in hives(keeper).values():
        write(keeper, "look", {"brood": "yes"}, hive)
    keeper.hand.tap("Round at")
    keeper.hand.find("Oxalic acid powder, sublimed")
    key = keeper.hand.key("Oxalic acid powder, sublimed")
    assert sign_of(key) == "late"
    assert "does not suit" in key.text
    assert "in the hive: yes" in key.text
    keeper.hand.find("Amitraz strips")
    assert sign_of(keeper.hand.key("Amitraz strips")) == "unknown"


def test_a_treatment_used_before_is_no_better_for_it(keeper):
    """Having been used is no ground of *suits*."""
    keeper.begin("Amitraz strips")
    keeper.hand.tap("End round")
    keeper.hand.find("End round")
    keeper.hand.tap("End round")
    keeper.hand.tap("What is due")
    keeper.hand.tap("Round at")
    assert sign_of(keeper.hand.key("Amitraz strips")) == "unknown"


def test_the_table_has_a_sign_for_each_hive_under_its_number(table):
    """Hive 3 has brood: its column is a triangle in the row of the acid, others a diamond."""
    write(table, "look", {"brood": "yes"}, hives(table)["3"])
    table.app.flow.again()
    table.hand.find("Oxalic acid powder, sublimed")
    key = table.hand.key("Oxalic acid powder, sublimed")
    assert "does not suit: 1 of 12 hives" in key.text
    row = key.parent
    roles = [sign.role for sign in row.signs]
    assert roles[2] == "late"
    assert set(roles[:2] + roles[3:]) == {"unknown"}
    heads = [word for word in row.parent.children if getattr(word, "text", "") == "3"]
    middle = heads[0].x + heads[0].width / 2
    assert abs(row.signs[2].center_x - middle) <= 1


def test_a_hundred_hives_go_on_below(table, open_app):
    """Where hives do not fit side by side every one still stands in the table once."""
    notebook = table.kit.notebook
    notebook.write(
        [
            Draft(
                "hive",
                notebook.moment(),
                notebook.keeper,
                {"number": str(n), "stand": n},
                apiary=notebook.local.get("apiary"),
                hive=notebook.new_id(),
            )
            for n in range(13, 41)
        ]
    )
    table.app.flow.again()
    shown = table.hand.all_pages()
    assert all(str(n) in shown for n in range(1, 41))


def test_a_method_says_why_with_its_source(table):
    """Every reason, what is against first, with where the label's value stands."""
    write(table, "look", {"brood": "yes"}, hives(table)["3"])
    table.app.flow.again()
    table.hand.find("Oxalic acid powder, sublimed")
    table.hand.tap("Oxalic acid powder, sublimed")
    assert table.page == "method"
    texts = table.hand.all_pages()
    against = next(n for n, text in enumerate(texts) if text == "Hive 3: does not suit")
    others = next(n for n, text in enumerate(texts) if text.startswith("Hives 1, 2, 4-12"))
    assert against < others
    why = next(
        text for text in texts if text.startswith("brood by the label: none; in the hive: yes")
    )
    assert why.endswith("(computed)")
    assert any("AN 01519/2014" in text for text in texts[others:]), "the source stands below"


def test_the_weather_is_entered_in_taps_and_answers(table):
    """Highest and mean for eight weeks in a few taps; then the label's bounds are answered."""
    hand = table.hand
    hand.tap("Weather")
    assert hand.reads("No temperatures yet")
    hand.tap("1 Jul 2026")
    for row in range(3):
        plus = sorted(
            (key for key in hand.shown_keys() if key.text == "+ 1"), key=lambda key: -key.y
        )[row]
        hand.touch(*plus.center)
        hand.hands.pass_(1)
    for _ in range(5):
        hand.find("to ")
        hand.tap("to ")
    assert hand.has_key("56 days")
    hand.find("Save")
    hand.tap("Save")
    assert table.page == "outlook"
    assert hand.reads("high 15 °C, mean 15 °C, low 15 °C")
    record = next(r for r in table.records if r.kind == "outlook")
    assert len(record.body["days"]) == 56
    assert record.body["days"][0] == {"day": "2026-07-01", "high": 15.0, "mean": 15.0, "low": 15.0}


def test_a_highest_under_the_lowest_cannot_be_saved(table):
    """It says what is wrong, and nothing is written."""
    hand = table.hand
    hand.tap("Weather")
    hand.tap("1 Jul 2026")
    rows = sorted((k for k in hand.shown_keys() if k.text == "+ 5"), key=lambda key: -key.y)
    for key in (rows[0], rows[2]):
        hand.touch(*key.center)
        hand.hands.pass_(1)
    rows = sorted((k for k in hand.shown_keys() if k.text == "- 5"), key=lambda key: -key.y)
    hand.touch(*rows[0].center)
    hand.hands.pass_(1)
    hand.frames(1)
    assert any("not under" in text for text in hand.all_pages())
    assert not hand.has_key("Save")


def test_what_no_record_knows_is_asked_on_its_own(table):
    """Not known, yes, no: shown with sign and word, kept for the day."""
    hand = table.hand
    hand.tap("Also asked")
    hand.find("Nectar flow")
    assert sign_of(hand.key("Nectar flow")) == "unknown"
    hand.tap("Nectar flow")
    hand.find("Nectar flow")
    assert sign_of(hand.key("Nectar flow")) == "done"
    table.reopen()
    said = table.kit.notebook.local.get(f"said of {table.kit.notebook.local.get('apiary')}")
    assert said["said"]["flow"] is True


def at_hole(app):
    app.hand.find("Oxalic acid powder, sublimed")
    app.hand.tap("Oxalic acid powder, sublimed")
    app.hand.find("The hole in the course")
    app.hand.tap("The hole in the course")


def test_the_hole_says_what_hatches_unmet_and_that_reach_is_not_kill(table):
    """One vapour over brood: a quarter of the worker cells met, the rest with dates."""
    at_hole(table)
    texts = table.hand.all_pages()
    assert "Worker cells: 25 % met" in texts
    assert "Drone cells: 20.7 % met" in texts
    assert "hatch unmet 4 Jul 2026 to 12 Jul 2026" in texts
    assert any("Reached is not killed" in text for text in texts)
    assert any("7 applications 5 days apart" in text for text in texts)


def step(app, words, times):
    for _ in range(times):
        app.hand.find(words)
        app.hand.tap(words)


def test_three_visits_five_days_apart(table):
    """Computed: 0, 5, 10 with three days of action meets all workers and 89.7 % of drones."""
    at_hole(table)
    step(table, "1 visit more", 2)
    step(table, "1 day closer", 2)
    texts = table.hand.all_pages()
    assert "Worker cells: 100 % met" in texts
    assert "Drone cells: 89.7 % met" in texts
    assert "Visit 2 two days late: opens nothing" in texts


def test_a_late_visit_says_which_days_it_opens(table):
    """0 and 7: the second on day 9 reaches back to day 4.5 only, and the first ends on day 3."""
    at_hole(table)
    step(table, "1 visit more", 1)
    texts = table.hand.all_pages()
    assert "Worker cells: 83.3 % met" in texts
    told = texts.index("Visit 2 two days late opens a hole")
    assert texts[told + 1] == "Worker cells: hatch unmet 4 Jul 2026 to 5 Jul 2026"
    step(table, "Look at a late visit", 1)
    assert table.hand.reads("shown: visit 2 two days late"), "the page turned back to its start"
    assert "Worker cells: 87.5 % met" in table.hand.all_pages()


def test_one_hive_has_its_methods_with_the_reason_that_decides(keeper):
    """From the hive's own page."""
    write(keeper, "look", {"brood": "yes"}, hives(keeper)["7"])
    keeper.hand.tap("Hives")
    keeper.hand.find("Ferry Lane")
    keeper.hand.tap("Ferry Lane")
    keeper.hand.find("7")
    keeper.hand.tap("7", exactly=True)
    keeper.hand.find("What may I do here?")
    keeper.hand.tap("What may I do here?")
    assert keeper.hand.reads("Hive 7, Ferry Lane")
    keeper.hand.find("Oxalic acid powder, sublimed")
    assert sign_of(keeper.hand.key("Oxalic acid powder, sublimed")) == "late"
    assert any("in the hive: yes" in text for text in keeper.hand.texts())


def test_the_hole_is_drawn_where_it_is(table, tmp_path):
    """The pixels: met days in the colour of *done*, others on the page's ground between lines."""
    from PIL import Image  # noqa: PLC0415

    at_hole(table)
    picture = next(w for w in table.hand.widgets() if isinstance(w, HolePicture))
    image = Image.open(table.hand.shot(tmp_path / "hole.png")).convert("RGB")
    theme = table.app.flow.look.theme

    def share(low, high, colour):
        left = round(picture.x + picture.width * low / 14.5)
        right = round(picture.x + picture.width * high / 14.5)
        y = image.height - round(picture.y + 20)
        wanted = tuple(round(255 * part) for part in colour[:3])
        row = [image.getpixel((x, y)) for x in range(left + 3, right - 3)]
        return sum(pixel == wanted for pixel in row) / len(row)

    assert share(0, 3, theme.ink["done"]) > 0.9
    assert share(4, 14, theme.ink["done"]) == 0
    assert 0.05 < share(4, 14, theme.ink["late"]) < 0.9
