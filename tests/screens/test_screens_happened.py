"""What happened to hives, entered by touch on the demo's today: what follows, written, undone."""

from __future__ import annotations

import shutil

import pytest
import tour
from driver import Phone
from running import Running
from walking import Walk

from fieldapp.assets import folder as assets
from fieldapp.demo.play import prepare
from fieldapp.demo.season import KEEPERS_PHONE, season
from fieldapp.husbandry.library import load
from fieldapp.journal.record import Draft

PHONE = Phone(412, 892, 1.0)


@pytest.fixture(scope="session")
def kept(tmp_path_factory):
    """The keeper's phone at the end of the demo season, not to be written in."""
    year = season(load(assets("treatments")))
    return prepare.phones(year, tmp_path_factory.mktemp("season"))[KEEPERS_PHONE]


class Yard(Walk):
    """The demo's phone in a glove."""

    def __init__(self, app) -> None:
        super().__init__(app, lambda _: None)
        self.notebook = app.kit.notebook
        self.count = self.notebook.journal.count()

    def hive(self, number):
        states = self.notebook.book.states()
        return next(state for state in states if state.number == number and state.apiary)

    def to(self, number="23", place="Quarry Top"):
        """Go to what happened to a hive, from what is due."""
        self.tap("Hives", place)
        self.exactly(number)
        self.tap("What happened")
        return self

    def new(self):
        """The records written since the season."""
        records = [record for _, record in self.notebook.journal.arrivals()]
        return records[self.count :]

    def write(self, kind, body, **envelope):
        draft = Draft(kind, self.notebook.moment(), self.notebook.keeper, body, **envelope)
        return self.notebook.write([draft])[0]


@pytest.fixture
def yard(kept, tmp_path):
    """The program on a copy of the demo's phone."""
    shutil.copytree(kept, tmp_path / "phone")
    app = Running(tmp_path / "phone", PHONE, now_us=tour.MORNING_US)
    yield Yard(app)
    app.close()


#: What is tapped after what happened, and the kinds that are written.
WAYS = {
    "Split": (["a new hive", "all of them"], ["hive", "split"]),
    "United with another hive": (["24", "in hive 24"], ["unite"]),
    "Swarmed": (["flown"], ["swarm"]),
    "Queen": (["introduced"], ["queen"]),
    "Supers carried": (["All", "Go on", "25"], ["super_carried"]),
    "Comb moved up": ([], ["comb_up"]),
    "Dead": (["What was found", "starved"], ["death"]),
    "New colony": (["a swarm"], ["colony"]),
    "Course broken off": (["Amitraz strips"], ["course_stop"]),
    "Moved to other boxes": (["a new hive", "with combs"], ["hive", "transfer"]),
    "Hive gone": (["broken up"], ["hive"]),
    "Moved to another apiary": (["Ferry Lane"], ["hive"]),
}


@pytest.mark.parametrize("what", WAYS)
def test_each_way_is_written_by_one_act_and_undone_by_another(yard, what):
    """What follows is shown and nothing is written before the act; undo voids all of it."""
    yard.write("super_on", {"mark": "X9"}, hive=yard.hive("23").hive)
    yard.count += 1
    before = yard.hive("23")
    answers, kinds = WAYS[what]
    yard.to().tap(what)
    for each in answers:
        yard.tap(each)
    yard.tap("What follows")
    assert yard.app.page == "follows"
    assert yard.new() == []
    yard.tap("Write it down")
    assert [record.kind for record in yard.new()] == kinds
    assert yard.hand.reads("Written down.")
    assert "tap" in yard.app.buzzer.felt
    yard.tap("Undo")
    roots = {record.corrects for record in yard.new() if record.void}
    assert roots == {record.id for record in yard.new()[: len(kinds)]}
    yard.tap("Go on")
    assert yard.app.page == "happened"
    now = yard.hive("23")
    assert (now.exposures, now.closed, now.supers) == (
        before.exposures,
        before.closed,
        before.supers,
    )


def test_the_page_promises_what_the_hive_then_shows(yard):
    """Hive 24 takes in the strips of hive 23: four, two over the label, on both pages."""
    yard.to().tap("United with another hive", "24", "in hive 24", "What follows")
    promised = yard.hand.all_pages()
    assert "4 pieces in: Amitraz strips" in promised
    said = [each for each in promised if "label 2: take 2 out" in each]
    yard.tap("Write it down", "Go on", "Back", "Back")
    yard.exactly("24")
    assert said
    assert set(said) <= set(yard.hand.all_pages())


def test_an_earlier_day_is_one_key_away(yard):
    """Yesterday by a large key, a year back by year, month and day."""
    yard.to().tap("Queen", "introduced", "Day", "18 Sep 2026")
    yard.tap("What follows", "Write it down")
    assert yard.new()[0].day == "2026-09-18"
    yard.tap("Go on", "Queen", "caged", "Day", "An earlier day", "2025", "August")
    yard.hand.tap("3", exactly=True)
    yard.tap("What follows", "Write it down")
    assert yard.new()[-1].day == "2025-08-03"


def test_what_was_entered_is_there_after_the_program_ended(yard):
    """A split half entered goes on where it was."""
    yard.to().tap("Split", "a new hive", "none of them")
    yard.app.reopen()
    Yard(yard.app).to().tap("Split")
    assert yard.app.page == "form"
    assert yard.hand.has_key("none of them")


