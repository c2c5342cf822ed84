"""Pages for the browser at home."""
