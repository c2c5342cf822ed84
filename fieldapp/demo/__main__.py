"""Shows the demo season: ``python -m fieldapp.demo --help``."""

from __future__ import annotations

import os
import shutil
import signal
import sys
from pathlib import Path

import click

from fieldapp.demo.play.errors import DemoError

FOLDER = Path(".demo")


@click.command()
@click.option(
    "--folder",
    type=click.Path(file_okay=False, path_type=Path),
    default=FOLDER,
    show_default=True,
    help="Where the demo keeps its records and pictures. What an earlier demo left is removed.",
)
@click.option(
    "--play/--open",
    default=None,
    help="Play the demo day by itself, or open the app. Left out: open it if there is a screen.",
)
def main(folder: Path, play: bool | None) -> None:
    """Show Apiary Rounds on an invented year of 24 hives, beside a running home server.

    With a screen the app opens in a window of a phone's size. Without one the demo day is played
    on a window rendered off screen: a round of twelve hives, a sync, and the agenda from both
    sides. Nothing leaves this machine, and your own records are not touched.
    """
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(143))  # so that the server ends too
    has_screen = bool(os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY"))
    emptied = _emptied(folder.resolve())
    from fieldapp.demo.play import acts  # noqa: PLC0415  # --help comes quickly

    shown = acts.play if (play or (play is None and not has_screen)) else acts.open_app
    try:
        sys.exit(shown(emptied, click.echo))
    except DemoError as error:
        raise click.ClickException(str(error)) from error


def _emptied(folder: Path) -> Path:
    """Return `folder`, empty. Only a folder that a demo made is emptied."""
    mark = folder / "made-by-the-demo"
    if folder.exists() and any(folder.iterdir()) and not mark.exists():
        raise click.UsageError(f"{folder} is not empty and was not made by the demo. Name another.")
    shutil.rmtree(folder, ignore_errors=True)
    folder.mkdir(parents=True)
    mark.touch()
    return folder


if __name__ == "__main__":
    main()
