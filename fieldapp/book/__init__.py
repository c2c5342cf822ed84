"""Keeps each hive's state current: the one place where journal and rules meet.

What it answers is named here. `fieldapp.book.book` itself loads the rules, which the first page
does not wait for.
"""

from fieldapp.book.answers import Asked, Entry, Lot, Place, Stop

__all__ = ["Asked", "Entry", "Lot", "Place", "Stop"]
