"""Questions to the keeper on the phone: what is one under two ids, and what a wrong clock timed."""

from __future__ import annotations

import pytest

from fieldapp.book.book import Book
from fieldapp.journal import happened
from fieldapp.journal.record import Draft
from fieldapp.rounds.clock_question import ClockQuestion
from fieldapp.rounds.question import Answered, Questions
from fieldapp.words import Speech

speech = Speech()
HOUR_MS = 3_600_000


def asked(phone):
    return Questions(phone.notebook).all()


def phrases(phone) -> list[str]:
    return [speech(each.phrase) for each in asked(phone)]


def answer(phone, question, key: str) -> None:
    questions = Questions(phone.notebook)
    chosen = next(each for each in questions.answers(question) if each.key == key)
    questions.give(question, chosen.drafts)


def another_beginning(phone, name="Apiary 1", keeper="Keeper", hives=("1", "2"), **place) -> str:
    """Write what another phone's first start writes, and return its apiary."""
    notebook = phone.notebook
    person, apiary = notebook.new_id(), notebook.new_id()
    moment = notebook.moment()
    notebook.write(
        [
            Draft("keeper", moment, person, {"name": keeper}),
            Draft(
                "apiary",
                moment,
                person,
                {"name": name, "zone": "Europe/London", **place},
                apiary=apiary,
            ),
            *(
                Draft(
                    "hive",
                    moment,
                    person,
                    {"number": number},
                    apiary=apiary,
                    hive=notebook.new_id(),
                )
                for number in hives
            ),
        ]
    )
    return apiary


def test_two_phones_that_began_apart_are_asked_what_is_one(phone, tmp_path):
    """Apiary and keeper first; once the apiaries are one, their hives by number."""
    phone.set_up(2)
    another_beginning(phone)
    assert phrases(phone) == [
        "Two apiaries are called Apiary 1. Are they one?",
        "Two keepers are called Keeper. Are they one?",
    ]
    places, keepers = asked(phone)
    assert [speech(each) for each in Questions(phone.notebook).records(places)] == [
        "Apiary 1: 2 hives",
        "Apiary 1: 2 hives",
    ]
    answer(phone, places, "one")
    answer(phone, keepers, "one")
    assert phrases(phone) == [
        "Two hives at Apiary 1 are called 1. Are they one?",
        "Two hives at Apiary 1 are called 2. Are they one?",
    ]
    hives = asked(phone)
    answer(phone, hives[0], "one")
    answer(phone, hives[1], "two")
    assert asked(phone) == []
    day = phone.notebook.today()
    stops = phone.book.walk(phone.book.apiaries(day)[0].id, day)
    assert sorted(stop.number for stop in stops) == ["1", "2", "2"]
    # What was said stands from what was kept, and folded anew.
    phone.book.keep()
    for path in (tmp_path / "book.db", None):
        assert Book.open(phone.notebook.journal, path).questions() == []
    assert [r.body["what"] for r in phone.records("same_as") if r.corrects is None] == [
        "apiary",
        "keeper",
        "hive",
        "colony",
        "hive",
    ]


def test_two_that_are_two_are_not_asked_again_but_a_third_is(phone):
    """The answer names exactly the two; another of the name is another question."""
    phone.set_up(1)
    another_beginning(phone, keeper="Other", hives=())
    [question] = asked(phone)
    answer(phone, question, "two")
    assert asked(phone) == []
    assert len(phone.book.apiaries(phone.notebook.today())) == 2
    another_beginning(phone, keeper="Third", hives=())
    again = asked(phone)
    assert len(again) == 2
    assert question.records not in [each.records for each in again]
    # Taken for one with the first, nothing is left that was not said.
    answer(phone, next(each for each in again if question.records[0] in each.records), "one")
    assert asked(phone) == []


def test_an_answer_of_two_can_be_changed(phone):
    """Made valid again, or said anew, they are one from then on."""
    phone.set_up(1)
    other = another_beginning(phone, keeper="Other", hives=())
    [question] = asked(phone)
    answer(phone, question, "two")
    phone.write("same_as", {"what": "apiary", "ids": list(question.records)})
    assert asked(phone) == []
    [place] = phone.book.apiaries(phone.notebook.today())
    assert place.id == min(*question.records, other)


