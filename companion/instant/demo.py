"""The demo: a public star evening at the invented Loon Barrens."""

from datetime import UTC, datetime

DEMO_UTC = datetime(2026, 10, 10, 23, 14, tzinfo=UTC)  # a quarter past eight in the evening there
DEMO_INSTRUMENT = "150 mm f/8"  # one of the instruments that are ready to pick
# By key, not by name: the search needs not be built before the first numbers stand there.
DEMO_KEYS = (
    "body:saturn",
    "hip:91262",  # Vega
    "hip:95947",  # Albireo
    "ngc:NGC6205",  # M 13
    "ngc:NGC6720",  # M 57
    "ngc:NGC0224",  # M 31
    "ngc:NGC6853",  # M 27
    "ngc:NGC0869",  # the western half of the Double Cluster
    "ngc:NGC6705",  # M 11
    "hip:65378",  # Mizar
    "hip:9640",  # Almach
    "ngc:NGC7078",  # M 15
    "body:uranus",
    "ngc:Mel022",  # the Pleiades
)
