"""What a page says would follow is what holds once it is saved, by the book and folded anew."""

from __future__ import annotations

import random
import tempfile
from pathlib import Path

import pytest
from happening_scene import DAY, STRIPS, answer_at_random, treat
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from rounds_phone import Phone

from fieldapp.bootstrap import close
from fieldapp.husbandry.operation import fold_all
from fieldapp.journal.ids import uuid7
from fieldapp.journal.record import Draft
from fieldapp.rounds.happening.following import changed, follows
from fieldapp.rounds.happening.moving import Moved
from fieldapp.rounds.happening.ways import WAYS
from fieldapp.rounds.setup import COUNTRIES, Setup

#: One without a period for honey, and strips that stay in.
TREATMENTS = ("any/no-published-label/1/oxalic-acid/mist", STRIPS)


def unstamped(value, ids):
    """Return a value with the stamps and instants of these records' places taken out."""
    if isinstance(value, tuple):
        if len(value) == 4 and isinstance(value[1], int) and value[3] in ids:
            return (value[0], "then", "then", value[3])
        parts = [unstamped(each, ids) for each in value]
        return type(value)(*parts) if hasattr(value, "_fields") else tuple(parts)
    if isinstance(value, dict):
        return {key: unstamped(each, ids) for key, each in value.items()}
    return value


def begin(folder) -> Phone:
    """A phone with two apiaries of four and one hives, some treated, some with supers."""
    phone = Phone(folder)
    first = phone.set_up(4)
    setup = Setup(phone.notebook)
    setup.country, setup.apiary, setup.hives = COUNTRIES[0], "Heather", 1
    setup.finish()
    phone.notebook.local.put("apiary", first)
    hives = phone.hives()
    phone.write("super_on", {"mark": "A"}, hive=hives[0], apiary=first)
    phone.write("super_on", {"count": 2}, hive=hives[1], apiary=first)
    treat(phone, hives[0], pieces=2)
    treat(phone, hives[2], TREATMENTS[0])
    return phone


def one_happening(phone, random) -> bool:
    """Let something happen by answers of chance; hold its promise to what holds then."""
    notebook, book = phone.notebook, phone.book
    states = [state for state in book.states() if state.apiary and not state.ended]
    state = random.choice(states)
    ways = [make for _, make in WAYS]
    ways += [lambda notebook, hive: Moved(notebook, notebook.book.hive(hive).apiary, hive)]
    form = random.choice(ways)(notebook, state.hive)
    if not answer_at_random(form, random):
        form.forget()
        return False
    drafts = form.drafts()
    supposed, promised = book.supposing(drafts), form.follows()
    before = {hive: book.hive(hive) for hive in supposed}
    known = {each.hive for each in book.states()}
    form.save()
    ids = {record.id for record in form.written}
    anew = fold_all(record for _, record in notebook.journal.arrivals())
    for hive, would in supposed.items():
        now = book.hive(hive)
        assert unstamped(would, ids) == unstamped(now, ids)
        assert now == anew[hive]
    for each in promised:
        today = notebook.today(book.hive(each.hive).apiary)
        assert each == changed(before[each.hive], anew[each.hive], today)
    if random.random() < 0.3:
        form.undo()
        assert {hive: book.hive(hive) for hive in known & before.keys()} == {
            hive: state for hive, state in before.items() if hive in known
        }
        return True
    # Hives that nothing was said of are as they were.
    for hive in known - supposed.keys():
        assert not changed(anew[hive], book.hive(hive), notebook.today()).lines
    return True


def some_weeks(phone, random, happenings) -> int:
    """Let things happen, treatments between them; return how many could be saved."""
    saved = 0
    for _ in range(happenings):
        phone.time.pass_(random.choice([60, DAY, 9 * DAY]))
        saved += one_happening(phone, random)
        if random.random() < 0.5:
            living = [s.hive for s in phone.book.states() if s.apiary and not s.ended]
            treatment = random.choice(TREATMENTS)
            pieces = {"pieces": random.randint(1, 4)} if treatment == STRIPS else {}
            treat(phone, random.choice(living), treatment, **pieces)
    return saved


@settings(max_examples=30, deadline=None, suppress_health_check=list(HealthCheck))
@given(seed=st.integers(0, 10**9))
def test_what_is_promised_holds(seed):
    """Six happenings one after the other, treatments between them, answers of chance."""
    with tempfile.TemporaryDirectory() as folder:
        phone = begin(Path(folder))
        try:
            some_weeks(phone, random.Random(seed), 6)
        finally:
            close(phone.kit)


def test_chance_meets_every_way(tmp_path):
    """Most tries of the season above can be saved, and each kind of record is among them."""
    kinds, saved = set(), 0
    for seed in range(10):
        phone = begin(tmp_path / str(seed))
        saved += some_weeks(phone, random.Random(seed), 14)
        kinds |= {record.kind for _, record in phone.notebook.journal.arrivals()}
        close(phone.kit)
    assert saved > 80
    assert kinds > {"split", "unite", "swarm", "queen", "super_carried", "comb_up", "death"}
    assert kinds > {"colony", "course_stop", "transfer", "hive"}


def test_supposing_leaves_no_trace(phone):
    """Neither journal nor book know of it, in a file or in memory; ids are needed."""
    phone.set_up(2)
    hive, other = phone.hives()
    treat(phone, hive, pieces=2)
    state, count = phone.book.hive(hive), phone.notebook.journal.count()
    for keeps in (True, False):
        phone.book._keeps = keeps
        unite = _unite(phone, other, hive)
        would = phone.book.supposing([unite])
        assert set(would) == {hive, other}
        assert not would[hive].colony
        assert would[other].exposures[0].open
        assert (phone.book.hive(hive), phone.notebook.journal.count()) == (state, count)
        assert phone.book.history(other)[0].root.kind == "hive"
    with pytest.raises(ValueError, match="without an id"):
        phone.book.supposing([unite._replace(id=None)])
    assert follows(phone.notebook, [unite])[0].hive == other


def _unite(phone, into, leaving):
    body = {"from_hive": leaving, "from_colony": leaving}
    notebook = phone.notebook
    new = uuid7(phone.time.us // 1000, random.Random(1).randbytes(10))
    return Draft("unite", notebook.moment(), notebook.keeper, body, hive=into, id=new)
