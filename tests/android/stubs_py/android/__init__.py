"""Stands for the module `android` that python-for-android puts into a package."""
