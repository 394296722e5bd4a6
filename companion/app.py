"""Puts the window, the service thread and the journal together."""
