"""Phones and servers in any number over the real protocol: nothing is lost, all answers agree."""

from __future__ import annotations

import random
import shutil
import sys
import tempfile
from collections import Counter
from pathlib import Path
from unittest import mock

import pytest
import requests
from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, precondition, rule
from wired import Break, Handset, Home, Way

sys.path.append(str(Path(__file__).parents[1] / "oracles"))
from histories import history

from fieldapp.book.book import Book
from fieldapp.journal.batches import batches
from fieldapp.journal.holes import verify
from fieldapp.journal.reading import decode
from fieldapp.journal.record import Draft, Record
from fieldapp.journal.store import Journal
from fieldapp.wire import limits

MOST_PHONES, MOST_HOMES = 5, 3
#: Kinds of which there are few, and that no photo stands beside.
FEW = frozenset({"photo", "loss", "apiary", "keeper"})
numbers = st.integers(0, 2**32)
breaks = st.lists(
    st.tuples(st.integers(1, 12), st.sampled_from(["before", "after", "half"])), max_size=3
)


def placed(journal: Journal) -> Counter[bytes]:
    """Return what stands without gap, with the number of places that each has."""
    places = {
        (head.writer, batch.first + n, raw)
        for head in journal.vector()
        for batch in batches(journal, head, 0)
        for n, raw in enumerate(batch.records)
    }
    return Counter(raw for _, _, raw in places)


