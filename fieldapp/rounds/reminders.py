"""Reminders while the app runs: one notification for each line of the agenda, once a state."""

from __future__ import annotations

from fieldapp.device.notices import Notices
from fieldapp.husbandry.answers import Line
from fieldapp.rounds.due import Due, DueLine
from fieldapp.rounds.hours import Hours
from fieldapp.rounds.notebook import Notebook
from fieldapp.words import Phrase, Speech, say

#: Above this many new lines one notification names their number instead.
AT_ONCE = 4
_KEPT = 400


class Reminders:
    """Raises what became due or late since it was last raised."""

    def __init__(self, notebook: Notebook, notices: Notices, speech: Speech) -> None:
        self._notebook = notebook
        self._notices = notices
        self._speech = speech

    def check(self) -> int:
        """Raise what is new; return how many notifications the system took.

        What the system did not take is raised again at the next check, and so is what became
        due in quiet hours.
        """
        hour = int(self._notebook.moment()[11:13])
        if Hours.kept(self._notebook.local).quiet(hour):
            return 0
        told = list(self._notebook.local.get("reminded", []))
        new = [
            line
            for line in Due(self._notebook).lines()
            if line.line.timing in ("due", "late") and _name(line.line) not in told
        ]
        if not new:
            return 0
        taken = [line for line in new if self._raise(line)] if len(new) <= AT_ONCE else []
        if len(new) > AT_ONCE and self._notices.show(
            self._speech(say("{n} things are due", n=len(new))),
            "\n".join(self._speech(_text(line)) for line in new[:AT_ONCE]),
        ):
            taken = new
        if taken:
            told += [_name(line.line) for line in taken]
            self._notebook.local.put("reminded", told[-_KEPT:])
        return len(taken) if len(new) <= AT_ONCE else min(1, len(taken))

    def _raise(self, line: DueLine) -> bool:
        return self._notices.show(self._speech(line.what), self._speech(_where_and_when(line)))


def _where_and_when(line: DueLine) -> Phrase:
    return say("{where}: {when}", where=line.where, when=line.when)


def _text(line: DueLine) -> Phrase:
    return say("{what}, {where}: {when}", what=line.what, where=line.where, when=line.when)


def _name(line: Line) -> str:
    """Return what makes a reminder one: the same line turns up again when it becomes late."""
    days = line.last or line.target or line.first
    lot = dict(line.what.args).get("lot")
    parts = (line.task, line.apiary, line.treatment, line.timing, days, *((lot,) if lot else ()))
    return "|".join(str(part) for part in parts)
