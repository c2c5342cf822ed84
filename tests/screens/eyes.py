"""What the eye and the glove ask of a page: targets, gaps, overlap, cut text, contrast."""

from __future__ import annotations

import itertools
from functools import lru_cache

from driver import Driver
from kivy.core.window import Window
from kivy.graphics.opengl import GL_RGB, GL_UNSIGNED_BYTE, glReadPixels
from kivy.metrics import dp
from PIL import Image

from fieldapp.screens.block import Words
from fieldapp.screens.keys import BigField, Key
from fieldapp.screens.page import Page

#: dp, written here anew and not taken from what is measured: 20 mm, the rest, the main field.
HAND, DESK, FIELD = 126, 48, 283
#: dp that the system's bars take off above and below.
BARS = (24, 24)
#: Pages used with gloves on, at the hive.
AT_THE_HIVE = {
    *(
        "aid",
        "aid by substance",
        "due",
        "apiary",
        "treatment",
        "label",
        "amount",
        "start",
        "round",
        "grid",
        "otherwise",
    ),
    *("why", "steps", "seams", "summary", "line", "hives", "hive", "trouble"),
    *("form", "question", "count way", "count before", "tally", "bees", "board part"),
    *("board days", "meaning", "counts", "look round", "look grid", "look why"),
    *("harvest", "not fine"),
    *("happened", "happened question", "standstill", "follows", "happened done"),
    "happened undone",
    *("pieces", "seen", "strokes given", "times", "others", "reason", "reasons"),
    "number in gloves",
}
#: Keys on those pages that lead away from the hive: for the desk.
AWAY = {"Hives", "Home"}
#: Stands over every page; drawn lower than 20 mm, it takes all of the uppermost 20 mm.
AID = "First aid"
#: What stands 3 mm from everything else.
APART = ("Undo", "End round")
SLACK = 0.5


def troubles(hand: Driver, page: str) -> list[str]:
    """Return everything about the page in sight that eye or glove would stumble on."""
    return [
        f"{page}: {trouble}"
        for trouble in (
            *_targets(hand, page),
            *_gaps(hand),
            *_texts(hand),
            *_begun(hand),
            *_overlaps(hand),
        )
    ]


def _rect(widget) -> tuple[float, float, float, float]:
    x, y = widget.to_window(*widget.pos)
    return x, y, x + widget.width, y + widget.height


def _targets(hand: Driver, page: str):
    bottom, top = dp(BARS[1]), Window.height - dp(BARS[0])
    for key in hand.shown_keys():
        x, y, right, high = _rect(key)
        named = hand.meant(key)
        least = HAND if page in AT_THE_HIVE and named not in AWAY else DESK
        if named == AID:
            below = [top for other in hand.shown_keys() if (top := _rect(other)[3]) < y]
            y, least = min(y, max(high - dp(HAND), *below, 0)), HAND
        if right - x < dp(least) - SLACK or high - y < dp(least) - SLACK:
            yield f"{key.text!r} is {right - x:.0f} x {high - y:.0f}, least {least}"
        if isinstance(key, BigField) and high - y < dp(FIELD):
            yield f"the main field is {high - y:.0f} high"
        if x < -SLACK or right > Window.width + SLACK or y < bottom - SLACK or high > top + SLACK:
            yield f"{key.text!r} reaches out of the screen"


def _gaps(hand: Driver):
    for one, other in itertools.combinations(hand.shown_keys(), 2):
        gap = _gap(_rect(one), _rect(other))
        apart = any(word in hand.meant(key) for key in (one, other) for word in APART)
        least = 19 if apart else 6.3
        if gap < dp(least) - SLACK:
            yield f"{one.text!r} and {other.text!r} are {gap:.1f} apart, least {least}"


def _gap(one, other) -> float:
    across = max(one[0] - other[2], other[0] - one[2])
    along = max(one[1] - other[3], other[1] - one[3])
    return max(across, along)


def _texts(hand: Driver):
    for words in hand.widgets():
        if not _seen(words):
            continue
        x, y, right, high = _rect(words)
        if words.drawn[1] > words.height + SLACK or words.drawn[0] > words.width + SLACK:
            yield f"{words.text!r} is cut"
        if x < -SLACK or right > Window.width + SLACK or y < dp(BARS[1]) - SLACK:
            yield f"{words.text!r} reaches out of the screen"
        if words.broken:
            yield f"a word of {words.text!r} breaks in itself"
        key = words.parent
        if isinstance(key, Key):
            left, low, end, up = _rect(key)
            if x < left or right > end or y < low - SLACK or high > up + SLACK:
                yield f"{words.text!r} reaches out of its key"


def _begun(hand: Driver):
    """A key may leave words out only if all of them stand on the page before it."""
    for key in hand.shown_keys():
        for line in key.text.split("\n"):
            if line.endswith("…") and not _stands_before(key, line.removesuffix("…").strip()):
                yield f"{line!r} is cut off, and stands nowhere in full"


def _stands_before(key: Key, begun: str) -> bool:
    page = next(each for each in key.walk_reverse() if isinstance(each, Page))
    blocks = [block for part in page.pages for block in part]
    at = next(at for at, block in enumerate(blocks) if key in block.walk(restrict=True))
    before = " ".join(each.text for each in blocks[:at] if isinstance(each, Words))
    return begun in before and not before.endswith("…")


def _seen(widget) -> bool:
    return isinstance(widget, Words) and bool(widget.text) and widget.opacity > 0


def _overlaps(hand: Driver):
    shown = [w for w in hand.widgets() if _seen(w)]
    shown += list(hand.shown_keys())
    for one, other in itertools.combinations(shown, 2):
        if other.parent and one in (other, other.parent, other.parent.parent):
            continue
        if one.parent and other in (one, one.parent, one.parent.parent):
            continue
        if _gap(_rect(one), _rect(other)) < -SLACK:
            yield f"{one.text!r} overlaps {other.text!r}"


def contrasts(hand: Driver) -> list[tuple[str, float]]:
    """Return each text with the contrast between its ground and its ink, from the pixels."""
    image = pixels(hand)
    found = []
    for label in hand.widgets():
        if not _seen(label) or not label.text.strip():
            continue
        x, y, right, high = (round(value) for value in _rect(label))
        part = image.crop((x, image.height - high, right, image.height - y))
        colours = part.getcolors(part.width * part.height)
        ground = max(colours)[1]
        found.append((label.text, max(_contrast(ground, ink) for _, ink in colours)))
    return found


def faint(hand: Driver, page: str) -> list[str]:
    """Return each text in sight under 7:1 (WCAG 2.2, 1.4.6)."""
    return [
        f"{page}: {text!r} stands out by {contrast:.1f} only"
        for text, contrast in contrasts(hand)
        if contrast < 7
    ]


def pixels(hand: Driver) -> Image.Image:
    """Return what the window shows, read from its memory: a file for each page takes long."""
    hand.frames(1)
    raw = glReadPixels(0, 0, *Window.size, GL_RGB, GL_UNSIGNED_BYTE)
    image = Image.frombytes("RGB", Window.size, bytes(raw))
    return image.transpose(Image.Transpose.FLIP_TOP_BOTTOM)


def _contrast(one, other) -> float:
    light, dark = sorted((_luminance(one), _luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


@lru_cache(maxsize=100_000)
def _luminance(rgb) -> float:
    """Relative luminance as WCAG 2.2 defines it."""
    parts = [value / 255 for value in rgb]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]
