"""What happens to hives without a face: what is asked, what follows, what is written, undone."""

from __future__ import annotations

from datetime import date

import pytest
from happening_scene import DAY, SPEAK, STRIPS, entered, lines, treat

from fieldapp.husbandry.honey import honey
from fieldapp.papers import gather, record_book
from fieldapp.rounds.exposed_supers import exposed_supers
from fieldapp.rounds.happening.colonies import Split, Swarm, Transfer, Unite
from fieldapp.rounds.happening.happening import Standing
from fieldapp.rounds.happening.lives import Died, NewColony, NewQueen, Stopped
from fieldapp.rounds.happening.moving import Gone, Moved
from fieldapp.rounds.happening.supers import Carried, CombUp
from fieldapp.rounds.happening.ways import WAYS
from fieldapp.rounds.hive_history import history
from fieldapp.rounds.hive_record import RecordView
from fieldapp.rounds.setup import COUNTRIES, Setup

ACID = "any/no-published-label/1/oxalic-acid/mist"


@pytest.fixture
def yard(phone):
    """Six hives on 1 July 2026, hive 6 dead; super A and two unmarked ones on hive 2."""
    phone.apiary = phone.set_up(6)
    phone.hive = dict(enumerate(phone.hives(), 1))
    phone.write("death", {}, hive=phone.hive[6], apiary=phone.apiary)
    phone.write("super_on", {"mark": "A"}, hive=phone.hive[2], apiary=phone.apiary)
    phone.write("super_on", {"count": 2}, hive=phone.hive[2], apiary=phone.apiary)
    return phone


def another_apiary(phone, name, hives=0):
    setup = Setup(phone.notebook)
    setup.country = next(each for each in COUNTRIES if each.code == "GB")
    setup.apiary, setup.hives = name, hives
    setup.finish()
    places = phone.book.apiaries(phone.notebook.today())
    return next(each.id for each in places if each.name == name)


def standstill(phone, word="set", apiary=None):
    body = {"by": "the office", "standstill": word}
    return phone.write("visit", body, apiary=apiary or phone.apiary)


# -- split


def test_a_split_asks_how_many_pieces_went_along_and_writes_it(yard):
    """Two strips in, one goes along: one in each hive then, promised and written."""
    treat(yard, yard.hive[1], pieces=2)
    form = Split(yard.notebook, yard.hive[1])
    assert form.open_first.name == "to_hive"
    form.take("to_hive", yard.hive[6])
    assert form.open_first.name == "pieces_along"
    entered(form, pieces_along=1)
    promised = lines(form)
    name = yard.book.terms()[STRIPS].name
    assert f"1 piece in: {name}" in promised["1"]
    assert f"1 piece in: {name}" in promised["6"]
    assert "A colony lives here" in promised["6"]
    form.save()
    [split] = yard.records("split")
    assert split.body["pieces_along"] == 1
    remaining = [yard.book.hive(yard.hive[n]).exposures[0].remaining for n in (1, 6)]
    assert remaining == [1, 1]
    assert not yard.book.questions()


def test_pieces_that_nobody_counted_are_open_in_both_and_asked(yard):
    """Left unanswered it is said before saving, and is a question after it."""
    treat(yard, yard.hive[1], pieces=2)
    form = entered(Split(yard.notebook, yard.hive[1]), to_hive=yard.hive[6])
    assert form.ready
    assert any(told.sign == "unknown" for told in form.remarks)
    asked = "Hive 1: how many pieces went along in the split?"
    assert asked in lines(form)["1"]
    form.save()
    assert "pieces_along" not in yard.records("split")[0].body
    assert asked in [SPEAK(each.phrase) for each in yard.book.questions()]


def test_a_split_takes_supers_and_a_new_hive_in_one_act(yard):
    """The new hive has the next number; its marked super in the split, one unmarked carried."""
    form = entered(Split(yard.notebook, yard.hive[2]), to_hive="new", marks=["A"], unmarked=1)
    assert [q.name for q in form.questions] == ["to_hive", "marks", "unmarked", "day"]
    form.save()
    assert [each.kind for each in form.written] == ["hive", "split", "super_carried"]
    made, split, carried = form.written
    assert made.body == {"number": "7", "stand": 7}
    assert split.body["to_hive"] == carried.body["to_hive"] == made.hive
    assert split.body["supers_along"] == ["A"]
    assert carried.body["count"] == 1
    supers = {each.mark: each.number for each in yard.book.hive(made.hive).supers}
    assert supers == {"A": 1, "": 1}


