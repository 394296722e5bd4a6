"""The same answers as text and JSON, one command a file. Needs no Qt."""
