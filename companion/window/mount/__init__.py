"""The screen of the mount: alignment, description, instruments."""
