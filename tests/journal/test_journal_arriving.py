"""Files that arrive piece by piece: kept as they come, whole only by their digest."""

from __future__ import annotations

import hashlib
from pathlib import Path

import pytest

from fieldapp.journal import arriving as module
from fieldapp.journal.arriving import Arriving
from fieldapp.journal.errors import Full, ReadOnly
from fieldapp.journal.files import FileAltered, Files, FileTooLarge

DATA = bytes(range(256)) * 4
DIGEST = hashlib.sha256(DATA).hexdigest()


@pytest.fixture
def arriving(tmp_path):
    return Arriving(Files(tmp_path / "annexes"))


def names(arriving) -> list[str]:
    return sorted(path.name for path in arriving.files.folder.iterdir())


def test_pieces_of_any_length_make_the_file(arriving):
    """Also one by one bytes; nothing is left beside it."""
    at = 0
    assert arriving.here(DIGEST) == (False, 0)
    for length in (1, 1, 500, 1, 400, 121):
        here = arriving.add(DIGEST, at, DATA[at : at + length], len(DATA))
        at += length
        assert here == (at == len(DATA), at)
    assert arriving.files.read(DIGEST) == DATA
    assert names(arriving) == [DIGEST]


def test_it_goes_on_after_a_restart_where_it_was(arriving):
    """A part of it is no file: it is neither listed nor read."""
    arriving.add(DIGEST, 0, DATA[:700], len(DATA))
    again = Arriving(Files(arriving.files.folder))
    assert again.here(DIGEST) == (False, 700)
    assert list(again.files.digests()) == []
    assert not again.files.holds(DIGEST)
    assert again.add(DIGEST, 700, DATA[700:], len(DATA)) == (True, len(DATA))


@pytest.mark.parametrize("at", [0, 699, 701, 5000])
def test_a_piece_that_does_not_follow_is_not_taken(arriving, at):
    """Twice, too early or too late: the answer says where to go on."""
    arriving.add(DIGEST, 0, DATA[:700], len(DATA))
    assert arriving.add(DIGEST, at, DATA[700:], len(DATA)) == (False, 700)
    assert arriving.add(DIGEST, 700, DATA[700:], len(DATA)) == (True, len(DATA))


@pytest.mark.parametrize("harm", [DATA[:-1] + b"?", DATA + b"?"], ids=["altered", "longer"])
def test_what_is_not_the_named_file_is_dropped(arriving, harm):
    """Whether by another byte or by one too many; then it may come from its beginning."""
    with pytest.raises(FileAltered):
        arriving.add(DIGEST, 0, harm, len(DATA))
    assert arriving.here(DIGEST) == (False, 0)
    assert arriving.add(DIGEST, 0, DATA, len(DATA)) == (True, len(DATA))
    assert names(arriving) == [DIGEST]


def test_one_that_cannot_be_kept_is_not_begun(arriving, monkeypatch):
    """Over the bound for all files."""
    monkeypatch.setattr(module, "MOST", 1000)
    with pytest.raises(FileTooLarge):
        arriving.add(DIGEST, 0, DATA[:10], len(DATA))
    assert not arriving.files.folder.exists()


@pytest.mark.parametrize(("number", "error"), [(28, Full), (5, ReadOnly)])
def test_a_disk_that_fails_keeps_what_came_before(arriving, monkeypatch, number, error):
    """Full (ENOSPC 28) or broken (EIO 5) in the middle of a piece: no half of it stays."""
    arriving.add(DIGEST, 0, DATA[:100], len(DATA))
    opened = Path.open

    class HalfWritten:
        """A file of which only the half of a piece goes to the disk."""

        def __init__(self, file) -> None:
            self._file = file

        def __enter__(self):
            return self

        def __exit__(self, *_) -> None:
            self._file.close()

        def write(self, data) -> None:
            self._file.write(data[: len(data) // 2])
            self._file.flush()
            raise OSError(number, "the disk fails")

    with monkeypatch.context() as patch:
        patch.setattr(Path, "open", lambda *args: HalfWritten(opened(*args)))
        with pytest.raises(error):
            arriving.add(DIGEST, 100, DATA[100:600], len(DATA))
    assert arriving.here(DIGEST) == (False, 100)
    assert arriving.add(DIGEST, 100, DATA[100:], len(DATA)) == (True, len(DATA))
    assert arriving.files.read(DIGEST) == DATA


def test_what_is_removed_leaves_nothing_of_it(arriving):
    """Neither a part that arrived nor bytes that were altered: they may show somebody."""
    arriving.files.put(DATA)
    arriving.files.path(DIGEST).write_bytes(b"?")
    with pytest.raises(FileAltered):
        arriving.files.read(DIGEST)
    arriving.add(DIGEST, 0, DATA[:100], len(DATA))
    arriving.files.remove(DIGEST)
    assert names(arriving) == []
