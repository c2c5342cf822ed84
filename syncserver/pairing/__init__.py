"""How a phone or a browser comes to be trusted: certificate, one-time codes, tokens."""
