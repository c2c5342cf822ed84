"""Reminders for while the app is closed: what the agenda says is coming, as the system's alarms."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from datetime import date, datetime, timedelta

from fieldapp.device.alarms import Alarm
from fieldapp.device.alarms import Alarms as SystemAlarms
from fieldapp.husbandry.answers import Line, Timing
from fieldapp.husbandry.spoken import spoken
from fieldapp.rounds.hours import Hours
from fieldapp.rounds.notebook import Notebook
from fieldapp.rounds.timers import Timers
from fieldapp.words import Speech, say

_DAY = timedelta(days=1)


class Alarms:
    """Arms what will be due, what has its last day, and what will be late if nobody comes."""

    def __init__(
        self, notebook: Notebook, system: SystemAlarms, speech: Speech, timers: Timers
    ) -> None:
        self._notebook = notebook
        self._system = system
        self._speech = speech
        self._timers = timers

    def arm(self, *, aside: bool = False) -> bool:
        """Arm the reminders to come and no others; return whether the system took them.

        Called as often as one likes: the same agenda arms the same alarms. While the program
        is `aside` the system rings for its timers too; in front it calls them out itself.
        """
        if not self._system.there:
            return False
        return self._system.replace([*(self.timed() if aside else ()), *self.coming()])

    def timed(self) -> list[Alarm]:
        """Return what the timers of hives will call out, the nearest first."""
        now = datetime.fromisoformat(self._notebook.moment()[:19])
        return [
            Alarm(
                f"timer|{timer.record}|{words.text}",
                now + timedelta(seconds=round(left)),
                self._speech(words),
                self._speech(say("Round at {apiary}", apiary=self._place(timer.round))),
            )
            for left, timer, words in sorted(self._timers.ahead(), key=lambda each: each[0])
        ]

    def _place(self, round_id: str) -> str:
        record = self._notebook.journal.by_id(round_id)
        return self._notebook.place_name(record.apiary or "") if record is not None else ""

    def coming(self) -> list[Alarm]:
        """Return the reminders that lie ahead, the nearest first."""
        today = self._notebook.today()
        now = datetime.fromisoformat(self._notebook.moment()[:19])
        sheet = self._notebook.sheet()
        names = {place.id: place.name for place in sheet.places}
        rings = Hours.kept(self._notebook.local).rings
        alike: Counter[tuple[str, str, str]] = Counter()
        found = []
        for line in sheet.lines:
            about = (line.task, line.apiary or "", line.treatment or "")
            alike[about] += 1
            for step, day, timing in _steps(line, today):
                said = spoken(line._replace(timing=timing), names, day)
                text = say("{where}: {when}", where=said.where, when=said.when)
                found.append(
                    Alarm(
                        "|".join((*about, str(alike[about]), step)),
                        datetime.combine(day, rings),
                        self._speech(said.what),
                        self._speech(text),
                    )
                )
        return sorted(alarm for alarm in found if alarm.at > now)


def _steps(line: Line, today: date) -> Iterator[tuple[str, date, Timing]]:
    """Give each morning on which a line is worth a reminder: its name, its day, how it stands."""
    if line.timing == "ask":
        return
    if line.timing == "waiting" and (day := line.target or line.first or line.last) is not None:
        yield "due", day, "due"
    if line.last is not None and line.timing != "late":
        if line.last != (line.target or line.first) or line.timing != "waiting":
            yield "last", line.last, "due"
        yield "late", line.last + _DAY, "late"
    if line.timing == "late":
        yield "late", today + _DAY, "late"
