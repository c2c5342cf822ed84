"""Settings hold at once, survive the program, and reminders keep to the keeper's hours."""

from __future__ import annotations

import pytest
from test_rounds_alarms import about_strips, strips_in

from fieldapp.rounds import hours
from fieldapp.rounds.desk_form import Written
from fieldapp.rounds.hours import Hours
from fieldapp.rounds.look_form import Choice
from fieldapp.rounds.settings import Settings
from fieldapp.words import Degrees, say

HOUR = 3600


def settings(phone) -> Settings:
    return Settings(phone.notebook, phone.kit.language, phone.kit.home.called)


def test_every_setting_shows_what_holds_and_takes_each_of_its_answers(phone):
    """No answer is offered that is not kept."""
    phone.set_up(2)
    shown = settings(phone)
    names = [question.name for question in shown.questions]
    assert len(names) == len(set(names))
    for name in names:
        question = shown.question(name)
        if isinstance(question, Written):
            continue
        assert isinstance(question, Choice)
        assert shown.values[name] in dict(question.options)
        for value, _ in question.options:
            shown.take(name, value)
            assert settings(phone).values[name] == value


def test_the_language_follows_the_keeper_or_the_machine(phone):
    """German from the next word on; the machine's language when that is wished again."""
    phone.set_up(1)
    settings(phone).take("language", "de")
    assert phone.kit.speech(say("Settings")) == "Einstellungen"
    settings(phone).take("language", "system")
    assert phone.kit.speech(say("Settings")) == "Settings"


@pytest.mark.parametrize(
    ("units", "spoken"), [("us", "86 °F"), ("metric", "30 °C"), ("country", "30 °C")]
)
def test_units_may_differ_from_the_countrys(phone, units, spoken):
    """In Great Britain; 30 degC are 86 degF (from memory: the scales' definition)."""
    phone.set_up(1)
    settings(phone).take("units", units)
    assert phone.kit.speech(say("{t}", t=Degrees(30))) == spoken
    assert phone.kit.speech.habits.cups == (units == "us")


def test_a_country_is_written_to_its_apiary_and_nothing_else_changes(phone):
    """Labels, habits and first aid follow; name and zone stay."""
    apiary = phone.set_up(1)
    before = phone.book.place(apiary)
    settings(phone).take(f"country {apiary}", "US")
    after = phone.book.place(apiary)
    assert after == before._replace(country="US")
    assert phone.kit.speech.habits.degrees == "F"
    written = len(phone.records("apiary"))
    settings(phone).take(f"country {apiary}", "US")
    assert len(phone.records("apiary")) == written


def test_the_name_of_this_device_is_what_a_server_is_told(phone):
    """Its own sync says it; nobody named it, it is a phone."""
    phone.set_up(1)
    assert phone.kit.home._sync.device_name == "phone"
    settings(phone).take("device", "the blue one")
    assert phone.kit.home._sync.device_name == "the blue one"
    settings(phone).take("device", None)
    assert phone.kit.home._sync.device_name == "phone"


@pytest.mark.parametrize(
    ("first", "end", "quiet"),
    [
        (22, 7, {22, 23, 0, 1, 2, 3, 4, 5, 6}),
        (17, 19, {17, 18}),
        (8, 8, set()),
        (None, 7, set()),
    ],
)
def test_quiet_hours_go_over_midnight(first, end, quiet):
    """From the first to the hour before the last."""
    kept = Hours(7, first, end)
    assert {hour for hour in range(24) if kept.quiet(hour)} == quiet


def test_alarms_ring_at_the_keepers_hour_and_never_in_quiet_hours(phone):
    """At 5; where that is quiet, when the quiet ends."""
    strips_in(phone)
    settings(phone).take(hours.MORNING, "5")
    assert {alarm.at.hour for alarm in about_strips(phone)} == {5}
    settings(phone).take(hours.QUIET_FROM, "22")
    settings(phone).take(hours.QUIET_TO, "8")
    assert {alarm.at.hour for alarm in about_strips(phone)} == {8}


def test_no_notification_comes_in_quiet_hours_and_none_is_lost(phone):
    """At 9 in the morning it would come; quiet from 22 to 7: at 23 none, at 7 it does."""
    strips_in(phone)
    phone.kit.reminders.check()
    settings(phone).take(hours.QUIET_FROM, "22")
    phone.shown.took.clear()
    phone.time.pass_(71 * 24 * HOUR + 14 * HOUR)
    assert phone.notebook.moment()[11:13] == "23"
    assert phone.kit.reminders.check() == 0
    assert phone.shown.took == []
    phone.time.pass_(8 * HOUR)
    assert phone.kit.reminders.check() > 0
    assert any("Amitraz strips" in title for title, _ in phone.shown.took)


def test_the_calendar_file_rings_at_the_same_hour(phone):
    """What another calendar shows obeys the same setting."""
    strips_in(phone)
    settings(phone).take(hours.MORNING, "5")
    phone.kit.papers._background = lambda work: work()
    phone.kit.papers.calendar()
    (file,) = phone.kit.papers.out.files
    text = file.read_text(encoding="utf-8")
    assert "TRIGGER:PT5H" in text
    assert "TRIGGER:PT7H" not in text
