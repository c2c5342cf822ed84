"""Which home servers announce themselves in the network (DNS-SD). What is heard is a hint."""

from __future__ import annotations

import queue
import time
from collections.abc import Callable, Iterator, Sequence
from typing import Any, Final, Protocol

from fieldapp.wire import announcement
from fieldapp.wire.announcement import Announced

#: So many are listened to: a network at home has one, and a flood is not worth the battery.
MOST: Final = 20


class Finding(Protocol):
    """A way to hear announcements."""

    def look(self, seconds: float) -> Iterator[Announced]:
        """Yield servers as they are heard, for so long; close the iterator to stop earlier."""


class NoFinding:
    """A machine that cannot listen: it hears nobody."""

    def look(self, seconds: float) -> Iterator[Announced]:  # noqa: ARG002 - as of all
        """Hear nobody, at once."""
        return iter(())


class ZeroconfFinding:
    """Listens by itself, as a desktop does. `interfaces` are addresses of this machine; all."""

    def __init__(self, interfaces: Sequence[str] | None = None) -> None:
        self._interfaces = interfaces

    def look(self, seconds: float) -> Iterator[Announced]:
        """Yield servers as they are heard; nobody where there is no network to listen to."""
        # Importing it takes longer than a first page may wait.
        from zeroconf import InterfaceChoice, ServiceBrowser, Zeroconf  # noqa: PLC0415

        heard = Heard(seconds)
        service = f"{announcement.SERVICE}.local."

        def changed(zeroconf: Any, service_type: str, name: str, **_: Any) -> None:
            info = zeroconf.get_service_info(service_type, name, timeout=1000)
            if info is not None:
                heard.put(
                    announcement.read(
                        name.removesuffix(f".{service_type}"),
                        info.parsed_addresses(),
                        info.port or 0,
                        info.properties,
                    )
                )

        try:
            zeroconf = Zeroconf(interfaces=self._interfaces or InterfaceChoice.All)
        except OSError:
            return
        try:
            ServiceBrowser(zeroconf, service, handlers=[changed])
            yield from heard
        finally:
            zeroconf.close()


class Heard:
    """What one look heard, each announcement once; iterating ends when its time is over."""

    def __init__(self, seconds: float, monotonic: Callable[[], float] = time.monotonic) -> None:
        self._monotonic = monotonic
        self._until = monotonic() + seconds
        self._waiting: queue.SimpleQueue[Announced] = queue.SimpleQueue()

    def put(self, announced: Announced) -> None:
        """Take in an announcement, on whatever thread it came."""
        self._waiting.put(announced)

    def __iter__(self) -> Iterator[Announced]:
        """Yield what can be reached of it, as it comes."""
        seen: set[Announced] = set()
        while len(seen) < MOST and (left := self._until - self._monotonic()) > 0:
            try:
                one = self._waiting.get(timeout=left)
            except queue.Empty:
                return
            if one.addresses and one not in seen:
                seen.add(one)
                yield one