def test_what_a_split_makes_is_taken_back_as_a_whole(yard):
    """Undo voids every record of the act, the new hive with it, and the hive is as before."""
    treat(yard, yard.hive[2], pieces=2)
    before = yard.book.hive(yard.hive[2])
    form = entered(Split(yard.notebook, yard.hive[2]), to_hive="new", pieces_along=2, marks=["A"])
    form.save()
    made = form.written[0].hive
    form.undo()
    assert yard.book.hive(yard.hive[2])._replace(questions=()) == before._replace(questions=())
    assert made not in yard.hives()
    [told] = [
        each.told for each in history(yard.notebook, made) if "Split" in SPEAK(each.told.words)
    ]
    assert "taken back" in SPEAK(told.words)


def test_a_hive_that_is_lived_in_is_no_quiet_target(yard):
    """Bees put where others live would end those: it is said, with what to enter instead."""
    form = entered(Split(yard.notebook, yard.hive[1]), to_hive=yard.hive[3])
    [told] = form.remarks
    assert told.sign == "late"
    assert "take its place" in SPEAK(told.words)


@pytest.mark.parametrize("happening", [Split, Swarm, Transfer, Unite, Died])
def test_where_nobody_lives_nothing_can_leave(yard, happening):
    """A dead hive has nothing to split, unite or move: it says so and cannot be saved."""
    form = happening(yard.notebook, yard.hive[6])
    assert not form.possible
    assert form.open_first is None
    assert not form.ready
    assert any(told.sign == "late" for told in form.remarks)


# -- unite


def test_a_union_hands_the_closed_days_to_the_hive_that_goes_on(yard):
    """Hive 3 is closed for want of a period; hive 5, open before, is closed once they unite."""
    treat(yard, yard.hive[3], ACID)
    assert honey(yard.book.hive(yard.hive[5]), yard.notebook.today()).state == "open"
    form = entered(Unite(yard.notebook, yard.hive[5]), other=yard.hive[3], stays="this")
    promised = lines(form)["5"]
    assert "Honey: not known, treat it as closed" in promised
    assert "Honey: open, nothing closes it today" not in promised
    form.save()
    [unite] = yard.records("unite")
    assert (unite.hive, unite.body["from_hive"]) == (yard.hive[5], yard.hive[3])
    assert honey(yard.book.hive(yard.hive[5]), yard.notebook.today()).state == "not known"


def test_a_dated_end_goes_along_to_the_day(yard):
    """A period by the label in hand: the very day stands on the page and in the state."""
    treat(yard, yard.hive[3], ACID)
    given = {"who": "label in hand", "document": "label"}
    body = {
        "treatment": ACID,
        "period": {"form": "days", "days": 21},
        "given_by": given,
    }
    yard.write("period", body)
    was = honey(yard.book.hive(yard.hive[3]), yard.notebook.today()).honey_from
    assert was == date(2026, 7, 23)
    form = entered(Unite(yard.notebook, yard.hive[3]), other=yard.hive[5], stays="other")
    assert "Honey closed: may be taken from 23 Jul 2026" in lines(form)["5"]
    form.save()
    assert honey(yard.book.hive(yard.hive[5]), yard.notebook.today()).honey_from == was


def test_pieces_of_both_add_up_and_too_many_are_said(yard):
    """Two strips and two: four in one hive, and what the label says of it is promised."""
    treat(yard, yard.hive[3], pieces=2)
    treat(yard, yard.hive[4], pieces=2)
    form = entered(Unite(yard.notebook, yard.hive[3]), other=yard.hive[4], stays="this")
    name = yard.book.terms()[STRIPS].name
    promised = lines(form)["3"]
    assert f"4 pieces in: {name}" in promised
    form.save()
    assert yard.book.hive(yard.hive[3]).exposures[0].remaining == 4


