"""Finding how far two histories of one writer are the same, by asking for few digests."""

from __future__ import annotations

from collections.abc import Sequence

#: Digests asked for at once and head: a round trip costs more than they do.
_AT_ONCE = 64


class Halving:
    """A search downwards from a head for the highest seq at which both sides hold the same.

    Ask the other side about `asks`, tell the answers by `told`, until `found` is a number.
    Below any shared record all is shared, so each round leaves one part in 65.
    """

    def __init__(self, low: int, high: int) -> None:
        """Search from `low`, where both hold the same, to `high`, above which they cannot."""
        self._low = low
        self._high = high

    @property
    def found(self) -> int | None:
        """The highest shared seq (0: nothing is shared), None while it is searched for."""
        return self._low if self._low >= self._high else None

    def asks(self) -> list[int]:
        """Return the seqs to ask about now, in order."""
        span = self._high - self._low
        parts = min(span, _AT_ONCE)
        return [self._low + span * part // parts for part in range(1, parts + 1)]

    def told(self, seqs: Sequence[int], shared: Sequence[bool]) -> None:
        """Take the answers in: whether both sides hold the same at each of `seqs`."""
        yes = [seq for seq, same in zip(seqs, shared, strict=True) if same]
        no = [seq for seq, same in zip(seqs, shared, strict=True) if not same]
        self._low = max([self._low, *yes])
        self._high = max(self._low, min([self._high, *(seq - 1 for seq in no)]))
