"""Looks, the day after, pieces by number, and rounds of looking, on real files."""

from __future__ import annotations

import pytest

from fieldapp.rounds.due import Due
from fieldapp.rounds.look_after import DayAfter
from fieldapp.rounds.look_form import Number, answer_words, in_parts
from fieldapp.rounds.look_inside import LookInside
from fieldapp.rounds.look_pieces import PiecesByNumber
from fieldapp.rounds.look_round import LookRound, under_way
from fieldapp.words import Speech, say

AMITRAZ = "GB/AN-00561-2015/2015/amitraz/strips"
DAY = 86_400
SPEAK = Speech()


def take(form, **answers):
    for name, value in answers.items():
        form.take(name.replace("_", " ") if name.startswith("did") else name, value)


@pytest.fixture
def hive(phone):
    phone.set_up(3)
    return phone.hives()[0]


def test_what_was_not_answered_is_left_out(phone, hive):
    """A look that saw seams only says nothing of brood, eggs or queen."""
    look = LookInside(phone.notebook, hive)
    look.take("seams", 6.25)
    look.save()
    (record,) = phone.records("look")
    assert record.body == {"seams": 6.25}
    assert record.colony == phone.book.hive(hive).colony
    assert not phone.records("queen")


def test_what_was_done_is_written_beside_what_was_seen_at_one_moment(phone, hive):
    """Queen caged, feed in its own unit, board in: a record each, all or none."""
    look = LookInside(phone.notebook, hive)
    take(look, brood="none", did_queen="caged", did_board="in", did_feed="syrup")
    look.take("feed amount", 2.5)
    look.save()
    kinds = ("look", "queen", "board", "feed")
    found = {kind: phone.records(kind)[0] for kind in kinds}
    assert len({record.happened for record in found.values()}) == 1
    assert found["queen"].body == {"did": "caged"}
    assert found["feed"].body == {"what": "syrup", "amount": 2.5, "unit": "L"}


def test_a_super_is_warned_of_while_it_would_be_exposed(phone, hive):
    """With strips in, the form says so before the super is logged."""
    phone.start(AMITRAZ).begin().tap(hive)
    look = LookInside(phone.notebook, hive)
    assert not look.remarks
    take(look, did_supers="on")
    assert [each.sign for each in look.remarks] == ["late"]


def test_answers_survive_the_program(phone, hive):
    """A look that was not saved is there again; a saved one is not."""
    LookInside(phone.notebook, hive).take("temper", "calm")
    again = LookInside(phone.notebook, hive)
    assert again.values == {"temper": "calm"}
    again.save()
    assert LookInside(phone.notebook, hive).values == {}


def test_quarters_are_said_as_they_are_counted():
    """6 ¼, ½, 7; and what was not said is not a number."""
    assert [in_parts(n) for n in (6.25, 0.5, 7, 0, 2.3)] == ["6 ¼", "½", "7", "0", "2.3"]
    assert SPEAK(answer_words(Number("seams", say("Seams"), 20), {})) == "not said"


def test_the_day_after_names_its_application_and_says_what_to_do(phone, hive):
    """Many dead: photo, stop, the label's address; the agenda no longer asks."""
    round_ = phone.start(AMITRAZ).begin()
    round_.tap(hive)
    phone.time.pass_(DAY)
    today = phone.notebook.today()
    assert "look_after" in [item.task for item in phone.book.items(hive, today)]
    form = DayAfter(phone.notebook, hive)
    form.take("entrance", "101-500")
    assert form.remarks[0].sign == "late"
    assert "stop the course" in SPEAK(form.remarks[0].words)
    form.save()
    (record,) = phone.records("day_after")
    assert record.body["application"] == phone.records("application")[0].id
    assert "look_after" not in [item.task for item in phone.book.items(hive, today)]


def test_a_lost_piece_stays_open_unless_it_was_searched_for(phone, hive):
    """Two in, one out, one lost: only a full search ends it."""
    phone.start(AMITRAZ).begin().tap(hive)
    form = PiecesByNumber(phone.notebook, hive)
    take(form, out=1, lost=1)
    assert form.remarks[0].sign == "late"
    form.save()
    assert phone.book.hive(hive).exposures[0].open
    assert [r.body.get("seen") for r in phone.records("pieces")] == [None, "not found"]
    form = PiecesByNumber(phone.notebook, hive)
    take(form, lost=1, seen="every box searched")
    assert [each.sign for each in form.remarks] == ["due"]


