"""What was otherwise than the tap logged: pieces, strokes, exceptions, reasons."""

from __future__ import annotations

import pytest

from fieldapp.papers.building import record_book
from fieldapp.papers.source import gather
from fieldapp.rounds.beginning import under_way
from fieldapp.rounds.choosing import pieces_in
from fieldapp.rounds.hive_record import RecordView
from fieldapp.rounds.otherwise import Otherwise
from fieldapp.rounds.planning import Plan
from fieldapp.rounds.reasons import ASKED, say_why, why_of
from fieldapp.rounds.starting import Start
from fieldapp.rounds.strokes_given import Strokes
from fieldapp.rounds.summary import summary
from fieldapp.words import Speech

AMITRAZ = "GB/AN-00561-2015/2015/amitraz/strips"
SUBLIMED = "GB/powder-886-mg-g-UK-AN-01519-2014/2015-09/oxalic-acid/sublimation"
MIST = "any/no-published-label/1/oxalic-acid/mist"
DAY = 86_400
SPEAK = Speech()


def said(phrases):
    return [SPEAK(phrase) for phrase in phrases]


def round_of(phone, did, after=60):
    """Two strips in each of three hives; so many days later a round of them."""
    phone.set_up(3)
    round_ = phone.start(AMITRAZ).begin()
    for hive in phone.hives():
        round_.tap(hive)
    round_.end()
    phone.time.pass_(after * DAY)
    apiary = phone.notebook.local.get("apiary")
    return Start.of_pieces(phone.notebook, apiary, AMITRAZ, did).begin()


def pieces(phone):
    """The records of pieces that hold: what was done, and how many."""
    return [
        (entry.holds.body["did"], entry.holds.body["count"])
        for hive in phone.hives()
        for entry in reversed(phone.book.history(hive))
        if entry.root.kind == "pieces" and not entry.void
    ]


# -- pieces


def test_another_number_of_strips_goes_in(phone):
    """Three instead of two: the lot is drawn on by three, and three have to come out."""
    phone.set_up(1)
    (hive,) = phone.hives()
    bought = {"product": "strips", "treatment": AMITRAZ, "lot": "22", "amount": 20, "unit": "strip"}
    phone.write("bought", bought)
    start = phone.start(AMITRAZ)
    start.settle_lot()
    round_ = start.begin()
    round_.tap(hive)
    other = Otherwise(round_, hive)
    assert other.by_pieces
    other.other_amount(3)
    assert phone.book.hive(hive).exposures[0].remaining == 3
    (lot,) = phone.notebook.shelf.ledger().stock.lots
    assert lot.on_hand == 17


def test_a_round_of_moving_leaves_the_pieces_in(phone):
    """Moved by number, the same after the program was closed; they are still to come out."""
    round_ = round_of(phone, "moved", after=21)
    one, two, three = phone.hives()
    assert SPEAK(round_.gets(one)) == "2 pieces moved"
    round_.tap(one)
    again = under_way(phone.notebook)
    again.tap(two)
    again.tap(three)
    Otherwise(again, three).other_number(1)
    assert pieces(phone) == [("moved", 2), ("moved", 2), ("moved", 1)]
    assert all(phone.book.hive(hive).exposures[0].open for hive in phone.hives())
    assert said(summary(phone.notebook, again).done) == [
        "Hives 1, 2: 2 pieces moved",
        "Hive 3: 1 piece moved",
    ]


def test_fewer_out_leaves_the_rest_in(phone):
    """One came out: the other is in, and the agenda goes on asking."""
    round_ = round_of(phone, "out")
    hive = phone.hives()[0]
    round_.tap(hive)
    Otherwise(round_, hive).other_number(1)
    exposure = phone.book.hive(hive).exposures[0]
    assert (exposure.out, exposure.remaining, exposure.open) == (1, 1, True)
    assert [r.body["count"] for r in phone.records("pieces") if r.void] == [2]


@pytest.mark.parametrize(
    ("seen", "open_"),
    [("outside the hive", False), ("every box searched", False), ("not found", True)],
)
def test_a_lost_piece_ends_the_stay_only_where_that_is_known(phone, seen, open_):
    """One out, one lost; the summary says both, undo takes both back."""
    round_ = round_of(phone, "out")
    hive = phone.hives()[0]
    round_.tap(hive)
    other = Otherwise(round_, hive)
    assert other.inside == 2
    other.lost(1, seen)
    assert phone.book.hive(hive).exposures[0].open is open_
    assert said(summary(phone.notebook, round_).done) == ["Hive 1: 1 piece lost, 1 piece out"]
    assert round_.spot(hive).mark == "done"
    round_.undo()
    assert phone.book.hive(hive).exposures[0].remaining == 2
    assert round_.spot(hive).mark == "open"


