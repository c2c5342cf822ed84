"""The floor: a bare handler that puts whatever comes into SQLite, with no check at all.

Run as a process: ``floor_server.py DATABASE BATCH [CERTIFICATE KEY]``; prints its port. Without a
certificate it speaks plain HTTP.
"""

from __future__ import annotations

import json
import socket
import sqlite3
import sys
from typing import Any
from urllib.parse import parse_qs

import uvicorn


class Floor:
    """POST a JSON array of texts to store them; GET ``?after=n`` for the next batch."""

    def __init__(self, path: str, batch: int) -> None:
        self._batch = batch
        self._db = sqlite3.connect(path, isolation_level=None, check_same_thread=False)
        self._db.execute("PRAGMA journal_mode=WAL")
        self._db.execute("PRAGMA synchronous=FULL")
        self._db.execute("CREATE TABLE record (n INTEGER PRIMARY KEY, raw TEXT NOT NULL)")

    async def __call__(self, scope: Any, receive: Any, send: Any) -> None:
        if scope["type"] != "http":
            return
        if scope["method"] == "POST":
            body, more = b"", True
            while more:
                message = await receive()
                body += message.get("body", b"")
                more = message.get("more_body", False)
            self._db.execute("BEGIN IMMEDIATE")
            self._db.executemany(
                "INSERT INTO record (raw) VALUES (?)", ((raw,) for raw in json.loads(body))
            )
            self._db.execute("COMMIT")
            answer = b"{}"
        else:
            after = int(parse_qs(scope["query_string"].decode())["after"][0])
            rows = self._db.execute(
                "SELECT raw FROM record WHERE n > ? ORDER BY n LIMIT ?", (after, self._batch)
            )
            answer = json.dumps([raw for (raw,) in rows]).encode()
        length = str(len(answer)).encode()
        headers = [(b"content-length", length), (b"content-type", b"application/json")]
        await send({"type": "http.response.start", "status": 200, "headers": headers})
        await send({"type": "http.response.body", "body": answer})


def main() -> None:
    database, batch, *files = sys.argv[1:]
    certificate, key = files or (None, None)
    config = uvicorn.Config(
        Floor(database, int(batch)), log_level="error", ssl_certfile=certificate, ssl_keyfile=key
    )
    # Named as TCP, or every answer waits 40 ms for an acknowledgement and the floor lies deep.
    listener = socket.socket(socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP)
    listener.bind(("127.0.0.1", 0))
    listener.listen(16)
    print(listener.getsockname()[1], flush=True)
    uvicorn.Server(config).run(sockets=[listener])


if __name__ == "__main__":
    main()