def test_supers_of_the_hive_that_ends_are_carried_along(yard):
    """The marked one by its mark, both unmarked ones as all there are."""
    form = entered(Unite(yard.notebook, yard.hive[1]), other=yard.hive[2], stays="this")
    entered(form, marks=["A"], unmarked=2)
    form.save()
    assert [each.kind for each in form.written] == ["unite", "super_carried", "super_carried"]
    assert form.written[2].body == {"to_hive": yard.hive[1]}
    assert {each.mark for each in yard.book.hive(yard.hive[1]).supers} == {"A", ""}


def test_bees_that_nobody_recorded_are_united_too(yard):
    """Treated boxes that a colony had left hold bees: they get an id of their own."""
    entered(Transfer(yard.notebook, yard.hive[1]), to_hive=yard.hive[6], combs="bees only").save()
    yard.time.pass_(DAY)
    treat(yard, yard.hive[1], pieces=2)
    assert not yard.book.hive(yard.hive[1]).colony
    form = entered(Unite(yard.notebook, yard.hive[1]), other=yard.hive[3], stays="other")
    form.save()
    [unite] = form.written
    assert unite.body["from_colony"] not in {s.colony for s in yard.book.states()}
    assert yard.book.hive(yard.hive[3]).exposures[0].remaining == 2


# -- swarm, other boxes, bees that come, queens, death


def test_a_swarm_is_gone_or_put_into_a_hive(yard):
    """Gone names no hive; put in, its hive has a colony and no closed days."""
    treat(yard, yard.hive[1], ACID)
    entered(Swarm(yard.notebook, yard.hive[2]), to_hive="gone").save()
    assert "to_hive" not in yard.records("swarm")[0].body
    form = entered(Swarm(yard.notebook, yard.hive[1]), to_hive=yard.hive[6])
    assert "A colony lives here" in lines(form)["6"]
    form.save()
    state = yard.book.hive(yard.hive[6])
    assert state.lives(yard.notebook.today().toordinal())
    assert honey(state, yard.notebook.today()).state == "open"


@pytest.mark.parametrize(("combs", "closed"), [("with combs", True), ("bees only", False)])
def test_other_boxes_are_closed_only_where_combs_came_along(yard, combs, closed):
    """Combs hand on what closes them, bees alone do not."""
    treat(yard, yard.hive[1], ACID)
    form = Transfer(yard.notebook, yard.hive[1])
    entered(form, to_hive=yard.hive[6])
    assert not form.ready
    entered(form, combs=combs)
    assert ("Honey: not known, treat it as closed" in lines(form)["6"]) is closed
    form.save()
    state = honey(yard.book.hive(yard.hive[6]), yard.notebook.today()).state
    assert (state != "open") is closed


def test_a_new_colony_says_where_it_came_from_and_from_whom(yard):
    """Bought, from a name that is offered the next time; where bees live already it warns."""
    form = entered(NewColony(yard.notebook, yard.hive[6]), origin="bought")
    assert [q.name for q in form.questions] == ["origin", "supplier", "day"]
    entered(form, supplier="Heather Bees").save()
    [colony] = yard.records("colony")
    assert colony.body == {"origin": "bought", "supplier": "Heather Bees"}
    assert yard.book.hive(yard.hive[6]).colony == colony.colony
    again = entered(NewColony(yard.notebook, yard.hive[6]), origin="given")
    assert again.questions[1].offered == ("Heather Bees",)
    assert again.remarks[0].sign == "late"


def test_a_swarm_that_came_by_itself_is_of_nobody(yard):
    """An answer that is asked no more does not go into the record."""
    form = entered(NewColony(yard.notebook, yard.hive[6]), origin="bought", supplier="X")
    entered(form, origin="swarm").save()
    assert yard.records("colony")[0].body == {"origin": "swarm"}


def test_what_was_done_with_the_queen_on_an_earlier_day(yard):
    """Caged three days ago: the agenda counts from then."""
    form = entered(NewQueen(yard.notebook, yard.hive[1]), did="caged", day="2026-06-28")
    form.save()
    assert yard.records("queen")[0].day == "2026-06-28"
    assert yard.book.hive(yard.hive[1]).events[-1].day == date(2026, 6, 28).toordinal()


