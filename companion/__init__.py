"""The field companion: now, from here, with this mount, in red light."""

__version__ = "0.1.0"
