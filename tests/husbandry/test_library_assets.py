"""The files beside the code are found in a checkout, in a wheel and on the phone."""

from __future__ import annotations

import sys
from pathlib import Path
from types import ModuleType

import pytest

from fieldapp.assets import AssetError, folder


def test_in_a_checkout_they_lie_beside_the_package() -> None:
    """The checkout's own library is found."""
    assert (folder("treatments") / "sources.toml").is_file()


def test_in_a_wheel_they_lie_inside_the_package(tmp_path: Path) -> None:
    """What is inside the package comes before anything beside it."""
    package = tmp_path / "site" / "fieldapp"
    for root in (package / "_assets", tmp_path / "site" / "assets"):
        (root / "fonts").mkdir(parents=True)
    assert folder("fonts", package) == package / "_assets" / "fonts"


def test_on_the_phone_they_lie_beside_the_main_module(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Wherever the package was unpacked, main.py stands beside the assets."""
    (tmp_path / "app" / "assets" / "fonts").mkdir(parents=True)
    main = ModuleType("__main__")
    main.__file__ = str(tmp_path / "app" / "main.py")
    monkeypatch.setitem(sys.modules, "__main__", main)
    found = folder("fonts", tmp_path / "elsewhere" / "fieldapp")
    assert found == tmp_path / "app" / "assets" / "fonts"


def test_what_is_nowhere_is_said_with_the_places(tmp_path: Path) -> None:
    """The error names where was looked and what to do."""
    with pytest.raises(AssetError, match="Install the program again") as caught:
        folder("no such folder", tmp_path / "fieldapp")
    assert str(tmp_path / "assets") in str(caught.value)
