"""The journal file: what is written is on the disk, counts once and stays in sight."""

from __future__ import annotations

import sqlite3
import subprocess
import sys
import threading
from hashlib import sha256
from pathlib import Path

import pytest
from journal_making import HIVE, KEEPER, TERMS, WHEN, Clock, application, note, texts

from fieldapp.journal import chain, store
from fieldapp.journal.batches import Batch
from fieldapp.journal.errors import NotAJournal, TooLarge, TooNew, Unwritable
from fieldapp.journal.ids import uuid7
from fieldapp.journal.reading import decode
from fieldapp.journal.receiving import receive
from fieldapp.journal.record import Draft, NotUnderstood
from fieldapp.journal.store import Journal
from fieldapp.words import say

WRITER = b"another writer.."


def arrive(journal: Journal, *raws: bytes, writer: bytes = WRITER) -> None:
    """Let records of another writer, from its first on, arrive."""
    after = list(chain.digests(chain.start(writer), raws))[-1]
    (receipt,) = receive(journal, [Batch(writer, 1, chain.start(writer), after, raws)])
    assert receipt.refused is None


def test_what_was_written_is_there_after_opening_again(device) -> None:
    """Records come back in order, byte for byte, and the same writer goes on."""
    phone = device()
    written = phone.journal.write([note("one"), note("two")])
    writer = phone.journal.writer
    phone.journal.close()
    journal = phone.opened()
    assert [record for _, record in journal.arrivals()] == written
    assert journal.by_id(written[0].id) == written[0]
    assert journal.writer == writer
    assert journal.write([note("three")])[0].seq == 3


def test_bytes_on_the_disk_are_the_records(device) -> None:
    """The raw bytes decode to the record, and their digest is the head."""
    journal = device().journal
    (record,) = journal.write([note()])
    raw = journal.raw_by_id(record.id)
    assert decode(raw) == record
    writer = bytes.fromhex(record.writer)
    assert journal.vector() == {(writer, 1, chain.link(chain.start(writer), raw))}


def test_all_drafts_or_none(device) -> None:
    """One draft that does not fit leaves nothing of the others."""
    journal = device().journal
    with pytest.raises(Unwritable) as error:
        journal.write([note(), note()._replace(hive=None)])
    assert error.value.field == "hive"
    assert "Hive" in str(error.value)
    assert (journal.count(), journal.vector(), journal.writer) == (0, set(), None)


@pytest.mark.parametrize(
    ("draft", "field"),
    [
        (application(seams=99), "body.seams"),
        (application(seams=float("nan")), "body"),
        (application(seams={1, 2}), "body"),
        (application(colour="red"), "body.colour"),
        (note()._replace(keeper="me"), "keeper"),
        (note()._replace(happened="today"), "happened"),
        (note()._replace(kind="dance"), "kind"),
        (note("\ud800"), "body"),
    ],
)
def test_a_draft_that_does_not_fit_says_where(device, draft: Draft, field: str) -> None:
    """The field is named with what was expected."""
    with pytest.raises(Unwritable) as error:
        device().journal.write([draft])
    assert error.value.field == field


def test_a_draft_may_bring_its_id(device) -> None:
    """So that another of the same transaction can name it; an id that is there is refused."""
    journal = device().journal
    chosen = uuid7(Clock()(), bytes(10))
    position = Draft(
        "position", WHEN, KEEPER, {"lat": 1.0, "lon": 2.0, "after_s": 3}, adds_to=chosen
    )
    first, second = journal.write([note()._replace(id=chosen), position])
    assert (first.id, second.adds_to) == (chosen, chosen)
    with pytest.raises(Unwritable, match="id that no other record has"):
        journal.write([note(), note()._replace(id=chosen)])
    assert journal.count() == 2


def test_a_record_over_64_kib_is_not_written(device) -> None:
    """It says so before anything is saved."""
    parts = [[HIVE] * 100] * 20
    draft = Draft("answer_twice", WHEN, KEEPER, {"parts": parts})
    journal = device().journal
    with pytest.raises(TooLarge, match="65536 is the most"):
        journal.write([draft])
    assert journal.count() == 0


