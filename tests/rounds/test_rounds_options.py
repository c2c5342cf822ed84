"""What may be done here: the records of a hive as answers, with their reasons."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from fieldapp.rounds.options import Asked, Options
from fieldapp.rounds.outlook import Outlook, said
from fieldapp.words import Speech, habits_of, say

AMITRAZ = "GB/AN-00561-2015/2015/amitraz/strips"
SPONGE = "GB/AN-01911-2010/2010/thymol/sponge"
TRICKLE = "GB/powder-886-mg-g-UK-AN-01519-2014/2015-09/oxalic-acid/trickle"
GEL = "GB/AN-01316-2014/2015-02/thymol/gel"
CAGED = "any/method-without-chemicals/1/none/queen-caged-and-released"
ANOTHER = "01890a5d-ac96-774b-bcce-b302099a8057"
TODAY = date(2026, 7, 1)
SPEAK = Speech()


def look(phone, hive, **seen):
    phone.write("look", seen, apiary=phone.notebook.local.get("apiary"), hive=hive)


def weather(phone, days=30, **temperatures):
    entries = [
        {"day": (TODAY + timedelta(days=n)).isoformat(), **temperatures} for n in range(days)
    ]
    phone.write(
        "outlook",
        {"days": entries, "forecast": True},
        apiary=phone.notebook.local.get("apiary"),
    )


def options(phone, hives=None):
    return Options(phone.notebook, phone.notebook.local.get("apiary"), hives)


def reasons(phone, treatment, hive=None):
    groups = options(phone, hive and [hive]).groups(treatment)
    return [(told.sign, SPEAK(told.words)) for group in groups for told in group.reasons]


def says(phone, treatment, about):
    return [sign for sign, words in reasons(phone, treatment) if about in words]


@pytest.fixture
def one(phone):
    """A phone with one hive, and the hive."""
    phone.set_up(1)
    return phone, phone.hives()[0]


def test_nothing_known_is_nowhere_a_disc(one):
    """A hive of which nothing is known: no treatment suits, whatever the label says."""
    phone, _ = one
    found = options(phone)
    signs = {method.name: method.sign for method in found.methods()}
    assert len(signs) >= 12
    assert set(signs.values()) == {"unknown"}


def test_brood_seen_within_a_week_counts_and_earlier_does_not(one):
    """A look of 7 days before decides; a day later it is *not known* again."""
    phone, hive = one
    look(phone, hive, brood="none")
    assert says(phone, TRICKLE, "brood by the label")[0] != "late"
    assert "in the hive: none" in str(reasons(phone, TRICKLE))
    phone.time.pass_(7 * 86_400)
    assert "in the hive: none" in str(reasons(phone, TRICKLE))
    phone.time.pass_(86_400)
    assert "in the hive: not known" in str(reasons(phone, TRICKLE))


def test_brood_against_the_label_does_not_suit(one):
    """Oxalic acid wants no brood; a hive with brood gets the triangle and says why."""
    phone, hive = one
    look(phone, hive, brood="yes")
    method = options(phone).method(TRICKLE)
    assert method.sign == "late"
    assert "in the hive: yes" in SPEAK(method.first)


def test_a_queen_to_be_caged_is_one_that_the_records_tell_of(one):
    """Seen, or her eggs; queenless or taken out; cells, a swarm or a week later: not known."""
    phone, hive = one
    apiary = phone.notebook.local.get("apiary")
    assert says(phone, CAGED, "needs a queen") == ["unknown"]
    look(phone, hive, queen="not seen", eggs="yes")
    assert says(phone, CAGED, "needs a queen") == ["done"]
    assert options(phone).method(CAGED).sign == "done"
    look(phone, hive, queen="not seen")
    assert says(phone, CAGED, "needs a queen") == ["done"], "not seen tells nothing"
    look(phone, hive, queen="cells", eggs="yes")
    assert says(phone, CAGED, "needs a queen") == ["unknown"]
    look(phone, hive, queen="seen")
    phone.write("queen", {"did": "removed"}, apiary=apiary, hive=hive)
    assert says(phone, CAGED, "needs a queen") == ["late"]
    phone.write("queen", {"did": "introduced"}, apiary=apiary, hive=hive)
    assert says(phone, CAGED, "needs a queen") == ["unknown"]
    phone.write("queen", {"did": "caged"}, apiary=apiary, hive=hive)
    assert says(phone, CAGED, "needs a queen") == ["done"]
    colony = phone.book.hive(hive).colony
    phone.write("swarm", {"new_colony": ANOTHER}, apiary=apiary, hive=hive, colony=colony)
    assert says(phone, CAGED, "needs a queen") == ["unknown"]
    look(phone, hive, queen="queenless")
    assert says(phone, CAGED, "needs a queen") == ["late"]
    phone.time.pass_(8 * 86_400)
    assert says(phone, CAGED, "needs a queen") == ["unknown"]


def test_supers_on_by_the_records(one):
    """A super on the hive is against what wants it off."""
    phone, hive = one
    phone.write("super_on", {"mark": "A1"}, apiary=phone.notebook.local.get("apiary"), hive=hive)
    assert says(phone, AMITRAZ, "supers are on") == ["late"]
    phone.write("super_off", {"mark": "A1"}, apiary=phone.notebook.local.get("apiary"), hive=hive)
    assert says(phone, AMITRAZ, "supers are off") == ["done"]


def test_the_keepers_word_on_supers_holds_for_a_day_where_no_record_speaks(one):
    """Not known, then yes, then no; tomorrow it is not known again."""
    phone, _ = one
    asked = Asked(phone.notebook, phone.notebook.local.get("apiary"))
    assert "whether they are is not known" in str(reasons(phone, AMITRAZ))
    asked.turn("supers_off")
    assert says(phone, AMITRAZ, "supers are off") == ["done"]
    asked.turn("supers_off")
    assert says(phone, AMITRAZ, "supers are on") == ["late"]
    phone.time.pass_(86_400)
    assert "whether they are is not known" in str(reasons(phone, AMITRAZ))


def test_temperatures_entered_by_day_decide(one):
    """Thymol wants mild weeks: without an outlook not known, with a hot one against."""
    phone, _ = one
    assert "outlook is not known" in str(reasons(phone, SPONGE))
    weather(phone, low=12, mean=20, high=24)
    assert "outlook is inside" in str(reasons(phone, SPONGE))
    weather(phone, low=20, mean=33, high=38)
    assert says(phone, SPONGE, "outlook is outside") != []
    assert options(phone).method(SPONGE).sign == "late"


def test_what_was_measured_stands_before_a_forecast(one):
    """A later forecast does not replace the thermometer."""
    phone, _ = one
    day = TODAY.isoformat()
    apiary = phone.notebook.local.get("apiary")
    phone.write("outlook", {"days": [{"day": day, "high": 21}], "forecast": False}, apiary=apiary)
    phone.write("outlook", {"days": [{"day": day, "high": 30}], "forecast": True}, apiary=apiary)
    assert phone.notebook.shelf.outlook(apiary)[TODAY].weather.high == 21


def test_a_course_that_goes_on_and_pieces_in_are_seen(one):
    """Strips in: earlier pieces are still in; out again: the end of the course is the last out."""
    phone, hive = one
    round_ = phone.start(AMITRAZ).begin()
    round_.tap(hive)
    assert says(phone, AMITRAZ, "earlier pieces") == ["late"]
    phone.time.pass_(45 * 86_400)
    phone.write("pieces", {"did": "out", "count": 2, "treatment": AMITRAZ}, hive=hive)
    assert says(phone, AMITRAZ, "ended on 15 Aug 2026") == ["unknown"]


BLEND = "US/label-not-read/unread/thymol/blend-tablet"


def test_frames_of_bees_as_a_look_counted_them(phone):
    """8 to 20 full frames by the label: not counted, too few, enough."""
    phone.set_up(1, country="US")
    hive = phone.hives()[0]
    assert says(phone, BLEND, "count the frames of bees") == ["unknown"]
    look(phone, hive, frames_of_bees=7.75)
    assert says(phone, BLEND, "7.75 frames of bees") == ["late"]
    look(phone, hive, frames_of_bees=8)
    assert "8 frames of bees, at least 8 wanted" in str(reasons(phone, BLEND))
    assert says(phone, BLEND, "8 frames of bees") != ["late"]


def test_what_a_hive_takes_of_the_stock_by_frames_of_bees(one):
    """10 g a frame of bees, 9 frames: 80 g are not enough; a number that is no dose is no fault."""
    phone, hive = one
    body = phone.notebook.library.get(TRICKLE).terms_body() | {"treatment": "own/frames"}
    for per in ("frame of bees", "seam"):
        dose = {"amount": 10, "unit": "g", "of": "product", "per": per}
        entry = {"value": [dose], "standing": "label in hand", "source": "label"}
        body |= {"values": {"dose": entry}, "sources": {"label": {"title": "an invented label"}}}
        phone.write("terms", body | {"treatment": f"own/{per}"})
        bought = {"product": "p", "treatment": f"own/{per}", "amount": 80, "unit": "g"}
        phone.write("bought", bought)
    look(phone, hive, frames_of_bees=9, seams=6.3)
    assert says(phone, "own/frame of bees", "not enough") == ["late"]
    assert says(phone, "own/seam", "80 on hand") == ["quiet"]


def test_stock_and_standstill_come_from_the_books(one):
    """What was bought is on hand; an inspector's standstill is said."""
    phone, _ = one
    apiary = phone.notebook.local.get("apiary")
    assert says(phone, AMITRAZ, "none on record") == ["quiet"]
    phone.write(
        "bought",
        {"product": "amitraz strips", "treatment": AMITRAZ, "amount": 20, "unit": "piece"},
    )
    assert says(phone, AMITRAZ, "20 on hand") == ["quiet"]
    phone.write("visit", {"by": "the inspector", "standstill": "set"}, apiary=apiary)
    assert says(phone, AMITRAZ, "standstill is set") == ["quiet"]


