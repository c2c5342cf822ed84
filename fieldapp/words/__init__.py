"""What the product says: phrases with named places, spoken in a language and a country's habits."""

from fieldapp.words.phrase import Arg, Phrase, count, say
from fieldapp.words.speech import Speech

__all__ = ["Arg", "Phrase", "Speech", "count", "say"]
