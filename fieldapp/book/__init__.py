"""Keeps each hive's state current: the one place where journal and rules meet."""
