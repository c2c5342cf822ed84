"""The treatment library: what labels say, by country, each value with standing and source."""

from fieldapp.husbandry.library.emergencies import Emergency, emergency
from fieldapp.husbandry.library.errors import LibraryError
from fieldapp.husbandry.library.library import Library
from fieldapp.husbandry.library.own import QUESTIONS, Asked, LabelInHand, own_terms
from fieldapp.husbandry.library.reading import library_version, load, parse
from fieldapp.husbandry.library.treatment import Source, Treatment, Value

__all__ = [
    "QUESTIONS",
    "Asked",
    "Emergency",
    "LabelInHand",
    "Library",
    "LibraryError",
    "Source",
    "Treatment",
    "Value",
    "emergency",
    "library_version",
    "load",
    "own_terms",
    "parse",
]
