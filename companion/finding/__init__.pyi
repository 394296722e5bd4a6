from .instrument import (
    Eyepiece as Eyepiece,
    Finder as Finder,
    Instrument as Instrument,
    InstrumentKind as InstrumentKind,
    Viewing as Viewing,
)