def test_apiaries_at_one_place_may_be_one_under_two_names(phone):
    """Nearer than 100 m is asked, further is not; where nobody knows, the name alone decides."""
    phone.set_up(0)
    first = another_beginning(phone, "Ferry Lane", "A", (), lat=54.0, lon=-2.0)
    near = another_beginning(phone, "By the ferry", "B", (), lat=54.0005, lon=-2.0)
    another_beginning(phone, "Quarry Top", "C", (), lat=54.01, lon=-2.0)
    another_beginning(phone, "Garden", "D", ())
    [question] = asked(phone)
    assert set(question.records) == {first, near}
    assert "are they one apiary?" in phrases(phone)[0]


def test_numbers_used_again_are_no_question(phone):
    """A hive that is gone gives its number free; another apiary has numbers of its own."""
    apiary = phone.set_up(2)
    another_beginning(phone, "Quarry Top", "Other", ("1", "2"))
    assert asked(phone) == []
    hive = phone.hives()[0]
    phone.write("hive", {"number": "1", "ended": "sold"}, apiary=apiary, hive=hive)
    phone.write("hive", {"number": "1"}, apiary=apiary, hive=phone.notebook.new_id())
    assert asked(phone) == []


def test_one_hive_takes_the_treatments_of_both(phone):
    """What was logged under either id is one course of one colony, on every agenda."""
    phone.set_up(1)
    notebook = phone.notebook
    apiary = notebook.local.get("apiary")
    other = phone.write("hive", {"number": "1"}, apiary=apiary, hive=notebook.new_id()).hive
    for hive, seen in ((phone.hives()[0], "yes"), (other, "none")):
        phone.write("look", {"brood": seen}, apiary=apiary, hive=hive)
    [question] = asked(phone)
    assert [each.key for each in Questions(notebook).answers(question)] == ["one", "boxes", "two"]
    told = [speech(each) for each in Questions(notebook).records(question)]
    assert told == ["Hive 1: 2 records, the first of 1 Jul 2026"] * 2
    answer(phone, question, "one")
    [stop] = phone.book.walk(apiary, notebook.today())
    assert len([e for e in phone.book.history(stop.hive) if e.root.kind == "look"]) == 2
    assert phone.book.hive(other).hive == stop.hive


# The clock


def treat(phone, number: int) -> None:
    phone.write(
        "look",
        {"brood": "yes"},
        apiary=phone.notebook.local.get("apiary"),
        hive=phone.hives()[number],
    )


def test_a_clock_that_was_off_is_one_question_for_all_that_it_timed(phone):
    """Three records of after the last agreement, 3 hours ahead: moved back, with the answer."""
    phone.set_up(3)
    clock = ClockQuestion(phone.notebook)
    clock.heard(1000)
    assert asked(phone) == []
    phone.time.pass_(86_400)
    for number in range(3):
        treat(phone, number)
        phone.time.pass_(60)
    clock.heard(3 * HOUR_MS)
    [question] = asked(phone)
    assert speech(question.phrase) == (
        "This phone's clock was 3 hours ahead of the server's. Which is right for 3 records?"
    )
    before = {r.id: r.happened for r in phone.records("look")}
    assert set(question.records) == set(before)
    answer(phone, question, "corrected")
    assert asked(phone) == []
    for root, moment in before.items():
        corrections = [r for r in phone.records("look") if r.corrects == root]
        assert len(corrections) == 1
        moved = corrections[0].happened
        assert happened.instant(moment) - happened.instant(moved) == 3 * HOUR_MS * 1000
        assert moved.endswith("[Europe/London]")
        assert corrections[0].heads == (root,)
    [said] = phone.records("answer_clock")
    assert said.body == {
        "records": list(question.records),
        "off_by": 3 * 3600.0,
        "answer": "corrected",
    }
    # The clock still is wrong at the next sync: what was answered is not asked again.
    clock.heard(3 * HOUR_MS)
    assert asked(phone) == []


def test_the_phones_clock_can_be_the_right_one(phone):
    """A server without a battery: nothing is moved, and the records are not asked about again."""
    phone.set_up(1)
    treat(phone, 0)
    clock = ClockQuestion(phone.notebook)
    clock.heard(-400 * 24 * HOUR_MS)
    [question] = asked(phone)
    assert "400 days behind" in speech(question.phrase)
    before = len(list(phone.notebook.journal.arrivals()))
    answer(phone, question, "left")
    assert len(list(phone.notebook.journal.arrivals())) == before + 1
    assert phone.records("answer_clock")[0].body["answer"] == "left"
    clock.heard(-400 * 24 * HOUR_MS)
    assert asked(phone) == []
    treat(phone, 0)
    clock.heard(-400 * 24 * HOUR_MS)
    assert len(asked(phone)[0].records) == 1


