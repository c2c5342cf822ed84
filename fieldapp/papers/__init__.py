"""The record book as text, CSV and PDF, for phone and server."""