def test_a_lost_strip_that_turns_up_is_found_and_out(phone):
    """Not found the first time; the next round finds it, and the stay ends."""
    round_ = round_of(phone, "out")
    hive = phone.hives()[0]
    round_.tap(hive)
    Otherwise(round_, hive).lost(1, "not found")
    round_.end()
    phone.time.pass_(7 * DAY)
    again = Start.of_pieces(phone.notebook, round_.apiary, AMITRAZ, "out").begin()
    assert SPEAK(again.gets(hive)) == "1 piece out"
    again.tap(hive)
    assert not phone.book.hive(hive).exposures[0].open


def test_one_more_than_should_be_is_found_and_out(phone):
    """Out two by the tap, and a third was there: found, and three out."""
    round_ = round_of(phone, "out")
    hive = phone.hives()[0]
    round_.tap(hive)
    Otherwise(round_, hive).found(1)
    assert pieces(phone) == [("found", 1), ("out", 3)]
    assert not phone.book.hive(hive).exposures[0].open


def test_pieces_of_which_nobody_knows_how_many_are_asked_for(phone):
    """Put in by a record without a number: a tap alone logs nothing, a number does."""
    phone.set_up(1)
    (hive,) = phone.hives()
    start = phone.start(AMITRAZ)
    start.take_amount(None)
    start.begin().tap(hive)
    phone.time.pass_(60 * DAY)
    round_ = Start.of_pieces(phone.notebook, start.apiary, AMITRAZ, "out")
    round_.hives = (hive,)
    round_ = round_.begin()
    assert SPEAK(round_.gets(hive)) == "pieces out: how many?"
    assert SPEAK(round_.tap(hive).did) == "Hive 1: say how many pieces"
    assert phone.records("pieces") == []
    round_.tap(hive, 2)
    assert pieces(phone) == [("out", 2)]


def test_what_is_in_is_offered_as_a_round(phone):
    """Amitraz strips in three hives; without any in, no round of pieces."""
    apiary = phone.set_up(3)
    assert pieces_in(phone.notebook, apiary) == []
    round_ = phone.start(AMITRAZ).begin()
    for hive in phone.hives():
        round_.tap(hive)
    ((treatment, name, hives),) = pieces_in(phone.notebook, apiary)
    assert (treatment, hives) == (AMITRAZ, 3)
    assert "Amitraz" in name


def test_taking_out_forgets_nothing_of_the_last_amount(phone):
    """A round of pieces gives none: the next round of strips still gives two."""
    round_of(phone, "out").end()
    start = Start.at(phone.notebook, phone.notebook.local.get("apiary"))
    start.treatment = AMITRAZ
    start.use_last()
    assert start.amount.amount == 2


# -- strokes


@pytest.fixture
def fogger(phone):
    """An applicator measured at 2.5 mL a stroke, with a batch of 15 % (w/v) in it, planned."""
    phone.set_up(2)
    phone.gear = phone.write("gear", {"what": "applicator", "name": "Fogger"}).id
    repeats = [{"strokes": 10, "amount": amount, "unit": "mL"} for amount in (24, 26)]
    phone.write("measured", {"gear": phone.gear, "strokes": repeats})
    mixed = {"recipe": "own", "treatment": MIST, "amount": 400, "unit": "mL", "strength": 15}
    phone.batch = phone.write(
        "batch", mixed | {"strength_of": "dihydrate", "strength_as": "w/v"}
    ).id
    kept = {"places": {"left": 4, "middle": 3, "right": 2}, "mix": phone.batch}
    phone.notebook.local.put(f"applicator {phone.gear}", kept)
    phone.set_out = phone.start(MIST)
    phone.set_out.settle_lot()
    return phone