def test_death_says_what_to_do_first_and_exposes_what_is_on(yard):
    """Close the entrance, ask before combs are used; the supers on are exposed, as promised."""
    form = Died(yard.notebook, yard.hive[2])
    assert "Close the entrance first" in SPEAK(form.remarks[0].words)
    promised = lines(form)["2"]
    assert "No colony lives here" in promised
    assert "Super A is exposed: never for people" in promised
    entered(form, cause="starved").save()
    assert yard.records("death")[-1].body == {"cause": "starved"}
    assert "A" in {each.mark for each in exposed_supers(yard.notebook)}


# -- courses, supers


def test_a_course_is_broken_off_and_its_strips_stay_due(yard):
    """Stopped by word; what is in stays in, and is said before it is saved."""
    treat(yard, yard.hive[1], pieces=2)
    assert not Stopped(yard.notebook, yard.hive[3]).possible
    form = entered(Stopped(yard.notebook, yard.hive[1]), reason="queen lost")
    assert "stay due" in SPEAK(form.remarks[1].words)
    assert any("stopped" in line for line in lines(form)["1"])
    form.save()
    [stop] = yard.records("course_stop")
    assert stop.body == {"treatment": STRIPS, "reason": "queen lost"}
    assert yard.book.hive(yard.hive[1]).exposures[0].open


def test_a_comb_moved_up_exposes_its_super(yard):
    """Into A by name; the others of the hive stay what they are."""
    form = CombUp(yard.notebook, yard.hive[2])
    assert form.open_first.name == "mark"
    entered(form, mark="A")
    assert "Super A is exposed: never for people" in lines(form)["2"]
    form.save()
    assert yard.records("comb_up")[0].body == {"mark": "A"}
    assert [each.mark for each in exposed_supers(yard.notebook)] == ["A"]


def test_the_unmarked_supers_are_one_lot_for_a_comb_too(yard):
    """Without a mark the record names none, and the whole lot is exposed."""
    entered(CombUp(yard.notebook, yard.hive[2]), mark="the supers of the hive").save()
    assert yard.records("comb_up")[0].body == {}
    assert [each.mark for each in exposed_supers(yard.notebook)] == [""]


def test_supers_are_carried_by_mark_and_by_number(yard):
    """A and one of two; without a super there is nothing to carry."""
    assert not Carried(yard.notebook, yard.hive[1]).possible
    form = Carried(yard.notebook, yard.hive[2])
    assert [form.open_first.name, entered(form, marks=["A"]).open_first.name] == [
        "marks",
        "unmarked",
    ]
    entered(form, unmarked=1)
    assert form.open_first.name == "to_hive"
    entered(form, to_hive=yard.hive[3]).save()
    bodies = [each.body for each in yard.records("super_carried")]
    to = yard.hive[3]
    assert bodies == [{"mark": "A", "to_hive": to}, {"to_hive": to, "count": 1}]


def test_a_super_from_a_closed_hive_is_exposed_wherever_it_goes(yard):
    """On during a treatment that wants it off, then carried: the promise names it at hive 4."""
    treat(yard, yard.hive[2], ACID, supers="on")
    form = entered(Carried(yard.notebook, yard.hive[2]), marks=["A"], unmarked=0)
    entered(form, to_hive=yard.hive[4])
    assert form.remarks[0].sign == "closed"
    assert "Super A is exposed: never for people" in lines(form)["4"]
    form.save()
    assert {e.mark: e.number for e in exposed_supers(yard.notebook)}["A"] == "4"


# -- moves and hives that are gone


