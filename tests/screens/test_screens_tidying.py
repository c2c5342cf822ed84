"""What pages leave behind is freed when no finger waits, and only then."""

from __future__ import annotations

import gc
import weakref

import pytest

from fieldapp.screens.tidying import Tidying


class Leaf:
    """Something that knows itself, so that only the collector frees it."""

    def __init__(self) -> None:
        self.own = self


@pytest.fixture
def tidying():
    """The collector run by hand, and by itself again in the end."""
    tidying = Tidying()
    gc.collect()
    tidying.begin()
    yield tidying
    tidying.end()
    assert gc.isenabled() and gc.get_freeze_count() == 0


def test_nothing_is_freed_but_by_hand(tidying):
    """However much a page leaves behind while it is being made."""
    left = weakref.ref(Leaf())
    kept = [Leaf() for _ in range(20_000)]
    assert left() is not None
    tidying.go_on()
    assert left() is None
    assert len(kept) == 20_000


def test_a_little_is_left_for_later(tidying):
    """A tick of the clock makes objects too, and is no reason to look through all."""
    left = weakref.ref(Leaf())
    tidying.go_on()
    assert left() is not None


def test_what_outlived_some_pages_is_freed_too(tidying):
    """A page that was looked at for long is older than what the quick look goes through."""
    old = Leaf()
    left = weakref.ref(old)
    for _ in range(3):
        gc.collect(1)
    del old
    for _ in range(8):
        fresh = [Leaf() for _ in range(2000)]
        tidying.go_on()
    assert left() is None
    assert fresh


def test_a_tap_is_not_held_up(keeper, monkeypatch):
    """In the moment after a tap nothing is freed; it is as soon as that is over."""
    done = []
    monkeypatch.setattr(Tidying, "go_on", lambda self: done.append(True))
    keeper.hand.touch(*keeper.hand.key("Hives").center)
    keeper.app.tick()
    assert not done
    keeper.hand.hands.pass_(1.0)
    keeper.app.tick()
    assert done


def test_a_text_is_drawn_once_for_all_that_show_it(phone):
    """The same letters, width and size are one texture; any other is another."""
    from fieldapp.screens.block import Words  # noqa: PLC0415  (a window is there now)
    from fieldapp.screens.look import Look, register_font  # noqa: PLC0415
    from fieldapp.screens.theme import THEMES  # noqa: PLC0415
    from fieldapp.words import Speech  # noqa: PLC0415

    register_font()
    look = Look(THEMES["sun"], Speech())

    def texture(text="Hive 7 done", width=300.0, size="body", **style):
        words = Words(look, text, size, **style)
        words.fit(width)
        return words._face.texture

    assert texture() is texture() is texture(role="late")
    others = [
        texture("Hive 8 done"),
        texture(width=299.0),
        texture(size="small"),
        texture(bold=True),
        texture(centred=True),
    ]
    assert len({id(each) for each in [texture(), *others]}) == 6
