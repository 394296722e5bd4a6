"""The window around every screen: shell, stage, sheets, keys, hints, help, messages, status."""
