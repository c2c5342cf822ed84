"""The one root widget: it shows one page, keeps clear of the system's bars, takes touches."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from kivy.graphics import Color, Rectangle
from kivy.metrics import dp
from kivy.uix.widget import Widget

from fieldapp.rounds.errors import RoundsError
from fieldapp.screens.aid_key import AidKey
from fieldapp.screens.keys import Act, BigField, Key
from fieldapp.screens.page import Page
from fieldapp.screens.theme import HAND, MARGIN, SPACE
from fieldapp.screens.touch import BOUNCE, QUICK, Guard

#: dp that the status bar and the gesture bar of a phone take off the height.
BARS = (24, 24)
#: dp that a finger may roll off a key before it lifts.
ROLL = 24


class Stage(Widget):  # type: ignore[misc]  # Kivy has no types
    """Shows one `Page` at a time. Finds the key under a finger and calls it, once.

    `trouble` is shown what a key's act raised, if it is an error made for the keeper.
    Over every page but its own stands the key to first aid. It is drawn low to leave pages
    their height, but takes every touch in the uppermost 20 mm that no other key takes.
    """

    def __init__(
        self,
        guard: Guard,
        trouble: Callable[[RoundsError], None],
        bars: tuple[float, float] = BARS,
    ) -> None:
        super().__init__()
        self.guard = guard
        self._trouble = trouble
        self._bars = bars
        self.page: Page | None = None
        self.first_aid: Act | None = None
        self._aid: AidKey | None = None
        self._pressed: tuple[Any, Key] | None = None
        with self.canvas.before:
            self._tint = Color()
            self._ground = Rectangle()
        self.bind(size=self._again)

    def show(self, page: Page) -> None:
        """Show `page` in place of the one before."""
        self.clear_widgets()
        self.page = page
        self.guard.bounce = QUICK if page.quick else BOUNCE
        self._pressed = None
        self.add_widget(page)
        self._aid = self._aid_key(page)
        self._tint.rgba = page.look.theme.ground
        self._again()

    @property
    def touched(self) -> bool:
        """Whether a finger is down on a key: then the page must stay as it is."""
        return self._pressed is not None

    def call(self, act: Callable[[], None]) -> None:
        """Do what a key stands for; what the keeper must know of a failure is shown."""
        try:
            act()
        except RoundsError as error:
            self._trouble(error)

    def press_field(self, key: int) -> None:
        """Take a key of the phone that goes down for the page's large field, as a finger is.

        A key that is held is repeated by the system: only the first counts.
        """
        field = self._field()
        if field is not None and self.guard.down(f"key {key}"):
            field.press()
            self._pressed = (f"key {key}", field)

    def lift_field(self, key: int) -> None:
        """Take the key's lifting: the field acts, if it is the one that it went down on."""
        if not self.guard.up(f"key {key}"):
            return
        pressed, self._pressed = self._pressed, None
        if pressed is not None:
            pressed[1].release()
            self.guard.tapped()
            self.call(pressed[1].act)

    def _field(self) -> Key | None:
        """Return the page's large field; None where it has none."""
        return next((each for each in self.walk(restrict=True) if isinstance(each, BigField)), None)

    def back(self) -> bool:
        """Go back where the page knows a way; False where it is the first."""
        if self.page is None or self.page.back is None:
            return False
        self.call(self.page.back)
        return True

    def _again(self, *_: Any) -> None:
        self._ground.pos, self._ground.size = self.pos, self.size
        if self.page is not None:
            top, bottom = (dp(bar) for bar in self._bars)
            height, clear = self.height - top - bottom, 0.0
            if self._aid is not None:
                self._aid.fit_over(self.width - dp(2 * MARGIN), self.height)
                height -= self._aid.height + dp(SPACE / 2)
                self._aid.place(self.x + dp(MARGIN), self.y + bottom + height)
                clear = dp(HAND) - self._aid.height
            self.page.lay(self.x, self.y + bottom, self.width, height, clear)

    def _aid_key(self, page: Page) -> AidKey | None:
        if self.first_aid is None or not page.aid_key:
            return None
        key = AidKey(page.look, self.first_aid)
        self.add_widget(key)
        return key

    def on_touch_down(self, touch: Any) -> bool:
        """Take a finger, if it is the only one and not a bounce."""
        if not self.guard.down(touch.uid):
            return True
        key = self._under(touch)
        if key is None and not super().on_touch_down(touch) and touch.y > self._aid_floor:
            key = self._aid
        if key is not None:
            key.press()
            self._pressed = (touch.uid, key)
        return True

    def _under(self, touch: Any) -> Key | None:
        for widget in self.walk(restrict=True):
            if isinstance(widget, Key) and widget.collide_point(*touch.pos):
                return widget
        return None

    @property
    def _aid_floor(self) -> float:
        """The height over which a touch is meant for first aid, if for nothing else."""
        return float("inf") if self._aid is None else self._aid.top - dp(HAND)

    def on_touch_up(self, touch: Any) -> bool:
        """Let the key act that the finger came down on, if it lifts there."""
        if not self.guard.up(touch.uid):
            return True
        pressed, self._pressed = self._pressed, None
        if pressed is None:
            super().on_touch_up(touch)
            return True
        key = pressed[1]
        key.release()
        if _near(key, *touch.pos) or (key is self._aid and touch.y > self._aid_floor):
            self.guard.tapped()
            self.call(key.act)
        return True


def _near(key: Key, x: float, y: float) -> bool:
    roll = dp(ROLL)
    return bool(key.x - roll <= x <= key.right + roll and key.y - roll <= y <= key.top + roll)
