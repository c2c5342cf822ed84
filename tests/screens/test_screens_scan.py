"""Pairing by a photo of what a real server printed in its terminal, by touch."""

from __future__ import annotations

import io
import time

import pytest
import segno
from cameras import Camera
from PIL import Image
from server_process import running
from terminal_picture import drawn


def jpeg(image: Image.Image) -> bytes:
    made = io.BytesIO()
    image.convert("RGB").save(made, "JPEG", quality=80)
    return made.getvalue()


@pytest.fixture
def server(tmp_path):
    with running(tmp_path / "server") as process:
        yield process


def until(app, condition, seconds=30):
    end = time.monotonic() + seconds
    while not condition():
        assert time.monotonic() < end, app.hand.texts()
        app.hand.frames(1)


def wait_for(app, words):
    until(app, lambda: app.hand.reads(words))


def to_pairing(app):
    app.hand.find("Home")
    app.hand.tap("Home")
    app.hand.find("Pair with a server")
    app.hand.tap("Pair with a server")
    until(app, lambda: not app.kit.home.listening)


def test_a_photo_of_the_servers_terminal_pairs_without_a_letter_typed(open_app, server):
    """Turned by 20 degrees, as one holds a phone; the photo is not kept."""
    seen = drawn(server.said).rotate(20, expand=True, fillcolor=60, resample=Image.BICUBIC)
    camera = Camera(jpeg(seen))
    app = open_app(camera=camera)
    app.set_up("Ferry Lane", 1)
    to_pairing(app)
    app.hand.tap("Scan the code")
    wait_for(app, "Paired with")
    assert app.page == "home"
    app.hand.find("Sync now")
    app.hand.tap("Sync now")
    wait_for(app, "Both sides hold the same")
    assert camera.wrote == {}
    assert "photo" not in app.kinds()


def test_what_holds_no_code_or_another_one_is_said_and_can_be_tried_again(open_app, server):
    """Each tap takes a new photo; typing stays possible."""
    camera = Camera(None)
    app = open_app(camera=camera)
    app.set_up("Ferry Lane", 1)
    to_pairing(app)
    app.hand.tap("Scan the code")
    wait_for(app, "No photo was taken")
    camera.raw = jpeg(Image.new("L", (800, 600), 170))
    app.hand.tap("Scan the code")
    wait_for(app, "No code could be read")
    other = io.BytesIO()
    segno.make("https://example.org/", micro=False).save(other, kind="png", scale=8)
    camera.raw = other.getvalue()
    app.hand.tap("Scan the code")
    wait_for(app, "not one that a server of this program shows")
    app.hand.find("Type the address")
    camera.raw = jpeg(drawn(server.said))
    app.hand.find("Scan the code")
    app.hand.tap("Scan the code")
    wait_for(app, "Paired with")


def test_a_computer_reads_the_code_in_a_picture_of_its_folder(keeper, server):
    """It has no camera for this program."""
    (keeper.folder / "files").mkdir()
    (keeper.folder / "files" / "terminal.jpg").write_bytes(jpeg(drawn(server.said)))
    to_pairing(keeper)
    assert not keeper.hand.has_key("Scan the code")
    keeper.hand.tap("Read the code in terminal.jpg")
    wait_for(keeper, "Paired with")
