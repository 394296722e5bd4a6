from .records import (
    CountedFrom as CountedFrom,
    Dial as Dial,
    Mount as Mount,
    Sighting as Sighting,
)
