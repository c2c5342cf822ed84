"""Mixing: recipes, what they hold, how strong, how clear, how hot, how long they keep."""
