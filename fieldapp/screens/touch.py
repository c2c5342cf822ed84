"""Touches as gloves make them: one finger at a time, and no tap twice.

Rain, a doubled tap and the ball of the hand all look like touches. While one finger is down
every other is ignored, and for a moment after a tap everything is, wherever it lands: a
bounce must not reach the next screen's field either.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable

#: Seconds after a tap in which nothing else counts. A keeper's next tap comes later than that.
BOUNCE = 0.3
#: The same where a keeper tallies: taps follow each other faster, a wet finger's bounce faster.
QUICK = 0.14
#: Seconds after which a finger that never lifted is forgotten (a lost touch event).
STUCK = 5.0


class Guard:
    """Says which touches count. `now` returns monotonic seconds."""

    def __init__(self, now: Callable[[], float], bounce: float = BOUNCE) -> None:
        self._now = now
        self.bounce = bounce
        self._finger: Hashable | None = None
        self._down_at = 0.0
        self._quiet_until = float("-inf")

    def down(self, finger: Hashable) -> bool:
        """Take a finger that comes down; False where it does not count."""
        now = self._now()
        if self._finger is not None and now - self._down_at < STUCK:
            return False
        if now < self._quiet_until:
            return False
        self._finger, self._down_at = finger, now
        return True

    def up(self, finger: Hashable) -> bool:
        """Take a finger that lifts; False where it is not the one that counts."""
        if finger != self._finger:
            return False
        self._finger = None
        return True

    @property
    def bouncing(self) -> bool:
        """Whether it is the moment after a tap."""
        return self._now() < self._quiet_until

    def tapped(self) -> None:
        """Begin the moment after a tap."""
        self._quiet_until = self._now() + self.bounce
