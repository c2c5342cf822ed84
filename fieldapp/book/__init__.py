"""Keeps each hive's state current: the one place where journal and rules meet."""

from fieldapp.book.answers import Asked, Entry, Lot, Place, Stop
from fieldapp.book.book import Book

__all__ = ["Asked", "Book", "Entry", "Lot", "Place", "Stop"]
