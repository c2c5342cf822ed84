"""The parts of the play that can be looked at alone."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner

from fieldapp.demo.__main__ import main
from fieldapp.demo.play.clock import MORNING, Pace
from fieldapp.demo.play.errors import ServerDidNotStart
from fieldapp.demo.play.served import read_agenda
from fieldapp.demo.play.server import HomeServer
from fieldapp.demo.play.story import compare
from fieldapp.demo.season import TODAY

PAGE = """
<h2 id="due">What is due</h2>
<ol class="lines" aria-labelledby="due">
<li class="line"><svg><title>late</title></svg><p class="what">Next &amp; last</p>
<p class="where">Ferry Lane, 2 hives</p><p class="when late">by 3 Aug 2026</p>
<ul class="why"><li>because</li></ul></li>
<li class="line"><p class="what">Second</p><p class="where">Quarry Top, 1 hive</p></li>
</ol>
<ul class="lines"><li class="line"><p class="what">A question</p></li></ul>
"""


def test_the_agenda_is_read_from_the_page_as_a_reader_sees_it() -> None:
    """What, where, when of each line in order; a question below is no line of the agenda."""
    assert read_agenda(PAGE) == [
        ("Next & last", "Ferry Lane, 2 hives", "by 3 Aug 2026"),
        ("Second", "Quarry Top, 1 hive", ""),
    ]


def test_agendas_that_differ_are_told_apart() -> None:
    """Equal lines in equal order and at least one of them: nothing less is *the same*."""
    one, two = ("a", "b", "c"), ("a", "b", "d")
    assert compare([one, two], [one, two])[1]
    assert not compare([one, two], [two, one])[1]
    assert not compare([one], [one, two])[1]
    assert not compare([], [])[1]
    rows, _ = compare([one], [])
    assert "a | b | c" in rows
    assert "(nothing)" in rows


def test_the_demos_clock_begins_on_its_own_today_and_only_goes_on() -> None:
    """Whatever the date here; what the play waits is added at once."""
    pace = Pace()
    clock = pace.clock()
    first, ticks = clock.now_us(), clock.monotonic()
    assert MORNING.date() == TODAY
    assert 0 <= first - MORNING.timestamp() * 1_000_000 < 60_000_000
    pace.wait(3600)
    assert clock.now_us() - first >= 3_600_000_000
    assert clock.monotonic() - ticks >= 3600


def test_a_folder_with_something_of_ones_own_is_left_alone(tmp_path: Path) -> None:
    """The demo empties only what a demo made: it stops and names the folder."""
    (tmp_path / "my-records.txt").write_text("mine")
    done = CliRunner().invoke(main, ["--folder", str(tmp_path)])
    assert done.exit_code == 2
    assert str(tmp_path) in done.output
    assert (tmp_path / "my-records.txt").read_text() == "mine"


def test_help_can_be_read_by_a_beekeeper() -> None:
    """It says what is shown and that nothing of one's own is touched."""
    help_text = " ".join(CliRunner().invoke(main, ["--help"]).output.split())
    assert "your own records are not touched" in help_text


def test_a_server_that_cannot_start_is_told_in_its_own_words(tmp_path: Path) -> None:
    """No folder can be made where a file stands: the message holds what the server said."""
    (tmp_path / "server").write_text("a file, not a folder")
    with pytest.raises(ServerDidNotStart, match=r"did not start. It said:\n.+"):
        HomeServer(tmp_path / "server", MORNING)