def test_supers_of_one_hive_are_emptied_from_there(yard):
    """Only what of this hive is exposed; emptied it is clear."""
    exposed = [s for s in yard.notebook.book.states() if any(e.exposed for e in s.supers)]
    state = exposed[0]
    place = yard.notebook.place_name(state.apiary)
    yard.to(state.number, place).tap("Supers emptied")
    listed = [key for key in yard.hand.shown_keys() if "exposed" in key.text]
    assert len(listed) == sum(each.exposed for each in state.supers)
    yard.tap("exposed", "melted")
    assert yard.new()[0].kind == "super_emptied"
    assert yard.new()[0].hive == state.hive


def test_a_standstill_blocks_and_lifting_it_lets_go_on(yard):
    """Reason, day and source on the page, nothing to write it down by; lifted, it goes on."""
    quarry = yard.hive("23").apiary
    yard.write("visit", {"by": "the office", "standstill": "set"}, apiary=quarry)
    yard.count += 1
    yard.to().tap("Split")
    assert yard.app.page == "standstill"
    assert yard.hand.reads("Standstill set by the office on 19 Sep 2026")
    assert not yard.hand.has_key("Write it down")
    yard.tap("The record of it")
    assert yard.hand.reads("Standstill: set: from this day on")
    yard.tap("Back", "It is lifted", "Who came or wrote", "the office", "Write it down")
    assert yard.hand.reads("The standstill is lifted.")
    yard.tap("Go on", "a new hive", "none of them", "What follows", "Write it down")
    assert [record.kind for record in yard.new()] == ["visit", "hive", "split"]


def test_what_a_standstill_could_not_stop_takes_a_word_of_its_own(yard):
    """Each time anew: the next one is blocked again."""
    quarry = yard.hive("23").apiary
    yard.write("visit", {"by": "the office", "standstill": "set"}, apiary=quarry)
    yard.to().tap("Split", "It was done all the same", "a new hive", "all of them")
    yard.tap("What follows")
    assert yard.hand.reads("Done during a standstill")
    yard.tap("Write it down", "Go on", "Split")
    assert yard.app.page == "standstill"


def test_a_whole_apiary_is_moved_by_one_act(yard):
    """All hives of Orchard Row to Quarry Top; one undo takes all of them back."""
    stays = len(yard.notebook.book.walk(yard.hive("23").apiary, yard.notebook.today()))
    yard.tap("Home", "Apiaries", "Orchard Row", "Move hives", "All", "Go on", "Quarry Top")
    yard.tap("What follows", "Write it down")
    moved = [record for record in yard.new() if record.kind == "hive"]
    assert len(moved) == len(yard.new()) == 5
    walk = yard.notebook.book.walk(moved[0].apiary, yard.notebook.today())
    assert len(walk) == stays + 5
    yard.tap("Undo", "Go on", "Movements, visits")
    assert yard.app.page == "premises lines"
    assert not any("Hive moved" in text for text in yard.hand.all_pages())


def test_count_visit_number_and_report_of_an_apiary(yard):
    """What an office asks, each by its form, and then on the apiary's page."""
    yard.tap("Home", "Apiaries", "Orchard Row", "Colony count", "Write it down")
    [counted] = yard.new()
    assert counted.body == {"number": 5}
    assert yard.hand.reads("5 colonies counted on 19 Sep 2026, no report on record")
    yard.tap("Write a report down", "Reported to")
    yard.hand.tap_entry()
    yard.hand.type("the district")
    yard.tap("Take this", "Write it down")
    reported = yard.new()[-1]
    assert reported.body["to"] == "the district"
    assert counted.id in reported.body["records"]
    assert yard.hand.reads("reported to the district")
    assert not yard.hand.has_key("Write a report down")
    yard.tap("Name and number", "Registration number")
    yard.hand.tap_entry()
    yard.hand.type("UK 12")
    yard.tap("Take this", "Write it down")
    place = yard.notebook.book.place(counted.apiary)
    assert (place.name, place.registration, place.country) == ("Orchard Row", "UK 12", "GB")
    yard.tap("Inspector's visit", "Who came or wrote", "bee inspector", "What was found")
    yard.tap("all hives seen", "Write it down")
    assert yard.new()[-1].body == {"by": "bee inspector", "found": "all hives seen, brood healthy"}
    assert yard.hand.reads("Last visit: 19 Sep 2026, bee inspector")


def test_a_visit_is_put_right_at_its_record(yard):
    """From the apiary's lines: what was set is lifted by a correction with its reason."""
    ferry = yard.hive("7").apiary
    root = yard.write("visit", {"by": "the office", "standstill": "set"}, apiary=ferry)
    yard.tap("Home", "Apiaries", "Ferry Lane")
    assert yard.hand.reads("Standstill set by the office")
    yard.tap("Movements, visits", "Visit", "Put right", "Standstill", "lifted", "Go on", "misread")
    assert yard.new()[-2].corrects == root.id
    assert yard.new()[-2].body["standstill"] == "lifted"
    yard.back_to("premises")
    assert not yard.hand.reads("Standstill set by the office")
