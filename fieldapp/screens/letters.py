"""Letters as they are measured and drawn: each text once, however many pages show it."""

from __future__ import annotations

from functools import cache, lru_cache
from typing import Any

from kivy.core.text import Label as CoreLabel

from fieldapp.screens.look import FONT

#: Texts whose drawings are kept: those of some four pages.
_TEXTS = 96


@lru_cache(maxsize=8192)
def extents(text: str, type_size: float, bold: bool) -> tuple[int, int]:
    """Return width and height of a text on one line, in pixels."""
    wide, high = _measure(type_size, bold).get_extents(text)
    return wide, high


@lru_cache(maxsize=_TEXTS)
def drawn(text: str, width: float, type_size: float, bold: bool, centred: bool) -> Any:
    """Return the texture of a text wrapped to `width` pixels; it is filled when first shown."""
    label = _Text(
        text=text,
        font_name=FONT,
        font_size=type_size,
        bold=bold,
        halign="center" if centred else "left",
        text_size=(width, None),
    )
    label.refresh()
    return label.texture


@cache
def _measure(type_size: float, bold: bool) -> CoreLabel:
    return CoreLabel(font_name=FONT, font_size=type_size, bold=bold)


class _Text(CoreLabel):  # type: ignore[misc]  # Kivy has no types
    """Kivy's own text, whose words are measured once for all texts."""

    def get_extents(self, text: str) -> tuple[int, int]:
        """Return width and height of a text on one line, in pixels."""
        return extents(text, self.options["font_size"], self.options["bold"])
