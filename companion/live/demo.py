"""The demo: a public star evening at the invented Loon Barrens."""

from datetime import UTC, datetime

DEMO_UTC = datetime(2026, 10, 10, 23, 14, tzinfo=UTC)  # a quarter past eight in the evening there
DEMO_NAMES = (
    "Saturn",
    "Vega",
    "Albireo",
    "M 13",
    "M 57",
    "M 31",
    "M 27",
    "NGC 869",
    "M 11",
    "Mizar",
    "Almach",
    "M 15",
    "Uranus",
    "M 45",
)
