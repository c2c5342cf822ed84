"""Certificate, one-time codes and tokens."""
