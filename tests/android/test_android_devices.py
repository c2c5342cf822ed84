"""The devices of an Android phone, through pyjnius, on a Java machine with stubs for the system."""

from __future__ import annotations

LONDON = "-Duser.timezone=Europe/London"

ARM = """
from datetime import datetime
from fieldapp.device.alarms import Alarm
from fieldapp.device.android.reminders import AndroidAlarms, AndroidNotices, code
def alarm(name, day=14, hour=7, title="Strips out", text="Quarry Top, 6 hives"):
    return Alarm(name, datetime(2026, 6, day, hour), title, text)
def armed(): return {int(k): int(v) for k, v in
    (pair.split("=") for pair in phone.alarms.told().strip("{}").split(", ") if pair)}
def broadcast(receiver, action):
    intent = java("android.content.Intent")(action)
    java("org.apiaryrounds.rounds." + receiver)().onReceive(phone, intent)
def shown(): return [str(one) for one in phone.notifications.shown.toArray()]
system = AndroidAlarms()
"""
SEVEN_IN_LONDON = 1_781_416_800_000  # 2026-06-14T06:00Z, worked out with `date -d`
HOUR = 3_600_000


def test_an_alarm_is_armed_at_its_local_time_under_a_number_that_stays(phone):
    """The same reminder has the same number at every start, and is armed once."""
    told = phone(
        ARM
        + """
system.replace([alarm("one")]); first = armed()
system.replace([alarm("one")])
tell(first=list(first.items()), again=list(armed().items()), code=code("one"))
""",
        options=LONDON,
    )
    assert told["code"] == 0x7692C3AD  # `printf one | sha256sum`: Python's own hash is not the same
    assert told["first"] == [[told["code"], SEVEN_IN_LONDON]]
    assert told["again"] == told["first"]


def test_what_is_no_longer_due_is_disarmed(phone):
    """A round that was done rings no more; one whose day moved rings once, on its new day."""
    told = phone(
        ARM
        + """
system.replace([alarm("done"), alarm("moved")])
system.replace([alarm("moved", day=16)])
tell(armed=list(armed().items()), code=code("moved"))
""",
        options=LONDON,
    )
    assert told["armed"] == [[told["code"], SEVEN_IN_LONDON + 48 * HOUR]]


def test_only_the_next_few_dozen_are_armed(phone):
    """The nearest count: the system allows a program a few hundred."""
    told = phone(
        ARM
        + """
from datetime import timedelta
system.replace([alarm(str(n))._replace(at=datetime(2026, 6, 1) + timedelta(n)) for n in range(90)])
tell(number=len(armed()), nearest=code("0") in armed(), furthest=code("89") in armed())
"""
    )
    assert told == {"number": 48, "nearest": True, "furthest": False}


def test_a_reminder_rings_without_python_and_once(phone):
    """The alarm's receiver shows the words that were kept, and they are gone after that."""
    told = phone(
        ARM
        + """
system.replace([alarm("one", title="Strips\\tout", text="Quarry Top\\n6 hives: žluť"),
                alarm("two", day=15)])
phone.alarms.ring(phone, code("one"))
phone.alarms.ring(phone, code("one"))
broadcast("AlarmReceiver", "of nothing")
phone.alarms.armed.clear()
broadcast("RestoreReceiver", "android.intent.action.BOOT_COMPLETED")
tell(shown=shown(), one=code("one"), armed=list(armed()), two=code("two"))
"""
    )
    assert told["shown"] == [f"{told['one']}|Strips out|Quarry Top 6 hives: žluť"]
    assert told["armed"] == [told["two"]]


def test_reminders_are_armed_again_after_boot_update_and_change_of_zone(phone):
    """The system forgets alarms, and seven in the morning is another instant elsewhere."""
    told = phone(
        ARM
        + """
system.replace([alarm("one")])
seen = {}
for action in ("BOOT_COMPLETED", "MY_PACKAGE_REPLACED", "TIME_SET", "TIMEZONE_CHANGED", "OTHER"):
    phone.alarms.armed.clear()
    if action == "TIMEZONE_CHANGED":
        zone = java("java.util.TimeZone"); zone.setDefault(zone.getTimeZone("Europe/Vienna"))
    broadcast("RestoreReceiver", "android.intent.action." + action)
    seen[action] = list(armed().values())
tell(**seen)
""",
        options=LONDON,
    )
    for action in ("BOOT_COMPLETED", "MY_PACKAGE_REPLACED", "TIME_SET"):
        assert told[action] == [SEVEN_IN_LONDON], action
    assert told["TIMEZONE_CHANGED"] == [SEVEN_IN_LONDON - HOUR]
    assert told["OTHER"] == []