def test_hives_with_the_same_answer_stand_together(phone):
    """Two hives with brood, one without: two groups, what is against first."""
    phone.set_up(3)
    for hive, brood in zip(phone.hives(), ("yes", "none", "yes"), strict=True):
        look(phone, hive, brood=brood)
    groups = options(phone).groups(TRICKLE)
    assert next(SPEAK(group.words) for group in groups) == "Hives 1, 3: does not suit"
    assert SPEAK(groups[-1].words) == "The same for all"
    told = [SPEAK(reason.words) for group in groups for reason in group.reasons]
    assert len(told) == len(set(told)), "what is the same for all stands once"
    method = options(phone).method(TRICKLE)
    assert SPEAK(method.words) == "does not suit: 2 of 3 hives"
    assert next((cell.number, cell.sign) for cell in method.cells) == ("1", "late")


def test_the_order_does_not_follow_the_answers(phone):
    """Used before first, then by name: the table never ends in a product."""
    phone.set_up(1)
    before = [method.name for method in options(phone).methods()]
    look(phone, phone.hives()[0], brood="none")
    weather(phone, low=12, mean=20, high=24)
    assert [method.name for method in options(phone).methods()] == before == sorted(before)


def test_all_colonies_at_once_is_the_keepers_to_say(one):
    """A label that wants the whole apiary: not known, then as the keeper says."""
    phone, _ = one
    asked = Asked(phone.notebook, phone.notebook.local.get("apiary"))
    assert says(phone, GEL, "all colonies") == ["unknown"]
    asked.turn("all_at_once")
    assert says(phone, GEL, "all colonies") == ["done"]
    asked.turn("all_at_once")
    assert says(phone, GEL, "all colonies") == ["late"]


