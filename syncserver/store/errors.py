"""What can go wrong in a store."""

from __future__ import annotations

from syncserver.errors import ServerError


class NameTaken(ServerError):
    """An operation of this name is there already."""


class StoreBroken(ServerError):
    """The store's file cannot be read or written."""
