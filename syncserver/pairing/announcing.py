"""Tells the network at home where the server is (DNS-SD, RFC 6763), for as long as it runs.

Nothing hangs on it: a phone that hears it asks for the certificate before it says a word, and
one that does not can be told the address. So what goes wrong here is told and stops nothing.
"""

from __future__ import annotations

import socket
import threading
from collections.abc import Callable
from types import TracebackType
from typing import Final

from fieldapp.wire import announcement
from syncserver.pairing.terminal import reachable

_LOOK_AGAIN_SECONDS: Final = 30.0


class Announcing:
    """Announces while its block runs, in a thread of its own: starting does not wait for it.

    `host` and `port` are where the server listens. What is announced is the address that its
    terminal shows; when the machine gets another one, that. `tell` is given one line where it
    fails.
    """

    def __init__(
        self, host: str, port: int, fingerprint: str, machine: str, tell: Callable[[str], None]
    ) -> None:
        self._host = host
        self._port = port
        self._fingerprint = fingerprint
        self._machine = machine
        self._tell = tell
        self._over = threading.Event()
        self._thread = threading.Thread(target=self._run, name="announcing", daemon=True)

    def __enter__(self) -> Announcing:
        self._thread.start()
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        value: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self._over.set()
        self._thread.join(5)

    def _run(self) -> None:
        told = False
        while not self._over.is_set():
            try:
                self._while_it_holds(reachable(self._host))
            except Exception as wrong:
                # Whatever it was, phones that know the address still sync; it is tried again.
                if not told:
                    self._tell(
                        f"Phones cannot find this server by themselves: {wrong}. "
                        "They sync all the same; pair them by its address."
                    )
                told = True
                self._over.wait(_LOOK_AGAIN_SECONDS)

    def _while_it_holds(self, address: str) -> None:
        """Announce this address until the server ends or the machine has another."""
        from zeroconf import IPVersion, ServiceInfo, Zeroconf  # noqa: PLC0415 - not at each command

        service = f"{announcement.SERVICE}.local."
        name = announcement.instance_name(self._machine).replace(".", " ")
        txt = announcement.properties(self._fingerprint)
        info = ServiceInfo(
            service,
            f"{name}.{service}",
            port=self._port,
            parsed_addresses=[address],
            properties=txt,
            # A name of its own: the machine's may be announced by another program.
            server=f"apiary-rounds-{txt['pin'][:8].lower()}.local.",
        )
        zeroconf = Zeroconf(
            interfaces=[address],
            ip_version=IPVersion.V6Only if ":" in address else IPVersion.V4Only,
        )
        try:
            zeroconf.register_service(info, allow_name_change=True)
            while not self._over.wait(_LOOK_AGAIN_SECONDS):
                if reachable(self._host) != address:
                    return
        finally:
            zeroconf.close()


def machine_name() -> str:
    """Return what this machine calls itself."""
    return socket.gethostname().partition(".")[0]