def test_the_planned_strokes_are_logged_and_grams_follow(fogger):
    """Nine strokes at 2.5 mL are 22.5 mL of the batch: 3.4 g at 15 %."""
    start = fogger.set_out
    assert start.lot.id == fogger.batch
    assert SPEAK(start.gets) == "9 strokes: left 4, middle 3, right 2"
    round_ = start.begin()
    hive = fogger.hives()[0]
    assert SPEAK(round_.gets(hive)) == "9 strokes: 4, 3, 2"
    round_.tap(hive)
    body = fogger.records("application")[0].body
    assert body["gear"] == fogger.gear
    assert body["batch"] == fogger.batch
    assert [(each["place"], each["strokes"]) for each in body["strokes"]] == [
        ("left", 4), ("middle", 3), ("right", 2),
    ]  # fmt: skip
    assert body["dose"] == {"amount": 22.5, "unit": "mL", "of": "solution", "per": "hive"}
    (lot,) = fogger.notebook.shelf.ledger().stock.lots
    assert lot.on_hand == 377.5


def test_other_strokes_correct_the_dose_and_the_batch_with_it(fogger):
    """Seven strokes are 17.5 mL; a place with none is left out."""
    round_ = fogger.set_out.begin()
    hive = fogger.hives()[0]
    round_.tap(hive)
    other = Otherwise(round_, hive)
    other.other_strokes(other.strokes.add("right", -1).add("right", -1))
    held = round_.spot(hive).record.body
    assert held["strokes"] == [{"place": "left", "strokes": 4}, {"place": "middle", "strokes": 3}]
    assert held["dose"]["amount"] == 17.5
    assert fogger.notebook.shelf.ledger().stock.lots[0].on_hand == 382.5
    assert said(summary(fogger.notebook, round_).done) == ["Hive 1: 7 strokes: left 4, middle 3"]


def test_strokes_that_were_not_planned_are_not_made_up(fogger):
    """None planned: the applicator is named, strokes and dose are not known."""
    none = {"places": {}, "mix": fogger.batch}
    fogger.notebook.local.put(f"applicator {fogger.gear}", none)
    start = fogger.start(MIST)
    start.settle_lot()
    assert SPEAK(start.gets) == "strokes not said"
    start.begin().tap(fogger.hives()[0])
    body = fogger.records("application")[0].body
    assert not {"strokes", "dose"} & set(body)
    other = Otherwise(under_way(fogger.notebook), fogger.hives()[0])
    other.other_strokes(other.strokes.add("left", 1))
    assert fogger.book.history(fogger.hives()[0])[0].holds.body["dose"]["amount"] == 2.5


def test_with_two_applicators_the_keeper_says_which(fogger):
    """None is supposed; the key goes through them, then back to none."""
    fogger.write("gear", {"what": "applicator", "name": "Second"})
    start = fogger.start(MIST)
    start.settle_lot()
    seen = [start.applicator_name]
    for _ in range(3):
        start.turn_applicator()
        seen.append(start.applicator_name)
    assert seen == ["", "Fogger", "Second", ""]


def test_strokes_stay_between_none_and_what_a_finger_can_mean():
    """Never below none."""
    strokes = Strokes("g", (("left", 1), ("middle", 0), ("right", 0)))
    assert strokes.add("left", -3).number == 0
    assert strokes.add("left", 500).number == 99


# -- exceptions


def test_queenless_is_a_look_that_says_so_whether_treated_or_not(phone):
    """In the summary, in what may be done, and back with undo."""
    phone.set_up(2)
    one, two = phone.hives()
    round_ = phone.start(AMITRAZ).begin()
    round_.tap(one)
    Otherwise(round_, one).queenless()
    round_.skip(two, "queenless")
    assert [r.body for r in phone.records("look")] == [{"queen": "queenless"}] * 2
    parts = summary(phone.notebook, round_)
    assert said(parts.not_done) == ["Hive 2: queenless"]
    assert said(parts.done) == ["Hive 1: 2 pieces, queenless"]
    round_.undo()
    held = [e for e in phone.book.history(two) if e.root.kind == "look" and not e.void]
    assert held == []


def test_supers_that_nobody_recorded_are_on_from_then(phone):
    """Found on before treating: passed over, and the records know of them."""
    phone.set_up(1)
    (hive,) = phone.hives()
    round_ = phone.start(SUBLIMED).begin()
    round_.skip(hive, "supers on")
    assert [each.hive for each in phone.book.hive(hive).supers] == [hive]
    round_.undo()
    assert phone.book.hive(hive).supers == ()


