"""The protocol's version, its media type and the sizes that both sides hold each other to."""

from __future__ import annotations

PROTOCOL = 1
"""Stands in every path, ``/api/1/…``. A newer server keeps the older paths beside its own."""

BATCHES = "application/vnd.apiary-rounds.batches+gzip"
"""Media type of gzip-compressed batches; see `fieldapp.wire.batches`."""

SEND_BYTES = 1 << 20
"""Records are gathered into one body up to this many bytes before compression …"""

SEND_RECORDS = 4000
"""… or this many records, whichever comes first."""

RECEIVE_BYTES = 4 << 20
"""A body that unpacks to more is refused: four times what an honest sender makes."""

PACKED_BYTES = 2 << 20
"""A body of more compressed bytes is refused before it is unpacked."""

JSON_BYTES = 4 << 20
"""The most that a JSON question or answer may hold."""

QUESTIONS = 10_000
"""The most writers that one question may name."""
