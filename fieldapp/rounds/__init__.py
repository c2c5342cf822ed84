"""Use cases that screens and tests drive: a round, a count, the bench, stock."""
