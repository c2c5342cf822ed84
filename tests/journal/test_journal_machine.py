"""Devices and servers in any number do anything in any order; nothing is lost or invented."""

from __future__ import annotations

import random
import shutil
import tempfile
from collections import Counter
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, precondition, rule
from journal_making import FINDER, KEEPER, WHEN, Device, note

from fieldapp.journal import chain
from fieldapp.journal.backup import backup, restore
from fieldapp.journal.batches import Batch
from fieldapp.journal.filling import unsettled
from fieldapp.journal.holes import verify
from fieldapp.journal.merging import sync
from fieldapp.journal.reading import decode
from fieldapp.journal.receiving import receive
from fieldapp.journal.record import Draft, Record
from fieldapp.journal.replica import Host
from fieldapp.journal.schema import SET_ASIDE

MOST_DEVICES = 6
chances = st.integers(0, 2**32)


class Cut(Exception):
    """The connection broke."""


class CutPeer:
    """A peer whose connection breaks at call `at`, before or after the other side did it."""

    def __init__(self, host: Host, at: int, after: bool) -> None:
        self._host, self._left, self._after = host, at, after

    def __getattr__(self, name):
        def call(*args):
            self._left -= 1
            if self._left == 0 and not self._after:
                raise Cut
            answer = getattr(self._host, name)(*args)
            if self._left == 0:
                raise Cut
            return answer

        return call


def contents(device: Device) -> Counter[bytes]:
    """Return the bytes on this device's disk, with the number of places that each has."""
    rows = device.journal.connections.here().execute(
        "SELECT raw, branch FROM record WHERE standing <> ?", (SET_ASIDE,)
    )
    found: Counter[bytes] = Counter()
    for raw, branch in rows:
        found[raw] += branch is not None
    return found


def losses(raws) -> set[bytes]:
    return {raw for raw in raws if isinstance(r := decode(raw), Record) and r.kind == "loss"}