def test_a_whole_apiary_is_moved_in_one_act(yard):
    """All hives, in the order of the walk; strips and closed days go along unchanged."""
    treat(yard, yard.hive[1], pieces=2)
    there = another_apiary(yard, "Heather")
    form = Moved(yard.notebook, yard.apiary)
    assert [form.open_first.name, form.ready] == ["hives", False]
    everything = [each.hive for each in form.questions[0].options]
    entered(form, hives=everything, apiary=there)
    assert form.follows() == ()
    form.save()
    assert [each.kind for each in form.written] == ["hive"] * 6
    stops = yard.book.walk(there, yard.notebook.today())
    assert [(stop.number, stop.stand) for stop in stops] == [(str(n), n) for n in range(1, 7)]
    assert yard.book.walk(yard.apiary, yard.notebook.today()) == []
    moved = yard.notebook.shelf.ledger().register.of(there).movements
    assert [each.carried for each in moved] == [True] * 6
    form.undo()
    assert len(yard.book.walk(yard.apiary, yard.notebook.today())) == 6


def test_a_number_used_there_is_asked_about(yard):
    """Hive 2 stands there already: it can have the next free number, or stay twice."""
    there = another_apiary(yard, "Heather", hives=2)
    form = entered(Moved(yard.notebook, yard.apiary, yard.hive[2]), apiary=there)
    assert SPEAK(form.remarks[0].words) == "Number 2 is used there already."
    assert not form.ready
    entered(form, numbers="free")
    assert SPEAK(form.remarks[-1].words) == "Paint the new numbers: 2 becomes 3"
    form.save()
    assert yard.book.hive(yard.hive[2]).number == "3"


def test_with_one_apiary_there_is_nowhere_to_go(yard):
    """It says where to add another."""
    form = Moved(yard.notebook, yard.apiary, yard.hive[2])
    assert not form.possible
    assert "Home, Apiaries" in SPEAK(form.remarks[0].words)


def test_a_hive_that_is_sold_leaves_the_walk_and_keeps_its_number(yard):
    """Why and to whom stand in the record; who gets it is to be told what is closed."""
    form = entered(Gone(yard.notebook, yard.hive[4]), ended="sold")
    assert "closed and exposed" in SPEAK(form.remarks[0].words)
    entered(form, to_whom="a neighbour").save()
    [record] = form.written
    assert record.body == {"number": "4", "stand": 4, "ended": "sold", "to_whom": "a neighbour"}
    assert yard.hive[4] not in yard.hives()


# -- standstill


def forms(phone):
    there = another_apiary(phone, "Heather")
    return [
        entered(Split(phone.notebook, phone.hive[1]), to_hive=phone.hive[6]),
        entered(Unite(phone.notebook, phone.hive[1]), other=phone.hive[3], stays="this"),
        entered(Transfer(phone.notebook, phone.hive[4]), to_hive=phone.hive[6], combs="not known"),
        entered(Carried(phone.notebook, phone.hive[2]), marks=["A"], to_hive=phone.hive[3]),
        entered(Moved(phone.notebook, phone.apiary, phone.hive[5]), apiary=there),
        entered(Gone(phone.notebook, phone.hive[5]), ended="sold"),
    ]


@pytest.mark.parametrize("which", range(6))
def test_a_standstill_blocks_what_moves_joins_and_exchanges(yard, which):
    """Blocked with who, since when and the record; nothing is written, nothing lost."""
    root = standstill(yard)
    form = forms(yard)[which]
    assert form.blocked.reason.records == (root.id,)
    said = SPEAK(form.blocked.reason.phrase)
    assert said.startswith("Standstill set by the office on 1 Jul 2026")
    count = yard.notebook.journal.count()
    with pytest.raises(Standing, match="Standstill set by the office"):
        form.save()
    assert yard.notebook.journal.count() == count
    assert form.values


def test_a_standstill_where_hives_go_blocks_the_move_too(yard):
    """The other end counts as well."""
    there = another_apiary(yard, "Heather")
    standstill(yard, apiary=there)
    form = entered(Moved(yard.notebook, yard.apiary, yard.hive[5]), apiary=there)
    assert form.blocked is not None
    assert Split(yard.notebook, yard.hive[1]).blocked is None


@pytest.mark.parametrize("happening", [Swarm, NewQueen, Died, NewColony, Stopped, CombUp])
def test_a_standstill_blocks_nothing_that_exchanges_nothing(yard, happening):
    """Bees swarm and die without asking an office."""
    standstill(yard)
    assert happening(yard.notebook, yard.hive[1]).blocked is None


