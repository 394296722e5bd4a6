"""The same answers as text and JSON."""
