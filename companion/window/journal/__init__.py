"""The screen of the journal."""