def test_what_was_done_all_the_same_is_written_and_named(yard):
    """The keeper's own word; the register then has it as done during a standstill."""
    standstill(yard)
    yard.time.pass_(60)
    form = entered(Unite(yard.notebook, yard.hive[1]), other=yard.hive[3], stays="this")
    form.despite = True
    form.save()
    assert not Unite(yard.notebook, yard.hive[1]).despite
    book = record_book(gather(yard.notebook.journal), yard.notebook.today(), None)
    assert "united during a standstill" in [SPEAK(each.words) for each in book.gaps]


def test_a_lifted_standstill_blocks_no_more_and_not_before_it_was_set(yard):
    """Dated before it: not blocked; lifted: not blocked."""
    standstill(yard)
    form = entered(Unite(yard.notebook, yard.hive[1]), other=yard.hive[3], stays="this")
    assert form.blocked is not None
    entered(form, day="2026-06-20")
    assert form.blocked is None
    entered(form, day=None)
    yard.time.pass_(60)
    standstill(yard, "lifted")
    assert form.blocked is None
    form.save()


def test_what_was_done_before_a_move_is_blocked_and_written_where_the_hive_stood(yard):
    """The standstill of the apiary that it left counts for the days before, and that alone."""
    there = another_apiary(yard, "Heather")
    standstill(yard)
    yard.time.pass_(2 * DAY)
    away = entered(Moved(yard.notebook, yard.apiary, yard.hive[1]), apiary=there)
    away.despite = True
    away.save()
    form = entered(Split(yard.notebook, yard.hive[1]), to_hive="new")
    assert form.blocked is None
    entered(form, day="2026-07-02")
    assert form.blocked is not None
    assert form.drafts()[-1].apiary == yard.apiary
    entered(form, day="2026-06-01")  # before its first record: where it stands now
    assert form.drafts()[-1].apiary == there


# -- all of them


def test_drafts_survive_the_program_and_go_with_saving(yard):
    """Answers are there again in a new form, and gone once they are saved."""
    entered(Split(yard.notebook, yard.hive[1]), to_hive=yard.hive[6])
    again = Split(yard.notebook, yard.hive[1])
    assert again.values == {"to_hive": yard.hive[6]}
    again.save()
    assert not Split(yard.notebook, yard.hive[1]).values


def test_answers_that_fit_no_more_are_dropped(yard):
    """Between two visits to a form its hive changed: what is asked is asked anew."""
    entered(Carried(yard.notebook, yard.hive[2]), marks=["A"], unmarked=2, to_hive=yard.hive[3])
    lot = {"apiary": yard.apiary, "hive": yard.hive[2]}
    yard.write("super_off", {"count": 1}, **lot)
    yard.write("super_off", {"mark": "A"}, **lot)
    entered(Gone(yard.notebook, yard.hive[3]), ended="burnt").save()
    form = Carried(yard.notebook, yard.hive[2])
    form.settle()
    assert form.values == {"marks": ["A"]}
    assert [each.name for each in form.questions] == ["unmarked", "to_hive", "day"]
    entered(form, unmarked="all", to_hive=yard.hive[4]).save()
    assert [each.body for each in form.written] == [{"to_hive": yard.hive[4]}]


def test_each_way_has_a_form_of_its_own_record(yard):
    """Eleven keys, and no kind of record behind two of them."""
    kinds = [make(yard.notebook, yard.hive[1]).kind for _, make in WAYS]
    assert len(set(kinds)) == len(kinds) == 11


def test_a_split_put_right_later_says_its_pieces_and_names_hives_by_number(yard):
    """Its record page has no ids for the eye."""
    treat(yard, yard.hive[1], pieces=2)
    form = entered(Split(yard.notebook, yard.hive[1]), to_hive=yard.hive[6], pieces_along=1)
    form.save()
    [split] = yard.records("split")
    view = RecordView(yard.notebook, yard.hive[1], split.id)
    assert [SPEAK(each) for each in view.says()] == [
        "To hive: 6",
        "Pieces that went along: 1",
    ]
    told = SPEAK(history(yard.notebook, yard.hive[1])[0].told.words)
    assert told == "1 Jul 2026: Split, to hive 6, Pieces that went along: 1"
