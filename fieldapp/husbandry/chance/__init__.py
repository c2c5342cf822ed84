"""Chance: intervals and probabilities for counts, in pure Python, for the phone."""
