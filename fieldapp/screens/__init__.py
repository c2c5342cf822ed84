"""Kivy widgets: they show state and pass taps on, and decide nothing."""