class Replicas(RuleBasedStateMachine):
    """Each rule checks its own step; the end syncs all and compares everything."""

    @initialize(seed=chances)
    def begin(self, seed: int) -> None:
        self.folder = Path(tempfile.mkdtemp(prefix="replicas-"))
        self.chance = random.Random(seed)
        self.devices: list[Device] = []
        self.images: list[Path] = []
        self.damages = 0
        self.future_seq = 0
        self.future_digest = chain.start(b"f" * 16)
        for server in (True, False, False):
            self.add(server)

    def add(self, server: bool) -> Device:
        path = self.folder / f"{len(self.devices)}-{self.chance.random()}" / "journal.db"
        device = Device(path, self.chance.getrandbits(32), server)
        self.devices.append(device)
        return device

    def pick(self, number: int) -> Device:
        return self.devices[number % len(self.devices)]

    @rule(who=chances, count=st.integers(1, 4))
    def write(self, who: int, count: int) -> None:
        device = self.pick(who)
        before = contents(device)
        raws = [
            device.journal.raw_by_id(record.id)
            for record in device.journal.write(
                [note(f"look {self.chance.random()}") for _ in range(count)]
            )
        ]
        assert contents(device) == before + Counter(raws)

    @rule(who=chances)
    def correct(self, who: int) -> None:
        device = self.pick(who)
        roots = [r for _, r in device.journal.arrivals() if r.kind in ("look", "application")]
        if roots:
            root = self.chance.choice(roots)
            device.journal.write(
                [
                    Draft(
                        root.kind,
                        WHEN,
                        KEEPER,
                        root.body,
                        hive=root.hive,
                        corrects=root.corrects or root.id,
                        void=self.chance.random() < 0.5,
                    )
                ]
            )

    @rule(who=chances, other=chances)
    def meet(self, who: int, other: int) -> None:
        self.exchange(self.pick(who), self.pick(other), None)

    @rule(who=chances, other=chances, at=st.integers(1, 8), after=st.booleans())
    def meet_and_break_off(self, who: int, other: int, at: int, after: bool) -> None:
        self.exchange(self.pick(who), self.pick(other), (at, after))

    def exchange(self, device: Device, other: Device, cut: tuple[int, bool] | None) -> None:
        if device is other:
            return
        mine, theirs = set(contents(device)), set(contents(other))
        peer = CutPeer(other.host, *cut) if cut else other.host
        try:
            outcome = sync(device.journal, peer, FINDER)
        except Cut:
            pass
        else:
            assert outcome.equal, "a whole sync ends with both holding the same"
            assert device.journal.vector() == other.journal.vector()
            assert not unsettled(device.journal)
        for after, held in ((set(contents(device)), mine), (set(contents(other)), theirs)):
            assert held <= after, "a sync loses nothing"
            assert after - losses(after) <= mine | theirs, "a sync invents nothing"

    @rule(who=chances)
    def crash(self, who: int) -> None:
        """The process dies: what was confirmed is on the disk, in file or log."""
        device = self.pick(who)
        before = contents(device)
        self.move_to(device, device.path)
        assert contents(device) == before
        assert verify(device.journal) == []

    def move_to(self, device: Device, source: Path) -> None:
        target = self.folder / f"{self.chance.random()}" / "journal.db"
        target.parent.mkdir()
        for part in source.parent.glob("journal.db*"):
            shutil.copy(part, target.parent / part.name)
        device.journal.connections.close()
        device.path = target
        device.opened()

    @rule(who=chances)
    def keep_image(self, who: int) -> None:
        device = self.pick(who)
        target = self.folder / f"image-{self.chance.random()}"
        shutil.copytree(device.path.parent, target)
        self.images.append(target / "journal.db")

    @precondition(lambda self: self.images)
    @rule(who=chances, which=chances)
    def restore_image(self, who: int, which: int) -> None:
        """A device becomes what it, or another one, once was: its marker fits all the same."""
        self.move_to(self.pick(who), self.images[which % len(self.images)])

    @precondition(lambda self: len(self.devices) < MOST_DEVICES)
    @rule(who=chances)
    def copy_device(self, who: int) -> None:
        source = self.pick(who).path
        self.move_to(self.add(False), source)

    @precondition(lambda self: len(self.devices) < MOST_DEVICES)
    @rule(server=st.booleans())
    def begin_empty(self, server: bool) -> None:
        self.add(server)

    @rule(who=chances)
    def restore_backup(self, who: int) -> None:
        device = self.pick(who)
        before = set(contents(device))
        archive = self.folder / "backup.zip"
        backup(device.journal, archive)
        device.journal.close()
        device.path = self.folder / f"{self.chance.random()}" / "journal.db"
        restored = restore(
            archive, device.path, now_ms=device.clock, entropy=device.chance.randbytes
        )
        device.journal = restored.journal
        assert restored.whole
        assert set(contents(device)) == before

    @rule(who=chances, days=st.integers(-4000, 4000))
    def clock_jumps(self, who: int, days: int) -> None:
        self.pick(who).clock.ms += days * 86_400_000

    @rule(who=chances, count=st.integers(1, 3), alter=st.booleans())
    def damage(self, who: int, count: int, alter: bool) -> None:
        """Records change or vanish behind the program's back; the next start finds it."""
        device = self.pick(who)
        connection = device.journal.connections.here()
        before = contents(device)
        rows = connection.execute(
            # Nothing proves the first record above one that is gone without a trace.
            "SELECT arrival, raw, seq FROM record JOIN branch USING (branch) "
            "WHERE (seq > first OR first = 1) AND arrival < (SELECT max(arrival) FROM record)"
        ).fetchall()
        chosen = self.chance.sample(rows, min(count, len(rows)))
        for arrival, raw, _ in chosen:
            if alter:
                connection.execute(
                    "UPDATE record SET raw = ? WHERE arrival = ?", (raw + b" ", arrival)
                )
            else:
                connection.execute("DELETE FROM record WHERE arrival = ?", (arrival,))
        self.damages += len(chosen)
        found = verify(device.journal)
        if alter:
            assert sum(h.last - h.first + 1 for h in found) == len(chosen)
        assert set(before) - set(contents(device)) <= {raw for _, raw, _ in chosen}
        assert verify(device.journal) == []

    @rule(who=chances)
    def newer_version(self, who: int) -> None:
        """Something of a later version arrives: not understood, kept, passed on."""
        raw = f'{{"id":"?","kind":"later","n":{self.chance.random()}}}'.encode()
        after = chain.link(self.future_digest, raw)
        batch = Batch(b"f" * 16, self.future_seq + 1, self.future_digest, after, (raw,))
        (receipt,) = receive(self.pick(who).journal, [batch])
        if receipt.refused is None:
            self.future_seq, self.future_digest = self.future_seq + 1, after

    @invariant()
    def records_count_once(self) -> None:
        for device in getattr(self, "devices", ()):
            ids = [record.id for _, record in device.journal.arrivals()]
            assert len(ids) == len(set(ids))
            assert device.journal.count() == len(ids)

    def teardown(self) -> None:
        if not getattr(self, "devices", None):
            return
        try:
            self.compare_all()
        finally:
            for device in self.devices:
                device.journal.close()
            shutil.rmtree(self.folder)

    def compare_all(self) -> None:
        held = set().union(*(contents(device) for device in self.devices))
        for _ in range(3):
            for device in self.devices[1:]:
                self.exchange(device, self.devices[0], None)
        first = self.devices[0]
        for device in self.devices:
            after = contents(device)
            assert device.journal.vector() == first.journal.vector()
            assert set(after) == set(contents(first))
            assert held <= set(after), "nothing that any device held is lost"
            assert set(after) - held == losses(set(after) - held), "nothing is invented"
            assert dict(device.journal.arrivals()).keys() is not None
            assert {r.id: r for _, r in device.journal.arrivals()} == {
                r.id: r for _, r in first.journal.arrivals()
            }
            assert max(after.values(), default=0) <= 1 + self.damages, "copies do not pile up"
            assert verify(device.journal) == []


TestReplicas = Replicas.TestCase
TestReplicas.settings = settings(
    max_examples=25,
    stateful_step_count=25,
    deadline=None,
    suppress_health_check=list(HealthCheck),
)


@pytest.mark.long
class TestReplicasLong(Replicas.TestCase):
    settings = settings(
        max_examples=1500,
        stateful_step_count=60,
        deadline=None,
        suppress_health_check=list(HealthCheck),
    )