def test_a_notification_carries_its_words_or_says_that_none_is_wanted(phone):
    """A keeper who wants none is reminded again by the agenda: it was not shown."""
    told = phone(
        ARM
        + """
notices = AndroidNotices()
first = notices.show("Strips out", "Quarry Top, 6 hives")
phone.notifications.wanted = False
tell(first=first, second=notices.show("Supers on", "Bridge"), shown=shown())
"""
    )
    assert (told["first"], told["second"]) == (True, False)
    assert [one.split("|")[1:] for one in told["shown"]] == [["Strips out", "Quarry Top, 6 hives"]]


LOCATE = """
from android import permissions as keeper
from fieldapp.device.android.permissions import COARSE, FINE, Permissions
from fieldapp.device.android.position import AndroidPosition
Location = java("android.location.Location")
position = AndroidPosition(lambda: 100.0, Permissions(36))
fixes = []
def near(fix): return [fix.lat, fix.lon, fix.accuracy, round(fix.at, 1)]
"""


def test_single_and_batched_fixes_arrive_with_accuracy_and_age(phone):
    """Newer phones hand over several fixes at once; none is lost, none is called fresher."""
    told = phone(
        LOCATE
        + """
keeper.granted |= {FINE, COARSE}
position.start(fixes.append); before = position.state
phone.locations.one(Location(54.25, -2.5, 8.0, 0.0))
phone.locations.batch(Location(54.5, -2.5, 4.0, 30.0), Location(54.75, -2.5, -1.0, 5.0))
phone.locations.others()
tell(before=before, after=position.state, fixes=[near(fix) for fix in fixes],
     asked=list(phone.locations.asked.toArray()))
"""
    )
    assert (told["before"], told["after"]) == ("waiting", "there")
    assert told["asked"] == ["gps", "network"]
    assert told["fixes"] == [
        [54.25, -2.5, 8.0, 100.0],
        [54.5, -2.5, 4.0, 70.0],
        [54.75, -2.5, None, 95.0],
    ]


def test_the_last_known_place_comes_at_once_with_its_age(phone):
    """Who opens the app beside the hives has a fix from the way there."""
    told = phone(
        LOCATE
        + """
keeper.granted |= {FINE, COARSE}
phone.locations.last = Location(54.25, -2.5, 12.0, 40.0)
position.start(fixes.append)
tell(fixes=[near(fix) for fix in fixes])
"""
    )
    assert told["fixes"] == [[54.25, -2.5, 12.0, 60.0]]


def test_only_the_satellites_time_comes_along(phone):
    """Other providers may tell the time by the phone's own clock, and a made position by any."""
    told = phone(
        LOCATE
        + """
keeper.granted |= {FINE, COARSE}
position.start(fixes.append)
def found(provider, made=False):
    return Location(54.25, -2.5, 8.0, 0.0).by(provider, 1790000000123, made)
for one in (found("gps"), found("network"), found("fused"), found("gps", True)):
    phone.locations.one(one)
tell(times=[fix.utc_ms for fix in fixes])
"""
    )
    assert told["times"] == [1_790_000_000_123, None, None, None]


