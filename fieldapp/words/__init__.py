"""What the product says: phrases with named places, spoken in a language and a country's habits."""

from fieldapp.words.habits import Habits, habits_of, in_units
from fieldapp.words.languages import LANGUAGES, catalogue, fitting, region
from fieldapp.words.phrase import Arg, Degrees, Phrase, count, counted, listed, say
from fieldapp.words.speech import Speech

__all__ = [
    "LANGUAGES",
    "Arg",
    "Degrees",
    "Habits",
    "Phrase",
    "Speech",
    "catalogue",
    "count",
    "counted",
    "fitting",
    "habits_of",
    "in_units",
    "listed",
    "region",
    "say",
]
