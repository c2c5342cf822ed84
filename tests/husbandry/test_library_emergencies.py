"""Whom to call: from memory and said to be so, or honestly not known."""

from __future__ import annotations

from pathlib import Path

import pytest

from fieldapp.assets import folder
from fieldapp.husbandry.library import LibraryError, emergency
from fieldapp.words.speech import Speech

SAFETY = folder("safety")


@pytest.mark.parametrize(
    ("country", "number"),
    [("GB", "999"), ("GB-NIR", "999"), ("DE", "112"), ("AT", "112"), ("US-NY", "911")],
)
def test_the_number_is_said_with_its_standing(country: str, number: str) -> None:
    """The number comes with *from memory*; the poison centre's is on the label."""
    words = Speech()(emergency(SAFETY, country).words)
    assert f"{number} (from memory)" in words
    assert "Poison centre: not known here" in words


def test_a_country_without_a_number_says_so() -> None:
    """No number is made up, and none borrowed."""
    found = emergency(SAFETY, "JP")
    assert found.number is None
    assert "look on the product's label" in Speech()(found.words)


@pytest.mark.parametrize("text", ["standing = [", "[numbers]", 'standing = "x"\nnumbers = 3'])
def test_a_broken_file_is_named(tmp_path: Path, text: str) -> None:
    """A file that cannot be read ends in an error that names it."""
    (tmp_path / "emergency.toml").write_text(text)
    with pytest.raises(LibraryError, match=r"emergency\.toml"):
        emergency(tmp_path, "GB")