def test_a_clock_that_satellites_show_to_be_off_is_asked_about(phone, tmp_path):
    """From the receiver to the question: two hours slow, told by a fix of ten minutes ago."""
    told = phone(
        f"FOLDER = {str(tmp_path)!r}"
        + LOCATE
        + """
from dataclasses import replace
from pathlib import Path
from fieldapp.bootstrap import bootstrap, close
from fieldapp.device.devices import desktop_devices
from fieldapp.journal.record import Draft
from fieldapp.rounds.clock import Clock
from fieldapp.rounds.question import Questions
from fieldapp.rounds.setup import COUNTRIES, Setup
from fieldapp.words import Speech
NOW_MS = 1790000000000
kit = bootstrap(Path(FOLDER), main=lambda work: work(), zone="Europe/London",
    clock=Clock(lambda: NOW_MS * 1000, lambda: 1000.0),
    devices=replace(desktop_devices(), position=AndroidPosition(lambda: 1000.0, Permissions(36))))
setup = Setup(kit.notebook); setup.country = COUNTRIES[0]; setup.hives = 1; setup.finish()
keeper.granted |= {FINE, COARSE}
kit.locate()
TRUE = NOW_MS + 7200000 - 600000
def asked(): return [Speech()(each.phrase) for each in Questions(kit.notebook).all()]
phone.locations.one(Location(54.25, -2.5, 8.0, 600.0).by("network", TRUE, False))
before = asked()
phone.locations.one(Location(54.25, -2.5, 8.0, 600.0).by("gps", TRUE, False))
tell(before=before, after=asked())
close(kit)
"""
    )
    assert told["before"] == []
    [question] = told["after"]
    assert question.startswith("This phone's clock was 2 hours behind satellite time.")


def test_a_stopped_position_is_quiet(phone):
    """To save the battery the receivers are let go."""
    told = phone(
        LOCATE
        + """
keeper.granted |= {FINE, COARSE}
position.start(fixes.append); position.stop()
tell(state=position.state, listens=phone.locations.listener is not None)
"""
    )
    assert told == {"state": "off", "listens": False}


def test_the_keeper_is_asked_once_for_all_and_a_refusal_is_a_state(phone):
    """Positions, fine and coarse, and notifications in one question; no is no for this run."""
    told = phone(
        LOCATE
        + """
position.start(fixes.append); asking = position.state
keeper.answer()
for _ in range(3): position.stop(); position.start(fixes.append)
tell(asking=asking, after=position.state, asked=keeper.asked)
"""
    )
    assert (told["asking"], told["after"]) == ("waiting", "refused")
    assert told["asked"] == [
        [
            "android.permission.ACCESS_FINE_LOCATION",
            "android.permission.ACCESS_COARSE_LOCATION",
            "android.permission.POST_NOTIFICATIONS",
        ]
    ]


def test_a_rough_position_alone_is_taken(phone):
    """The keeper may allow only coarse: then gps refuses and the network's fixes come."""
    told = phone(
        LOCATE
        + """
phone.locations.refuses = "gps"
position.start(fixes.append); keeper.answer(COARSE)
tell(state=position.state, asked=list(phone.locations.asked.toArray()))
"""
    )
    assert told == {"state": "waiting", "asked": ["network"]}


def test_an_answer_while_the_program_is_aside_starts_nothing(phone):
    """The question itself puts it aside; its return starts the receivers."""
    told = phone(
        LOCATE
        + """
position.start(fixes.append); position.stop(); keeper.answer(FINE, COARSE)
aside = len(phone.locations.asked.toArray())
position.start(fixes.append)
tell(aside=aside, back=len(phone.locations.asked.toArray()), questions=len(keeper.asked))
"""
    )
    assert told == {"aside": 0, "back": 2, "questions": 1}


def test_a_receiver_that_is_switched_off_is_a_state(phone):
    """Logging goes on without a position."""
    told = phone(
        LOCATE
        + """
keeper.granted.add(FINE); phone.locations.switchOn("passive")
position.start(fixes.append)
tell(state=position.state)
"""
    )
    assert told == {"state": "refused"}


def test_an_older_phone_is_not_asked_for_notifications(phone):
    """The permission came with API level 33."""
    told = phone(
        """
from android import permissions as keeper
from fieldapp.device.android.java import sdk
from fieldapp.device.android.permissions import Permissions
Permissions(sdk()).ask(lambda: None)
tell(asked=keeper.asked[0])
""",
        sdk=32,
    )
    assert "android.permission.POST_NOTIFICATIONS" not in told["asked"]


