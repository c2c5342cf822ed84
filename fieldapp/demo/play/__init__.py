"""The demo as it is run: the app on the demo season, beside a real server."""
