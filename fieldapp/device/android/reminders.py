"""Notifications now and later, by the program's own Java: it rings where no Python runs."""

from __future__ import annotations

import logging
from collections.abc import Sequence
from hashlib import sha256

from fieldapp.device.alarms import Alarm
from fieldapp.device.android.java import activity, java

log = logging.getLogger(__name__)

REMINDERS = "org.apiaryrounds.rounds.Reminders"
#: The system allows a program 500 alarms; a season's next ones are far fewer.
MOST = 48


class AndroidNotices:
    """Notifications of the system, which open the program when they are touched."""

    there = True

    def show(self, title: str, text: str) -> bool:
        """Show it; return whether the keeper lets this program show any."""
        try:
            number = code(f"{title}\n{text}")
            return bool(java(REMINDERS).show(activity(), number, _plain(title), text))
        except Exception as error:  # whatever Java throws: the agenda still shows it
            log.info("no notification: %s", error)
            return False


class AndroidAlarms:
    """Alarms that wake the phone for a moment, to the nearest minutes, no permission needed."""

    there = True

    def replace(self, alarms: Sequence[Alarm]) -> bool:
        """Arm the next few dozen and no others; the same again changes nothing."""
        nearest = sorted(alarms, key=lambda alarm: (alarm.at, alarm.name))[:MOST]
        lines = {
            code(alarm.name): "\t".join(
                (f"{alarm.at:%Y-%m-%dT%H:%M:%S}", _plain(alarm.title), _plain(alarm.text))
            )
            for alarm in reversed(nearest)
        }
        try:
            told = "".join(f"{number}\t{line}\n" for number, line in reversed(lines.items()))
            java(REMINDERS).replace(activity(), told)
        except Exception as error:  # whatever Java throws: the program reminds while it runs
            log.warning("no alarms: %s", error)
            return False
        return True


def code(name: str) -> int:
    """Return the number by which the system knows a reminder: the same at every start."""
    return int.from_bytes(sha256(name.encode()).digest()[:4]) & 0x7FFFFFFF


def _plain(text: str) -> str:
    """Return words on one line: tab and line end part what is handed to Java."""
    return " ".join(text.split())
