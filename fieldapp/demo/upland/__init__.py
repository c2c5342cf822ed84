"""The year of the demo operation: three apiaries in a made-up upland, a keeper and a helper."""
