"""``python -m fieldapp.android stage``: makes ready what buildozer packs."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from fieldapp.android.staging import ROOT, StagingError
from fieldapp.android.staging import stage as stage_into


@click.group()
def main() -> None:
    """Make the package for an Android phone. docs/android.md tells the whole way."""


@main.command()
@click.option(
    "--into",
    type=click.Path(file_okay=False, path_type=Path),
    default=ROOT / ".stage",
    show_default=".stage of the checkout",
    help="Folder to fill. buildozer.spec looks into .stage.",
)
def stage(into: Path) -> None:
    """Copy what ships on the phone, and nothing else, to where buildozer.spec looks for it."""
    try:
        files = stage_into(into)
    except (StagingError, OSError) as error:
        click.echo(str(error), err=True)
        sys.exit(1)
    size = sum(path.stat().st_size for path in files)
    click.echo(f"{len(files)} files, {size / 1e6:.1f} MB, in {into / 'app'}")


if __name__ == "__main__":
    main()
