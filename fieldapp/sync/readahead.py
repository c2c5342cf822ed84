"""Keeps the wire busy: the next is fetched or made ready while the last is being stored."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import Future, ThreadPoolExecutor
from typing import TypeVar

from fieldapp.journal.replica import Given, Want

Ask = Callable[[Sequence[Want]], Given]
_One = TypeVar("_One")


class ReadAhead:
    """Asks the likely next question in a thread of its own, one at a time.

    What it fetched is used only where the next question is the very one that was guessed;
    otherwise it is dropped, which costs a request and nothing else. An error of the guess
    comes when its answer is wanted.
    """

    def __init__(self, ask: Ask) -> None:
        self._ask = ask
        self._thread = ThreadPoolExecutor(1, "sync-ahead")
        self._guess: tuple[list[Want], Future[Given]] | None = None

    def give(self, wants: Sequence[Want]) -> Given:
        """Return the answer to `wants`, and begin to fetch what will be wanted next."""
        if self._guess and self._guess[0] == list(wants):
            given = self._guess[1].result()
        else:
            self.wait()
            given = self._ask(wants)
        self._guess = None
        if left := still_wanted(wants, given):
            self._guess = (left, self._thread.submit(self._ask, left))
        return given

    def wait(self) -> None:
        """Wait for a guess that is not wanted any more: there is one connection for all."""
        if self._guess:
            self._guess[1].exception()
            self._guess = None

    def close(self) -> None:
        """Wait for what is under way and drop it."""
        self._thread.shutdown(wait=True, cancel_futures=True)


def still_wanted(wants: Sequence[Want], given: Given) -> list[Want]:
    """Return what is left of `wants` once all of `given` is stored; nothing where unsure."""
    if given.astray or not given.batches:
        return []
    reached = {batch.writer: batch.last for batch in given.batches}
    moved = (Want(want.head, reached.get(want.head.writer, want.have)) for want in wants)
    return [want for want in moved if want.head != want.have]


def one_ahead(items: Iterator[_One]) -> Iterator[_One]:
    """Yield `items`, each made in a thread of its own while the one before is being used.

    An error of an item comes when the item is wanted. Broken off, it waits for the one under way.
    """
    with ThreadPoolExecutor(1, "sync-ready") as thread:
        coming = thread.submit(next, items, None)
        while (item := coming.result()) is not None:
            coming = thread.submit(next, items, None)
            yield item
