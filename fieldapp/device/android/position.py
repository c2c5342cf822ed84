"""Fixes from Android's own receivers, single or in batches, with accuracy, age and time."""

from __future__ import annotations

import logging
from collections.abc import Callable
from functools import cache
from typing import Any

from fieldapp.device.android.java import java, service
from fieldapp.device.android.permissions import Permissions
from fieldapp.device.position import Fix, OnFix

log = logging.getLogger(__name__)

EVERY_MS = 2000
METRES = 0.0
#: The receivers asked, where the phone has them switched on. `fused` is on newer ones only.
PROVIDERS = ("gps", "fused", "network")
#: The only one whose time is promised to be the satellites' (Android, `Location.getTime`); others
#: may tell it by the phone's own clock, which is the one in question.
_KEEPS_TIME = "gps"
_NANOSECONDS = 1e9


class AndroidPosition:
    """Fixes while it is started. `monotonic` returns seconds."""

    def __init__(self, monotonic: Callable[[], float], permissions: Permissions) -> None:
        self.state = "off"
        self._monotonic = monotonic
        self._permissions = permissions
        self._on_fix: OnFix | None = None
        self._listener: Any = None

    def start(self, on_fix: OnFix) -> None:
        """Ask for fixes; the permission first, once. A refusal becomes a state, not an error."""
        self._on_fix = on_fix
        try:
            if self._permissions.position():
                self._begin()
            elif self._permissions.ask(self._answered):
                self.state = "waiting"
            else:
                self.state = "refused"
        except Exception as error:  # whatever Java throws: logging goes on without a position
            log.info("no position: %s", error)
            self.state = "none"

    def stop(self) -> None:
        """End; nothing happens where it never began."""
        self._on_fix = None
        if self.state in ("waiting", "there"):
            self.state = "off"
        if self._listener is not None:
            _manager().removeUpdates(self._listener)

    def _answered(self) -> None:
        # The question put the program aside: where it is not back yet, its return starts this.
        if self._on_fix is not None:
            self.start(self._on_fix)

    def _begin(self) -> None:
        manager = _manager()
        on = [name for name in PROVIDERS if name in list(manager.getProviders(True))]
        self._listener = self._listener or _listener_class()(self._located)
        looper = java("android.os.Looper").getMainLooper()
        asked = False
        for name in on:
            try:
                manager.requestLocationUpdates(name, EVERY_MS, METRES, self._listener, looper)
            except Exception as error:  # gps where only a rough position is allowed
                log.info("no position from %s: %s", name, error)
            else:
                asked = True
                if self.state != "there":
                    self.state = "waiting"
                if (last := manager.getLastKnownLocation(name)) is not None:
                    self._located(last)
        if not asked:
            self.state = "refused"

    def _located(self, location: Any) -> None:
        fix = Fix(
            float(location.getLatitude()),
            float(location.getLongitude()),
            float(location.getAccuracy()) if location.hasAccuracy() else None,
            self._monotonic() - _age(location),
            _satellite_time(location),
        )
        if self._on_fix is not None:
            self.state = "there"
            self._on_fix(fix)


def _manager() -> Any:
    return service("location", "android.location.LocationManager")


def _age(location: Any) -> float:
    """Return how many seconds ago the phone was there, by the clock that never goes back."""
    now = java("android.os.SystemClock").elapsedRealtimeNanos()
    return max(0.0, float(now - location.getElapsedRealtimeNanos()) / _NANOSECONDS)


def _satellite_time(location: Any) -> int | None:
    """Return the satellites' time of a fix, None where another clock may have told it."""
    if location.getProvider() != _KEEPS_TIME or location.isFromMockProvider():
        return None
    return int(location.getTime())


@cache
def _listener_class() -> Any:
    from jnius import PythonJavaClass, java_method  # noqa: PLC0415  (only where Java is)

    class Listener(PythonJavaClass):
        """Java's LocationListener, all of whose methods must be there."""

        __javainterfaces__ = ("android/location/LocationListener",)

        def __init__(self, located: Callable[[Any], None]) -> None:
            super().__init__()
            self._located = located

        @java_method("(Landroid/location/Location;)V", name="onLocationChanged")
        def one(self, location: Any) -> None:
            self._located(location)

        @java_method("(Ljava/util/List;)V", name="onLocationChanged")
        def batch(self, locations: Any) -> None:
            for place in range(locations.size()):
                self._located(locations.get(place))

        @java_method("(I)V", name="onFlushComplete")
        def flushed(self, _request: int) -> None:
            """Nothing was asked to be flushed."""

        @java_method("(Ljava/lang/String;)V", name="onProviderEnabled")
        def enabled(self, _name: str) -> None:
            """Its fixes come by themselves."""

        @java_method("(Ljava/lang/String;)V", name="onProviderDisabled")
        def disabled(self, _name: str) -> None:
            """Its fixes stop by themselves; another receiver may go on."""

        @java_method("(Ljava/lang/String;ILandroid/os/Bundle;)V", name="onStatusChanged")
        def status(self, _name: str, _status: int, _more: Any) -> None:
            """Called by older systems; says nothing that a fix does not."""

    return Listener
