"""Photos beside records: taken with the device's camera or picked, with real image files."""

from __future__ import annotations

import io

import pytest
from PIL import Image

from fieldapp.bootstrap import close
from fieldapp.journal.errors import Full
from fieldapp.rounds.buying import Purchase
from fieldapp.rounds.hive_history import history
from fieldapp.rounds.hive_record import RecordView
from fieldapp.rounds.look_after import DayAfter
from fieldapp.rounds.look_inside import LookInside
from fieldapp.rounds.photo_file import NoPhoto, as_kept
from fieldapp.rounds.photos import PhotoPlace
from fieldapp.words import Speech

say = Speech()
RED, BLUE = (200, 30, 30), (30, 30, 200)
#: Tags of Exif 2.32: orientation, and the pointer to the block of the position.
ORIENTATION, POSITION = 0x0112, 0x8825


def photo(size=(400, 300), form="JPEG", **exif) -> bytes:
    """A photo whose upper half is red and whose lower half is blue, with what cameras add."""
    image = Image.new("RGB", size, BLUE)
    image.paste(RED, (0, 0, size[0], size[1] // 2))
    tags = image.getexif()
    tags[ORIENTATION] = exif.get("orientation", 1)
    tags.get_ifd(POSITION)[2] = (54.0, 12.0, 30.0)
    tags[0x010F] = "Maker of cameras"
    made = io.BytesIO()
    image.save(made, form, exif=tags)
    return made.getvalue()


def near(pixel, colour) -> bool:
    return all(abs(one - other) < 20 for one, other in zip(pixel, colour, strict=True))


class Camera:
    """A camera whose shutter the test presses; what it wrote stays until it is dropped."""

    there = True

    def __init__(self) -> None:
        self.wrote: dict[str, bytes] = {}
        self.open: list = []

    def take(self, name, left) -> None:
        self.open.append((name, left))

    def press(self, raw: bytes) -> None:
        """Take a photo, and have the system end the program before it hears of it."""
        self.wrote[self.open[-1][0]] = raw

    def leave(self, how="taken") -> None:
        self.open.pop()[1](how)

    def taken(self, name):
        return self.wrote.get(name)

    def drop(self, name) -> None:
        self.wrote.pop(name, None)


@pytest.fixture
def camera(phone):
    phone.set_up(2)
    return held(phone, Camera())


@pytest.fixture
def look(phone, camera):
    hive = phone.hives()[0]
    return phone.write("look", {"eggs": "yes"}, hive=hive)


def held(phone, camera):
    """Give a phone the camera, and no threads: what it keeps is kept when it returns."""
    phone.kit.photos.camera = camera
    phone.kit.photos._background = lambda work: work()
    return camera


def shoot(phone, camera, beside, raw=None) -> None:
    phone.kit.photos.take(beside)
    camera.press(raw or photo())
    camera.leave()


def test_a_photo_is_an_annex_with_its_digest_type_and_size(phone, camera, look):
    """The record that it adds to stays as it is; what the camera wrote is gone."""
    shoot(phone, camera, PhotoPlace(root=look.id))
    [annex] = phone.records("photo")
    [shown] = phone.kit.photos.beside(PhotoPlace(root=look.id))
    assert (annex.adds_to, annex.hive, annex.corrects) == (look.id, look.hive, None)
    assert annex.body == {
        "sha256": shown.digest,
        "type": "image/jpeg",
        "size": len(shown.data),
    }
    assert say(shown.words) == "Photo, 1 Jul 2026"
    assert camera.wrote == {}
    assert phone.book.entry(look.id).corrections == ()
    assert say(history(phone.notebook, look.hive)[0].told.words).endswith("1 photo")


def test_what_is_kept_is_small_upright_and_bare():
    """A photo of 12 million pixels on its side, with a position, as a phone's camera writes it."""
    kept = as_kept(photo((4000, 3000), orientation=6))
    with Image.open(io.BytesIO(kept)) as image:
        assert image.format == "JPEG"
        assert image.size == (1500, 2000)
        assert dict(image.getexif()) == {}
        # Orientation 6: the right side of the scene is at the top of what is stored.
        assert near(image.getpixel((1400, 1000)), RED)
        assert near(image.getpixel((100, 1000)), BLUE)
    assert b"Maker" not in kept
    assert len(kept) < 100_000


@pytest.mark.parametrize("form", ["JPEG", "PNG", "WEBP"])
def test_a_small_picture_keeps_its_pixels_in_any_form_that_is_read(form):
    """Nothing is made larger than it was."""
    with Image.open(io.BytesIO(as_kept(photo((90, 60), form)))) as image:
        assert image.size == (90, 60)
        assert near(image.getpixel((45, 10)), RED)


def test_a_picture_with_holes_is_kept_on_white():
    """Black letters on a ground that is not there would be black on black."""
    made = io.BytesIO()
    Image.new("RGBA", (20, 20), (0, 0, 0, 0)).save(made, "PNG")
    with Image.open(io.BytesIO(as_kept(made.getvalue()))) as image:
        assert near(image.getpixel((10, 10)), (255, 255, 255))


@pytest.mark.parametrize("raw", [b"", b"%PDF-1.7", photo()[:300], b"\xff\xd8\xff" * 50])
def test_what_is_no_photo_is_refused_in_words(raw):
    """An invoice as PDF, half a file, nothing."""
    with pytest.raises(NoPhoto, match="no photo that can be read"):
        as_kept(raw)


def test_a_camera_left_without_a_photo_or_not_opened_is_a_state(phone, camera, look):
    """Nothing is written, and the next photo can be taken."""
    photos = phone.kit.photos
    photos.take(PhotoPlace(root=look.id))
    camera.leave("cancelled")
    assert say(photos.told) == "No photo was taken."
    photos.take(PhotoPlace(root=look.id))
    camera.leave("none")
    assert say(photos.told) == "The camera did not open. Nothing was lost."
    assert phone.records("photo") == []
    shoot(phone, camera, PhotoPlace(root=look.id))
    assert len(phone.records("photo")) == 1


def test_a_photo_taken_while_the_system_ended_the_program_is_found_at_the_next_start(
    phone, camera, look
):
    """Nobody called back: what was wanted stands on the phone, and what the camera wrote too."""
    phone.kit.photos.take(PhotoPlace(root=look.id))
    camera.press(photo())
    folder = phone.kit.photos.folder.parent
    close(phone.kit)
    phone.__init__(folder)
    held(phone, camera)
    phone.kit.photos.go_on()
    phone.kit.photos.go_on()
    assert [each.adds_to for each in phone.records("photo")] == [look.id]
    assert camera.wrote == {}


def test_coming_back_and_the_cameras_own_word_keep_a_photo_once(phone, camera, look):
    """The system says that the program is in front again before the camera says that it is done."""
    photos = phone.kit.photos
    photos.take(PhotoPlace(root=look.id))
    camera.press(photo())
    photos.go_on()
    camera.leave()
    assert len(phone.records("photo")) == 1


def test_a_full_disk_loses_no_photo(phone, camera, look, monkeypatch):
    """It is said; what the camera wrote stays, and is kept when there is room."""
    photos = phone.kit.photos

    def full(_data):
        raise Full

    with monkeypatch.context() as broken:
        broken.setattr(photos._files, "put", full)
        shoot(phone, camera, PhotoPlace(root=look.id))
        assert "no room left" in say(photos.told)
        assert phone.records("photo") == []
    photos.go_on()
    assert len(phone.records("photo")) == 1


def test_a_file_that_is_no_photo_is_said_and_asked_for_no_more(phone, camera, look):
    """A camera program that writes something else would else be asked at every start."""
    shoot(phone, camera, PhotoPlace(root=look.id), b"no photo")
    assert "no photo that can be read" in say(phone.kit.photos.told)
    assert camera.wrote == {}
    phone.kit.photos.go_on()
    assert phone.kit.photos.busy is None


def test_the_same_photo_stands_beside_a_record_once(phone, camera, look):
    """Chosen twice in the folder, or kept again after a start."""
    for _ in range(2):
        shoot(phone, camera, PhotoPlace(root=look.id))
    assert len(phone.records("photo")) == 1


def test_photos_wait_with_a_form_and_go_along_when_it_is_saved(phone, camera):
    """The day after, many dead: the photo is taken before the answers are saved."""
    hive = phone.hives()[0]
    form = DayAfter(phone.notebook, hive)
    assert not form.ready
    shoot(phone, camera, PhotoPlace(form=form.kept_as))
    shoot(phone, camera, PhotoPlace(form=form.kept_as), photo((50, 50)))
    assert phone.records("photo") == []
    assert DayAfter(phone.notebook, hive).ready
    form = DayAfter(phone.notebook, hive)
    form.take("board", "over 500")
    form.save()
    [seen] = phone.records("day_after")
    assert [each.adds_to for each in phone.records("photo")] == [seen.id] * 2
    assert seen.body == {"board": "over 500"}
    assert form.photos == []


def test_a_photo_left_out_of_a_form_is_not_saved(phone, camera):
    """Taken by mistake."""
    form = LookInside(phone.notebook, phone.hives()[0])
    beside = PhotoPlace(form=form.kept_as)
    shoot(phone, camera, beside)
    shoot(phone, camera, beside, photo((50, 50)))
    [first, second] = phone.kit.photos.beside(beside)
    phone.kit.photos.take_back(beside, second.digest)
    assert list(phone.kit.photos._files.digests()) == [first.digest], "nothing names the second"
    form.save()
    [look] = phone.records("look")
    [annex] = phone.records("photo")
    assert annex.adds_to == look.id
    [shown] = phone.kit.photos.beside(PhotoPlace(root=look.id))
    with Image.open(io.BytesIO(shown.data)) as image:
        assert image.size == (400, 300)


def test_a_photo_beside_a_record_is_taken_back_and_its_file_is_gone(phone, camera, look):
    """The record that it stood there stays, voided; the look stands as it was, the day is told."""
    beside = PhotoPlace(root=look.id)
    shoot(phone, camera, beside)
    shoot(phone, camera, beside, photo((50, 50)))
    [first, second] = phone.kit.photos.beside(beside)
    phone.kit.photos.take_back(beside, first.digest)
    assert [each.digest for each in phone.kit.photos.beside(beside)] == [second.digest]
    assert list(phone.kit.photos._files.digests()) == [second.digest]
    [void] = [each for each in phone.records("photo") if each.corrects]
    assert (void.void, void.adds_to, void.body["sha256"]) == (True, look.id, first.digest)
    assert say(history(phone.notebook, look.hive)[0].told.words).endswith("1 photo")
    view = RecordView(phone.notebook, look.hive, look.id)
    assert [say(each) for each in view.photos_taken_back()] == ["Photo of 1 Jul 2026: taken back"]
    assert not view.entry.corrections
    assert phone.book.questions() == []


def test_a_photo_taken_back_stays_where_another_record_names_it(phone, camera, look):
    """The same picture beside two records, or waiting with a form, is one file."""
    other = phone.write("look", {"eggs": "none"}, hive=look.hive)
    photos = phone.kit.photos
    first, second, form = PhotoPlace(look.id), PhotoPlace(other.id), PhotoPlace(form="a form")
    for beside in (first, second):
        shoot(phone, camera, beside)
    [shown] = photos.beside(first)
    photos.take_back(first, shown.digest)
    assert photos.beside(first) == []
    assert photos._files.holds(shown.digest), "the other record names it"
    shoot(phone, camera, form)
    photos.take_back(second, shown.digest)
    assert photos._files.holds(shown.digest), "it waits with a form"
    photos.take_back(form, shown.digest)
    assert not photos._files.holds(shown.digest)


def test_a_photo_taken_back_can_be_taken_again(phone, camera, look):
    """The same bytes once more: an annex of its own stands, and no file is missing."""
    beside = PhotoPlace(root=look.id)
    shoot(phone, camera, beside)
    [shown] = phone.kit.photos.beside(beside)
    phone.kit.photos.take_back(beside, shown.digest)
    shoot(phone, camera, beside)
    [again] = phone.kit.photos.beside(beside)
    assert again.data is not None
    phone.kit.photos.tidy()
    assert phone.kit.photos._files.holds(again.digest)


def test_a_photo_taken_back_on_another_phone_is_gone_here_after_the_sync(phone, camera, look):
    """Its void came with a sync: the file goes when the phone tidies, as it does then."""
    shoot(phone, camera, PhotoPlace(root=look.id))
    [annex] = phone.records("photo")
    void = {"corrects": annex.id, "heads": (), "void": True, "adds_to": look.id}
    phone.write("photo", annex.body, hive=look.hive, **void)
    assert phone.kit.photos._files.holds(annex.body["sha256"])
    phone.kit.photos.tidy()
    assert not phone.kit.photos._files.holds(annex.body["sha256"])


def test_a_file_that_the_disk_keeps_is_told(phone, camera, look, monkeypatch):
    """The photo is taken back all the same; that its file is still there is said."""
    beside = PhotoPlace(root=look.id)
    shoot(phone, camera, beside)
    [shown] = phone.kit.photos.beside(beside)

    def fails(_path, missing_ok=False):
        raise OSError(30, "read-only")

    monkeypatch.setattr(type(phone.kit.photos.folder), "unlink", fails)
    phone.kit.photos.take_back(beside, shown.digest)
    assert phone.kit.photos.beside(beside) == []
    assert "could not be deleted" in say(phone.kit.photos.told)


def test_a_look_without_photos_is_written_as_ever(phone, camera):
    """No answer about the inside, no record of a look."""
    form = LookInside(phone.notebook, phone.hives()[0])
    form.take("did board", "in")
    form.save()
    assert phone.records("look") == []
    assert len(phone.records("board")) == 1


def test_the_proof_of_a_purchase_is_a_photo(phone, camera):
    """Taken with the other answers, it stands beside the purchase."""
    form = Purchase(phone.notebook)
    shoot(phone, camera, PhotoPlace(form=form.kept_as))
    assert Purchase(phone.notebook).begun
    form = Purchase(phone.notebook)
    for name, value in {"product": "Strips", "amount": 10.0, "unit": "strip"}.items():
        form.take(name, value)
    form.save()
    [bought] = phone.records("bought")
    assert [each.adds_to for each in phone.records("photo")] == [bought.id]
    assert not Purchase(phone.notebook).begun


def test_a_photo_whose_file_is_elsewhere_or_damaged_is_told(phone, look):
    """Its record came with a sync, its file did not; or somebody altered the file."""
    away = {"sha256": "0" * 64, "type": "image/jpeg", "size": 9}
    phone.write("photo", away, adds_to=look.id)
    digest = phone.kit.photos._files.put(photo())
    phone.write("photo", {**away, "sha256": digest}, adds_to=look.id)
    phone.kit.photos._files.path(digest).write_bytes(b"other bytes")
    told = phone.kit.photos.beside(PhotoPlace(root=look.id))
    assert [each.data for each in told] == [None, None]
    assert [say(each.words) for each in told] == [
        "Photo, 1 Jul 2026: it is not on this device",
        "Photo, 1 Jul 2026: the file is damaged, it is not shown",
    ]


def test_a_picture_of_the_folder_is_copied_and_stays(phone, look):
    """A computer has no camera: pictures are put into its folder for files."""
    photos = phone.kit.photos
    assert photos.pictures() == []
    photos.folder.mkdir()
    (photos.folder / "hive 1.JPG").write_bytes(photo())
    (photos.folder / "due dates.ics").write_text("BEGIN:VCALENDAR")
    [picture] = photos.pictures()
    photos.choose(PhotoPlace(root=look.id), picture)
    assert len(phone.records("photo")) == 1
    assert picture.exists()


class Picks:
    """A choice of files that gives a copy, as a phone's does."""

    there = True

    def __init__(self, raw: bytes | str) -> None:
        self.raw = raw

    def pick(self, media, folder, picked) -> bool:
        assert "image/jpeg" in media
        if isinstance(self.raw, str):
            picked(self.raw)
            return True
        folder.mkdir(parents=True, exist_ok=True)
        (folder / "IMG_1.jpg").write_bytes(self.raw)
        picked(folder / "IMG_1.jpg")
        return True


def test_a_picked_picture_is_kept_and_its_copy_goes(phone, look):
    """The copy is only on the way; where none was picked that is said."""
    photos = phone.kit.photos
    photos.picking = Picks("nothing")
    photos.pick(PhotoPlace(root=look.id))
    assert say(photos.told) == "No picture was picked."
    photos.picking = Picks("unread")
    photos.pick(PhotoPlace(root=look.id))
    assert say(photos.told) == "The photo could not be read. Nothing was lost."
    photos.picking = Picks(photo())
    photos.pick(PhotoPlace(root=look.id))
    assert len(phone.records("photo")) == 1
    assert list((photos.folder / "picked").iterdir()) == []
