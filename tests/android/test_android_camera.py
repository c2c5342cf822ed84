"""Camera and choice of files through pyjnius, on a Java machine with stubs for the system."""

from __future__ import annotations

PHOTOS = """
import threading
from fieldapp.device.android.camera import AndroidCamera
from fieldapp.device.android.results import Results
results = Results()
camera = AndroidCamera(results)
NAME = "019fb7b3-0000-7000-8000-000000000001"
left = []
def latest(): return phone.started.get(phone.started.size() - 1)
def end(code, intent=None):
    # As on a phone: the answer comes on a thread of the system's.
    asked = phone.requests.get(phone.requests.size() - 1)
    thread = threading.Thread(target=phone.result, args=(asked, code, intent))
    thread.start(); thread.join()
def writes(name, data, mode="w"):
    provider = java("org.apiaryrounds.rounds.PhotoProvider")()
    uri = java("android.net.Uri").parse("content://org.apiaryrounds.rounds.photos/" + name)
    provider.openFile(uri, mode).write(data)
"""
OK, CANCELLED = -1, 0


def files(folder) -> str:
    return f"-Dstub.files={folder}"


def test_the_camera_writes_into_a_file_of_this_program_and_nowhere_else(phone, tmp_path):
    """The intent grants the camera program one address; what it writes there is the photo."""
    told = phone(
        PHOTOS
        + """
camera.take(NAME, left.append)
intent = latest()
writes(NAME, b"a photo"); end(-1)
tell(there=camera.there, left=left, action=intent.action, flags=intent.flags,
     clip=intent.clip.uri.toString(), extras=intent.told(), taken=camera.taken(NAME).decode())
""",
        options=files(tmp_path),
    )
    name = "019fb7b3-0000-7000-8000-000000000001"
    assert told["there"] is True
    assert told["left"] == ["taken"]
    assert told["action"] == "android.media.action.IMAGE_CAPTURE"
    assert told["flags"] & 3 == 3  # reading and writing, granted for this one address
    assert told["clip"] == f"content://org.apiaryrounds.rounds.photos/{name}"
    assert told["extras"] == f"output={told['clip']}:Uri\n"
    assert told["taken"] == "a photo"
    assert [path.name for path in (tmp_path / "camera").iterdir()] == [name]


def test_a_camera_left_without_a_photo_is_a_state_and_its_file_can_go(phone, tmp_path):
    """Cancelled, and nothing written: None, not an empty photo."""
    told = phone(
        PHOTOS
        + """
camera.take(NAME, left.append); end(0)
before = camera.taken(NAME); camera.drop(NAME); camera.drop(NAME)
tell(left=left, before=before, after=camera.taken(NAME))
""",
        options=files(tmp_path),
    )
    assert told == {"left": ["cancelled"], "before": None, "after": None}
    assert list((tmp_path / "camera").iterdir()) == []


def test_a_phone_without_a_camera_or_its_program_says_so(phone, tmp_path):
    """Nothing is raised; who asked is told, and the next answer is not taken for this one."""
    told = phone(
        PHOTOS
        + """
phone.answered = False
camera.take(NAME, left.append)
waiting = len(results._waiting)
phone.answered = True
camera.take(NAME, left.append); end(-1)
java("android.content.pm.PackageManager").camera = False
tell(left=left, there=camera.there, waiting=waiting)
""",
        options=files(tmp_path),
    )
    assert told == {"left": ["none", "taken"], "there": False, "waiting": 0}


def test_each_answer_goes_to_who_asked_and_a_strangers_to_nobody(phone, tmp_path):
    """Two requests answered out of order, one that is not ours, and one answered twice."""
    told = phone(
        PHOTOS
        + """
camera.take("1", lambda how: left.append("one " + how))
camera.take("2", lambda how: left.append("two " + how))
first, second = list(phone.requests.toArray())
phone.result(second, -1, None); phone.result(1, -1, None)
phone.result(first, 0, None); phone.result(first, -1, None)
tell(left=left)
""",
        options=files(tmp_path),
    )
    assert told == {"left": ["two taken", "one cancelled"]}


def test_the_provider_serves_photos_that_were_asked_for_and_no_other_file(phone, tmp_path):
    """Whoever has an address of it gets neither the records nor a file of his own making."""
    (tmp_path / "journal.db").write_bytes(b"records")
    told = phone(
        PHOTOS
        + """
camera.take(NAME, left.append)
refused = []
for name in ("..%2fjournal.db", "..", "", "journal.db", "0123"):
    try: writes(name, b"x")
    except Exception as error: refused.append(name)
tell(refused=refused)
""",
        options=files(tmp_path),
    )
    assert told["refused"] == ["..%2fjournal.db", "..", "", "journal.db", "0123"]
    assert (tmp_path / "journal.db").read_bytes() == b"records"
    assert len(list((tmp_path / "camera").iterdir())) == 1


PICK = (
    PHOTOS
    + """
import os
from pathlib import Path
from fieldapp.device.android.picking import AndroidPicking
picking = AndroidPicking(Results())
folder = Path(os.environ["STUB_OPTIONS"].partition("=")[2]) / "picked"
found, done = [], threading.Event()
def picked(what):
    found.append(str(what)); done.set()
def given():
    intent = java("android.content.Intent")("")
    intent.setData(java("android.net.Uri").parse("content://stick/backup/7"))
    return intent
"""
)


def test_a_picked_file_is_copied_whole_under_its_own_name(phone, tmp_path):
    """Larger than one piece, so that it is copied in several."""
    told = phone(
        PICK
        + """
phone.resolver.offer("../backup 2026-06-14.zip", bytes(range(256)) * 1000)
opened = picking.pick(("application/zip", "image/png"), folder, picked)
intent = latest(); end(-1, given()); done.wait(20)
tell(opened=opened, found=found, action=intent.action, category=intent.category,
     type=intent.type, extras=intent.told())
""",
        options=files(tmp_path),
    )
    [copy] = (tmp_path / "picked").iterdir()
    assert told["opened"] is True
    assert told["found"] == [str(copy)]
    assert copy.name == "-backup 2026-06-14.zip"
    assert copy.read_bytes() == bytes(range(256)) * 1000
    assert told["action"] == "android.intent.action.OPEN_DOCUMENT"
    assert told["category"] == "android.intent.category.OPENABLE"
    assert told["type"] == "*/*"
    assert "MIME_TYPES=application/zip|image/png" in told["extras"]


def test_nothing_picked_a_file_that_breaks_off_and_no_choice_are_states(phone, tmp_path):
    """Each is told apart: the keeper left it, the stick was pulled out, the phone has none."""
    told = phone(
        PICK
        + """
picking.pick(("*/*",), folder, picked); end(0)
picking.pick(("*/*",), folder, picked); end(-1, None)
done.clear(); picking.pick(("*/*",), folder, picked); end(-1, given()); done.wait(20)
phone.resolver.offer(None, b"half"); phone.resolver.breaks = True
done.clear(); picking.pick(("*/*",), folder, picked); end(-1, given()); done.wait(20)
type = latest().type
phone.answered = False
tell(found=found, type=type, opened=picking.pick(("*/*",), folder, picked))
""",
        options=files(tmp_path),
    )
    assert told["found"] == ["nothing", "nothing", "unread", "unread"]
    assert told["type"] == "*/*"
    assert told["opened"] is False
