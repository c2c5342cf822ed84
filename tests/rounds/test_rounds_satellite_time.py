"""The phone's clock held to the satellites' time: the question of a sync, asked sooner."""

from __future__ import annotations

from dataclasses import replace

import pytest

from fieldapp.device.position import Fix
from fieldapp.journal import happened
from fieldapp.rounds.clock_question import ClockQuestion
from fieldapp.rounds.question import Questions
from fieldapp.words import Speech

HOUR = 3600.0
speech = Speech()


class Receiver:
    """A receiver on a machine whose clock is `ahead` seconds ahead of the satellites'."""

    def __init__(self, phone) -> None:
        self.state = "off"
        self._time = phone.time
        self.ahead = 0.0

    def start(self, on_fix) -> None:
        self._on_fix = on_fix

    def stop(self) -> None:
        self._on_fix = None

    def fix(self, age: float = 0.0, **other) -> None:
        """Hand over a fix that is `age` seconds old, with the satellites' time of back then."""
        utc_ms = self._time.us // 1000 - round((self.ahead + age) * 1000)
        found = Fix(54.2, -2.3, 5.0, self._time.seconds - age, utc_ms)
        self._on_fix(found._replace(**other))


@pytest.fixture
def receiver(phone):
    phone.set_up(2)
    receiver = Receiver(phone)
    phone.kit.devices = replace(phone.kit.devices, position=receiver)
    phone.kit.locate()
    return receiver


def look(phone) -> None:
    apiary = phone.notebook.local.get("apiary")
    phone.write("look", {"brood": "yes"}, apiary=apiary, hive=phone.hives()[0])


def asked(phone):
    return [each for each in Questions(phone.notebook).all() if each.what == "clock"]


def test_what_was_timed_since_the_clock_last_agreed_is_one_question(phone, receiver):
    """Agreed at nine; two looks by a clock that then jumped: a correction for each."""
    receiver.fix()
    assert asked(phone) == []
    receiver.ahead = 3 * HOUR
    phone.time.pass_(3 * HOUR)
    for _ in range(2):
        look(phone)
        phone.time.pass_(90)
    receiver.fix()
    [question] = asked(phone)
    assert speech(question.phrase) == (
        "This phone's clock was 3 hours ahead of satellite time. Which is right for 2 records?"
    )
    questions = Questions(phone.notebook)
    assert [speech(each) for each in questions.records(question)] == [
        "Here 1 Jul 2026, 12:00; by satellite 1 Jul 2026, 09:00",
        "Here 1 Jul 2026, 12:01; by satellite 1 Jul 2026, 09:01",
        "Set this phone's clock too, if it still is wrong.",
    ]
    corrected, left = questions.answers(question)
    assert speech(corrected.words) == "Satellite time is right: correct all 2 records"
    assert speech(left.words) == "This phone's clock was right: leave them as they are"
    questions.give(question, corrected.drafts)
    looks = phone.records("look")
    for root in [each for each in looks if each.corrects is None]:
        [moved] = [each for each in looks if each.corrects == root.id]
        apart = happened.instant(root.happened) - happened.instant(moved.happened)
        assert apart == 3 * HOUR * 1_000_000
    assert phone.records("answer_clock")[0].body["off_by"] == 3 * HOUR
    assert asked(phone) == []


@pytest.mark.parametrize(
    ("ahead", "number"), [(120.0, 0), (-120.0, 0), (120.001, 1), (-120.001, 1)]
)
def test_two_minutes_are_no_question_and_a_tick_more_is(phone, receiver, ahead, number):
    """The same bound as at a sync, both ways."""
    look(phone)
    receiver.ahead = ahead
    receiver.fix()
    assert len(asked(phone)) == number


def test_how_long_ago_a_fix_was_had_does_not_count_against_the_clock(phone, receiver):
    """The last known fix of five hours ago, at the start, told by a clock that was right."""
    look(phone)
    receiver.fix(age=5 * HOUR)
    assert asked(phone) == []
    look(phone)
    receiver.ahead = -HOUR
    phone.time.pass_(61)
    receiver.fix(age=5 * HOUR)
    assert "1 hour" not in speech(asked(phone)[0].phrase), "what is under two hours is in minutes"
    assert "60 minutes behind satellite time" in speech(asked(phone)[0].phrase)


@pytest.mark.parametrize("utc_ms", [None, 1_163_000_000_000])
def test_a_fix_without_satellite_time_says_nothing_of_the_clock(phone, receiver, utc_ms):
    """Of a network, or of a receiver 1,024 weeks back: it neither asks nor counts as agreement."""
    look(phone)
    receiver.fix(utc_ms=utc_ms)
    assert asked(phone) == []
    receiver.ahead = 3 * HOUR
    receiver.fix()
    assert len(asked(phone)[0].records) > 0


def test_a_sync_and_a_fix_ask_one_question_between_them(phone, receiver):
    """Whichever was heard last is named; one answer settles it for both."""
    receiver.fix()
    look(phone)
    ClockQuestion(phone.notebook).heard(3 * 3_600_000)
    assert "of the server's" in speech(asked(phone)[0].phrase)
    receiver.ahead = 3 * HOUR
    phone.time.pass_(61)
    receiver.fix()
    [question] = asked(phone)
    assert "of satellite time" in speech(question.phrase)
    questions = Questions(phone.notebook)
    questions.give(question, questions.answers(question)[1].drafts)
    ClockQuestion(phone.notebook).heard(3 * 3_600_000)
    assert asked(phone) == []


def test_a_question_kept_by_an_older_version_is_the_servers(phone, receiver):
    """Which clock was heard was not kept then; there was only one."""
    receiver.fix()
    look(phone)
    ClockQuestion(phone.notebook).heard(3 * 3_600_000)
    local = phone.notebook.local
    kept = [dict(each) for each in local.get("clock off")]
    for each in kept:
        del each["by"]
    local.put("clock off", kept)
    assert "of the server's" in speech(asked(phone)[0].phrase)


def test_fixes_every_other_second_are_looked_at_once_a_minute(phone, receiver):
    """The battery, and the journal, are not spent on a clock that was right a moment ago."""
    receiver.fix()
    look(phone)
    receiver.ahead = 3 * HOUR
    for _ in range(29):
        phone.time.pass_(2)
        receiver.fix()
    assert asked(phone) == []
    phone.time.pass_(2)
    receiver.fix()
    assert len(asked(phone)) == 1
