"""The protocol's version, its media type and the sizes that both sides hold each other to."""

from __future__ import annotations

from typing import Final

PROTOCOL: Final = 1
"""Stands in every path, ``/api/1/…``. A newer server keeps the older paths beside its own."""

BATCHES: Final = "application/vnd.apiary-rounds.batches+gzip"
"""Media type of gzip-compressed batches; see `fieldapp.wire.batches`."""

BATCH_BYTES: Final = 8 << 20
"""The most that batches may hold, packed or unpacked: twice what an honest sender makes."""

JSON_BYTES: Final = 1 << 20
"""The most that a JSON question or answer may hold."""

PIECE: Final = "application/octet-stream"
"""Media type of a piece of a file."""

PIECE_BYTES: Final = 64 << 10
"""The most that one piece of a file may hold: what bad wifi has to carry without a cut."""

MANY: Final = 3_000
"""The most places that one question may name; so many fit into `JSON_BYTES`."""
