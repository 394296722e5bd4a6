"""The screen of true north."""
