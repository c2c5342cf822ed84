"""The phone's half of syncing."""
