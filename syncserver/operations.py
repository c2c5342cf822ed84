"""The operation's id in the forms that other parts need."""

from __future__ import annotations

import uuid


def keeper_of(operation: str) -> str:
    """Return the id by which the server signs as a keeper, in the few records it writes itself."""
    return str(uuid.UUID(hex=operation))
