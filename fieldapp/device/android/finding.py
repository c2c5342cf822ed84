"""Which home servers announce themselves, heard by Android's own service for that.

The system listens for us: that takes no lock on multicast and no permission beside INTERNET.
"""

from __future__ import annotations

import logging
import queue
import threading
from collections.abc import Iterator
from functools import cache
from typing import Any

from fieldapp.device.android.java import service
from fieldapp.device.finding import Heard
from fieldapp.wire import announcement
from fieldapp.wire.announcement import Announced

log = logging.getLogger(__name__)

_DNS_SD = 1  # NsdManager.PROTOCOL_DNS_SD


class AndroidFinding:
    """Asks the system's `NsdManager`. To be used away from the screen's thread."""

    def look(self, seconds: float) -> Iterator[Announced]:
        """Yield servers as they are heard; nobody where the system does not listen."""
        heard = Heard(seconds)
        try:
            asking = _Asking(service("servicediscovery", "android.net.nsd.NsdManager"), heard)
            asking.begin()
        except Exception as error:  # whatever Java throws: an address can still be typed
            log.info("no servers are heard: %s", error)
            _leave_java()
            return
        try:
            yield from heard
        finally:
            asking.end()
            _leave_java()


class _Asking:
    """One discovery.

    Where each of the found servers is, is asked one after the other: older systems refuse two
    such questions at once.
    """

    def __init__(self, manager: Any, heard: Heard) -> None:
        self._manager = manager
        self._heard = heard
        self._waiting: queue.SimpleQueue[Any] = queue.SimpleQueue()
        # Java holds them where Python's collector does not see it.
        self._discovery = _discovery_class()(self)
        self._resolve: Any = None
        self._lock = threading.Lock()
        self._listens = True

    def begin(self) -> None:
        """Begin to listen."""
        self._manager.discoverServices(announcement.SERVICE, _DNS_SD, self._discovery)

    def end(self) -> None:
        """Listen no more."""
        if self._listens:
            self._listens = False
            try:
                self._manager.stopServiceDiscovery(self._discovery)
            except Exception as error:  # it had ended by itself
                log.info("listening for servers had ended: %s", error)

    def failed(self, error: int) -> None:
        """Take in that the system does not listen."""
        log.info("no servers are heard: error %s", error)
        self._listens = False

    def found(self, info: Any) -> None:
        """Take in a server of which only the name is known yet."""
        self._waiting.put(info)
        with self._lock:
            if self._resolve is None:
                self._ask_next()

    def next(self) -> None:
        """Ask where the next one is, the last having answered."""
        with self._lock:
            self._resolve = None
            self._ask_next()

    def _ask_next(self) -> None:
        if self._listens and not self._waiting.empty():
            self._resolve = _resolve_class()(self)
            self._manager.resolveService(self._waiting.get(), self._resolve)

    def resolved(self, info: Any) -> None:
        """Take in where one is, and ask for the next."""
        host, attributes = info.getHost(), info.getAttributes()
        txt: dict[bytes, bytes | None] = {}
        for key in attributes.keySet().toArray():
            value = attributes.get(key)
            txt[str(key).encode()] = None if value is None else bytes(b & 0xFF for b in value)
        hosts = [] if host is None else [str(host.getHostAddress())]
        name = str(info.getServiceName())
        self._heard.put(announcement.read(name, hosts, int(info.getPort()), txt))
        self.next()


def _leave_java() -> None:
    """Let go of the Java machine: Android ends a program whose thread ends without that."""
    if threading.current_thread() is not threading.main_thread():
        from jnius import detach  # noqa: PLC0415  (only where Java is)

        detach()


@cache
def _discovery_class() -> Any:
    from jnius import PythonJavaClass, java_method  # noqa: PLC0415

    class Discovery(PythonJavaClass):
        """Java's DiscoveryListener, all of whose methods must be there."""

        __javainterfaces__ = ("android/net/nsd/NsdManager$DiscoveryListener",)

        def __init__(self, asking: _Asking) -> None:
            super().__init__()
            self._asking = asking

        @java_method("(Landroid/net/nsd/NsdServiceInfo;)V", name="onServiceFound")
        def found(self, info: Any) -> None:
            self._asking.found(info)

        @java_method("(Landroid/net/nsd/NsdServiceInfo;)V", name="onServiceLost")
        def lost(self, _info: Any) -> None:
            """One that went does not answer: that is found out soon enough."""

        @java_method("(Ljava/lang/String;)V", name="onDiscoveryStarted")
        def started(self, _service: str) -> None:
            """What is found comes by itself."""

        @java_method("(Ljava/lang/String;)V", name="onDiscoveryStopped")
        def stopped(self, _service: str) -> None:
            """It was told to stop."""

        @java_method("(Ljava/lang/String;I)V", name="onStartDiscoveryFailed")
        def not_started(self, _service: str, error: int) -> None:
            self._asking.failed(error)

        @java_method("(Ljava/lang/String;I)V", name="onStopDiscoveryFailed")
        def not_stopped(self, _service: str, error: int) -> None:
            self._asking.failed(error)

    return Discovery


@cache
def _resolve_class() -> Any:
    from jnius import PythonJavaClass, java_method  # noqa: PLC0415

    class Resolve(PythonJavaClass):
        """Java's ResolveListener; its newer methods have bodies of their own."""

        __javainterfaces__ = ("android/net/nsd/NsdManager$ResolveListener",)

        def __init__(self, asking: _Asking) -> None:
            super().__init__()
            self._asking = asking

        @java_method("(Landroid/net/nsd/NsdServiceInfo;)V", name="onServiceResolved")
        def resolved(self, info: Any) -> None:
            self._asking.resolved(info)

        @java_method("(Landroid/net/nsd/NsdServiceInfo;I)V", name="onResolveFailed")
        def failed(self, _info: Any, _error: int) -> None:
            self._asking.next()

    return Resolve
