"""The keeper's own plan for a course: how many applications, and how many days between."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Literal

from fieldapp.words import Phrase, count, say

Ground = Literal["label in hand", "common practice"]

MOST_APPLICATIONS = 12
MOST_DAYS = 60
#: Where steps begin when the terms name no days between.
DAYS = 7


@dataclass
class Plan:
    """A plan being made. Numbers stay in their bounds, and `least` never passes `most`."""

    treatment: str
    number: int
    least: int
    most: int
    label_most: int | None
    ground: Ground = "common practice"

    @classmethod
    def of(cls, treatment: str, body: Mapping[str, Any]) -> Plan:
        """Return a plan to step from: two applications, days between as the terms have them."""
        values = body["values"]
        gap = values["gap"]["value"] if "gap" in values else {}
        numbers = values["applications"]["value"] if "applications" in values else {}
        least = gap.get("least", gap.get("target", DAYS))
        return cls(
            treatment,
            max(2, numbers.get("usual", 2)),
            least,
            max(least, gap.get("most", least)),
            numbers.get("most"),
        )

    def add_applications(self, n: int) -> None:
        """Plan more applications, or fewer."""
        self.number = min(max(2, self.number + n), MOST_APPLICATIONS)

    def add_least(self, days: int) -> None:
        """Let the next application be due later, or earlier."""
        self.least = min(max(1, self.least + days), MOST_DAYS)
        self.most = max(self.most, self.least)

    def add_most(self, days: int) -> None:
        """Let the last day for the next application be later, or earlier."""
        self.most = min(max(1, self.most + days), MOST_DAYS)
        self.least = min(self.least, self.most)

    def turn_ground(self) -> None:
        """Say that the plan stands on a label in hand, or that it is common practice."""
        on_label = self.ground == "label in hand"
        self.ground = "common practice" if on_label else "label in hand"

    @property
    def words(self) -> Phrase:
        """The plan in short: ``5 times, 4 to 7 days apart``."""
        if self.least == self.most:
            return count(
                "{times} times, {n} day apart", "{times} times, {n} days apart", self.least,
                times=self.number,
            )  # fmt: skip
        return say(
            "{times} times, {least} to {most} days apart",
            times=self.number,
            least=self.least,
            most=self.most,
        )

    @property
    def remark(self) -> Phrase | None:
        """How it stands to the label, None where the label in hand is its ground."""
        if self.ground == "label in hand":
            return None
        if self.label_most is None:
            return say("How often the label allows it is not known: read the label in hand.")
        if self.number <= self.label_most:
            return None
        return count(
            "Over label: the label has {n} application in a course.",
            "Over label: the label has {n} applications in a course.",
            self.label_most,
        )

    @property
    def body(self) -> dict[str, Any]:
        """The body of the ``plan`` record. The target day is the middle of the window."""
        target = (self.least + self.most) // 2
        return {
            "treatment": self.treatment,
            "number": self.number,
            "gap": {"least": self.least, "target": target, "most": self.most},
            "ground": self.ground,
        }
