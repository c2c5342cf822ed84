"""Photos beside records, by touch: what was taken is seen on the page, in its colours."""

from __future__ import annotations

import time

from cameras import BLUE, RED, Camera, photo
from kivy.core.window import Window
from PIL import Image

from fieldapp.screens.picture import Picture


def until(app, condition, seconds=20):
    end = time.monotonic() + seconds
    while not condition():
        assert time.monotonic() < end, app.hand.texts()
        app.hand.frames(1)


def pictures(app) -> list[Picture]:
    return [widget for widget in app.hand.widgets() if isinstance(widget, Picture)]


def colours(app, file) -> list[tuple[int, int, int]]:
    """Return the colours of a picture's upper and lower quarter, from the window's pixels."""
    [shown] = pictures(app)
    image = Image.open(app.hand.shot(file)).convert("RGB")
    x, y = shown.to_window(*shown.pos)
    face = shown.drawn
    across = round(x + face[0] / 2)
    return [
        image.getpixel((across, round(Window.height - y - face[1] * part))) for part in (0.75, 0.25)
    ]


def near(pixel, colour) -> bool:
    return all(abs(one - other) < 20 for one, other in zip(pixel, colour, strict=True))


def to_hive(app, number="1"):
    app.hand.find("Hives")
    app.hand.tap("Hives")
    app.hand.tap("Ferry Lane")
    app.hand.tap(number, exactly=True)


def day_after(app):
    to_hive(app)
    app.hand.find("The day after")
    app.hand.tap("The day after")


def take(app):
    app.hand.find("Photos")
    app.hand.tap("Photos")
    app.hand.tap("Take a photo")


def test_many_dead_a_photo_is_taken_with_the_answers_and_seen_beside_them(open_app, tmp_path):
    """The day after: asked for, taken, saved, and seen again in the hive's history."""
    app = open_app(camera=Camera(photo()))
    app.set_up("Ferry Lane", 2)
    day_after(app)
    app.hand.find("entrance")
    app.hand.tap("entrance")
    app.hand.find("over 500")
    app.hand.tap("over 500")
    take(app)
    until(app, lambda: pictures(app))
    assert app.hand.reads("not saved yet")
    upper, lower = colours(app, tmp_path / "waiting.png")
    assert near(upper, RED)
    assert near(lower, BLUE)
    app.hand.tap("Back")
    assert "photo" not in app.kinds()
    app.hand.find("Photos")
    assert "1 photo" in app.hand.meant(app.hand.key("Photos"))
    app.hand.tap("Save")
    [seen] = [each for each in app.records if each.kind == "day_after"]
    [annex] = [each for each in app.records if each.kind == "photo"]
    assert annex.adds_to == seen.id
    app.hand.find("History")
    app.hand.tap("History")
    app.hand.find("1 photo")
    app.hand.tap("1 photo")
    until(app, lambda: pictures(app))
    upper, lower = colours(app, tmp_path / "beside.png")
    assert near(upper, RED)
    assert near(lower, BLUE)


def record(app):
    """Write a look by touch, and open its record."""
    to_hive(app)
    app.hand.tap("Look inside")
    app.hand.find("Eggs")
    app.hand.tap("Eggs")
    app.hand.tap("yes", exactly=True)
    app.hand.tap("Save")
    app.hand.find("History")
    app.hand.tap("History")
    app.hand.tap("Look inside")
    app.hand.find("Photos")
    app.hand.tap("Photos")


def test_a_photo_is_added_to_a_record_that_stands(open_app):
    """It is an annex: nothing is put right."""
    app = open_app(camera=Camera(photo()))
    app.set_up("Ferry Lane", 1)
    record(app)
    app.hand.tap("Take a photo")
    until(app, lambda: pictures(app))
    [annex] = [each for each in app.records if each.kind == "photo"]
    app.hand.find("Back")
    app.hand.tap("Back")
    assert not any("Corrected" in text for text in app.hand.all_pages())
    assert (app.folder / "annexes" / annex.body["sha256"]).is_file()


def test_a_photo_beside_a_record_is_taken_back_by_touch(open_app):
    """Asked once more with the photo in sight; its file is gone, that it stood there is told."""
    app = open_app(camera=Camera(photo()))
    app.set_up("Ferry Lane", 1)
    record(app)
    app.hand.tap("Take a photo")
    until(app, lambda: pictures(app))
    [file] = (app.folder / "annexes").iterdir()
    app.hand.find("Take this photo back")
    app.hand.tap("Take this photo back")
    assert app.page == "photo back"
    assert pictures(app)
    app.hand.tap("Back")
    assert file.exists()
    app.hand.find("Take this photo back")
    app.hand.tap("Take this photo back")
    app.hand.tap("Take back")
    assert not pictures(app)
    until(app, lambda: not file.exists())
    assert [each.void for each in app.records if each.kind == "photo"] == [False, True]
    app.hand.find("Back")
    app.hand.tap("Back")
    assert "Photo of 1 Jul 2026: taken back" in app.hand.all_pages()