def test_a_dead_colony_is_not_asked(phone):
    """Nobody treats an empty hive."""
    phone.set_up(2)
    phone.write("death", {}, hive=phone.hives()[1])
    assert options(phone).numbers == ["1"]


def test_steps_of_a_degf_stay_on_whole_ones(one):
    """From 59 °F up by 40 steps: 99 °F, not a tenth beside it."""
    phone, _ = one
    entry = Outlook(phone.notebook, phone.notebook.local.get("apiary")).enter(TODAY)
    entry.step("high", 0)
    speak = Speech(habits=habits_of("US"))
    for degf in range(60, 100):
        entry.step("high", 5 / 9)
        assert entry.values["high"] == pytest.approx((degf - 32) * 5 / 9, abs=5e-5)
        assert speak(say("{t}", t=said(entry.values["high"]))) == f"{degf} °F"


def test_stock_used_up_speaks_against_and_stock_never_bought_does_not(one):
    """Ten strips bought and thrown away: none on hand. Of another nothing is on record."""
    phone, _ = one
    bought = {"product": "strips", "treatment": AMITRAZ, "amount": 10, "unit": "strip"}
    lot = phone.write("bought", bought).id
    assert says(phone, AMITRAZ, "stock") == ["quiet"]
    phone.write("disposed", {"lot": lot, "amount": 10, "unit": "strip"})
    assert says(phone, AMITRAZ, "stock: not enough") == ["late"]
    assert says(phone, SPONGE, "stock: none on record") == ["quiet"]


def test_a_season_wants_so_many_knockdowns(one):
    """R. Oliver, ABJ February 2018: one with 6 months of brood, two with 8, three over 10."""
    phone, _ = one
    words, source = options(phone).seasons()
    said = [SPEAK(each) for each in words]
    assert said == [
        "6 months with brood: 1 knockdown of at least 90 % a year",
        "8 months with brood: 2 knockdowns of at least 90 % a year",
        "over 10 months: 3 knockdowns of at least 90 % a year",
    ]
    assert "February 2018" in source
