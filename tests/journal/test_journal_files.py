"""A journal as text, as a backup, and saved from a damaged file."""

from __future__ import annotations

import io
import random
import tempfile
import zipfile
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from journal_making import FINDER, Clock, note, texts

from fieldapp.journal.backup import BackupDamaged, Exists, backup, check, restore
from fieldapp.journal.errors import NotAJournal, TooNew
from fieldapp.journal.exchange import export_lines, import_lines
from fieldapp.journal.holes import holes, verify
from fieldapp.journal.merging import sync
from fieldapp.journal.recovery import open_or_recover
from fieldapp.journal.remains import asides
from fieldapp.journal.store import Journal

COUNT = 250


@pytest.fixture
def phone(device):
    """Return a phone with 250 records of its own and some of another writer."""
    made, other = device("phone"), device("other")
    made.journal.write([note(f"{n:03}") for n in range(COUNT)])
    other.journal.write([note("other")])
    assert sync(made.journal, other.host, FINDER).equal
    return made


def exported(journal: Journal) -> bytes:
    file = io.BytesIO()
    export_lines(journal, file)
    return file.getvalue()


def imported(device, data: bytes, name: str = "fresh"):
    fresh = device(name)
    return fresh.journal, import_lines(fresh.journal, io.BytesIO(data), "journal.jsonl")


def test_byte_for_byte_there_and_back(phone, device) -> None:
    """Every record's bytes are a line of the file, and reading it gives an equal journal."""
    data = exported(phone.journal)
    lines = data.split(b"\n")
    for _, record in phone.journal.arrivals():
        assert phone.journal.raw_by_id(record.id) in lines
    journal, result = imported(device, data)
    assert (result.new, result.faults) == (COUNT + 1, ())
    assert journal.vector() == phone.journal.vector()
    assert exported(journal) == data


def test_reading_it_again_changes_nothing(phone) -> None:
    """Nothing is doubled."""
    result = import_lines(phone.journal, io.BytesIO(exported(phone.journal)), "journal.jsonl")
    assert (result.new, result.read) == (0, COUNT + 1)


def test_forks_and_what_waits_above_a_hole_travel_too(phone, device) -> None:
    """What is exported is all that counts, and it waits there as it waited here."""
    connection = phone.journal.connections.here()
    connection.execute("DELETE FROM record WHERE seq = 100")
    verify(phone.journal)
    journal, result = imported(device, exported(phone.journal))
    assert result.faults == ()
    assert texts(journal) == texts(phone.journal)
    assert journal.vector() == phone.journal.vector()
    assert exported(journal) == exported(phone.journal)


def altered(phone, seq: int, raw: bytes) -> None:
    """Put other bytes in the place of an own record, as another program could, and find them."""
    connection = phone.journal.connections.here()
    connection.execute("UPDATE record SET raw = ? WHERE branch = 1 AND seq = ?", (raw, seq))
    assert [hole.first for hole in verify(phone.journal)] == [seq]


@pytest.mark.parametrize("raw", [b"", b"\xff\n{}", b"x" * 200_000])
def test_bytes_that_were_altered_are_exported_and_restored(phone, device, tmp_path, raw) -> None:
    """A person may still read in them; they come back as they were found, beside their hole."""
    altered(phone, 100, raw)
    data = exported(phone.journal)
    journal, result = imported(device, data)
    assert (result.faults, result.new) == ((), COUNT)
    assert asides(journal) == asides(phone.journal)
    assert [aside.raw for aside in asides(journal)] == [raw]
    assert holes(journal) == holes(phone.journal)
    assert exported(journal) == data
    import_lines(journal, io.BytesIO(data), "journal.jsonl")
    assert exported(journal) == data, "reading it again doubles nothing"
    backup(phone.journal, tmp_path / "b.zip")
    restored = restore(tmp_path / "b.zip", tmp_path / "r.db", now_ms=phone.clock, entropy=bytes)
    with restored.journal as again:
        assert restored.whole
        assert [aside.raw for aside in asides(again)] == [raw]


def told(journal: Journal) -> list[tuple[int, int]]:
    return [(r.body["first"], r.body["last"]) for _, r in journal.arrivals() if r.kind == "loss"]


