"""Files that records name: kept by their digest, and read whole or not at all."""

from __future__ import annotations

import hashlib
import os

import pytest

from fieldapp.journal import files as module
from fieldapp.journal.errors import Full, ReadOnly
from fieldapp.journal.files import FileAltered, FileAway, Files, FileTooLarge

PHOTO = b"\xff\xd8\xff a photo"


@pytest.fixture
def files(tmp_path):
    return Files(tmp_path / "annexes")


def test_a_file_is_read_back_by_its_digest_and_kept_once(files):
    """The name is the SHA-256, as `sha256sum` prints it."""
    digest = files.put(PHOTO)
    assert digest == hashlib.sha256(PHOTO).hexdigest()
    assert files.put(PHOTO) == digest
    assert files.read(digest) == PHOTO
    assert list(files.digests()) == [digest]
    assert [path.name for path in files.folder.iterdir()] == [digest]


def test_nothing_is_there_before_the_first(files):
    """No folder is made by asking."""
    digest = hashlib.sha256(PHOTO).hexdigest()
    assert list(files.digests()) == []
    assert not files.holds(digest)
    with pytest.raises(FileAway, match="not on this device"):
        files.read(digest)
    assert not files.folder.exists()


def test_an_altered_file_is_never_given_out_and_is_mended_by_the_right_bytes(files):
    """A bit flipped, a byte cut off: the record named something else."""
    digest = files.put(PHOTO)
    files.path(digest).write_bytes(PHOTO[:-1])
    assert files.holds(digest)
    with pytest.raises(FileAltered, match=digest):
        files.read(digest)
    assert not files.holds(digest), "it is set aside, so that a sync may bring the right one"
    assert files.path(f"{digest}").with_name(f"{digest}.altered").read_bytes() == PHOTO[:-1]
    files.put(PHOTO)
    assert files.read(digest) == PHOTO


def test_only_a_digest_leads_to_a_file(files):
    """A name that would lead elsewhere is none, whoever wrote the record."""
    for name in ("../journal.db", "A" * 64, "", "a" * 63, "a" * 64 + "\n"):
        with pytest.raises(ValueError, match="no SHA-256"):
            files.path(name)


def test_what_is_no_file_of_ours_is_not_listed(files):
    """A draft that was cut off, or a file of somebody's own."""
    digest = files.put(PHOTO)
    (files.folder / f"{'0' * 64}.new").write_bytes(b"half")
    (files.folder / "notes.txt").write_text("mine")
    assert list(files.digests()) == [digest]


def test_a_file_over_the_size_is_refused_with_both_sizes(files, monkeypatch):
    """Nothing of it is kept."""
    monkeypatch.setattr(module, "MOST", 4)
    with pytest.raises(FileTooLarge, match=r"has 5 bytes, and 4"):
        files.put(b"12345")
    assert not files.folder.exists()


@pytest.mark.parametrize(("number", "error"), [(28, Full), (30, ReadOnly)])
def test_a_disk_that_fails_leaves_nothing_by_halves(files, monkeypatch, number, error):
    """Full (ENOSPC 28) or read-only (EROFS 30): said in words, no draft stays."""

    def fails(_file):
        raise OSError(number, os.strerror(number))

    monkeypatch.setattr(os, "fsync", fails)
    with pytest.raises(error):
        files.put(PHOTO)
    assert list(files.folder.iterdir()) == []


def test_a_file_is_removed_and_a_missing_one_is_no_error(files):
    """Whoever asks twice has it gone."""
    digest = files.put(PHOTO)
    files.remove(digest)
    files.remove(digest)
    assert not files.holds(digest)
    assert list(files.folder.iterdir()) == []
