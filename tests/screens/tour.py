"""Every page of the program on the demo's today: legs that begin from the season's phones each."""

from __future__ import annotations

import gc
import shutil
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import partial
from pathlib import Path
from random import Random
from typing import NamedTuple

import tour_at_the_desk as desk
import tour_at_the_hive as hive
import tour_of_happenings as happened
import tour_of_own_treatments as own
from cameras import Camera, photo
from driver import Phone
from running import Running
from walking import Walk

from fieldapp.assets import folder as assets
from fieldapp.demo.play import prepare
from fieldapp.demo.play.clock import MORNING
from fieldapp.demo.season import KEEPERS_PHONE, abroad, season
from fieldapp.husbandry.library import load

MORNING_US = int(MORNING.timestamp() * 1_000_000)
#: No phone of the season: the program at its first start.
NEW = "new"


class Leg(NamedTuple):
    """One way through the program: what it is of, what it does, and on whose phone it begins."""

    group: str
    walk: Callable[[Walk], None]
    phone: str = "GB"

    @property
    def name(self) -> str:
        """The name of what it does."""
        return self.walk.__name__


#: In the order in which a page's picture is looked for: the fullest of each comes first.
LEGS = (
    Leg("What is due", hive.due),
    Leg("A round", hive.vapour),
    Leg("A round", hive.by_seams),
    Leg("A round", hive.strips),
    Leg("A round", hive.mist),
    Leg("A hive", hive.hive),
    Leg("A hive", hive.dispenser, "DE"),
    Leg("What happened to a hive", happened.split),
    Leg("What happened to a hive", happened.united),
    Leg("What happened to a hive", happened.lives),
    Leg("An apiary", happened.premises),
    Leg("A look inside", hive.look),
    Leg("A count", hive.count),
    Leg("What may be done", desk.options),
    Leg("The bench", desk.bench),
    Leg("The bench", desk.own_recipe),
    Leg("The bench", desk.applicators),
    Leg("Stock", desk.stock),
    Leg("Honey", desk.honey),
    Leg("What happened to a hive", happened.carried),
    Leg("Own treatments", own.own_treatment),
    Leg("For the inspector", desk.papers),
    Leg("Home", desk.home),
    Leg("Home", desk.settings),
    Leg("Home", desk.trouble),
    Leg("The first start", hive.first_start, NEW),
    Leg("The first start", hive.whose),
    Leg("The first start", desk.nothing_yet, NEW),
)


def phones(folder: Path) -> dict[str, Path]:
    """Write the keeper's phone of the season and of each operation abroad; return the folders."""
    library = load(assets("treatments"))
    years = (season(library), *abroad(library))
    return {
        year.country: prepare.phones(year, folder / year.country)[KEEPERS_PHONE] for year in years
    }


@contextmanager
def begun(
    leg: Leg, folder: Path, kept: dict[str, Path], phone: Phone, language: str, theme: str
) -> Iterator[Running]:
    """Open the program for a leg, in a new folder below `folder`, on a copy of its phone."""
    home = folder / leg.name
    if leg.phone != NEW:
        shutil.copytree(kept[leg.phone], home)
    random = Random(leg.name)
    app = Running(
        home,
        phone,
        language=language,
        now_us=MORNING_US,
        entropy=random.randbytes,
        camera=Camera(photo()),
    )
    try:
        app.kit.notebook.local.put("theme", theme)
        app.reopen()
        yield app
    finally:
        app.close()
        shutil.rmtree(home, ignore_errors=True)
        gc.collect()  # the next program leaves alone what is there when it begins


def go(
    leg: Leg,
    folder: Path,
    kept: dict[str, Path],
    phone: Phone,
    look: Callable[[Running, str], None],
    *,
    language: str = "en",
    theme: str = "sun",
) -> None:
    """Walk one leg and call `look` with the program and the name of each page in sight."""
    with begun(leg, folder, kept, phone, language, theme) as app:
        leg.walk(Walk(app, partial(look, app)))
