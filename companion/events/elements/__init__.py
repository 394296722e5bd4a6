"""Orbits that a person brings as files: read, refused with reasons, kept, and carried as movers."""
