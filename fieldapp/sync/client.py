"""Asks the home server and turns every way of failing into a `SyncError`."""

from __future__ import annotations

import json
from typing import Any, Final

import requests
from urllib3.exceptions import HTTPError

from fieldapp.sync.errors import Garbled, NotThere, Refused, WrongServer
from fieldapp.sync.pinned import ANSWER_SECONDS, CONNECT_SECONDS, host_and_port, pinned_session
from fieldapp.wire import limits

_JSON: Final = "application/json"


class Client:
    """One server, known by its certificate. One thread at a time.

    `answers` counts the answers that arrived whole, `sent_bytes` and `got_bytes` the bytes of
    bodies, as they went over the wire.
    """

    def __init__(self, address: str, fingerprint: str, token: str = "") -> None:
        host_and_port(address)
        self.address = address
        self.answers = 0
        self.sent_bytes = 0
        self.got_bytes = 0
        self._root = f"https://{address}/api/{limits.PROTOCOL}"
        self._session = pinned_session(fingerprint)
        self._session.headers["Accept-Encoding"] = "identity"
        if token:
            self._session.headers["Authorization"] = f"Bearer {token}"

    def close(self) -> None:
        """Let go of the connection."""
        self._session.close()

    def get(self, path: str) -> Any:
        """Return the JSON answer to a question without a body."""
        return self._json("GET", path)

    def ask(self, path: str, question: Any) -> Any:
        """Return the JSON answer to a JSON question."""
        return self._json("POST", path, json=question)

    def send(self, path: str, packed: bytes) -> Any:
        """Return the JSON answer to packed batches."""
        return self._json("POST", path, data=packed, headers={"Content-Type": limits.BATCHES})

    def put(self, path: str, piece: bytes) -> Any:
        """Return the JSON answer to a piece of a file."""
        return self._json("PUT", path, data=piece, headers={"Content-Type": limits.PIECE})

    def piece(self, path: str) -> bytes:
        """Return a piece of a file."""
        response, body = self._exchange("GET", path, limits.PIECE_BYTES)
        if response.headers.get("Content-Type") != limits.PIECE:
            raise Garbled(self.address)
        return body

    def fetch(self, path: str, question: Any) -> bytes:
        """Return the packed batches that answer a JSON question."""
        response, body = self._exchange("POST", path, limits.BATCH_BYTES, json=question)
        if response.headers.get("Content-Type") != limits.BATCHES:
            raise Garbled(self.address)
        return body

    def _json(self, method: str, path: str, **how: Any) -> Any:
        response, body = self._exchange(method, path, limits.JSON_BYTES, **how)
        return self._decoded(response, body)

    def _exchange(
        self, method: str, path: str, most: int, **how: Any
    ) -> tuple[requests.Response, bytes]:
        """Ask once and read the whole answer, up to `most` bytes of it."""
        try:
            with self._session.request(
                method,
                self._root + path,
                timeout=(CONNECT_SECONDS, ANSWER_SECONDS),
                allow_redirects=False,
                stream=True,
                **how,
            ) as response:
                body = response.raw.read(most + 1)
                whole = len(body) <= most and not response.raw.read(1)
        except requests.exceptions.SSLError as wrong:
            if "ingerprints did not match" in str(wrong):
                raise WrongServer(self.address) from wrong
            raise NotThere(self.address) from wrong
        except (requests.exceptions.RequestException, HTTPError, OSError) as wrong:
            raise NotThere(self.address) from wrong
        if not whole:
            raise Garbled(self.address)
        self.answers += 1
        self.sent_bytes += len(response.request.body or b"")
        self.got_bytes += len(body)
        if response.status_code != requests.codes.ok:
            raise self._refusal(response, body)
        return response, body

    def _refusal(self, response: requests.Response, body: bytes) -> Exception:
        try:
            error = self._decoded(response, body)["error"]
            return Refused(str(error["code"]), str(error["what"]), str(error["do"]))
        except (KeyError, TypeError):
            return Garbled(self.address)

    def _decoded(self, response: requests.Response, body: bytes) -> Any:
        if not response.headers.get("Content-Type", "").startswith(_JSON):
            raise Garbled(self.address)
        try:
            return json.loads(body)
        except (ValueError, RecursionError) as wrong:
            raise Garbled(self.address) from wrong
