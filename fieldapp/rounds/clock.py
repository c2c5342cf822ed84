"""The phone's clocks, handed in: what time it is, and how long ago something was."""

from __future__ import annotations

import time
from collections.abc import Callable
from typing import NamedTuple


class Clock(NamedTuple):
    """`now_us` gives microseconds since 1970, UTC; `monotonic` seconds that never go back.

    A phone's monotonic seconds go on while it sleeps, and begin anew when it is started anew.
    """

    now_us: Callable[[], int]
    monotonic: Callable[[], float]


def system_clock() -> Clock:
    """Return the clocks of this machine."""
    return Clock(lambda: time.time_ns() // 1000, _monotonic)


def _monotonic() -> float:
    # Linux, and Android with it, stops the usual monotonic clock while the machine sleeps.
    boot = getattr(time, "CLOCK_BOOTTIME", None)
    return time.monotonic() if boot is None else time.clock_gettime(boot)
