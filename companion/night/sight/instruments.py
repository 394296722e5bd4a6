"""Instruments ready to pick, as most people own them (common practice, no source)."""

from dataclasses import replace

from companion.advice import AdviceError
from companion.finding import Eyepiece, Finder, Instrument, InstrumentKind, Viewing
from companion.night.sight.observer import Observer

_HELD = "held"
_EYEPIECES = (
    Eyepiece("32 mm", 32.0, 52.0, 27.0),
    Eyepiece("25 mm", 25.0, 52.0),
    Eyepiece("15 mm", 15.0, 52.0),
    Eyepiece("9 mm", 9.0, 52.0),
    Eyepiece("6 mm", 6.0, 52.0),
)
_SMALL_FINDER = Finder("6×30 finder", 7.0, 6.0, 30.0, Viewing.TURNED)
_FINDER = Finder("8×50 finder", 6.0, 8.0, 50.0, Viewing.TURNED)


def eye(observer: Observer | None = None) -> Instrument:
    """Give the bare eye of a person; its aperture is the pupil in the dark."""
    pupil_mm = (observer or Observer()).dark_pupil_mm
    return Instrument("eye", InstrumentKind.EYE, pupil_mm, field_deg=100.0)


BINOCULARS = (
    Instrument("7×50", InstrumentKind.BINOCULARS, 50.0, 7.0, 7.1),
    Instrument("10×50", InstrumentKind.BINOCULARS, 50.0, 10.0, 6.5),
)


def _telescope(
    name: str, aperture_mm: float, focal_mm: float, secondary_mm: float, finder: Finder
) -> Instrument:
    """Give a telescope: a refractor where it has no secondary mirror, else a Newtonian."""
    return Instrument(
        name=name,
        kind=InstrumentKind.TELESCOPE,
        aperture_mm=aperture_mm,
        focal_mm=focal_mm,
        eyepieces=_EYEPIECES,
        finder=finder,
        viewing=Viewing.TURNED if secondary_mm else Viewing.MIRRORED,
        obstruction_mm=secondary_mm,
        transmission=0.85 if secondary_mm else 0.92,
    )


TELESCOPES = (
    _telescope("80 mm f/5", 80.0, 400.0, 0.0, _SMALL_FINDER),
    _telescope("100 mm f/9", 100.0, 900.0, 0.0, _SMALL_FINDER),
    _telescope("150 mm f/8", 150.0, 1200.0, 38.0, _FINDER),
    _telescope("200 mm f/6", 200.0, 1200.0, 50.0, _FINDER),
    _telescope("250 mm f/5", 250.0, 1250.0, 63.0, _FINDER),
)


def ready_instruments(observer: Observer | None = None) -> tuple[Instrument, ...]:
    """Give all of them, smallest first."""
    return (eye(observer), *BINOCULARS, *TELESCOPES)


def find_instrument(
    text: str, own: tuple[Instrument, ...] = (), observer: Observer | None = None
) -> Instrument:
    """Give the instrument that a text means: ``eye``, ``10x50``, ``150``, ``150 mm f/8``.

    Parameters
    ----------
    text : str
        A name, its beginning, or the aperture in millimetres; binoculars with ``held`` behind
        are in the hand instead of on a tripod.
    own : tuple of Instrument
        The person's own, which come before the ready ones.
    observer : Observer, optional
        Whose eye is meant.

    Raises
    ------
    AdviceError
        If none is called so; it lists those there are.
    """
    wanted = _plain(text)
    if wanted.endswith(_HELD):
        steady = find_instrument(wanted.removesuffix(_HELD), own, observer)
        return replace(steady, name=f"{steady.name} held", held=True)
    choice = (*own, *ready_instruments(observer))
    exact = [one for one in choice if _plain(one.name) == wanted]
    begins = [one for one in choice if wanted and _plain(one.name).startswith(wanted)]
    if not (exact or begins):
        raise AdviceError(
            f"No instrument is called “{' '.join(text.split())[:40]}”.",
            f"Choose one of: {', '.join(one.name for one in choice)}.",
        )
    return (exact or begins)[0]


def _plain(text: str) -> str:
    return "".join(text.casefold().replace("×", "x").split())
