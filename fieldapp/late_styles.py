"""Kivy's styles of all its widgets, read when the first widget is made that has one.

Kivy reads them while it is loaded, which takes a fifth of the time to an empty window, and offers
no way to leave that out. This program draws its own widgets, all but the line to type in.
"""

from __future__ import annotations

from pathlib import Path

from fieldapp.assets import folder

_NAME = "style.kv"


def put_off() -> None:
    """Load Kivy's builder without the styles; call it before anything but Kivy's settings."""
    import kivy  # noqa: PLC0415
    import kivy.resources  # noqa: PLC0415  (remembers where Kivy's data lie)

    where = kivy.kivy_data_dir
    kivy.kivy_data_dir = str(folder("kivy"))  # a file without a style lies there
    try:
        import kivy.lang.builder  # noqa: PLC0415
    finally:
        kivy.kivy_data_dir = where


def load() -> None:
    """Read the styles, unless that was done."""
    from kivy import kivy_data_dir  # noqa: PLC0415
    from kivy.lang import Builder  # noqa: PLC0415

    styles = str(Path(kivy_data_dir) / _NAME)
    if styles not in Builder.files:
        Builder.load_file(styles, rulesonly=True)
