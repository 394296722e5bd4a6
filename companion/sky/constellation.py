"""The 88 constellations: names, genitives, and which one a direction lies in."""

from functools import lru_cache
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

# IAU abbreviation -> (name, genitive), as the International Astronomical Union lists them.
CONSTELLATIONS: dict[str, tuple[str, str]] = {
    "And": ("Andromeda", "Andromedae"),
    "Ant": ("Antlia", "Antliae"),
    "Aps": ("Apus", "Apodis"),
    "Aql": ("Aquila", "Aquilae"),
    "Aqr": ("Aquarius", "Aquarii"),
    "Ara": ("Ara", "Arae"),
    "Ari": ("Aries", "Arietis"),
    "Aur": ("Auriga", "Aurigae"),
    "Boo": ("Boötes", "Boötis"),
    "CMa": ("Canis Major", "Canis Majoris"),
    "CMi": ("Canis Minor", "Canis Minoris"),
    "CVn": ("Canes Venatici", "Canum Venaticorum"),
    "Cae": ("Caelum", "Caeli"),
    "Cam": ("Camelopardalis", "Camelopardalis"),
    "Cap": ("Capricornus", "Capricorni"),
    "Car": ("Carina", "Carinae"),
    "Cas": ("Cassiopeia", "Cassiopeiae"),
    "Cen": ("Centaurus", "Centauri"),
    "Cep": ("Cepheus", "Cephei"),
    "Cet": ("Cetus", "Ceti"),
    "Cha": ("Chamaeleon", "Chamaeleontis"),
    "Cir": ("Circinus", "Circini"),
    "Cnc": ("Cancer", "Cancri"),
    "Col": ("Columba", "Columbae"),
    "Com": ("Coma Berenices", "Comae Berenices"),
    "CrA": ("Corona Australis", "Coronae Australis"),
    "CrB": ("Corona Borealis", "Coronae Borealis"),
    "Crt": ("Crater", "Crateris"),
    "Cru": ("Crux", "Crucis"),
    "Crv": ("Corvus", "Corvi"),
    "Cyg": ("Cygnus", "Cygni"),
    "Del": ("Delphinus", "Delphini"),
    "Dor": ("Dorado", "Doradus"),
    "Dra": ("Draco", "Draconis"),
    "Equ": ("Equuleus", "Equulei"),
    "Eri": ("Eridanus", "Eridani"),
    "For": ("Fornax", "Fornacis"),
    "Gem": ("Gemini", "Geminorum"),
    "Gru": ("Grus", "Gruis"),
    "Her": ("Hercules", "Herculis"),
    "Hor": ("Horologium", "Horologii"),
    "Hya": ("Hydra", "Hydrae"),
    "Hyi": ("Hydrus", "Hydri"),
    "Ind": ("Indus", "Indi"),
    "LMi": ("Leo Minor", "Leonis Minoris"),
    "Lac": ("Lacerta", "Lacertae"),
    "Leo": ("Leo", "Leonis"),
    "Lep": ("Lepus", "Leporis"),
    "Lib": ("Libra", "Librae"),
    "Lup": ("Lupus", "Lupi"),
    "Lyn": ("Lynx", "Lyncis"),
    "Lyr": ("Lyra", "Lyrae"),
    "Men": ("Mensa", "Mensae"),
    "Mic": ("Microscopium", "Microscopii"),
    "Mon": ("Monoceros", "Monocerotis"),
    "Mus": ("Musca", "Muscae"),
    "Nor": ("Norma", "Normae"),
    "Oct": ("Octans", "Octantis"),
    "Oph": ("Ophiuchus", "Ophiuchi"),
    "Ori": ("Orion", "Orionis"),
    "Pav": ("Pavo", "Pavonis"),
    "Peg": ("Pegasus", "Pegasi"),
    "Per": ("Perseus", "Persei"),
    "Phe": ("Phoenix", "Phoenicis"),
    "Pic": ("Pictor", "Pictoris"),
    "PsA": ("Piscis Austrinus", "Piscis Austrini"),
    "Psc": ("Pisces", "Piscium"),
    "Pup": ("Puppis", "Puppis"),
    "Pyx": ("Pyxis", "Pyxidis"),
    "Ret": ("Reticulum", "Reticuli"),
    "Scl": ("Sculptor", "Sculptoris"),
    "Sco": ("Scorpius", "Scorpii"),
    "Sct": ("Scutum", "Scuti"),
    "Ser": ("Serpens", "Serpentis"),
    "Sex": ("Sextans", "Sextantis"),
    "Sge": ("Sagitta", "Sagittae"),
    "Sgr": ("Sagittarius", "Sagittarii"),
    "Tau": ("Taurus", "Tauri"),
    "Tel": ("Telescopium", "Telescopii"),
    "TrA": ("Triangulum Australe", "Trianguli Australis"),
    "Tri": ("Triangulum", "Trianguli"),
    "Tuc": ("Tucana", "Tucanae"),
    "UMa": ("Ursa Major", "Ursae Majoris"),
    "UMi": ("Ursa Minor", "Ursae Minoris"),
    "Vel": ("Vela", "Velorum"),
    "Vir": ("Virgo", "Virginis"),
    "Vol": ("Volans", "Volantis"),
    "Vul": ("Vulpecula", "Vulpeculae"),
}
ABBREVIATIONS = tuple(CONSTELLATIONS)  # the order in which data files number them


def constellation_name(abbreviation: str) -> str:
    """Give the full name of a constellation; an unknown abbreviation comes back as it is."""
    return CONSTELLATIONS.get(abbreviation, (abbreviation, ""))[0]


def constellation_of(ra_deg: ArrayLike, dec_deg: ArrayLike) -> NDArray[np.str_]:
    """Give the constellation that each ICRS direction lies in.

    Boundaries are those of Delporte (1930) as tabulated by Roman 1987 (PASP 99, 695).

    Parameters
    ----------
    ra_deg, dec_deg : array_like
        Degrees, ICRS, of one shape.

    Returns
    -------
    NDArray[np.str_]
        IAU abbreviations, of the same shape.
    """
    from skyfield.api import position_of_radec

    ra, dec = np.broadcast_arrays(np.asarray(ra_deg, float), np.asarray(dec_deg, float))
    place = position_of_radec(ra.ravel() / 15.0, dec.ravel())
    return np.asarray(_map()(place), dtype=np.str_).reshape(ra.shape)


@lru_cache(maxsize=1)
def _map() -> Any:  # noqa: ANN401 - skyfield carries no types
    from skyfield.api import load_constellation_map

    return load_constellation_map()
