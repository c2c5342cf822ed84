"""The Kivy app: it joins stage and flow, and passes on what the system asks of an app."""

from __future__ import annotations

from typing import Any

from kivy.app import App
from kivy.clock import Clock
from kivy.core.window import Window

from fieldapp.rounds.errors import RoundsError
from fieldapp.rounds.kit import Kit
from fieldapp.screens.fault_page import Faults
from fieldapp.screens.flow import Flow
from fieldapp.screens.look import Look, register_font
from fieldapp.screens.stage import BARS, Stage
from fieldapp.screens.theme import THEMES
from fieldapp.screens.tidying import Tidying
from fieldapp.screens.touch import Guard

#: Seconds between looks at the agenda for reminders.
REMIND_EVERY_S = 15 * 60
#: Seconds between looks at what stands for some seconds only.
TICK_S = 0.5
ANDROID_BACK = 27
#: The keys for louder and softer, as SDL numbers them (SDLK_VOLUMEUP, SDLK_VOLUMEDOWN).
VOLUME = frozenset({0x40000080, 0x40000081})


class RoundsApp(App):  # type: ignore[misc]  # Kivy has no types
    """Apiary Rounds on a phone or in a window of a phone's size."""

    def __init__(self, kit: Kit, bars: tuple[float, float] = BARS) -> None:
        super().__init__()
        self.title = "Apiary Rounds"
        self._kit = kit
        self._bars = bars
        self._events: list[Any] = []
        self._tidying = Tidying()

    def build(self) -> Stage:
        """Return the stage with the first page on it."""
        register_font()
        notebook = self._kit.notebook
        theme = THEMES.get(str(notebook.local.get("theme", "sun")), THEMES["sun"])
        look = Look(theme, self._kit.speech)
        guard = Guard(notebook.clock.monotonic)
        stage = Stage(guard, self._trouble, self._bars)
        self.flow = Flow(self._kit, look, stage)
        self._kit.home.changed = self._home_changed
        self._kit.papers.changed = self._papers_changed
        self._kit.photos.changed = self._photos_changed
        self._kit.scan.changed = self._scan_changed
        self._kit.inspector.changed = self._papers_changed
        self._kit.home.after_sync = self._synced
        self.flow.aside = lambda: not Window.focus
        stage.size = Window.size
        self._faults = Faults(self._kit.faults, self._fault, self._kit.main)
        self._faults.begin()
        self.flow.start_up()
        self.flow.settle_volume()
        return stage

    def _fault(self) -> None:
        self.flow.fault()

    def _trouble(self, error: RoundsError) -> None:
        self.flow.trouble(error)

    def _home_changed(self) -> None:
        self.flow.home.changed()

    def _papers_changed(self) -> None:
        self.flow.home.papers_changed()

    def _photos_changed(self) -> None:
        if self.flow.in_sight("photos", "record") and not self.flow.stage.touched:
            self.flow.again()

    def _scan_changed(self) -> None:
        self.flow.home.scan_changed()

    def _synced(self) -> None:
        self._kit.language.settle()
        self._kit.photos.tidy()
        self._remind()

    def on_start(self) -> None:
        """Take the keys of the phone; all else begins after the first frame."""
        Window.bind(on_keyboard=self._keyboard, on_key_down=self._key_down, on_key_up=self._key_up)
        Window.bind(on_flip=self._shown)
        Window.canvas.ask_update()

    def _shown(self, *_: Any) -> None:
        """Begin what goes on beside the pages, now that the first of them is seen."""
        Window.unbind(on_flip=self._shown)
        self._events = [
            Clock.schedule_interval(self.tick, TICK_S),
            Clock.schedule_once(self._remind, 1),
            Clock.schedule_interval(self._remind, REMIND_EVERY_S),
            Clock.schedule_once(lambda _: self._kit.locate(), 0),
            Clock.schedule_once(lambda _: self._kit.photos.go_on(), 0),
            Clock.schedule_once(self._get_ready, 0),
        ]

    def _get_ready(self, *_: Any) -> None:
        """Load what the first tap will need; what is loaded then stays."""
        self._kit.notebook.get_ready()
        self._tidying.begin()

    def open_settings(self, *_: Any) -> bool:
        """Have no settings of Kivy's behind F1: the program's own are under Home."""
        return False

    def on_pause(self) -> bool:
        """Let the system put the app aside: everything is on the disk already."""
        self._kit.devices.position.stop()
        self._kit.alarms.arm(aside=True)
        self._kit.notebook.keep()
        return True

    def on_resume(self) -> None:
        """Show the day as it is now."""
        self._kit.locate()
        self._kit.photos.go_on()
        self._kit.language.settle()
        self.flow.again()
        self._remind()

    def tick(self, *_: Any) -> None:
        """Do what the time that passed asks for; called each half second."""
        self.flow.tick()
        stage = self.flow.stage
        if not stage.touched and not stage.guard.bouncing:
            self._tidying.go_on()
        # A phone that sleeps calls nothing out: it stays awake while the timer of a hive runs.
        Window.allow_screensaver = not self._kit.timers.any

    def _remind(self, *_: Any) -> None:
        self._kit.reminders.check()
        self._kit.alarms.arm()

    def on_stop(self) -> None:
        """Close in order; Kivy may call this twice."""
        for event in self._events:
            event.cancel()
        self._events = []
        self._faults.end()
        Window.unbind(on_flip=self._shown)
        self._tidying.end()
        Window.unbind(
            on_keyboard=self._keyboard, on_key_down=self._key_down, on_key_up=self._key_up
        )
        self._kit.devices.position.stop()

    def _keyboard(self, _window: Any, key: int, *_: Any) -> bool:
        return key == ANDROID_BACK and self.flow.stage.back()

    def _key_down(self, _window: Any, key: int, *_: Any) -> bool:
        if key not in VOLUME or not self.flow.by_volume:
            return False
        self.flow.stage.press_field(key)
        return True

    def _key_up(self, _window: Any, key: int, *_: Any) -> bool:
        if key not in VOLUME or not self.flow.by_volume:
            return False
        self.flow.stage.lift_field(key)
        return True
