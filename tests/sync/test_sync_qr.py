"""The QR of a pairing, read from photos: made by a library that only writes them (segno)."""

from __future__ import annotations

import io
import random

import numpy
import pytest
import segno
from PIL import Image, ImageChops, ImageFilter
from segno import consts
from terminal_picture import drawn

from fieldapp.wire import invitation
from fieldapp.wire.qr import read
from fieldapp.wire.qr.blocks import BLOCKS, CORRECTING, Unreadable, data
from fieldapp.wire.qr.symbol import alignment, codewords, format_of
from fieldapp.wire.qr.text import text
from syncserver.pairing.terminal import show_pairing

FINGERPRINT = "5e" * 32
SECRET = "ABC1234"
ADDRESS = "192.168.178.20:8443"
LINK = invitation.link(ADDRESS, invitation.code(SECRET, FINGERPRINT), FINGERPRINT)
GREY = 170


def code(words: str, **options) -> segno.QRCode:
    return segno.make(words, micro=False, boost_error=False, **options)


def picture(made: segno.QRCode, scale: int = 8, border: int = 4) -> Image.Image:
    raw = io.BytesIO()
    made.save(raw, kind="png", scale=scale, border=border)
    return Image.open(raw).convert("L")


def photo(image: Image.Image) -> bytes:
    raw = io.BytesIO()
    image.convert("RGB").save(raw, "JPEG", quality=75)
    return raw.getvalue()


def slanted(image: Image.Image, corners, size=(1600, 1200)) -> Image.Image:
    """Return the image seen so that its corners (from the upper left, clockwise) are there."""
    wide, high = image.size
    rows, right = [], []
    for (x, y), (u, v) in zip(corners, [(0, 0), (wide, 0), (wide, high), (0, high)], strict=True):
        rows += [[x, y, 1, 0, 0, 0, -u * x, -u * y], [0, 0, 0, x, y, 1, -v * x, -v * y]]
        right += [u, v]
    by = numpy.linalg.solve(numpy.array(rows, float), numpy.array(right, float))
    return image.transform(size, Image.PERSPECTIVE, tuple(by), Image.BICUBIC, fillcolor=GREY)


def modules(made: segno.QRCode) -> list[list[bool]]:
    return [[bool(module) for module in row] for row in made.matrix]


def decoded(grid, version) -> str:
    told = format_of(grid)
    return text(data(codewords(grid, told.mask), version, told.level), version)


LEVELS = {
    "L": consts.ERROR_LEVEL_L,
    "M": consts.ERROR_LEVEL_M,
    "Q": consts.ERROR_LEVEL_Q,
    "H": consts.ERROR_LEVEL_H,
}


@pytest.mark.parametrize("level", "LMQH")
def test_the_table_of_blocks_is_that_of_an_independent_program(level):
    """ISO/IEC 18004:2015, table 9, as segno has it, for all 40 versions."""
    for version in range(1, 41):
        groups = consts.ECC[version][LEVELS[level]]
        assert BLOCKS[level][version - 1] == sum(group.num_blocks for group in groups)
        correcting = {group.num_total - group.num_data for group in groups}
        assert {CORRECTING[level][version - 1]} == correcting


def test_the_places_of_alignment_marks_are_those_of_an_independent_program():
    """ISO/IEC 18004:2015, annex E, as segno has it."""
    for version in range(2, 41):
        assert tuple(alignment(version)) == tuple(consts.ALIGNMENT_POS[version - 2])


@pytest.mark.parametrize("version", [*range(1, 12), 14, 21, 27, 32, 40])
def test_every_size_is_read_at_a_level_of_correction(version):
    """From the modules themselves, the masks in turn: nothing of a photo is between."""
    level = "LMQH"[version % 4]
    words = ("apiary-rounds://" * 3)[: 4 + version]
    made = code(words, version=version, error=level, mask=version % 8, mode="byte")
    assert decoded(modules(made), version) == words


@pytest.mark.parametrize(
    "words",
    [
        "0123456789012345",
        "7",
        "42",
        "HTTP://A.EXAMPLE/1",
        "A",
        "Žluť und Gemüll 蜂",
        LINK,
    ],
)
def test_digits_capitals_and_bytes_are_read(words):
    """Each way in which a code says text, with lengths that leave a rest."""
    made = code(words, error="m", encoding="utf-8" if not words.isascii() else None)
    assert decoded(modules(made), int(made.version)) == words


def test_what_is_misread_is_put_right_up_to_the_limit_and_never_guessed():
    """Version 7, low: 20 bytes of correction a block put 10 right (20 / 2); more is no text."""
    made = code(LINK, error="l", version=7)
    grid = modules(made)
    words = bytearray(codewords(grid, format_of(grid).mask))
    chance = random.Random(3)
    for at in chance.sample(range(0, len(words), 2), 10):  # bytes of the first block
        words[at] ^= 0x55
    assert text(data(bytes(words), 7, "L"), 7) == LINK
    for at in range(0, 60, 2):
        words[at] ^= 0xAA
    with pytest.raises(Unreadable):
        data(bytes(words), 7, "L")


@pytest.mark.parametrize("angle", [0, 33, 45, 90, 135, 180, 260, 315])
def test_a_code_is_read_however_the_phone_is_turned(angle):
    """Turned about every axis of the photo."""
    image = picture(code(LINK, error="l"))
    turned = image.rotate(angle, expand=True, fillcolor=GREY, resample=Image.BICUBIC)
    assert read(photo(turned)) == LINK


@pytest.mark.parametrize("seed", range(6))
def test_a_code_is_read_at_a_slant_in_shadow_out_of_focus_and_with_grain(seed):
    """Each corner nearer or further by a fifth; light falls off to a third; grain as at dusk."""
    chance = random.Random(seed)
    corners = [
        (800 + chance.uniform(0.75, 1.0) * x, 600 + chance.uniform(0.75, 1.0) * y)
        for x, y in [(-480, -450), (480, -450), (480, 450), (-480, 450)]
    ]
    seen = slanted(picture(code(LINK, error="l")), corners)
    seen = seen.filter(ImageFilter.GaussianBlur(1.5))
    light = Image.linear_gradient("L").resize(seen.size).point(lambda v: 85 + v * 170 // 255)
    seen = ImageChops.multiply(seen, light)
    seen = ImageChops.add(seen, Image.effect_noise(seen.size, 20), offset=-128)
    assert read(photo(seen)) == LINK


def test_light_modules_on_a_dark_ground_are_read():
    """A terminal in a dark theme whose colours are turned over."""
    assert read(photo(ImageChops.invert(picture(code(LINK, error="l"))))) == LINK


def test_what_the_server_shows_in_its_terminal_is_read():
    """The very characters that it prints, drawn in cells of 10 by 22."""
    shown = show_pairing(SECRET, FINGERPRINT, ADDRESS)
    said = read(photo(drawn(shown)))
    assert said == LINK
    told = invitation.read(said)
    assert (told.address, told.secret, told.fingerprint) == (ADDRESS, SECRET, FINGERPRINT)


def test_what_holds_no_code_is_read_as_none():
    """A field, grain, half a file, and a code of which a corner is covered."""
    covered = picture(code(LINK, error="l"))
    covered.paste(255, (0, 0, 130, 130))
    assert read(photo(Image.new("L", (1200, 900), GREY))) is None
    assert read(photo(Image.effect_noise((600, 400), 90))) is None
    assert read(photo(covered)) is None
    assert read(photo(covered)[:400]) is None
    assert read(b"") is None
    assert read(b"%PDF-1.7") is None
