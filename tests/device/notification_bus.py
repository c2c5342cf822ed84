"""A session bus of its own with a daemon that takes notifications and writes them down."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from jeepney import HeaderFields, MessageType, message_bus, new_error, new_method_return
from jeepney.io.blocking import Proxy, open_dbus_connection


@contextmanager
def notification_bus(folder: Path) -> Iterator[NotificationBus]:
    """Run a bus and its daemon; their address stands in the environment meanwhile."""
    bus = subprocess.Popen(
        ["dbus-daemon", "--session", "--nofork", "--print-address=1"],
        stdout=subprocess.PIPE,
        text=True,
    )
    before = os.environ.get("DBUS_SESSION_BUS_ADDRESS")
    os.environ["DBUS_SESSION_BUS_ADDRESS"] = bus.stdout.readline().strip()
    log = folder / "notifications.jsonl"
    daemon = subprocess.Popen([sys.executable, __file__, str(log)])
    try:
        taken = NotificationBus(log)
        taken.wait(0)
        yield taken
    finally:
        for process in (daemon, bus):
            process.terminate()
            process.wait(5)
        if before is None:
            del os.environ["DBUS_SESSION_BUS_ADDRESS"]
        else:
            os.environ["DBUS_SESSION_BUS_ADDRESS"] = before


class NotificationBus:
    """What came over the bus, in order."""

    def __init__(self, log: Path) -> None:
        self._log = log

    def wait(self, count: int, seconds: float = 10) -> list[dict[str, str]]:
        """Wait until `count` notifications have come; return them."""
        end = time.monotonic() + seconds
        while time.monotonic() < end:
            lines = self._log.read_text().splitlines() if self._log.exists() else []
            if len(lines) > count:
                return [json.loads(line) for line in lines[1:]]
            time.sleep(0.02)
        raise AssertionError(f"{count} notifications did not come within {seconds} s")


def serve(log: Path) -> None:
    """Be the notification daemon of the session until the bus ends."""
    connection = open_dbus_connection(bus="SESSION")
    Proxy(message_bus, connection).RequestName("org.freedesktop.Notifications", 4)
    with log.open("a", buffering=1, encoding="utf-8") as out:
        out.write("ready\n")
        number = 0
        while True:
            message = connection.receive()
            if message.header.message_type != MessageType.method_call:
                continue
            called = message.header.fields.get(HeaderFields.member)
            if called == "Notify":
                number += 1
                app, _, _, title, text, *_ = message.body
                out.write(json.dumps({"app": app, "title": title, "text": text}) + "\n")
                connection.send(new_method_return(message, "u", (number,)))
            elif called == "GetServerInformation":
                connection.send(new_method_return(message, "ssss", ("test", "test", "0", "1.2")))
            elif called == "GetCapabilities":
                connection.send(new_method_return(message, "as", (["body"],)))
            else:
                connection.send(new_error(message, "org.freedesktop.DBus.Error.UnknownMethod"))


if __name__ == "__main__":
    serve(Path(sys.argv[1]))
