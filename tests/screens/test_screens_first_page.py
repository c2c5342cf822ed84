"""The first page is loaded for itself alone: what it does not show, it does not wait for."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

from kivy import kivy_data_dir
from kivy.lang import Builder
from kivy.resources import resource_find
from kivy.uix.textinput import TextInput
from running import Running

ROOT = Path(__file__).resolve().parents[2]

#: What other pages need, each the beginning of names of modules.
NOT_YET = (
    "fieldapp.book.book",
    "fieldapp.book.keeping",
    "fieldapp.husbandry.agenda",
    "fieldapp.husbandry.ledger",
    "fieldapp.husbandry.operation",
    "fieldapp.husbandry.state",
    "fieldapp.husbandry.library",
    "fieldapp.husbandry.choosing",
    "fieldapp.husbandry.counting",
    "fieldapp.husbandry.efficacy",
    "fieldapp.husbandry.mixing.recipe",
    "fieldapp.papers",
    "fieldapp.rounds.options",
    "fieldapp.rounds.question",
    "fieldapp.rounds.round",
    "fieldapp.rounds.starting",
    "fieldapp.screens.home_flow",
    "fieldapp.screens.hive_flow",
    "fieldapp.screens.look_flow",
    "fieldapp.screens.round_flow",
    "fieldapp.sync",
    "icalendar",
    "pint",
    "reportlab",
    "requests",
    "sqlite_utils",
    "zeroconf",
)

PROGRAM = """
import json, sys
sys.path[:0] = {paths!r}
from pathlib import Path
from driver import Phone
from kivy.core.window import Window
from running import Running
from kivy.lang import Builder
first, styles = [], []
def flipped(*_):
    if Window.children and not first:
        first.extend(sorted(sys.modules))
        styles.extend(Builder.files)
Window.bind(on_flip=flipped)
app = Running(Path(sys.argv[1]), Phone(412, 892, 1.0))
assert app.page == "due", app.page
print(json.dumps([first, sorted(sys.modules), styles]))
"""


def test_what_the_first_page_does_not_show_is_not_loaded(keeper: Running) -> None:
    """A keeper with an apiary opens the program; a process of its own says what it loaded."""
    folder = keeper.folder
    keeper.close()
    program = PROGRAM.format(paths=[str(ROOT), str(Path(__file__).parent)])
    run = subprocess.run(
        [sys.executable, "-c", "import screen_environment\n" + program, str(folder)],
        cwd=ROOT,
        env={**os.environ, "PYTHONPATH": f"{ROOT}:{Path(__file__).parent}"},
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
    )
    keeper.open()
    assert run.returncode == 0, run.stderr[-2000:]
    loaded, soon, styles = json.loads(run.stdout.splitlines()[-1])
    assert "fieldapp.screens.due_page" in loaded
    assert "fieldapp.book.book" in soon  # what the first tap needs follows at once
    early = [name for name in loaded if any(f"{name}.".startswith(f"{n}.") for n in NOT_YET)]
    assert early == []
    assert styles == []  # none of the styles of Kivy's widgets


def test_a_line_to_type_in_has_kivys_styles_and_they_are_read_once(open_app) -> None:
    """The first start has one on its first page; Kivy finds the rest of its data as ever."""
    own = str(Path(kivy_data_dir) / "style.kv")
    app = open_app()
    app.set_up("Ferry Lane", 2)
    assert Builder.files.count(own) == 1
    assert Builder.match(TextInput(**{"__no_builder": True}))
    assert Path(kivy_data_dir) != ROOT / "assets" / "kivy"
    assert resource_find("data/glsl/default.fs")
