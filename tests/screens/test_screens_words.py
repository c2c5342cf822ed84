"""Every screen in German, at the large font; and no word on any that is not to be translated."""

from __future__ import annotations

import pytest
import test_screens_bench_eyes as bench_eyes
import test_screens_eyes as eyes_of_rounds
import test_screens_look_eyes as look_eyes
from driver import Phone
from eyes import troubles

LARGE = [Phone(360, 640, 1.8), Phone(412, 892, 1.8)]


def bench(app, look):
    """Options, hole, weather, bench and applicators."""
    bench_eyes.stocked(app)
    walk = bench_eyes.Walk(app, look)
    bench_eyes.options(walk)
    bench_eyes.bench(walk)
    bench_eyes.applicators(walk)


WALKS = {"rounds": eyes_of_rounds.walk, "looks": look_eyes.walk, "bench": bench}


@pytest.mark.parametrize("walk", WALKS)
@pytest.mark.parametrize("phone", LARGE, ids=lambda p: f"{p.width}x{p.height}@{p.font}")
def test_german_is_neither_cut_nor_overlapping(open_app, phone, walk):
    """German words are longer: the same eyes look at the same pages."""
    app = open_app(phone, language="de-DE")
    found, seen = set(), set()

    def look(page):
        seen.add(page)
        found.update(troubles(app.hand, page))

    WALKS[walk](app, look)
    assert app.kit.speech.language == "de"
    assert not found, "\n".join(sorted(found))
    assert len(seen) > 10
