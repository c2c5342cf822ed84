"""The published figures that come with the app, by subject."""

from __future__ import annotations

from pathlib import Path
from typing import NamedTuple

from fieldapp.husbandry.errors import Damaged
from fieldapp.husbandry.figures import Table, read_table
from fieldapp.words import say


class Published(NamedTuple):
    """One table a subject, as the files of ``assets/tables`` hold them."""

    biology: Table
    thresholds: Table
    chemistry: Table
    measures: Table
    recipes: Table


def load(folder: Path) -> Published:
    """Return the tables of figures in `folder`. Raises `Damaged` where one cannot be read."""
    return Published(*(_read(folder / f"{name}.toml") for name in Published._fields))


def _read(path: Path) -> Table:
    try:
        text = path.read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError) as error:
        raise Damaged(
            say(
                "The table {table} that came with the app cannot be read: install it again.",
                table=path.name,
            )
        ) from error
    return read_table(path.name, text)