def test_what_was_passed_over_is_told_before_the_next_round(phone):
    """Until it was done."""
    phone.set_up(2)
    one = phone.hives()[0]
    round_ = phone.start(SUBLIMED).begin()
    round_.skip(one, "too weak")
    round_.end()
    phone.time.pass_(3 * DAY)
    told = "Hive 1 was passed over on 1 Jul 2026: too weak"
    start = phone.start(SUBLIMED)
    assert told in said(fact.words for fact in start.facts())
    start.begin().tap(one)
    assert told not in said(fact.words for fact in phone.start(SUBLIMED).facts())


def test_supers_that_are_off_are_told_with_their_day(phone):
    """*Supers off on all hives since 3 Jul*; where none were ever written down, that."""
    phone.set_up(1)
    (hive,) = phone.hives()
    [none] = [each for each in phone.start(SUBLIMED).facts() if "Supers" in each.words.text]
    assert Speech()(none.words) == "Supers: none on record. Are some on? Write them down first."
    assert none.sign == "unknown", "what nobody wrote down proves nothing"
    phone.write("super_on", {"mark": "A"}, hive=hive)
    phone.time.pass_(2 * DAY)
    phone.write("super_off", {"mark": "A"}, hive=hive)
    phone.time.pass_(DAY)
    facts = said(fact.words for fact in phone.start(SUBLIMED).facts())
    assert "Supers: off on all hives since 3 Jul 2026" in facts


# -- reasons


@pytest.fixture
def early(phone):
    """A keeper's plan of every 4 to 7 days, and a second application after one day."""
    phone.set_up(2)
    for days in (0, 1):
        phone.time.pass_(days * DAY)
        start = phone.start(SUBLIMED)
        if start.plannable:
            start.plan = Plan(SUBLIMED, 3, 4, 7, None)
        round_ = start.begin()
        for hive in phone.hives():
            round_.tap(hive)
    phone.round = round_
    return phone


def flag(phone, text):
    flags = summary(phone.notebook, phone.round).flags
    return next(each for each in flags if text in SPEAK(each.words))


def test_why_it_was_early_is_kept_beside_each_record(early):
    """One answer for both hives: an annex each, no correction, and it is said from then on."""
    asked = flag(early, "early by 3")
    assert asked.asks
    assert asked.why is None
    say_why(early.notebook, asked.given, "the weather was right")
    notes = early.records("note")
    assert [note.body for note in notes] == [{"words": "the weather was right"}] * 2
    assert {note.adds_to for note in notes} == set(asked.given)
    assert not [record for record in early.records("application") if record.corrects]
    assert SPEAK(flag(early, "early by 3").why) == "the weather was right"
    root = asked.given[0]
    assert SPEAK(why_of(early.notebook, root)) == "the weather was right"
    notes = said(RecordView(early.notebook, early.hives()[0], root).notes())
    assert notes == ["2 Jul 2026: why: the weather was right"]


def test_the_record_book_says_why(early):
    """Beside the remark that it was early."""
    say_why(early.notebook, flag(early, "early by 3").given, "too many mites to wait")
    book = record_book(gather(early.notebook.journal), early.notebook.today())
    remarks = [said(treated.remarks) for treated in book.treated]
    assert sum("because: too many mites to wait" in each for each in remarks) == 2


def test_what_the_label_leaves_open_is_not_asked(phone):
    """*Limit not known* is no doing of the keeper's: it is noted, and that is all."""
    assert {"early by {n}", "part dose"} <= ASKED
    assert "limit a year not known" not in ASKED
    phone.set_up(1)
    phone.round = phone.start(SUBLIMED).begin()
    phone.round.tap(phone.hives()[0])
    noted = flag(phone, "limit a year not known")
    assert not noted.asks
    Otherwise(phone.round, phone.hives()[0]).part_dose()
    assert flag(phone, "part dose").asks


def test_another_amount_is_asked_why(phone):
    """Three strips where two were planned: noted, and asked."""
    phone.set_up(2)
    one, two = phone.hives()
    phone.round = phone.start(AMITRAZ).begin()
    for hive in (one, two):
        phone.round.tap(hive)
    Otherwise(phone.round, two).other_amount(3)
    noted = flag(phone, "another amount than planned")
    assert SPEAK(noted.words) == "Hive 2: another amount than planned"
    assert noted.asks
