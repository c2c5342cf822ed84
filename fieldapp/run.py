"""Opens the window and runs the program in it. Kivy is imported here, not before."""

from __future__ import annotations

import gc
import os
import sys
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from fieldapp import late_styles

if TYPE_CHECKING:
    from fieldapp.rounds.clock import Clock as PhoneClock


def run(
    folder: Path,
    size: tuple[int, int],
    place: tuple[float, float] | None,
    clock: PhoneClock | None = None,
) -> None:
    """Run until the window is closed.

    `size` is in pixels; `place` stands for a receiver, in degrees north and east; `clock` for
    the clocks of this machine.
    """
    gc.disable()  # until the first frame is shown: what is loaded till then stays
    os.environ.setdefault("KIVY_NO_ARGS", "1")
    os.environ.setdefault("KIVY_NO_FILELOG", "1")
    os.environ.setdefault("KIVY_LOG_MODE", "MIXED")
    if "ANDROID_ARGUMENT" not in os.environ:  # there the system's log is all that tells of a fault
        # What Kivy finds on the way up concerns nobody who only wants to use the program.
        os.environ.setdefault("KIVY_NO_CONSOLELOG", "1")
    from kivy.config import Config  # noqa: PLC0415  (it must be told before a window is there)

    width, height = size
    for name, value in {"width": width, "height": height, "multisamples": 0}.items():
        Config.set("graphics", name, str(value))
    Config.set("input", "mouse", "mouse,disable_multitouch")
    Config.set("kivy", "exit_on_escape", "0")
    late_styles.put_off()
    from kivy.clock import Clock  # noqa: PLC0415
    from kivy.core.window import Window  # noqa: PLC0415

    if Window is None:
        sys.exit("There is no screen to open a window on. On Debian: apt install libgl1 libegl1")
    from fieldapp.bootstrap import bootstrap, close  # noqa: PLC0415
    from fieldapp.device.devices import devices_here  # noqa: PLC0415
    from fieldapp.device.language import system_language  # noqa: PLC0415
    from fieldapp.device.position import GivenPosition  # noqa: PLC0415
    from fieldapp.device.zone import system_zone  # noqa: PLC0415
    from fieldapp.rounds.clock import system_clock  # noqa: PLC0415
    from fieldapp.screens.app import RoundsApp  # noqa: PLC0415

    def main_thread(work: Callable[[], None]) -> None:
        Clock.schedule_once(lambda _: work(), 0)

    clock = clock or system_clock()
    devices = devices_here(clock.monotonic)
    if place is not None:
        devices = replace(devices, position=GivenPosition(*place, clock.monotonic))
    try:
        kit = bootstrap(
            folder,
            main=main_thread,
            zone=system_zone(),
            language=system_language(),
            clock=clock,
            devices=devices,
        )
    except Exception as error:
        if "ANDROID_ARGUMENT" in os.environ:  # there nobody reads what a terminal would show
            _say_in_window(folder, error)
        raise
    try:
        RoundsApp(kit, bars=(0, 0)).run()
    finally:
        close(kit)


def _say_in_window(folder: Path, error: Exception) -> None:
    """Keep why the program could not start, and show it in words until the window is closed."""
    from datetime import UTC, datetime  # noqa: PLC0415  (needed here only)

    from fieldapp.rounds.faults import NAME, WORDS, FaultLog  # noqa: PLC0415
    from fieldapp.screens.fault_page import FaultApp  # noqa: PLC0415

    log = FaultLog(folder / NAME, lambda: datetime.now(UTC).isoformat())
    log.write(error)
    FaultApp(getattr(error, "phrase", WORDS[0]), log).run()