def test_a_hole_that_a_backup_held_is_told_as_a_loss_or_filled(phone, device) -> None:
    """Restored it is what it was: a sync fills it, and what nobody brings is told, once."""
    server = device("server", server=True)
    assert sync(phone.journal, server.host, FINDER).equal
    altered(phone, 100, b"?")
    data = exported(phone.journal)
    filled, _ = imported(device, data, "filled")
    assert sync(filled, server.host, FINDER).equal
    assert (told(filled), holes(filled)) == ([], [])
    assert len(texts(filled)) == COUNT + 1
    alone, _ = imported(device, data, "alone")
    for _ in range(2):
        assert sync(alone, device("empty", server=True).host, FINDER).equal
        assert told(alone) == [(100, 100)]


def test_a_hole_is_not_kept_where_the_record_stands(phone, device) -> None:
    """Brought into a journal that has it, an export with a hole changes nothing."""
    server = device("server", server=True)
    assert sync(phone.journal, server.host, FINDER).equal
    altered(phone, 100, b"?")
    import_lines(server.journal, io.BytesIO(exported(phone.journal)), "journal.jsonl")
    assert holes(server.journal) == []


def test_what_a_damaged_file_lacks_is_a_hole(phone, device) -> None:
    """It is named by writer and seq, and told as a loss where no other replica brings it."""
    lines = exported(phone.journal).split(b"\n")
    begins = next(i for i, line in enumerate(lines) if b'"first":101,' in line)
    lines[begins + 5] = b"{}"
    journal, _ = imported(device, b"\n".join(lines))
    (hole,) = holes(journal)
    assert hole == (phone.journal.writer, 101, 200, "missing", False)
    assert sync(journal, device("empty", server=True).host, FINDER).equal
    assert told(journal) == [(101, 200)]


@pytest.mark.parametrize("what", [b'{"hole"', b'{"aside"'])
def test_a_changed_line_of_what_is_left_is_not_taken(phone, device, what: bytes) -> None:
    """A hole's digest judges the record above it, so it is checked like a record."""
    altered(phone, 100, b"what it became")
    lines = exported(phone.journal).split(b"\n")
    at = next(i for i, line in enumerate(lines) if line.startswith(what))
    lines[at] = lines[at].replace(b'"digest":"', b'"digest":"0', 1).replace(b'0"', b'"', 1)
    if what == b'{"aside"':
        lines[at + 1] = b"AAAA"
    journal, result = imported(device, b"\n".join(lines))
    assert [fault.first for fault in result.faults] == [at + 1]
    assert len(texts(journal)) == COUNT
    assert verify(journal) == []


@pytest.mark.parametrize(
    "damage",
    [
        pytest.param(lambda lines: lines.pop(150), id="a line is missing"),
        pytest.param(lambda lines: lines.insert(150, lines[150]), id="a line twice"),
        pytest.param(lambda lines: lines.insert(150, b"oops"), id="a line put in"),
        pytest.param(lambda lines: lines.__setitem__(150, lines[150][:40]), id="half a line"),
        pytest.param(lambda lines: lines.__setitem__(150, b"\xff" * 300_000), id="a huge line"),
        pytest.param(lambda lines: lines.__setitem__(102, b"{"), id="a broken batch line"),
    ],
)
def test_a_damaged_line_spoils_its_batch_and_no_more(phone, device, damage) -> None:
    """It is said which lines were not taken; the rest is there and counts."""
    lines = exported(phone.journal).split(b"\n")
    while b"batch" not in lines[102]:
        lines.insert(1, lines.pop())
    damage(lines)
    journal, result = imported(device, b"\n".join(lines))
    assert journal.count() >= COUNT - 100
    fault = result.faults[0]
    assert 100 <= fault.first <= 151 <= fault.last <= 205
    assert "export again" in fault.phrase.text
    assert verify(journal) == []