class Phones(RuleBasedStateMachine):
    """A random season is tapped on random phones, among all that can go wrong."""

    @initialize(seed=numbers)
    def begin(self, seed: int) -> None:
        self.room = Path(tempfile.mkdtemp(prefix="phones-"))
        self.chance = random.Random(seed)
        season = history(random.Random(seed))
        self.day = season.day
        self.to_tap = [draft(record) for record in season.records][::-1]
        self.homes: dict[str, Home] = {}
        self.phones: list[Handset] = []
        self.images: list[Path] = []
        self.archives: list[Path] = []
        #: What some replica must hold, and all that was ever tapped.
        self.confirmed: set[bytes] = set()
        self.ever: set[bytes] = set()
        #: SHA-256 of photos, of which some replica must hold the file.
        self.photos: set[str] = set()
        self.broken: dict[int, Break] = {}
        patch = mock.patch("fieldapp.sync.client.pinned_session", self.session)
        patch.start()
        self.unpatch = patch.stop
        self.new_home()
        for _ in range(2):
            self.new_phone()

    def session(self, fingerprint: str) -> requests.Session:
        session = requests.Session()
        session.mount("https://", Way(self.homes, self.broken.get))
        return session

    def fresh(self) -> Path:
        return self.room / f"{self.chance.getrandbits(64):016x}"

    def phone(self, number: int) -> Handset:
        return self.phones[number % len(self.phones)]

    def home(self, number: int) -> Home:
        return list(self.homes.values())[number % len(self.homes)]

    @rule(who=numbers, count=st.integers(1, 12))
    def tap(self, who: int, count: int) -> None:
        """What a tap confirmed is on the disk, byte for byte."""
        phone = self.phone(who)
        drafts = [self.to_tap.pop() for _ in range(min(count, len(self.to_tap)))]
        raws = {phone.journal.raw_by_id(record.id) for record in phone.journal.write(drafts)}
        assert len(raws) == len(drafts)
        self.confirmed |= raws
        self.ever |= raws
        phone.book.refresh()

    @rule(who=numbers, size=st.integers(1, 3 * limits.PIECE_BYTES))
    def photo(self, who: int, size: int) -> None:
        """A photo beside a record: its file is on the disk before its record is."""
        phone = self.phone(who)
        beside = next((r for _, r in phone.journal.arrivals() if r.kind not in FEW), None)
        if beside is None:
            return
        digest = phone.files.put(self.chance.randbytes(size))
        body = {"sha256": digest, "type": "image/jpeg", "size": size}
        drafted = Draft("photo", beside.happened, beside.keeper, body, adds_to=beside.id)
        raw = phone.journal.raw_by_id(phone.journal.write([drafted])[0].id)
        self.confirmed.add(raw)
        self.ever.add(raw)
        self.photos.add(digest)

    @rule(who=numbers, which=numbers, plan=breaks)
    def meet(self, who: int, which: int, plan: list[tuple[int, Break]]) -> None:
        """A sync that says that it went well has; one that broke off has lost nothing."""
        phone, home = self.phone(who), self.home(which)
        before = placed(phone.journal), placed(home.journal)
        self.broken = dict(plan)
        outcome = phone.meet(home)
        self.broken = {}
        if outcome.ok:
            assert phone.journal.vector() == home.journal.vector()
        else:
            assert plan, outcome
            assert outcome.advice, outcome
        for journal, held in zip((phone.journal, home.journal), before, strict=True):
            assert not held - placed(journal)

    @rule(who=numbers)
    def phone_crashes(self, who: int) -> None:
        phone = self.phone(who)
        held = placed(phone.journal)
        phone.become(phone.image(self.fresh()))
        assert placed(phone.journal) == held

    @rule(which=numbers)
    def server_crashes(self, which: int) -> None:
        home = self.home(which)
        held = placed(home.journal)
        home.crash(self.fresh())
        assert placed(home.journal) == held

    @rule(who=numbers)
    def keep_image(self, who: int) -> None:
        self.images.append(self.phone(who).image(self.fresh()))

    @precondition(lambda self: self.images)
    @rule(who=numbers, which=numbers)
    def phone_goes_back(self, who: int, which: int) -> None:
        """The phone becomes an older self, or another phone; what it alone held goes with it."""
        phone = self.phone(who)
        alone = set(placed(phone.journal))
        shutil.copytree(self.images[which % len(self.images)], target := self.fresh())
        phone.become(target)
        self.forget(alone)

    @rule(which=numbers)
    def back_up(self, which: int) -> None:
        target = self.fresh().with_suffix(".zip")
        self.home(which).save(target)
        self.archives.append(target)

    @precondition(lambda self: self.archives)
    @rule(which=numbers, saved=numbers)
    def server_goes_back(self, which: int, saved: int) -> None:
        home = self.home(which)
        alone = set(placed(home.journal))
        home.restore(self.archives[saved % len(self.archives)], self.fresh())
        self.forget(alone)

    def forget(self, alone: set[bytes]) -> None:
        """No longer ask for what stood on no other replica than one that is gone."""
        journals = [phone.journal for phone in self.phones]
        journals += [home.journal for home in self.homes.values()]
        held = set().union(*(placed(journal) for journal in journals))
        self.confirmed -= alone - held
        self.photos &= set().union(*(each.files.digests() for each in self.everyone()))

    def everyone(self) -> list[Handset | Home]:
        return [*self.phones, *self.homes.values()]

    @precondition(lambda self: len(self.phones) < MOST_PHONES)
    @rule(who=numbers, copy=st.booleans())
    def another_phone(self, who: int, copy: bool) -> None:
        folder = self.phone(who).image(self.fresh()) if copy else None
        self.new_phone(folder)

    def new_phone(self, folder: Path | None = None) -> None:
        self.phones.append(Handset(folder or self.fresh(), self.chance.getrandbits(32)))

    @precondition(lambda self: len(self.homes) < MOST_HOMES)
    @rule()
    def new_home(self) -> None:
        home = Home(self.fresh(), f"home{len(self.homes)}")
        self.homes[home.address] = home

    @rule(who=numbers, days=st.integers(-4000, 4000))
    def clock_jumps(self, who: int, days: int) -> None:
        self.phone(who).ahead_ms += days * 86_400_000

    def teardown(self) -> None:
        if not hasattr(self, "room"):
            return
        try:
            self.compare_all()
        finally:
            for each in self.everyone():
                each.close()
            self.unpatch()
            shutil.rmtree(self.room)

    def compare_all(self) -> None:
        """The rest of the season is tapped; three rounds later all hold and say the same."""
        while self.to_tap:
            self.tap(self.chance.getrandbits(32), 12)
        for _ in range(3):
            for home in self.homes.values():
                for phone in self.phones:
                    outcome = phone.meet(home)
                    assert outcome.ok, outcome
        first = self.phones[0]
        held = placed(first.journal)
        assert self.confirmed <= set(held), "nothing confirmed is lost"
        assert {decode(raw).kind for raw in set(held) - self.ever} <= {"loss"}, "nor invented"
        assert max(held.values(), default=0) == bool(held), "each record has one place"
        journals = [phone.journal for phone in self.phones]
        journals += [home.journal for home in self.homes.values()]
        for journal in journals:
            assert journal.vector() == first.journal.vector()
            assert placed(journal) == held
            assert verify(journal) == []
        there = set(first.files.digests())
        assert self.photos <= there, "no photo is lost"
        for each in self.everyone():
            assert set(each.files.digests()) == there
            for digest in there:
                each.files.read(digest)
        scratch = Book.open(first.journal)
        hives = {record.hive for _, record in first.journal.arrivals() if record.hive}
        said = answers(scratch, self.day, hives)
        scratch.close()
        for phone in self.phones:
            assert answers(phone.book, self.day, hives) == said
        for home in self.homes.values():
            with home.parts.journals.of(home.operation).book() as book:
                assert answers(book, self.day, hives) == said


def draft(record: Record) -> Draft:
    """Return the draft that a phone would have written this record from."""
    return Draft(**{name: getattr(record, name) for name in Draft._fields})


def answers(book: Book, day: object, hives: set[str]) -> dict[str, object]:
    """Return all that a keeper is told on `day`."""
    book.refresh()
    return {
        "agenda": book.agenda(day),
        "questions": sorted(map(repr, book.questions())),
        "hives": {hive: (book.items(hive, day), book.honey(hive, day)) for hive in hives},
    }


TestPhones = Phones.TestCase
TestPhones.settings = settings(
    max_examples=6,
    stateful_step_count=20,
    deadline=None,
    suppress_health_check=list(HealthCheck),
)


@pytest.mark.long
class TestPhonesLong(Phones.TestCase):
    settings = settings(
        max_examples=150,
        stateful_step_count=50,
        deadline=None,
        suppress_health_check=list(HealthCheck),
    )
