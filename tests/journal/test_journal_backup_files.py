"""The files that records name go into a backup and come back with it, each held to its digest."""

from __future__ import annotations

import hashlib
import zipfile

import pytest
from journal_making import HIVE, KEEPER, WHEN, note

from fieldapp.journal import backup as module
from fieldapp.journal.backup import backup, bring_in, check, restore
from fieldapp.journal.errors import Full
from fieldapp.journal.files import Files
from fieldapp.journal.record import Draft

ONE, TWO = b"\xff\xd8\xff one", b"\xff\xd8\xff two"


def named(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()


def photo(root: str, data: bytes, **more) -> Draft:
    body = {"sha256": named(data), "type": "image/jpeg", "size": len(data)}
    return Draft("photo", WHEN, KEEPER, body, hive=HIVE, adds_to=root, **more)


@pytest.fixture
def phone(device, tmp_path):
    """Return a phone with two photos beside a look."""
    phone = device("phone")
    phone.files = Files(tmp_path / "phone" / "annexes")
    [look] = phone.journal.write([note()])
    phone.journal.write([photo(look.id, data) for data in (ONE, TWO)])
    for data in (ONE, TWO):
        phone.files.put(data)
    return phone


def restored(phone, tmp_path):
    files = Files(tmp_path / "new" / "annexes")
    back = restore(
        tmp_path / "b.zip",
        tmp_path / "new" / "journal.db",
        now_ms=phone.clock,
        entropy=phone.chance.randbytes,
        files=files,
    )
    back.journal.close()
    return back, files


def test_files_come_back_with_their_records(phone, tmp_path) -> None:
    """Byte for byte, under their digests; what no record names stays out."""
    phone.files.put(b"not saved yet")
    made = backup(phone.journal, tmp_path / "b.zip", phone.files)
    assert (made.files, made.away) == (2, 0)
    assert check(tmp_path / "b.zip") == made
    assert sorted(zipfile.ZipFile(tmp_path / "b.zip").namelist()) == sorted(
        ["journal.jsonl", "manifest.json", f"files/{named(ONE)}", f"files/{named(TWO)}"]
    )
    back, files = restored(phone, tmp_path)
    assert (back.whole, back.files) == (True, 2)
    assert [files.read(named(data)) for data in (ONE, TWO)] == [ONE, TWO]
    assert len(list(files.digests())) == 2


def test_what_is_away_or_damaged_here_is_counted_and_no_error(phone, tmp_path) -> None:
    """One was never here, one was altered: the backup holds the records all the same."""
    phone.files.path(named(ONE)).unlink()
    phone.files.path(named(TWO)).write_bytes(b"something else")
    made = backup(phone.journal, tmp_path / "b.zip", phone.files)
    assert (made.files, made.away) == (0, 2)
    back, files = restored(phone, tmp_path)
    assert back.whole
    assert list(files.digests()) == []


def test_a_photo_that_was_taken_back_is_not_in_it(phone, tmp_path) -> None:
    """Its record is; the file was to be gone."""
    [first, _] = [r for _, r in phone.journal.arrivals() if r.kind == "photo"]
    void = photo(str(first.adds_to), ONE, corrects=first.id, heads=(), void=True)
    phone.journal.write([void])
    assert backup(phone.journal, tmp_path / "b.zip", phone.files).files == 1


def test_an_altered_file_is_named_and_not_taken(phone, tmp_path) -> None:
    """Another photo put under its name: the digest does not fit, whatever the archive says."""
    backup(phone.journal, tmp_path / "whole.zip", phone.files)
    with (
        zipfile.ZipFile(tmp_path / "whole.zip") as whole,
        zipfile.ZipFile(tmp_path / "b.zip", "w") as other,
    ):
        for name in whole.namelist():
            altered = name == f"files/{named(ONE)}"
            other.writestr(name, b"another" if altered else whole.read(name))
    back, files = restored(phone, tmp_path)
    assert (back.whole, back.files) == (False, 1)
    assert named(ONE) in str(back.faults[0].phrase)
    assert list(files.digests()) == [named(TWO)]


def test_brought_in_twice_it_is_there_once(phone, device, tmp_path) -> None:
    """A backup is a sync by file: nothing is doubled, what lacks is added."""
    backup(phone.journal, tmp_path / "b.zip", phone.files)
    other, files = device("other"), Files(tmp_path / "other" / "annexes")
    assert bring_in(tmp_path / "b.zip", other.journal, files) == (2, ())
    assert bring_in(tmp_path / "b.zip", other.journal, files) == (0, ())
    files.path(named(ONE)).unlink()
    assert bring_in(tmp_path / "b.zip", other.journal, files) == (1, ())
    assert files.read(named(ONE)) == ONE


def test_a_disk_that_is_full_leaves_the_older_backup(phone, tmp_path, monkeypatch) -> None:
    """Said in words; no half of a new one stays."""
    backup(phone.journal, tmp_path / "b.zip")
    before = (tmp_path / "b.zip").read_bytes()

    def full(*_args):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(module.zipfile.ZipFile, "writestr", full)
    with pytest.raises(Full, match="no room"):
        backup(phone.journal, tmp_path / "b.zip", phone.files)
    assert (tmp_path / "b.zip").read_bytes() == before
    assert [path.name for path in tmp_path.glob("b.zip*")] == ["b.zip"]


def test_a_backup_without_files_is_what_it_was(phone, tmp_path) -> None:
    """One of an older program, or of a journal without a folder of files."""
    backup(phone.journal, tmp_path / "b.zip")
    back, files = restored(phone, tmp_path)
    assert (back.whole, back.files) == (True, 0)
    assert list(files.digests()) == []