def test_two_minutes_are_no_question_and_a_tick_more_is(phone):
    """The bound of journal.md, both ways."""
    phone.set_up(1)
    clock = ClockQuestion(phone.notebook)
    for ahead, number in ((120_000, 0), (-120_000, 0), (-120_001, 1)):
        treat(phone, 0)
        clock.heard(ahead)
        assert len(asked(phone)) == number


def test_an_unanswered_question_outlives_a_restart_and_a_clock_set_right(phone):
    """It stands for its own records; those written with the right clock are none of them."""
    phone.set_up(1)
    clock = ClockQuestion(phone.notebook)
    clock.heard(0)
    treat(phone, 0)
    clock.heard(5 * HOUR_MS)
    [question] = asked(phone)
    clock.heard(10)
    treat(phone, 0)
    assert asked(phone) == [question]
    again = ClockQuestion(phone.notebook)
    again.heard(20)
    answer(phone, question, "corrected")
    assert asked(phone) == []
    treat(phone, 0)
    again.heard(20 * HOUR_MS)
    assert len(asked(phone)[0].records) == 1


def test_what_the_keeper_has_put_right_or_taken_back_is_left_alone(phone):
    """Of three records one was voided and one moved by hand: one is left to be asked about."""
    phone.set_up(3)
    clock = ClockQuestion(phone.notebook)
    clock.heard(0)
    for number in range(3):
        treat(phone, number)
    voided, moved, left = (r for r in phone.records("look") if r.corrects is None)
    for root, more in (
        (voided, {"void": True}),
        (
            moved,
            {
                "happened": happened.format(
                    happened.instant(moved.happened) - 10**9, "Europe/London"
                )
            },
        ),
    ):
        draft = Draft(
            root.kind,
            root.happened,
            root.keeper,
            root.body,
            apiary=root.apiary,
            hive=root.hive,
            corrects=root.id,
            heads=(root.id,),
        )
        phone.notebook.write([draft._replace(**more)])
    clock.heard(4 * HOUR_MS)
    [question] = asked(phone)
    assert question.records == (left.id,)


def test_after_a_new_writer_begins_both_are_asked_about(phone):
    """A copied phone goes on as a new writer; what it timed before is its own too."""
    phone.set_up(2)
    clock = ClockQuestion(phone.notebook)
    clock.heard(0)
    treat(phone, 0)
    phone.notebook.journal.begin_writer()
    treat(phone, 1)
    clock.heard(4 * HOUR_MS)
    [question] = asked(phone)
    assert len(question.records) == 2


def test_a_thousand_records_are_one_question_and_one_transaction(phone):
    """More ids than one record may hold are parted; each record is corrected once."""
    phone.set_up(1)
    hive, apiary = phone.hives()[0], phone.notebook.local.get("apiary")
    ClockQuestion(phone.notebook).heard(0)
    moment = phone.notebook.moment()
    phone.notebook.write(
        [
            Draft("look", moment, phone.notebook.keeper, {"brood": "yes"}, apiary=apiary, hive=hive)
            for _ in range(1200)
        ]
    )
    ClockQuestion(phone.notebook).heard(2 * HOUR_MS)
    [question] = asked(phone)
    answer(phone, question, "corrected")
    assert [len(r.body["records"]) for r in phone.records("answer_clock")] == [1000, 200]
    assert len({r.corrects for r in phone.records("look") if r.corrects}) == 1200
    looked = {look.day for look in phone.book.hive(hive).looks}
    assert looked == {phone.notebook.today().toordinal()}


def test_an_answer_given_twice_is_written_once(phone):
    """The page was open while the question was answered: words, and nothing written."""
    phone.set_up(1)
    another_beginning(phone, keeper="Other", hives=())
    [question] = asked(phone)
    answer(phone, question, "one")
    before = len(list(phone.notebook.journal.arrivals()))
    questions = Questions(phone.notebook)
    with pytest.raises(Answered, match="answered already"):
        questions.give(question, questions.answers(question)[0].drafts)
    assert len(list(phone.notebook.journal.arrivals())) == before
