"""Photos come along: sent and fetched by their digest, after the records, resumed, held to it."""

from __future__ import annotations

import hashlib
import sys
from pathlib import Path
from random import Random

import pytest

sys.path.append(str(Path(__file__).parents[1] / "faults"))
from wired import Handset, Home, Way

from fieldapp.journal import arriving
from fieldapp.journal.record import Draft
from fieldapp.sync import client
from fieldapp.wire import limits
from fieldapp.words import Speech

speech = Speech()
WHEN = "2026-07-04T08:30:00+01:00[Europe/London]"
KEEPER = "01890000-0000-7000-8000-000000000001"
HIVE = "01890000-0000-7000-8000-00000000000b"
#: A photo of two pieces and a bit, and one of a few bytes.
LARGE = Random(1).randbytes(2 * limits.PIECE_BYTES + 1000)
SMALL = b"\xff\xd8\xff a small one"


def named(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()


class Wire:
    """The way of all phones of a test; `breaks` says what happens to the n-th request from now."""

    def __init__(self, monkeypatch) -> None:
        self.homes: dict[str, Home] = {}
        self.breaks = lambda _: None
        self.asked: list[str] = []
        self.alter = lambda path, body: body
        monkeypatch.setattr(client, "pinned_session", self._session)

    def _session(self, _fingerprint: str):
        session = client.requests.Session()
        way = Way(self.homes, lambda _: self.breaks(len(self.asked)))
        send = way.send

        def sending(request, **how):
            self.asked.append(request.path_url.removeprefix("/api/1"))
            request.body = self.alter(self.asked[-1], request.body)
            return send(request, **how)

        way.send = sending
        session.mount("https://", way)
        return session

    def requests(self) -> list[str]:
        """Return what was asked since the last look, without query."""
        asked = [each.partition("?")[0] for each in self.asked]
        self.asked.clear()
        return asked


@pytest.fixture
def wire(monkeypatch):
    return Wire(monkeypatch)


@pytest.fixture
def home(wire, tmp_path):
    home = Home(tmp_path / "home", "home")
    wire.homes[home.address] = home
    yield home
    home.close()


@pytest.fixture
def phones(tmp_path):
    made = [Handset(tmp_path / name, number) for number, name in enumerate(("keeper", "helper"))]
    yield made
    for each in made:
        each.close()


def take(phone: Handset, *photos: bytes) -> list[str]:
    """Write a look with these photos beside it; return their ids."""
    [look] = phone.journal.write([Draft("look", WHEN, KEEPER, {"brood": "yes"}, hive=HIVE)])
    written = []
    for data in photos:
        phone.files.put(data)
        body = {"sha256": named(data), "type": "image/jpeg", "size": len(data)}
        written += phone.journal.write([Draft("photo", WHEN, KEEPER, body, adds_to=look.id)])
    return [each.id for each in written]


def meet(phone: Handset, home: Home) -> list[str]:
    outcome = phone.meet(home)
    assert outcome.ok, speech(outcome.phrase)
    return [speech(each) for each in outcome.remarks]


def test_a_photo_goes_by_the_server_to_the_other_phone(wire, home, phones):
    """Byte for byte; with nothing more to do the next sync is one request again."""
    keeper, helper = phones
    take(keeper, LARGE, SMALL)
    assert meet(keeper, home) == ["Photos: 2 sent, 0 received."]
    assert [home.files.read(named(data)) for data in (LARGE, SMALL)] == [LARGE, SMALL]
    assert meet(helper, home) == ["Photos: 0 sent, 2 received."]
    assert [helper.files.read(named(data)) for data in (LARGE, SMALL)] == [LARGE, SMALL]
    for phone in phones:
        wire.requests()
        assert meet(phone, home) == []
        assert wire.requests() == ["/status"]


def test_without_photos_nothing_is_asked(wire, home, phones):
    """Records only: no request is spent on files."""
    take(phones[0])
    meet(phones[0], home)
    assert [each for each in wire.requests() if "files" in each] == []


def test_a_file_is_sent_in_pieces_that_each_fit(wire, home, phones):
    """Three pieces of the large one; a server's own bound would refuse more."""
    take(phones[0], LARGE)
    meet(phones[0], home)
    assert wire.requests().count(f"/files/{named(LARGE)}") == 3


@pytest.mark.parametrize("how", ["before", "after", "half"])
def test_each_request_cut_once_changes_nothing_in_the_end(wire, home, phones, how):
    """Up and down, wherever it is cut: it goes on where it was, and both photos are whole."""
    keeper, helper = phones
    for phone in (keeper, helper):
        number = 0
        while True:
            number += 1
            # A server that does not answer the very first question is not there.
            photo = Random(f"{phone.folder.name} {number}").randbytes(limits.PIECE_BYTES + 9)
            take(keeper, photo)
            if phone is helper:
                meet(keeper, home)
            wire.requests()
            wire.breaks = lambda asked, at=number: how if asked == at + 1 else None
            meet(phone, home)
            wire.breaks = lambda _: None
            assert home.files.read(named(photo)) == photo
            assert phone.files.read(named(photo)) == photo
            if len(wire.requests()) <= number:
                break
        assert number > 5


def test_a_file_that_stays_cut_is_told_and_goes_on_next_time(wire, home, phones):
    """The records are done; of the file what arrived stays, and only the rest is sent."""
    take(phones[0], LARGE)
    lost = f"/files/{named(LARGE)}?at={limits.PIECE_BYTES}&of={len(LARGE)}"
    wire.breaks = lambda asked: "before" if wire.asked[-1] == lost else None
    [told] = meet(phones[0], home)
    assert told.startswith("The records are done, the photos are not: The home server at")
    assert told.endswith("What arrived of them stays; the next sync goes on.")
    assert not home.files.holds(named(LARGE))
    wire.breaks = lambda _: None
    wire.requests()
    assert meet(phones[0], home) == ["Photos: 1 sent, 0 received."]
    assert wire.requests().count(f"/files/{named(LARGE)}") == 2
    assert home.files.read(named(LARGE)) == LARGE


def test_altered_on_the_way_it_is_refused_and_sent_anew(wire, home, phones):
    """One flipped bit in the first piece: found when the last is there, all of it sent again."""
    take(phones[0], LARGE)
    harmed = []

    def alter(path, body):
        if "at=0" in path and not harmed:
            harmed.append(path)
            return bytes([body[0] ^ 1]) + body[1:]
        return body

    wire.alter = alter
    assert meet(phones[0], home) == ["Photos: 1 sent, 0 received."]
    assert harmed
    assert home.files.read(named(LARGE)) == LARGE


def test_altered_each_time_it_is_never_taken(wire, home, phones):
    """Neither under its digest nor as a part; the keeper is told, the records are done."""
    take(phones[0], SMALL)
    wire.alter = lambda path, body: b"?" * len(body) if "at=0" in path else body
    [told] = meet(phones[0], home)
    assert told == "1 photo did not arrive as its record names it, and was not taken. Sync again."
    assert list(home.files.folder.iterdir()) == []


def test_an_altered_file_on_the_server_comes_again_from_a_phone(wire, home, phones):
    """Found when it is asked for: not given out, and mended by whoever has it."""
    keeper, helper = phones
    take(keeper, LARGE)
    meet(keeper, home)
    home.files.path(named(LARGE)).write_bytes(LARGE[:-1])
    assert "did not arrive" in meet(helper, home)[0]
    assert meet(keeper, home) == ["Photos: 1 sent, 0 received."]
    assert meet(helper, home) == ["Photos: 0 sent, 1 received."]
    assert helper.files.read(named(LARGE)) == LARGE


def test_an_altered_file_on_a_phone_comes_again_from_the_server(wire, home, phones):
    """Once it was to be shown it is known; then the next sync brings the right one."""
    take(phones[0], SMALL)
    meet(phones[0], home)
    files = phones[0].files
    files.path(named(SMALL)).write_bytes(b"something else")
    with pytest.raises(arriving.FileAltered):
        files.read(named(SMALL))
    assert meet(phones[0], home) == ["Photos: 0 sent, 1 received."]
    assert files.read(named(SMALL)) == SMALL


def test_a_server_restored_without_its_files_gets_them_again(wire, home, phones):
    """From whichever phone has them."""
    keeper, helper = phones
    take(keeper, LARGE, SMALL)
    meet(keeper, home)
    meet(helper, home)
    for digest in list(home.files.digests()):
        home.files.path(digest).unlink()
    keeper.files.path(named(SMALL)).unlink()
    assert meet(keeper, home) == [
        "Photos: 1 sent, 0 received.",
        "1 photo is neither here nor on the server. The phone that has it brings it.",
    ]
    assert meet(helper, home) == ["Photos: 1 sent, 0 received."]
    assert meet(keeper, home) == ["Photos: 0 sent, 1 received."]


def test_a_backup_of_the_server_holds_them(wire, home, phones, tmp_path):
    """A new machine from one file: nothing has to be sent again."""
    take(phones[0], LARGE)
    meet(phones[0], home)
    home.save(tmp_path / "saved.zip")
    home.restore(tmp_path / "saved.zip", tmp_path / "new")
    assert home.files.read(named(LARGE)) == LARGE
    assert meet(phones[0], home) == []


def test_a_photo_taken_back_is_neither_sent_nor_kept(wire, home, phones):
    """Its record stays, voided; the server lets the file go when a phone has."""
    keeper, helper = phones
    [photo] = take(keeper, SMALL)
    meet(keeper, home)
    root = keeper.journal.by_id(photo)
    void = Draft(
        "photo",
        WHEN,
        KEEPER,
        dict(root.body),
        adds_to=root.adds_to,
        corrects=photo,
        heads=(),
        void=True,
    )
    keeper.journal.write([void])
    keeper.files.remove(named(SMALL))
    assert meet(keeper, home) == []
    assert list(home.files.digests()) == []
    assert meet(helper, home) == []
    assert list(helper.files.digests()) == []


@pytest.mark.parametrize("side", ["phone", "server"])
def test_a_full_disk_is_told_and_costs_no_record(wire, home, phones, monkeypatch, side):
    """On either side: said in words, and with room again the next sync goes on."""
    keeper, helper = phones
    take(keeper, SMALL)
    if side == "phone":
        meet(keeper, home)
    phone = helper if side == "phone" else keeper
    put = arriving.Arriving._put

    def full(*_args):
        raise arriving.Full

    monkeypatch.setattr(arriving.Arriving, "_put", full)
    [told] = meet(phone, home)
    assert told.startswith("The records are done, the photos are not:")
    assert ("disk is full" if side == "server" else "no room left on this device") in told
    monkeypatch.setattr(arriving.Arriving, "_put", put)
    sent, fetched = (1, 0) if side == "server" else (0, 1)
    assert meet(phone, home) == [f"Photos: {sent} sent, {fetched} received."]
    assert phone.files.read(named(SMALL)) == SMALL


def test_only_what_a_record_names_is_taken_or_given(wire, home, phones):
    """A phone cannot fill the server's disk with other things, nor read what it left there."""
    meet(phones[0], home)
    stray = home.files.put(b"of somebody")
    asked = client.Client(home.address, "", phones[0].sync.pairing.token)
    for ask in (
        lambda: asked.put(f"/files/{named(SMALL)}?at=0&of={len(SMALL)}", SMALL),
        lambda: asked.piece(f"/files/{stray}?at=0"),
    ):
        with pytest.raises(client.Refused) as refused:
            ask()
        assert refused.value.code == "no_file"
    told = asked.ask("/files", {"digests": [stray, named(SMALL)]})
    assert told == {"files": [{"whole": False, "bytes": 0}] * 2}


def test_of_another_operation_nothing_is_seen(wire, home, phones):
    """The token decides, for files too."""
    take(phones[0], SMALL)
    meet(phones[0], home)
    from syncserver.bootstrap import MACHINE, new_operation  # noqa: PLC0415

    other = new_operation("Away", MACHINE)
    home.parts.store.add_operation(other)
    desk = home.parts.desk
    token = desk.pair(desk.new_code(other.id, "device"), "stranger").token
    asked = client.Client(home.address, "", token)
    with pytest.raises(client.Refused) as refused:
        asked.piece(f"/files/{named(SMALL)}?at=0")
    assert refused.value.code == "no_file"


def test_a_server_that_tells_nothing_of_files_is_asked_nothing(wire, home, phones, monkeypatch):
    """One of the version before: records are synced as ever."""
    from fieldapp.sync.wirepeer import WirePeer  # noqa: PLC0415

    heard = WirePeer._status

    def older(self, told):
        told.pop("files")
        return heard(self, told)

    monkeypatch.setattr(WirePeer, "_status", older)
    take(phones[0], SMALL)
    assert meet(phones[0], home) == []
    assert [each for each in wire.requests() if "files" in each] == []


def test_two_phones_that_send_the_same_file_at_once_make_one(home, phones):
    """Pieces of both in any order: each answer says where to go on."""
    place = arriving.Arriving(home.files)
    digest, of = named(LARGE), len(LARGE)
    step = limits.PIECE_BYTES
    assert place.add(digest, 0, LARGE[:step], of) == (False, step)
    assert place.add(digest, 0, LARGE[:step], of) == (False, step), "once"
    assert place.add(digest, 2 * step, LARGE[2 * step :], of) == (False, step), (
        "not before its turn"
    )
    assert place.add(digest, step, LARGE[step : 2 * step], of) == (False, 2 * step)
    assert place.add(digest, 2 * step, LARGE[2 * step :], of) == (True, of)
    assert place.add(digest, 2 * step, LARGE[2 * step :], of) == (True, of)
    assert home.files.read(digest) == LARGE
