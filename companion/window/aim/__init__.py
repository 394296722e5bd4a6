"""The screen of the aim, with the queue at its side."""
