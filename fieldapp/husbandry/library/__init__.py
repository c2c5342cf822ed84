"""The treatment library: what labels say, by country, each value with standing and source."""

from fieldapp.husbandry.library.errors import LibraryError
from fieldapp.husbandry.library.library import Library
from fieldapp.husbandry.library.reading import load, parse
from fieldapp.husbandry.library.treatment import Source, Treatment, Value

__all__ = ["Library", "LibraryError", "Source", "Treatment", "Value", "load", "parse"]