def test_a_file_cut_off_gives_what_stands_before(phone, device) -> None:
    """Whole batches are taken, the fault names the rest."""
    data = exported(phone.journal)
    journal, result = imported(device, data[: len(data) * 2 // 3])
    assert journal.count() >= 100
    assert result.faults
    whole = import_lines(journal, io.BytesIO(data), "journal.jsonl")
    assert (journal.count(), whole.faults) == (COUNT + 1, ())
    assert journal.vector() == phone.journal.vector()


@given(st.data())
@settings(max_examples=40, deadline=None)
def test_any_damage_is_no_traceback_and_invents_nothing(tmp_path_factory, data) -> None:
    """Bytes changed anywhere: what is taken is what was exported."""
    source = sample()
    damaged = bytearray(source)
    for _ in range(data.draw(st.integers(1, 3))):
        at = data.draw(st.integers(0, len(damaged) - 1))
        damaged[at : at + data.draw(st.integers(0, 30))] = data.draw(st.binary(max_size=30))
    path = tmp_path_factory.mktemp("damaged") / "journal.db"
    with Journal.open(path, now_ms=Clock(), entropy=bytes) as journal:
        try:
            import_lines(journal, io.BytesIO(bytes(damaged)), "journal.jsonl")
        except (NotAJournal, TooNew):
            return
        assert verify(journal) == []
        lines = source.split(b"\n")
        for kept in journal.not_understood():
            assert kept.raw in lines
        for _, record in journal.arrivals():
            assert journal.raw_by_id(record.id) in lines


SAMPLE: list[bytes] = []


def sample() -> bytes:
    """Return a small export, made once."""
    if not SAMPLE:
        with tempfile.TemporaryDirectory() as folder:
            chance = random.Random(1).randbytes
            path = Path(folder) / "journal.db"
            with Journal.open(path, now_ms=Clock(), entropy=chance) as journal:
                journal.write([note(f"{n}") for n in range(8)])
                journal.connections.here().execute(
                    "UPDATE record SET raw = ? WHERE seq = 4", (b"?",)
                )
                verify(journal)
                SAMPLE.append(exported(journal))
    return SAMPLE[0]


@pytest.mark.parametrize("data", [b"", b"hello\n", b'{"photos":1}\n', b"\xff\xfe"])
def test_another_file_is_not_read(device, data: bytes) -> None:
    """It says that it is something else."""
    with pytest.raises(NotAJournal, match=r"journal\.jsonl is not a journal"):
        imported(device, data)


def test_a_file_of_a_later_version_is_not_read(device) -> None:
    """It says what to do."""
    with pytest.raises(TooNew, match="Bring this program up to date"):
        imported(device, b'{"apiary-rounds-journal":2}\n')


def test_a_backup_restores_all_under_a_new_writer(phone, tmp_path) -> None:
    """One file; the same vector; the next record is another writer's."""
    manifest = backup(phone.journal, tmp_path / "backup.zip")
    assert check(tmp_path / "backup.zip") == manifest
    target = tmp_path / "restored" / "journal.db"
    restored = restore(
        tmp_path / "backup.zip", target, now_ms=phone.clock, entropy=phone.chance.randbytes
    )
    with restored.journal as journal:
        assert restored.whole
        assert journal.vector() == phone.journal.vector()
        (record,) = journal.write([note("after")])
        assert record.writer != phone.journal.writer
        assert sync(journal, phone.host, FINDER).equal
        assert len(journal.vector()) == 3


def test_the_marker_is_not_in_a_backup(phone, tmp_path) -> None:
    """Or whoever restores it would go on as the same writer."""
    backup(phone.journal, tmp_path / "backup.zip")
    assert zipfile.ZipFile(tmp_path / "backup.zip").namelist() == [
        "journal.jsonl",
        "manifest.json",
    ]


def test_nothing_is_restored_over_a_journal(phone, tmp_path) -> None:
    """It says so and changes nothing."""
    backup(phone.journal, tmp_path / "backup.zip")
    before = phone.journal.count()
    with pytest.raises(Exists, match="Move it away first"):
        restore(tmp_path / "backup.zip", phone.path, now_ms=phone.clock, entropy=bytes)
    assert phone.journal.count() == before


def test_a_damaged_backup_is_found_on_reading_and_gives_what_it_can(phone, tmp_path) -> None:
    """Checked whole by `check`; restored in part, which is said."""
    path = tmp_path / "backup.zip"
    backup(phone.journal, path)
    data = bytearray(path.read_bytes())
    data[len(data) // 2] ^= 0xFF
    path.write_bytes(data)
    with pytest.raises(BackupDamaged, match="Use another backup"):
        check(path)
    restored = restore(path, tmp_path / "r.db", now_ms=phone.clock, entropy=bytes)
    with restored.journal as journal:
        assert not restored.whole
        assert restored.faults
        assert sync(journal, phone.host, FINDER).equal


@pytest.mark.parametrize("data", [b"", b"hello", b"PK\x03\x04 and then nothing"])
def test_another_file_is_no_backup(tmp_path, data: bytes) -> None:
    """Neither checked nor restored; nothing is begun beside it."""
    (tmp_path / "backup.zip").write_bytes(data)
    for read in (
        lambda: check(tmp_path / "backup.zip"),
        lambda: restore(tmp_path / "backup.zip", tmp_path / "r.db", now_ms=Clock(), entropy=bytes),
    ):
        with pytest.raises((NotAJournal, BackupDamaged)):
            read()
    assert not (tmp_path / "r.db").exists()


def test_an_older_backup_survives_a_failed_one(phone, tmp_path, monkeypatch) -> None:
    """The new file takes its place only once it was read back."""
    path = tmp_path / "backup.zip"
    backup(phone.journal, path)
    before = path.read_bytes()
    monkeypatch.setattr(
        "fieldapp.journal.backup.export_lines", lambda journal, file: file.write(b"x") and 1 / 0
    )
    with pytest.raises(ZeroDivisionError):
        backup(phone.journal, path)
    assert path.read_bytes() == before
    assert list(tmp_path.glob("backup.zip*")) == [path]


def recovered(phone):
    return open_or_recover(phone.path, now_ms=phone.clock, entropy=phone.chance.randbytes)


def test_a_sound_file_is_opened_and_checked(phone) -> None:
    """Nothing is moved, and holes are told."""
    phone.journal.connections.here().execute("DELETE FROM record WHERE seq = 7")
    phone.journal.close()
    opened = recovered(phone)
    with opened.journal as journal:
        assert opened.kept is None
        assert [hole.first for hole in opened.holes] == [7]
        assert journal.count() == COUNT


@pytest.mark.parametrize("page", range(0, 60, 7))
def test_of_a_damaged_file_what_can_be_read_is_saved(phone, device, page: int) -> None:
    """Any page spoilt: it opens, keeps the file aside, and the rest comes from the other side."""
    server = device("server", server=True)
    assert sync(phone.journal, server.host, FINDER).equal
    phone.journal.close()
    data = bytearray(phone.path.read_bytes())
    size = 4096
    at = page * size % len(data)
    data[at : at + size] = b"\xa5" * size
    phone.path.write_bytes(data)
    opened = recovered(phone)
    with opened.journal as journal:
        if opened.kept is not None:
            assert opened.kept.read_bytes()[at : at + size] == b"\xa5" * size
            assert journal.remarks()[0].what == "recovered"
            assert opened.saved >= 200 or page == 0
        assert sync(journal, server.host, FINDER).equal
        assert len(texts(journal)) == COUNT + 1
        assert verify(journal) == []
        assert verify(server.journal) == []


def test_what_was_set_aside_is_saved_from_a_damaged_file(phone) -> None:
    """With its hole, so that the missing one is still asked for."""
    altered(phone, 100, b"what it became")
    known = holes(phone.journal)
    with phone.journal.connections.writing() as connection:
        connection.execute("CREATE TABLE spoilt (x)")
        connection.execute("INSERT INTO spoilt VALUES (zeroblob(20000))")
    phone.journal.close()
    data = bytearray(phone.path.read_bytes())
    data[-4096:] = b"\xa5" * 4096
    phone.path.write_bytes(data)
    opened = recovered(phone)
    with opened.journal as journal:
        assert opened.kept is not None
        assert [aside.raw for aside in asides(journal)] == [b"what it became"]
        assert holes(journal) == known
        assert len(texts(journal)) == COUNT
