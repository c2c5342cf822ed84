"""HTTP routes for phones."""