def test_arrivals_go_on_where_they_were(device) -> None:
    """Above a number only what arrived since."""
    journal = device().journal
    journal.write([note(f"{n}") for n in range(5)])
    last = journal.last_arrival()
    journal.write([note("new")])
    assert [record.body["words"] for _, record in journal.arrivals(last)] == ["new"]
    assert len(list(journal.arrivals())) == 6


def test_arrivals_are_read_while_others_write(device) -> None:
    """A reader in the middle holds up no tap and sees what comes."""
    journal = device().journal
    journal.write([note(f"{n}") for n in range(1500)])
    arrivals = journal.arrivals()
    next(arrivals)
    journal.write([note("meanwhile")])
    assert [record.body["words"] for _, record in arrivals][-1] == "meanwhile"


def test_not_understood_stays_in_sight(device) -> None:
    """It is stored, shown with its reason and place, counts in no rule, also after a restart."""
    phone = device()
    arrive(phone.journal, b"\xff", b'{"id":"?"}')
    phone.journal.close()
    journal = phone.opened()
    assert [kept.raw for kept in journal.not_understood()] == [b"\xff", b'{"id":"?"}']
    first = journal.not_understood()[0]
    assert (first.writer, first.seq) == (WRITER.hex(), 1)
    assert first.why == NotUnderstood("", say("UTF-8"))
    assert list(journal.arrivals()) == []


def test_a_newer_version_understands_what_an_older_kept(device, monkeypatch) -> None:
    """Records of a kind that this version lacks count once a version knows it."""
    phone, other = device("phone"), device("other")
    (record,) = other.journal.write([note("later kind")])
    raw = other.journal.raw_by_id(record.id)
    with monkeypatch.context() as older:
        older.setattr(store, "VOCABULARY", "older")
        older.delitem(store.KINDS, ("look", 1))
        arrive(phone.journal, raw)
        assert [kept.why.field for kept in phone.journal.not_understood()] == ["kind"]
        generation = phone.journal.generation
        phone.journal.close()
        phone.opened().close()
    journal = phone.opened()
    assert texts(journal) == ["later kind"]
    assert journal.not_understood() == []
    assert journal.generation != generation, "what derives from records begins anew"


def test_the_same_bytes_count_once(device) -> None:
    """At however many places they stand."""
    phone, other = device("phone"), device("other")
    (record,) = other.journal.write([note("once")])
    raw = other.journal.raw_by_id(record.id)
    arrive(phone.journal, raw, raw)
    arrive(phone.journal, raw, writer=b"written again...")
    assert texts(phone.journal) == ["once"]
    assert len(phone.journal.vector()) == 2
    assert phone.journal.not_understood() == phone.journal.other_contents() == []


@pytest.mark.parametrize("turned", [False, True])
def test_of_several_contents_under_an_id_the_smallest_digest_counts(device, turned) -> None:
    """Whatever the order of arrival; the other stays and is shown."""
    other = device("other")
    (record,) = other.journal.write([note("one")])
    one = other.journal.raw_by_id(record.id)
    two = one.replace(b'"one"', b'"two"')
    counts, loses = sorted((one, two), key=lambda raw: sha256(raw).digest())
    journal = device("phone").journal
    arrive(journal, *((counts, loses) if turned else (loses, counts)))
    assert journal.raw_by_id(record.id) == counts
    assert [r for _, r in journal.arrivals()] == [decode(counts)]
    assert [kept.raw for kept in journal.other_contents()] == [loses]


def test_what_is_not_understood_takes_no_id_away(device) -> None:
    """A record that cannot be read does not push out one that can."""
    other = device("other")
    (record,) = other.journal.write([note("one")])
    raw = other.journal.raw_by_id(record.id)
    spoilt = [raw.replace(b'"look"', b'"kind%d"' % n) for n in range(8)]
    journal = device("phone").journal
    arrive(journal, *spoilt, raw, *spoilt)
    assert journal.by_id(record.id) == record
    assert len(journal.not_understood()) == 8


