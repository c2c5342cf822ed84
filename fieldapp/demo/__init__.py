"""The demo season: a whole invented year of records, made again the same from a seed number."""
