"""The two ways to see the demo: played on a window off screen, or opened for a person."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from random import Random

from fieldapp.assets import folder as assets
from fieldapp.demo.play import prepare
from fieldapp.demo.play.clock import MORNING, Pace
from fieldapp.demo.play.errors import NotOnScreen
from fieldapp.demo.play.served import Browser
from fieldapp.demo.play.server import HomeServer
from fieldapp.demo.play.story import ROUND, Story, compare
from fieldapp.demo.play.window import Hand, off_screen
from fieldapp.demo.season import (
    HELPERS_PHONE,
    KEEPERS_PHONE,
    SEED,
    TODAY,
    ZONE,
    abroad,
    season,
)
from fieldapp.husbandry.library import load
from fieldapp.journal.ids import Entropy
from fieldapp.words.speech import Speech

Tell = Callable[[str], None]
FERRY_LANE = (54.2831, -2.4417)
"""Where the keeper stands in the morning, in degrees north and east."""


def play(folder: Path, tell: Tell) -> int:
    """Play the demo day on a window off screen; return the exit status, 0 where all went well."""
    pictures = folder / "pictures"
    pictures.mkdir()
    off_screen(folder / "kivy")
    pace = Pace()
    # The round takes no time here and half an hour by the phone: the server is there already.
    with HomeServer(folder / "server", MORNING + ROUND) as server:
        phones = _set_scene(folder, server, pace, tell)
        screen, outcome = _by_touch(phones[KEEPERS_PHONE], server, pictures, pace, tell)
        page = Browser(server).agenda(TODAY)
    rows, same = compare(screen, page)
    tell("\nThe agenda after the sync, from the phone's screen and from the served page:\n")
    tell(rows)
    if not same:
        tell("\nThey are not the same. That is a fault: please report it with this output.")
        return 1
    tell(f"\nIdentical: {len(screen)} lines. {outcome}")
    tell(f"\nLook next at the screens it went through: {pictures}")
    for picture in sorted(pictures.iterdir()):
        tell(f"  {picture.name}")
    tell("Then at README.md for what is where, and docs/first-steps.md for your own hives.")
    return 0


def open_app(folder: Path, tell: Tell) -> int:
    """Open the app at phone size beside a running server, until its window is closed."""
    from fieldapp.run import run  # noqa: PLC0415  # Kivy is imported where a window opens

    pace = Pace()
    with HomeServer(folder / "server", MORNING) as server:
        phones = _set_scene(folder, server, pace, tell)
        tell(f"To pair the phone: Home, Pair with a server. Address: {server.address}")
        tell(f"Pairing code: {server.new_code()}")
        tell(f"The pages: https://{server.address}/first, page code {server.page_code}")
        tell("The demo ends when the window is closed.")
        run(phones[KEEPERS_PHONE], (412, 892), FERRY_LANE, pace.clock())
    return 0


def _set_scene(folder: Path, server: HomeServer, pace: Pace, tell: Tell) -> dict[str, Path]:
    """Write the season; the helper's phone comes home and gives the server what it logged."""
    library = load(assets("treatments"))
    year = season(library)
    entropy: Entropy = Random(f"{SEED}/play").randbytes  # noqa: S311  # invented data, not secrets
    phones = prepare.phones(year, folder / "phones")
    tell(f"The demo season: {len(year.entries)} records up to {Speech().day(TODAY)}.")
    tell(f"The server: a process of its own at https://{server.address}")
    home = prepare.comes_home(
        phones[HELPERS_PHONE],
        "helper's phone",
        server,
        server.pairing_code,
        pace.clock(),
        entropy,
    )
    tell(f"The helper's phone, offline for five weeks, comes home: {Speech()(home.phrase)}")
    for other in abroad(library):
        server.begin(other.country)
        [phone] = prepare.phones(other, folder / other.country).values()
        code = server.new_code(other.country)
        prepare.comes_home(phone, f"{other.country} phone", server, code, pace.clock(), entropy)
        tell(f"An operation of its own, {other.country}: {len(other.entries)} records.")
    return phones


def _by_touch(
    phone: Path, server: HomeServer, pictures: Path, pace: Pace, tell: Tell
) -> tuple[list[tuple[str, ...]], str]:
    """Play the keeper's day by touches; return the agenda read from the screen, and the outcome."""
    from kivy.clock import Clock  # noqa: PLC0415

    from fieldapp.bootstrap import bootstrap, close  # noqa: PLC0415
    from fieldapp.device.devices import desktop_devices  # noqa: PLC0415
    from fieldapp.device.finding import ZeroconfFinding  # noqa: PLC0415
    from fieldapp.device.position import GivenPosition  # noqa: PLC0415
    from fieldapp.screens.app import RoundsApp  # noqa: PLC0415

    devices = replace(
        desktop_devices(),
        position=GivenPosition(*FERRY_LANE, pace.monotonic),
        finding=ZeroconfFinding(["127.0.0.1"]),
    )
    kit = bootstrap(
        phone,
        main=lambda work: Clock.schedule_once(lambda _: work(), 0),
        zone=ZONE,
        clock=pace.clock(),
        devices=devices,
    )
    try:
        app = RoundsApp(kit)
        hand = Hand(app.build(), pace.wait)
        app.on_start()
        try:
            return _story(Story(hand, pictures, tell), server)
        except NotOnScreen:
            hand.picture(pictures / "where-it-stopped.png")
            raise
        finally:
            app.on_stop()
    finally:
        close(kit)


def _story(story: Story, server: HomeServer) -> tuple[list[tuple[str, ...]], str]:
    story.round()
    story.go_home()
    story.pair(server, server.new_code())
    outcome = story.sync()
    return story.agenda(), outcome
