"""A picture of every page: none that the app can show is missing, none is left over."""

from __future__ import annotations

import importlib.util
import re
from pathlib import Path
from types import ModuleType

import pytest
from PIL import Image

ROOT = Path(__file__).resolve().parents[2]


def loaded(file: str) -> ModuleType:
    """Load a script of this checkout that lies on no path."""
    spec = importlib.util.spec_from_file_location(Path(file).stem, ROOT / file)
    assert spec is not None and spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


make_pictures = loaded("docs/make_pictures.py")
PAGES = loaded("tests/screens/page_names.py").page_names()
SETS = [
    f"{language}-{theme}" for language in make_pictures.LANGUAGES for theme in make_pictures.THEMES
]
ADVICE = "run: python docs/make_pictures.py, and look at what is new"


def test_no_two_pages_share_a_picture() -> None:
    """Names that differ give files that differ."""
    assert len({make_pictures.file_name(page) for page in PAGES}) == len(PAGES) > 80


def test_there_is_one_folder_for_each_language_and_theme() -> None:
    """No set is left of a language or theme that is gone."""
    assert sorted(path.name for path in make_pictures.SCREENS.iterdir()) == sorted(SETS)


@pytest.mark.parametrize("shown", SETS)
def test_each_page_that_the_app_can_show_is_pictured(shown: str) -> None:
    """The names in the source of the screens are those of the pictures: none more, none fewer."""
    found = {path.name for path in (make_pictures.SCREENS / shown).iterdir()}
    assert found == {make_pictures.file_name(page) for page in PAGES}, ADVICE


def test_the_page_of_screens_shows_each_and_leads_to_the_others() -> None:
    """Each page once as a picture, and once in each of the other sets."""
    text = make_pictures.PAGE.read_text(encoding="utf-8")
    shown = re.findall(r"!\[[^]]*\]\(img/screens/([^)]+)\)", text)
    linked = re.findall(r"(?<!!)\[[^]]*\]\(img/screens/([^)]+)\)", text)
    files = {name: {f"{name}/{make_pictures.file_name(page)}" for page in PAGES} for name in SETS}
    assert sorted(shown) == sorted(files.pop(SETS[0])), ADVICE
    assert sorted(linked) == sorted(set().union(*files.values())), ADVICE


def test_pictures_are_of_a_phone_and_small() -> None:
    """412 x 892 for each part, a palette each, and all of them under 6 MB."""
    files = list(make_pictures.SCREENS.glob("*/*.png"))
    for file in files:
        with Image.open(file) as picture:
            assert picture.mode == "P", file
            assert picture.height == 892, file
            assert (picture.width + make_pictures.GAP) % (412 + make_pictures.GAP) == 0, file
    assert sum(file.stat().st_size for file in files) < 6_000_000
