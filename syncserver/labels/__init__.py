"""Labels and codes to print."""