def test_a_photo_that_waits_is_left_out_by_touch(open_app):
    """Nothing was saved of it: nothing is written, and its file is gone."""
    app = open_app(camera=Camera(photo()))
    app.set_up("Ferry Lane", 1)
    day_after(app)
    take(app)
    until(app, lambda: pictures(app))
    app.hand.find("Take this photo back")
    app.hand.tap("Take this photo back")
    app.hand.tap("Take back")
    until(app, lambda: list((app.folder / "annexes").iterdir()) == [])
    app.hand.find("Back")
    app.hand.tap("Back")
    app.hand.find("Photos")
    assert "none yet" in app.hand.meant(app.hand.key("Photos"))
    assert "photo" not in app.kinds()


def bought(app):
    """Write a purchase down, with its proof as a photo, by touch."""
    app.hand.find("Home")
    app.hand.tap("Home")
    app.hand.find("Stock")
    app.hand.tap("Stock")
    app.hand.tap("Write a purchase down")
    app.hand.find("Product")
    app.hand.tap("Product")
    app.hand.tap_entry()
    app.hand.type("Strips")
    app.hand.tap("Take this")
    app.hand.find("Kept in")
    app.hand.tap("Kept in")
    app.hand.find("strip")
    app.hand.tap("strip", exactly=True)
    app.hand.find("How much")
    app.hand.tap("How much")
    app.hand.tap("1", exactly=True)
    app.hand.tap("Take this")
    take(app)
    until(app, lambda: pictures(app))
    app.hand.find("Back")
    app.hand.tap("Back")
    app.hand.tap("Write it down")


def test_the_proof_of_a_purchase_is_a_photo_and_seen_at_its_lot(open_app):
    """Taken with the other answers of the form; another is added to the lot that stands."""
    app = open_app(camera=Camera(photo()))
    app.set_up("Ferry Lane", 1)
    bought(app)
    [purchase] = [each for each in app.records if each.kind == "bought"]
    app.hand.tap("Strips")
    app.hand.find("Proof as a photo")
    assert "1 photo" in app.hand.meant(app.hand.key("Proof as a photo"))
    app.hand.tap("Proof as a photo")
    assert pictures(app)
    app.kit.photos.camera.raw = photo((200, 200))
    app.hand.tap("Take a photo")
    until(app, lambda: app.kinds().count("photo") == 2)
    annexes = [each for each in app.records if each.kind == "photo"]
    assert [each.adds_to for each in annexes] == [purchase.id] * 2


def test_a_camera_left_without_a_photo_is_said_and_nothing_is_written(open_app):
    """It is a state: the page stays, the next tap opens the camera again."""
    app = open_app(camera=Camera(None))
    app.set_up("Ferry Lane", 1)
    record(app)
    app.hand.tap("Take a photo")
    until(app, lambda: app.hand.reads("No photo was taken"))
    assert app.hand.has_key("Take a photo")
    assert "photo" not in app.kinds()


def test_without_a_camera_it_is_said_and_a_picture_of_the_folder_is_taken(keeper):
    """A computer: no key that opens nothing, and the way that there is."""
    record(keeper)
    assert keeper.hand.reads("no camera that this program can open")
    assert keeper.hand.reads("phone/files")
    assert not keeper.hand.has_key("Take a photo")
    keeper.hand.tap("Back")
    (keeper.folder / "files").mkdir()
    (keeper.folder / "files" / "hive 1.jpg").write_bytes(photo())
    (keeper.folder / "files" / "hive 2.jpg").write_bytes(b"no photo")
    keeper.hand.find("Photos")
    keeper.hand.tap("Photos")
    keeper.hand.tap("Take hive 2.jpg")
    until(keeper, lambda: keeper.hand.reads("no photo that can be read"))
    keeper.hand.tap("Take hive 1.jpg")
    until(keeper, lambda: pictures(keeper))
    assert keeper.kinds().count("photo") == 1


def test_a_photo_whose_file_is_not_here_is_told_where_it_would_stand(open_app):
    """Its record came with a sync."""
    app = open_app(camera=Camera(photo()))
    app.set_up("Ferry Lane", 1)
    record(app)
    app.hand.tap("Take a photo")
    until(app, lambda: pictures(app))
    [file] = (app.folder / "annexes").iterdir()
    file.unlink()
    app.hand.find("Back")
    app.hand.tap("Back")
    assert any("it is not on this device" in text for text in app.hand.all_pages())
