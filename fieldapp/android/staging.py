"""Stages what ships on a phone into a folder: the program without its makers' parts, the assets."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path

#: Parts of `fieldapp` that a phone has no use for.
LEFT_OUT = ("android", "demo", "__main__.py", "_assets")
_LITTER = ("__pycache__", "*.pyc", ".*")
_HERE = Path(__file__).parent
ROOT = _HERE.parent.parent


class StagingError(Exception):
    """What is to be staged is not there, or the folder holds what was not staged by this."""


def stage(folder: Path, root: Path = ROOT) -> list[Path]:
    """Fill `folder`/app with what ships, and put the icon beside it; return the files of app.

    What an earlier call left in `folder`/app goes; builds beside it stay.

    Raises `StagingError` where `root` is no checkout, or `folder`/app is not from an earlier call.
    """
    package, assets, app = root / "fieldapp", root / "assets", folder / "app"
    for needed in (package, assets):
        if not needed.is_dir():
            raise StagingError(f"{needed} is not there. Stage from a checkout of the program.")
    if app.exists():
        if not (app / "main.py").is_file():
            raise StagingError(
                f"{app} was not made by this command. Move it away, or name another."
            )
        shutil.rmtree(app)
    app.mkdir(parents=True)
    shutil.copy(_HERE / "main.py", app / "main.py")
    shutil.copytree(package, app / "fieldapp", ignore=_not_shipped(package))
    shutil.copytree(assets, app / "assets", ignore=shutil.ignore_patterns(*_LITTER, "*.po"))
    from fieldapp.android.icon import draw  # noqa: PLC0415  (Pillow is slow to load)

    draw(folder / "icon.png")
    return sorted(path for path in app.rglob("*") if path.is_file())


def _not_shipped(package: Path) -> Callable[[str, list[str]], set[str]]:
    litter = shutil.ignore_patterns(*_LITTER)

    def ignore(folder: str, names: list[str]) -> set[str]:
        left = set(LEFT_OUT) if Path(folder) == package else set()
        return litter(folder, names) | (left & set(names))

    return ignore
