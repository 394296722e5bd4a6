"""Well-known names in the sky that the catalogue does not carry, so that none is taken for another.

Names of moons, dwarf planets and minor planets as the International Astronomical Union gives them;
from memory.
"""

from companion.sky.spelling import fold, one_slip
from companion.sky.star_text import named

_MOONS = {
    "Mars": "Phobos Deimos",
    "Jupiter": "Io Europa Ganymede Callisto Amalthea Himalia Elara Pasiphae Sinope Metis Thebe",
    "Saturn": "Mimas Enceladus Tethys Dione Rhea Titan Hyperion Iapetus Phoebe Janus Epimetheus",
    "Uranus": "Miranda Ariel Umbriel Titania Oberon Puck",
    "Neptune": "Triton Nereid Proteus",
    "Pluto": "Charon Nix Kerberos Styx",
}
_DWARFS = "Ceres Eris Haumea Makemake Sedna Quaoar Orcus Gonggong"
_MINOR = (
    "Pallas Juno Vesta Astraea Hebe Iris Flora Hygiea Parthenope Egeria Irene Eunomia Psyche "
    "Thetis Melpomene Fortuna Massalia Lutetia Kalliope Thalia Themis Phocaea Proserpina Euterpe "
    "Bellona Amphitrite Urania Euphrosyne Pomona Polyhymnia Davida Interamnia Elektra Eros Icarus "
    "Apophis Bennu Ryugu Itokawa Didymos Toutatis Chiron Pholus Ganymed"
)
_COMETS = "Halley Encke Borrelly Tempel Wirtanen Giacobini Tuttle Swift Hale Bopp"
_OTHER = {
    "Earth": "where you stand",
    "Milky Way": "all around",
    "ISS": "a satellite",
    "Tiangong": "a satellite",
    "Nadir": "straight below you",
    "Meridian": "a great circle",
    "Ecliptic": "a great circle",
    "Equator": "a great circle",
    "Horizon": "all around",
    "Solaris": "a star's name",  # approved in 2019, for a star that Hipparcos did not measure
}
_KNOWN: dict[str, str] = {
    **{fold(name): f"a moon of {of}" for of, names in _MOONS.items() for name in names.split()},
    **{fold(name): "a dwarf planet" for name in _DWARFS.split()},
    **{fold(name): "a minor planet" for name in _MINOR.split()},
    **{fold(name): "a comet's name" for name in _COMETS.split()},
    **{fold(name): what for name, what in _OTHER.items()},
}
_NAMES = tuple(_KNOWN)


def not_carried(text: str, slips: int = 0) -> str:
    """Say what something is that the catalogue does not carry: "a moon of Pluto"; else empty.

    With ``slips`` a longer name is recognised with that one slip too.
    """
    name = named(text)
    known = _KNOWN.get(name, "")
    if known or not slips:
        return known
    return next((_KNOWN[other] for other in one_slip(name, _NAMES)), "")