def line_of(phone, task):
    return next(line for line in Due(phone.notebook).lines() if line.line.task == task)


def test_a_line_that_asks_for_a_look_begins_a_round_of_its_hives(phone, hive):
    """The day after at three hives: in walk order, and where it was after a restart."""
    round_ = phone.start(AMITRAZ).begin()
    for each in phone.hives():
        round_.tap(each)
    round_.end()
    phone.time.pass_(DAY)
    line = line_of(phone, "look_after")
    assert line.looked
    looking = LookRound.begin(phone.notebook, line.line)
    assert [spot.hive for spot in looking.spots] == phone.hives()
    form = DayAfter(phone.notebook, hive)
    form.take("board", "0-20")
    looking.done(hive, form.save())
    assert looking.next.hive == phone.hives()[1]
    again = under_way(phone.notebook)
    assert again.asks == "day after"
    assert [spot.mark for spot in again.spots] == ["done", "open", "open"]
    again.end()
    assert under_way(phone.notebook) is None


def test_a_queen_left_in_her_cage_begins_a_round_in_which_she_is_let_out(phone, hive):
    """Caged, treated after the 25th day, still caged: one tap away until she is out."""
    look = LookInside(phone.notebook, hive)
    take(look, did_queen="caged")
    look.save()
    phone.time.pass_(26 * DAY)
    round_ = phone.start("GB/AN-01911-2010/2010/thymol/sponge").begin()
    round_.tap(hive)
    round_.end()
    looking = LookRound.begin(phone.notebook, line_of(phone, "release").line)
    assert [spot.hive for spot in looking.spots] == [hive]
    look = LookInside(phone.notebook, hive)
    take(look, did_queen="released")
    looking.done(hive, look.save())
    assert "release" not in [line.line.task for line in Due(phone.notebook).lines()]


def test_undo_in_a_round_of_looking_voids_all_that_was_saved_at_the_hive(phone, hive):
    """Look and board go back together, and the hive is next again."""
    looking = LookRound.begin(phone.notebook, line_of(phone, "count").line)
    assert looking.undo() is None
    body = {"way": "wash", "mites": 3, "bees": 300}
    phone.time.pass_(1)
    phone.write("count", body, hive=hive)
    looking.done(hive, looking.name)
    assert looking.next.hive != hive
    looking.undo()
    assert looking.next.hive == hive
    counts = [e for e in phone.book.history(hive) if e.root.kind == "count"]
    assert [e.void for e in counts] == [True]


def test_a_hive_passed_over_says_why_and_a_dead_one_is_dead(phone, hive):
    """Skipped with a reason; death is recorded for the rules."""
    looking = LookRound.begin(phone.notebook, line_of(phone, "count").line)
    looking.skip(hive, "dead")
    assert looking.spot(hive).mark == "skipped"
    assert phone.book.hive(hive).dead is not None


def test_putting_boards_in_asks_nothing(phone, hive):
    """One tap a hive: the board is in, and the next hive is next."""
    line = line_of(phone, "count").line._replace(task="board_in")
    looking = LookRound.begin(phone.notebook, line)
    phone.time.pass_(1)
    looking.tap(hive)
    looking.tap(hive)
    assert [r.body for r in phone.records("board")] == [{"did": "in"}]
    assert looking.spot(hive).mark == "done"
    assert looking.next.hive == phone.hives()[1]


def test_a_round_of_boards_out_asks_nothing_and_can_be_taken_back(phone, hive):
    """Begun at an apiary, not from the agenda: all hives, out, undone by one tap."""
    looking = LookRound.at(phone.notebook, phone.notebook.local.get("apiary"), "board out")
    phone.time.pass_(1)
    assert SPEAK(looking.tap(hive)) == "Hive 1: board out"
    assert phone.records("board")[0].body == {"did": "out"}
    assert under_way(phone.notebook).asks == "board out"
    looking.undo()
    assert phone.records("board")[-1].void
    assert looking.next.hive == hive


def test_what_was_logged_before_the_round_is_not_of_the_round(phone, hive):
    """A look of this morning does not tick the hive off in a round begun after it."""
    phone.write("look", {"brood": "yes"}, hive=hive)
    phone.time.pass_(60)
    line = line_of(phone, "count").line._replace(task="look_brood")
    looking = LookRound.begin(phone.notebook, line)
    assert looking.next.hive == hive