def test_the_voice_speaks_in_order_and_newest_first_words_wait_for_it(phone):
    """It takes a moment to start; then each is queued after the one before, in its language."""
    told = phone(
        """
from fieldapp.device.android.voice import AndroidVoice
voice = AndroidVoice()
voice.speak("hive 1, done", "en"); voice.speak("hive 2, done", "en")
engine = java("android.speech.tts.TextToSpeech").latest
engine.start(0); voice.speak("hive 3, done", "en"); voice.speak("Beute 4, fertig", "de")
tell(said=[str(one) for one in engine.said.toArray()], there=voice.there)
"""
    )
    assert told == {
        "said": ["1 en hive 2, done", "1 en hive 3, done", "1 de Beute 4, fertig"],
        "there": True,
    }


def test_a_phone_without_a_voice_is_quiet(phone):
    """A voice that does not start is not asked again."""
    told = phone(
        """
from fieldapp.device.android.voice import AndroidVoice
voice = AndroidVoice(); voice.speak("hive 1, done", "en")
engine = java("android.speech.tts.TextToSpeech").latest
engine.start(-1); voice.speak("hive 2, done", "en")
tell(said=len(engine.said.toArray()), there=voice.there)
"""
    )
    assert told == {"said": 0, "there": False}


def test_the_volume_keys_come_while_they_are_asked_for_and_no_others(phone):
    """Down and up once however long one is held; then the system has them again; back it has."""
    told = phone(
        """
from fieldapp.device.android.volume import AndroidVolumeKeys
Event = java("android.view.KeyEvent")
started, keys, moved = java("org.apiaryrounds.rounds.RoundsActivity")(), AndroidVolumeKeys(), []
def press(code, held=0):
    taken = [started.dispatchKeyEvent(Event(0, code, n)) for n in range(held + 1)]
    return [*taken, started.dispatchKeyEvent(Event(1, code, 0))]
before = press(24)
keys.give_to(lambda key, down: moved.append([key, bool(down)]))
during = [press(24, held=2), press(25), press(4)]
keys.give_to(None)
after = press(25)
tell(before=before, during=during, after=after, moved=moved, left=list(started.left.toArray()))
"""
    )
    assert told["before"] == told["after"] == [False, False]
    assert told["during"] == [[True] * 4, [True] * 2, [False] * 2]
    assert told["moved"] == [[24, True], [24, False], [25, True], [25, False]]
    assert told["left"] == [24, 24, 4, 4, 25, 25]


SHARE = """
from datetime import date
from fieldapp.device.android.sharing import AndroidSharing
sharing = AndroidSharing()
def latest(): return phone.started.get(phone.started.size() - 1)
"""


def test_a_file_is_kept_in_downloads_and_offered(phone):
    """Its bytes are whole, its name is one file's, and the other program may read it."""
    told = phone(
        SHARE
        + """
where = sharing.share("Quarry Top/2026.csv", "text/csv", "Hive;7;ž\\n".encode())
sent = latest().chosen
tell(where=where, bytes=phone.resolver.writtenText(), values=phone.resolver.values.told(),
     action=sent.action, type=sent.type, flags=sent.flags, extras=sent.told())
"""
    )
    assert told["where"] == "Downloads/Quarry Top-2026.csv"
    assert told["bytes"] == "Hive;7;ž\n"
    assert told["values"] == "{_display_name=Quarry Top-2026.csv, mime_type=text/csv}"
    assert (told["action"], told["type"]) == ("android.intent.action.SEND", "text/csv")
    assert told["flags"] & 1
    assert "STREAM=content://media/external/downloads/7:Uri" in told["extras"]


def test_an_older_phone_is_offered_text_and_told_where_a_file_cannot_go(phone):
    """Before API level 29 a program without permissions has no place for files of others."""
    told = phone(
        SHARE
        + """
text = sharing.share("2026.csv", "text/csv", b"Hive;7")
tell(text=text, pdf=sharing.share("2026.pdf", "application/pdf", b"%PDF"),
     extras=latest().chosen.told())
""",
        sdk=28,
    )
    assert (told["text"], told["pdf"]) == ("2026.csv", "")
    assert "TEXT=Hive;7" in told["extras"]


def test_a_day_is_offered_to_the_calendar_as_a_whole_day(phone):
    """Calendars name all-day events by midnight UTC, in milliseconds that are a long."""
    told = phone(
        SHARE
        + """
taken = sharing.to_calendar("Strips out", "Quarry Top", date(2026, 6, 14))
intent = latest()
tell(taken=taken, action=intent.action, data=intent.data.toString(), extras=intent.told())
"""
    )
    assert told["taken"]
    assert told["action"] == "android.intent.action.INSERT"
    assert told["data"] == "content://com.android.calendar/events"
    assert "beginTime=1781395200000:Long" in told["extras"]
    assert "endTime=1781481600000:Long" in told["extras"]
    assert "allDay=true:Boolean" in told["extras"]


