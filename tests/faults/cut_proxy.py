"""A TCP proxy between phone and server that does to the bytes what bad wifi does."""

from __future__ import annotations

import queue
import socket
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from typing import Literal, NamedTuple

Kind = Literal["none", "cut", "reset", "truncate", "corrupt", "duplicate", "delay"]


class Fault(NamedTuple):
    """What happens on one connection when `at` bytes have gone in one direction.

    ``cut`` closes both ways, ``reset`` does so with a reset, ``truncate`` ends this direction
    only, ``corrupt`` flips a bit, ``duplicate`` sends a piece twice, ``delay`` waits.
    """

    kind: Kind = "none"
    upward: bool = True
    at: int = 0


class CutProxy:
    """Listens on a port of its own and hands on to `target`; asks `plan` for each connection."""

    def __init__(self, target: int, plan: Callable[[int], Fault], latency: float = 0.0) -> None:
        self._target = target
        self._plan = plan
        self._latency = latency
        self.connections = 0
        #: Bytes that went on each connection, up and down.
        self.carried: list[list[int]] = []
        self._listener = socket.create_server(("127.0.0.1", 0))
        self.port = self._listener.getsockname()[1]
        threading.Thread(target=self._accept, daemon=True).start()

    @property
    def address(self) -> str:
        return f"127.0.0.1:{self.port}"

    def close(self) -> None:
        self._listener.close()

    def _accept(self) -> None:
        while True:
            try:
                phone, _ = self._listener.accept()
            except OSError:
                return
            fault = self._plan(self.connections)
            self.connections += 1
            self.carried.append([0, 0])
            threading.Thread(
                target=self._join, args=(phone, fault, self.carried[-1]), daemon=True
            ).start()

    def _join(self, phone: socket.socket, fault: Fault, carried: list[int]) -> None:
        try:
            server = socket.create_connection(("127.0.0.1", self._target), 5)
        except OSError:
            phone.close()
            return
        ups, downs = (fault, Fault()) if fault.upward else (Fault(), fault)
        up = threading.Thread(
            target=_pump, args=(phone, server, ups, self._latency, carried, 0), daemon=True
        )
        up.start()
        _pump(server, phone, downs, self._latency, carried, 1)
        up.join()
        phone.close()
        server.close()


def _pump(
    source: socket.socket,
    sink: socket.socket,
    fault: Fault,
    latency: float,
    carried: list[int],
    way: int,
) -> None:
    gone = 0
    delivery = _Delivery(sink, latency)
    try:
        while data := source.recv(65536):
            if fault.kind != "none" and gone <= fault.at < gone + len(data):
                if not _harm(source, sink, fault, data, fault.at - gone):
                    return
            else:
                delivery.send(data)
            gone += len(data)
            carried[way] = gone
        delivery.end()
        sink.shutdown(socket.SHUT_WR)
    except OSError:
        _shut(source, sink)


class _Delivery:
    """Hands data on after `latency` seconds, as much at once as there is: far, not narrow."""

    def __init__(self, sink: socket.socket, latency: float) -> None:
        self._sink = sink
        self._latency = latency
        self._waiting: queue.SimpleQueue[tuple[float, bytes]] = queue.SimpleQueue()
        self._carrier = threading.Thread(target=self._carry, daemon=True)
        if latency:
            self._carrier.start()

    def send(self, data: bytes) -> None:
        if self._latency:
            self._waiting.put((time.monotonic() + self._latency, data))
        else:
            self._sink.sendall(data)

    def end(self) -> None:
        if self._latency:
            self._waiting.put((0.0, b""))
            self._carrier.join()

    def _carry(self) -> None:
        while True:
            due, data = self._waiting.get()
            if not data:
                return
            time.sleep(max(0.0, due - time.monotonic()))
            with suppress(OSError):
                self._sink.sendall(data)


def _harm(source: socket.socket, sink: socket.socket, fault: Fault, data: bytes, at: int) -> bool:
    """Do the fault inside `data`; return whether the connection goes on."""
    if fault.kind == "corrupt":
        sink.sendall(data[:at] + bytes([data[at] ^ 1]) + data[at + 1 :])
    elif fault.kind == "duplicate":
        sink.sendall(data[:at] + data[max(0, at - 40) : at] + data[at:])
    elif fault.kind == "delay":
        time.sleep(0.05)
        sink.sendall(data)
    else:
        sink.sendall(data[:at])
        if fault.kind == "truncate":
            sink.shutdown(socket.SHUT_WR)
            return False
        if fault.kind == "reset":
            linger = b"\x01\x00\x00\x00\x00\x00\x00\x00"
            for end in (source, sink):
                end.setsockopt(socket.SOL_SOCKET, socket.SO_LINGER, linger)
        _shut(source, sink)
        return False
    return True


def _shut(*ends: socket.socket) -> None:
    for end in ends:
        with suppress(OSError):
            end.shutdown(socket.SHUT_RDWR)


@contextmanager
def between(target: int, plan: Callable[[int], Fault], latency: float = 0.0) -> Iterator[CutProxy]:
    """Hold a proxy in front of a port."""
    proxy = CutProxy(target, plan, latency)
    try:
        yield proxy
    finally:
        proxy.close()
