"""The program on a desktop: a window of a phone's size. ``python -m fieldapp --help``."""

from __future__ import annotations

import os
import sys
from pathlib import Path

import click

PHONE = "412x892"


def default_folder() -> Path:
    """Return where the records lie when nobody says otherwise."""
    base = os.environ.get("XDG_DATA_HOME") or str(Path.home() / ".local" / "share")
    return Path(base) / "apiary-rounds"


def _size(_context: click.Context, _option: click.Parameter, text: str) -> tuple[int, int]:
    try:
        width, height = (int(part) for part in text.lower().split("x"))
    except ValueError:
        raise click.BadParameter("give width and height in pixels, as 412x892") from None
    if not (240 <= width <= 4000 and 320 <= height <= 4000):
        raise click.BadParameter("give a width of 240 to 4000 and a height of 320 to 4000")
    return width, height


def _place(
    _context: click.Context, _option: click.Parameter, text: str | None
) -> tuple[float, float] | None:
    if text is None:
        return None
    try:
        lat, lon = (float(part) for part in text.split(","))
    except ValueError:
        raise click.BadParameter("give degrees north and east, as 54.21,-2.35") from None
    if not (-90 <= lat <= 90 and -180 <= lon <= 180):
        raise click.BadParameter("degrees north are -90 to 90, degrees east -180 to 180")
    return lat, lon


@click.command()
@click.option(
    "--data",
    type=click.Path(file_okay=False, path_type=Path),
    help="Folder in which your records lie. It is made if it is not there.",
)
@click.option(
    "--size",
    default=PHONE,
    show_default=True,
    callback=_size,
    help="Size of the window, width x height.",
)
@click.option(
    "--position",
    callback=_place,
    metavar="NORTH,EAST",
    help="Where you are, in degrees, for a computer without a receiver: 54.21,-2.35",
)
@click.version_option(package_name="apiary-rounds")
def main(data: Path | None, size: tuple[int, int], position: tuple[float, float] | None) -> None:
    """Keep the log of your varroa treatments, hive by hive, with or without signal.

    Opens the program in a window of a phone's size. Your records are kept in a folder on
    this computer; nothing is sent anywhere until you pair with your own server under Home.

    A log book and a calculator: the product's label, local rules and a veterinarian decide.
    """
    from fieldapp.journal.errors import JournalError  # noqa: PLC0415  (--help comes quickly)
    from fieldapp.run import run  # noqa: PLC0415

    folder = data or default_folder()
    try:
        run(folder, size, position)
    except JournalError as error:
        click.echo(str(error), err=True)
        sys.exit(1)
    except Exception as error:
        click.echo(_told(folder, error), err=True)
        sys.exit(1)


def _told(folder: Path, error: Exception) -> str:
    """Keep a fault that ended the program in its file, and return what to tell of it."""
    from datetime import UTC, datetime  # noqa: PLC0415  (needed here only)

    from fieldapp.rounds.faults import NAME, WORDS, FaultLog  # noqa: PLC0415
    from fieldapp.words import Speech  # noqa: PLC0415

    log = FaultLog(folder / NAME, lambda: datetime.now(UTC).isoformat())
    kept = log.write(error)
    told = [Speech()(WORDS[1]), log.latest]
    return "\n".join([*told, f"{folder / NAME}"] if kept else told)


if __name__ == "__main__":
    main()
