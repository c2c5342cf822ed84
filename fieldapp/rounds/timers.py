"""Timers of hives: vapour that runs and entrances that are closed, several at once.

A timer is kept on the phone when it starts, so that it goes on while the program is closed.
How far it is comes from two clocks. The monotonic one is right while the phone stays on, asleep
or awake, whatever is done to the wall clock; after a restart of the phone it begins anew, and
only the wall clock can tell. Where they differ and nothing says which is wrong, the longer time
counts: the keeper is called to look, and no colony stays shut in.
"""

from __future__ import annotations

from typing import Any, NamedTuple

from fieldapp.rounds.clock import Clock
from fieldapp.rounds.local import Local
from fieldapp.words import Phrase, say

_KEPT = "timers"
#: Seconds after its end for which a timer that nobody answered is still told of.
TOLD_S = 900.0


class Times(NamedTuple):
    """Seconds that a method takes at a hive: while it runs, then with the entrance closed."""

    runs: int = 0
    closed: int = 0

    @property
    def whole(self) -> int:
        """Seconds from the start to the end."""
        return self.runs + self.closed

    @property
    def words(self) -> Phrase:
        """Both in words: *runs 2:30, then closed 10:00*."""
        if not self.whole:
            return say("not set")
        if not self.closed:
            return say("runs {time}", time=minutes(self.runs))
        if not self.runs:
            return say("closed {time}", time=minutes(self.closed))
        return say(
            "runs {time}, then closed {closed}",
            time=minutes(self.runs),
            closed=minutes(self.closed),
        )


#: Nobody said how long it takes.
NO_TIME = Times()


class Timer(NamedTuple):
    """One hive's timer: when it began by both clocks, and how much of it was told already.

    `record` is the root id of the application; `called` how many of its ends were called out.
    """

    round: str
    hive: str
    number: str
    record: str
    times: Times
    wall_us: int
    monotonic: float
    called: int = 0

    def elapsed(self, clock: Clock) -> float:
        """Return the seconds since it began; never under zero."""
        by_wall = (clock.now_us() - self.wall_us) / 1_000_000
        by_monotonic = clock.monotonic() - self.monotonic
        if by_monotonic < 0:  # the phone was started anew
            return max(0.0, by_wall)
        return max(by_monotonic, by_wall)

    @property
    def ends(self) -> tuple[int, ...]:
        """Seconds after the start at which something is over."""
        return tuple(sorted({end for end in (self.times.runs, self.times.whole) if end}))

    def called_at(self, end: int) -> Phrase:
        """Return what is called out when one of its ends is reached."""
        if end < self.times.whole:
            return say("Hive {number}: vapour over, keep it closed", number=self.number)
        if self.times.closed:
            return say("Hive {number}: time over, open the entrance", number=self.number)
        return say("Hive {number}: time over", number=self.number)


class Running(NamedTuple):
    """A timer as pages show it: what goes on and for how many seconds more; 0: it is over."""

    hive: str
    number: str
    left: int
    words: Phrase


class Timers:
    """The timers of this phone, of whatever round."""

    def __init__(self, local: Local, clock: Clock) -> None:
        self._local = local
        self._clock = clock

    @property
    def _timers(self) -> list[Timer]:
        return [_read(each) for each in self._local.get(_KEPT, [])]

    def begin(self, round_id: str, hive: str, number: str, record: str, times: Times) -> None:
        """Start the timer of a hive; one that it had in this round is gone."""
        others = [each for each in self._timers if (each.round, each.hive) != (round_id, hive)]
        now = self._clock
        begun = Timer(round_id, hive, number, record, times, now.now_us(), now.monotonic())
        self._keep([*others, begun])

    def of(self, round_id: str, hive: str) -> Timer | None:
        """Return the timer of a hive that is not over, None where it has none."""
        return next(
            (
                each
                for each in self._timers
                if (each.round, each.hive) == (round_id, hive) and not self._over(each)
            ),
            None,
        )

    def stop(self, round_id: str, hive: str) -> int:
        """Stop the timer of a hive; return the whole seconds that it ran, 0 without one."""
        timer, before = self.of(round_id, hive), self._timers
        kept = [each for each in before if (each.round, each.hive) != (round_id, hive)]
        if kept != before:
            self._keep(kept)
        return 0 if timer is None else int(timer.elapsed(self._clock))

    def call(self) -> list[Phrase]:
        """Return what is to be called out now, each end once; what was told long ago is dropped."""
        called: list[Phrase] = []
        kept: list[Timer] = []
        before = self._timers
        for timer in before:
            elapsed = timer.elapsed(self._clock)
            reached = [end for end in timer.ends if end <= elapsed]
            # Of several ends that went by unheard only the last one says what to do.
            if len(reached) > timer.called:
                called.append(timer.called_at(reached[-1]))
            if elapsed <= timer.times.whole + TOLD_S:
                kept.append(timer._replace(called=len(reached)))
        if kept != before:
            self._keep(kept)
        return called

    def answer(self) -> None:
        """Take note of a tap by the keeper: what was called out before it was heard."""
        before = self._timers
        kept = [each for each in before if not (self._over(each) and self._told(each))]
        if kept != before:
            self._keep(kept)

    def running(self) -> list[Running]:
        """Return what goes on: what is over first, then the nearest end first."""
        return sorted((self._running(each) for each in self._timers), key=lambda each: each.left)

    @property
    def any(self) -> bool:
        """Whether a timer runs, or was not answered."""
        return bool(self._timers)

    def ahead(self) -> list[tuple[float, Timer, Phrase]]:
        """Return what will be called out: in how many seconds, of which timer, the words."""
        found = [
            (end - timer.elapsed(self._clock), timer, timer.called_at(end))
            for timer in self._timers
            for end in timer.ends
        ]
        return [each for each in found if each[0] > 0]

    def _running(self, timer: Timer) -> Running:
        elapsed = timer.elapsed(self._clock)
        end = next((end for end in timer.ends if end > elapsed), None)
        if end is None:
            return Running(timer.hive, timer.number, 0, timer.called_at(timer.times.whole))
        left = max(1, round(end - elapsed))
        form = (
            say("Hive {number}: runs {time}", number=timer.number, time=minutes(left))
            if elapsed < timer.times.runs
            else say("Hive {number}: closed {time}", number=timer.number, time=minutes(left))
        )
        return Running(timer.hive, timer.number, left, form)

    def _over(self, timer: Timer) -> bool:
        return timer.elapsed(self._clock) >= timer.times.whole

    def _told(self, timer: Timer) -> bool:
        return timer.called == len(timer.ends)

    def _keep(self, timers: list[Timer]) -> None:
        self._local.put(_KEPT, [list(each) for each in timers] or None)


def minutes(seconds: int) -> str:
    """Return seconds as a clock shows them: *2:05*."""
    return f"{seconds // 60}:{seconds % 60:02}"


def _read(kept: list[Any]) -> Timer:
    round_id, hive, number, record, times, wall_us, monotonic, called = kept
    return Timer(round_id, hive, number, record, Times(*times), wall_us, monotonic, called)
