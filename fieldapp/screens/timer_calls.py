"""Calls out what the timers of hives have reached, whatever page is in sight."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fieldapp.words import say

if TYPE_CHECKING:
    from fieldapp.screens.flow import Flow


class TimerCalls:
    """Asked at each tick; shows the pages on which timers run anew each second."""

    def __init__(self, flow: Flow) -> None:
        self._flow = flow
        self._second = 0
        self._ran = False

    def tick(self, aside: bool) -> None:
        """Call out each end once, by voice and vibration; `aside` by a notification too.

        It is spoken whether or not taps are: who started a timer looks elsewhere meanwhile.
        """
        flow, timers, devices = self._flow, self._flow.kit.timers, self._flow.kit.devices
        for words in timers.call():
            devices.vibration.over()
            flow.speak(words)
            if aside:
                go_on = flow.look.say(say("Touch to go on with the round"))
                devices.notices.show(flow.look.say(words), go_on)
        second = int(flow.kit.notebook.clock.monotonic())
        if second == self._second or flow.stage.touched or not flow.in_sight("round", "grid"):
            return
        self._second, running = second, timers.any
        if running or self._ran:
            self._ran = running
            flow.again()
