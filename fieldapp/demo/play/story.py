"""The demo day: a round of twelve hives, the way home, a sync, the agenda on both sides."""

from __future__ import annotations

from collections.abc import Callable
from datetime import timedelta
from pathlib import Path

from fieldapp.demo.play.served import AgendaLine
from fieldapp.demo.play.server import HomeServer
from fieldapp.demo.play.window import Hand

APIARY = "Ferry Lane"
TREATMENT = "sublim"
HIVES = 12
BETWEEN_HIVES_S = 170.0
ROUND = timedelta(seconds=HIVES * BETWEEN_HIVES_S)
"""What the walk takes by the phone's clock."""


class Story:
    """Plays the day with one finger; keeps a picture of each screen that it goes through."""

    def __init__(self, hand: Hand, pictures: Path, tell: Callable[[str], None]) -> None:
        self._hand = hand
        self._pictures = pictures
        self._tell = tell
        self._taken = 0

    def round(self) -> None:
        """Choose apiary and treatment, and tap twelve hives as they are treated."""
        hand = self._hand
        self._picture("what-is-due")
        hand.tap(f"Round at {APIARY}")
        self._picture("which-treatment")
        hand.tap(TREATMENT)
        self._picture("before-the-round")
        hand.tap("As shown: begin")
        self._picture("the-round")
        for number in range(1, HIVES + 1):
            hand.tap(f"Hive {number}\n", after_s=BETWEEN_HIVES_S)
            if number == 1:
                self._picture("one-hive-done")
        self._picture("all-done")
        hand.tap("The walk is done")
        self._picture("summary")
        self._tell(f"Round: {HIVES} hives at {APIARY}, each logged by one tap on the large field.")

    def go_home(self) -> None:
        """Go from the summary to *What is due*, and from there to *Home*."""
        self._hand.tap("What is due")
        self._hand.tap("Home")

    def pair(self, server: HomeServer, code: str) -> None:
        """Choose the server that is heard, and type its code, as at the desk.

        Where this machine lets no program hear another on loopback, the address is typed.
        """
        hand = self._hand
        hand.tap("Pair with a server")
        hand.until(lambda: self._heard(server) or "Listen again" in hand.key_texts(), "a server")
        self._picture("servers")
        heard = self._heard(server)
        hand.tap(server.address if heard else "Type the address")
        hand.type_into(0, code)
        if not heard:
            hand.type_into(1, server.address)
        self._picture("pairing")
        hand.tap("Pair")
        hand.until(lambda: "Sync now" in hand.key_texts(), "the phone to be paired")
        self._picture("paired")

    def _heard(self, server: HomeServer) -> bool:
        return any(server.address in key for key in self._hand.key_texts())

    def sync(self) -> str:
        """Sync and return the outcome as the screen says it."""
        hand = self._hand
        hand.tap("Sync now")
        hand.until(lambda: self._outcome() is not None, "the sync to end")
        self._picture("synced")
        outcome = self._outcome() or ""
        self._tell(f"Sync, on the screen: {outcome}")
        return outcome

    def agenda(self) -> list[AgendaLine]:
        """Go back to *What is due* and read it from the screen, page by page."""
        self._hand.tap("Back")
        self._picture("what-is-due-after-syncing")
        keys = self._hand.over_pages(self._hand.key_texts)
        return [tuple(lines) for key in keys if len(lines := key.split("\n")) == 3]

    def _outcome(self) -> str | None:
        found = [text for text in self._hand.texts() if "hold the same" in text]
        return found[0] if found else None

    def _picture(self, name: str) -> None:
        self._taken += 1
        self._hand.picture(self._pictures / f"{self._taken:02d}-{name}.png")


def compare(screen: list[AgendaLine], page: list[AgendaLine]) -> tuple[str, bool]:
    """Return both agendas side by side as text, and whether they are the same."""
    rows = []
    for number in range(max(len(screen), len(page))):
        for title, lines in (("phone", screen), ("page", page)):
            words = " | ".join(lines[number]) if number < len(lines) else "(nothing)"
            rows.append(f"{number + 1:3} {title:5} {words}")
    same = bool(screen) and screen == page
    return "\n".join(rows), same
