"""Fetching ahead: the guess is used when it was right, and harms nothing when it was wrong."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import closing

import pytest

from fieldapp.journal.batches import Batch
from fieldapp.journal.chain import Place
from fieldapp.journal.replica import Given, Want
from fieldapp.sync.readahead import ReadAhead, one_ahead

WRITER = bytes(16)


def place(seq: int, writer: bytes = WRITER) -> Place:
    return Place(writer, seq, bytes([seq]) * 32)


class Server:
    """Gives one record of the first want a question, and keeps what it was asked."""

    def __init__(self) -> None:
        self.asked: list[list[Want]] = []

    def __call__(self, wants: Sequence[Want]) -> Given:
        self.asked.append(list(wants))
        have = wants[0].have
        after = place(have.seq + 1, have.writer)
        return Given((Batch(have.writer, after.seq, have.digest, after.digest, (b"x",)),), ())


@pytest.fixture
def server() -> Server:
    return Server()


@pytest.fixture
def ahead(server: Server) -> Iterator[ReadAhead]:
    with closing(ReadAhead(server)) as opened:
        yield opened


def test_each_question_is_asked_once(server: Server, ahead: ReadAhead):
    """Three records in three questions: the second and third were asked ahead, none twice."""
    for seq in range(3):
        given = ahead.give([Want(place(3), place(seq))])
        assert given.batches[0].last == place(seq + 1)
    ahead.close()
    assert server.asked == [[Want(place(3), place(seq))] for seq in range(3)]


def test_another_question_than_guessed_gets_its_own_answer(server: Server, ahead: ReadAhead):
    """What was fetched for the guess is dropped."""
    ahead.give([Want(place(5), place(0))])
    given = ahead.give([Want(place(5), place(3))])
    assert given.batches[0].last == place(4)


def test_nothing_is_asked_ahead_where_all_has_come(server: Server, ahead: ReadAhead):
    """The last answer costs no further request."""
    ahead.give([Want(place(1), place(0))])
    ahead.close()
    assert len(server.asked) == 1


def test_an_error_comes_when_its_answer_is_wanted(ahead: ReadAhead, server: Server):
    """Not before, and not instead of an answer that did come."""
    ahead.give([Want(place(3), place(0))])
    ahead.close()
    broken = ReadAhead(lambda wants: server(wants) if wants[0].have.seq == 0 else 1 / 0)
    with closing(broken):
        assert broken.give([Want(place(3), place(0))]).batches
        with pytest.raises(ZeroDivisionError):
            broken.give([Want(place(3), place(1))])


def test_the_next_is_made_while_the_last_is_used():
    """One ahead and no more, in order, none left out."""
    made: list[int] = []

    def making() -> Iterator[int]:
        for number in range(1, 6):
            made.append(number)
            yield number

    used = []
    for number in one_ahead(making()):
        assert len(made) <= number + 1
        used.append(number)
    assert used == made == [1, 2, 3, 4, 5]


def test_an_error_in_the_making_comes_in_its_turn():
    """What was made before it is used first."""

    def making() -> Iterator[int]:
        yield 1
        raise ZeroDivisionError

    items = one_ahead(making())
    assert next(items) == 1
    with pytest.raises(ZeroDivisionError):
        next(items)
