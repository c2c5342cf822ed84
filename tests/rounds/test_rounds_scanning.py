"""A pairing code read from a photo, without a window: what is tried, told and dropped."""

from __future__ import annotations

import io

import pytest
import segno

from fieldapp.wire import invitation
from fieldapp.words import Speech

say = Speech()
FINGERPRINT = "5e" * 32
LINK = invitation.link("192.0.2.7:8443", invitation.code("ABC1234", FINGERPRINT), FINGERPRINT)


def picture(words: str) -> bytes:
    made = io.BytesIO()
    segno.make(words, micro=False).save(made, kind="png", scale=6)
    return made.getvalue()


class Camera:
    """A camera that is left when the test says so."""

    there = True

    def __init__(self) -> None:
        self.wrote: dict[str, bytes] = {}

    def take(self, name, left) -> None:
        self.name, self.left = name, left

    def press(self, raw: bytes) -> None:
        self.wrote[self.name] = raw
        self.left("taken")

    def taken(self, name):
        return self.wrote.get(name)

    def drop(self, name) -> None:
        self.wrote.pop(name, None)


@pytest.fixture
def scan(phone, monkeypatch):
    """The scan of a phone whose home notes with what it is asked to pair."""
    scan = phone.kit.scan
    scan._background = lambda work: work()
    scan.photos.camera = Camera()
    scan.asked = []
    monkeypatch.setattr(phone.kit.home, "pair", lambda *given: scan.asked.append(given))
    return scan


def test_a_code_is_handed_on_with_its_address_and_the_photo_goes(scan):
    """The address stands in the code: none is asked for."""
    scan.take()
    assert not scan.found
    scan.photos.camera.press(picture(LINK))
    assert scan.found
    assert scan.asked == [(LINK, ())]
    assert scan.photos.camera.wrote == {}


def test_a_code_of_something_else_pairs_with_nothing(scan):
    """A web address, or a code of ours with a sign misprinted."""
    for words in ("https://example.org/", LINK.replace("ABC1", "ABC2")):
        scan.take()
        scan.photos.camera.press(picture(words))
        assert "not one that a server of this program shows" in say(scan.told)
    assert scan.asked == []
    assert scan.photos.camera.wrote == {}


def test_what_an_earlier_run_left_of_a_photo_is_dropped_at_the_next(phone, scan):
    """The system ended the program while the camera was open: nobody heard of that photo."""
    scan.take()
    scan.photos.camera.wrote[scan.photos.camera.name] = picture(LINK)
    scan.take()
    assert scan.photos.camera.wrote == {}
    scan.photos.camera.left("cancelled")
    assert say(scan.told) == "No photo was taken."
    assert phone.notebook.local.get("code photo") is None


def test_a_picture_of_the_folder_is_read_and_one_that_is_none_told(scan, tmp_path):
    """What cannot be opened is no code; nothing is raised."""
    file = tmp_path / "code.png"
    scan.choose(file)
    assert "No code could be read" in say(scan.told)
    file.write_bytes(b"no picture")
    scan.choose(file)
    assert "No code could be read" in say(scan.told)
    file.write_bytes(picture(LINK))
    scan.choose(file)
    assert scan.asked == [(LINK, ())]
    assert scan.told is None