def test_another_programs_file_is_left_alone(tmp_path) -> None:
    """A database that is no journal is not changed."""
    path = tmp_path / "photos.db"
    with sqlite3.connect(path) as connection:
        connection.execute("CREATE TABLE photo (name TEXT)")
    before = path.read_bytes()
    with pytest.raises(NotAJournal, match=r"photos\.db is not a journal"):
        Journal.open(path, now_ms=Clock(), entropy=bytes)
    assert path.read_bytes() == before


def test_a_file_of_a_later_version_is_left_alone(device) -> None:
    """The message says what to do."""
    phone = device()
    phone.journal.connections.here().execute("PRAGMA user_version = 99")
    phone.journal.close()
    with pytest.raises(TooNew, match="Bring this program up to date"):
        phone.opened()


def test_threads_write_and_read_together(device) -> None:
    """Taps while batches arrive: all are there, each writer's chain without gap."""
    phone, other = device("phone"), device("other")
    other.journal.write([note(f"other {n}") for n in range(300)])
    raws = [other.journal.raw_by_id(r.id) for _, r in other.journal.arrivals()]

    def taps() -> None:
        for n in range(50):
            phone.journal.write([note(f"tap {n}")])

    threads = [threading.Thread(target=taps) for _ in range(3)]
    for thread in threads:
        thread.start()
    for n in range(0, 300, 10):
        arrive(phone.journal, *raws[: n + 10])
    for thread in threads:
        thread.join()
    assert phone.journal.count() == 450
    assert {head.seq for head in phone.journal.vector()} == {150, 300}


def test_threads_that_ended_keep_no_file_open(device) -> None:
    """Each sync has threads of its own; a hundred syncs leave no hundred open files."""
    phone = device("phone")
    for n in range(10):
        thread = threading.Thread(target=lambda n=n: phone.journal.write([note(f"{n}")]))
        thread.start()
        thread.join()
    handles = [link.resolve().name for link in Path("/proc/self/fd").iterdir() if link.exists()]
    assert handles.count(phone.path.name) < 5
    assert phone.journal.count() == 10


def test_two_processes_share_a_file(device) -> None:
    """Another process that writes meanwhile neither fails nor breaks the chain."""
    phone = device()
    phone.journal.write([note("here")])
    code = (
        "import sys; sys.path[:0] = sys.argv[2:]\n"
        "from pathlib import Path\n"
        "from journal_making import Clock, note\n"
        "from fieldapp.journal.store import Journal\n"
        "with Journal.open(Path(sys.argv[1]), now_ms=Clock(), entropy=bytes) as journal:\n"
        "    [journal.write([note('there')._replace(id=i)]) for i in sys.stdin.read().split()]\n"
    )
    ids = "\n".join(uuid7(Clock()() + n, bytes(10)) for n in range(20))
    process = subprocess.Popen(
        [sys.executable, "-c", code, str(phone.path), *sys.path],
        stdin=subprocess.PIPE,
        text=True,
    )
    process.stdin.write(ids)
    process.stdin.close()
    while process.poll() is None:
        phone.journal.write([note("here")])
    assert process.returncode == 0
    assert texts(phone.journal).count("there") == 20
    (head,) = phone.journal.vector()
    assert head.seq == phone.journal.count()


def test_opening_a_file_of_this_version_imports_no_migrations(device) -> None:
    """The phone's first frame does not wait for them."""
    phone = device()
    phone.journal.close()
    code = (
        "import sys; sys.path[:0] = sys.argv[2:]\n"
        "from pathlib import Path\n"
        "from fieldapp.journal.store import Journal\n"
        "Journal.open(Path(sys.argv[1]), now_ms=lambda: 1, entropy=bytes).close()\n"
        "sys.exit('sqlite_utils' in sys.modules)\n"
    )
    command = [sys.executable, "-OO", "-c", code, str(phone.path), *sys.path]
    subprocess.run(command, check=True)


def test_an_application_names_terms(device) -> None:
    """The draft that other tests use is one that is understood."""
    (record,) = device().journal.write([application()])
    assert record.body["terms"] == TERMS
