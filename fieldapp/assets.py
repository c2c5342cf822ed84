"""Finds the files that ship beside the code: treatments, tables, fonts, icons, sounds, words."""

from __future__ import annotations

import sys
from pathlib import Path


class AssetError(FileNotFoundError):
    """A folder of assets is in none of the places where this program looks."""


def folder(name: str, package: Path = Path(__file__).parent) -> Path:
    """Return the folder `name` of the assets.

    It is looked for inside the package (wheel), beside the package (checkout, phone) and
    beside the program's main module (phone), in that order.

    Raises `AssetError`, which names the places that were searched.
    """
    roots = [package / "_assets", package.parent / "assets"]
    if main := getattr(sys.modules.get("__main__"), "__file__", None):
        roots.append(Path(main).resolve().parent / "assets")
    for root in roots:
        if (found := root / name).is_dir():
            return found
    searched = ", ".join(str(root) for root in roots)
    raise AssetError(f"No assets called {name} in {searched}. Install the program again.")
