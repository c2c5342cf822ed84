"""The phone app: records kept at the hive, with no signal, and what they mean."""
