"""The screen of a target: what it is, and what the instrument shows of it."""