def test_a_phone_has_the_devices_of_a_phone(phone):
    """All are there; its zone and language are the system's; plyer's vibration works as it is."""
    told = phone(
        """
from fieldapp.device.devices import devices_here
from fieldapp.device.language import system_language
from fieldapp.device.zone import system_zone
devices = devices_here(lambda: 0.0)
devices.vibration.tap(); devices.vibration.undo()
tell(names=[type(getattr(devices, name)).__name__ for name in devices.__slots__],
     zone=system_zone(), language=system_language(), there=devices.vibration.there,
     shaken=[str(one) for one in phone.vibrator.shaken.toArray()])
""",
        options="-Duser.timezone=Europe/Vienna -Duser.language=de -Duser.country=AT",
    )
    assert told["names"] == [
        "AndroidPosition",
        "PlyerVibration",
        "AndroidVoice",
        "AndroidNotices",
        "AndroidAlarms",
        "AndroidSharing",
        "AndroidFinding",
        "AndroidCamera",
        "AndroidPicking",
        "AndroidVolumeKeys",
    ]
    assert (told["zone"], told["language"]) == ("Europe/Vienna", "de-AT")
    assert told["there"]
    assert told["shaken"] == ["once 60", "[0, 50, 100, 50] -1"]


FIND = """
from fieldapp.device.android.finding import AndroidFinding
Info = java("android.net.nsd.NsdServiceInfo")
def server(name, address, port, **txt):
    info = Info(name)
    if address: info.at(address, port)
    for key, value in txt.items(): info.says(key, value)
    phone.network.add(info)
def look(seconds, most):
    found = []
    looking = AndroidFinding().look(seconds)
    for one in looking:
        found.append(list(one))
        if len(found) == most: break
    looking.close()
    return found
def told_network(): return [str(one) for one in phone.network.told.toArray()]
"""


def test_servers_are_found_by_the_system_and_asked_one_after_the_other(phone):
    """Name, address, port and what their TXT records say; one that is gone again is left out."""
    told = phone(
        FIND
        + """
server("one", "192.168.1.20", 8463, pin="0123456789ABCDEF", protocols="1,2", flag="")
server("gone", "", 0)
server("two", "fd00::7", 8463)
tell(found=look(20, 2), network=told_network())
"""
    )
    assert told["found"] == [
        ["one", ["192.168.1.20:8463"], "0123456789ABCDEF", [1, 2]],
        ["two", ["[fd00:0:0:0:0:0:0:7]:8463"], "", []],
    ]
    assert told["network"] == [
        "discover _apiary-rounds._tcp 1",
        "resolve one",
        "resolve gone",
        "resolve two",
        "stop",
    ]


def test_a_system_that_does_not_listen_finds_nobody(phone):
    """Refused, or without the service: an empty answer, after the time that was given."""
    told = phone(
        FIND
        + """
phone.network.refuse()
refused = look(0.5, 1)
tell(refused=refused, network=told_network())
"""
    )
    assert told == {"refused": [], "network": ["discover _apiary-rounds._tcp 1"]}


def test_looking_leaves_no_thread_in_java(phone):
    """A thread of Python's that ends while the Java machine knows it would end the program."""
    told = phone(
        FIND
        + """
import threading
server("one", "192.168.1.20", 8463)
found, looked, over = [], threading.Event(), threading.Event()
def work():
    found.extend(look(20, 1)); looked.set(); over.wait(20)
thread = threading.Thread(target=work)
thread.start(); looked.wait(20)
threads = java("java.lang.Thread").getAllStackTraces().keySet().toArray()
over.set(); thread.join()
tell(found=len(found), names=[str(each.getName()) for each in threads])
"""
    )
    assert told["found"] == 1
    # One of Python's that has not left has a name that Java gave it, as the stub's own, which
    # have ended by then.
    assert sum(name.startswith("Thread-") for name in told["names"]) == 0
