"""Java classes by name, and the activity that the program runs in."""

from __future__ import annotations

from functools import cache
from typing import Any


@cache
def java(name: str) -> Any:
    """Return the Java class called `name`."""
    from jnius import autoclass  # noqa: PLC0415  (loading it starts the Java machine on a desktop)

    return autoclass(name)


def activity() -> Any:
    """Return the activity: the context that every service of the system is asked through."""
    return java("org.kivy.android.PythonActivity").mActivity


def service(name: str, of_class: str) -> Any:
    """Return a service of the system, seen as the class that it is."""
    from jnius import cast  # noqa: PLC0415

    return cast(of_class, activity().getSystemService(name))


def sdk() -> int:
    """Return the API level of the phone's system."""
    return int(java("android.os.Build$VERSION").SDK_INT)
