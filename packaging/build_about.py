"""Make resources/about.json: distances, orbits and epochs from the hand-made tables, spectra.

Spectral classes are those that the Hipparcos catalogue of 1997 gives, letter and digit, as the
package ``ephem`` carries them for its bright stars. For some close pairs (Capella, Almach, Dubhe)
they are of a companion, or of both together: what the star's own colour contradicts is left out.
"""

import ephem.stars
import numpy as np
from build_tables import read_table, save_json

from companion.sky import load_catalogue, load_search, moved, unit_vectors

# Usual B - V of a class, of giants from G on, as the bright ones are (textbook, from memory).
_CLASSES = ("O5", "B0", "B5", "A0", "A5", "F0", "F5", "G0", "G5", "K0", "K5", "M0", "M5")
_COLOURS = (-0.33, -0.30, -0.17, 0.0, 0.15, 0.30, 0.44, 0.65, 0.86, 1.0, 1.5, 1.56, 1.63)
_OFF_EARLY, _OFF_LATE = 0.2, 0.4  # B - V, up to F0 and beyond
_NEAR_ARCSEC, _NEAR_MAG, _YEARS = 2.0, 0.3, 8.75


def build() -> int:
    """Write the file and give how many entries it holds.

    Raises
    ------
    SystemExit
        If two lines of the distances disagree about one object.
    """
    search, catalogue = load_search(), load_catalogue()
    distances: dict[str, float] = {}
    for row in read_table("distances"):
        key, value = search.resolve(row["name"]).key, float(row["distance_ly"])
        if distances.setdefault(key, value) != value:
            raise SystemExit(f"distances.csv: {row['name']} is told twice, not alike")
    for table in ("orbits", "epochs"):
        for row in read_table(table):
            catalogue.star(int(row["hip"]))
    orbits, epochs = _numbers("orbits"), _numbers("epochs")
    spectra = _spectra()
    save_json(
        "about.json",
        {"distances_ly": distances, "orbits": orbits, "epochs": epochs, "spectra": spectra},
    )
    return len(distances) + len(orbits) + len(epochs) + len(spectra)


def _spectra() -> dict[str, str]:
    """Give spectral classes by Hipparcos number."""
    stars = load_catalogue().stars
    places = moved(
        stars.ra_deg,
        stars.dec_deg,
        stars.pm_ra_mas_per_yr * _YEARS,
        stars.pm_dec_mas_per_yr * _YEARS,
    )
    found: dict[int, str] = {}
    for line in ephem.stars.db.split("\n"):
        if not line:
            continue
        _name, kind, hours, degrees, magnitude = line.split(",")[:5]
        spectrum = kind.split("|")[2]
        right_ascension = float(hours.split("|")[0]) * 15.0
        here = unit_vectors(right_ascension, float(degrees.split("|")[0]))
        row = int(np.argmax(places @ here))
        apart = np.degrees(np.linalg.norm(places[row] - here)) * 3600.0
        same = abs(float(stars.magnitude[row]) - float(magnitude)) < _NEAR_MAG
        if apart < _NEAR_ARCSEC and same and _fits(spectrum, float(stars.colour_index[row])):
            found[int(stars.hip[row])] = spectrum
    return {str(hip): found[hip] for hip in sorted(found)}


def _fits(spectrum: str, colour: float) -> bool:
    """Tell whether a star of this class can have this colour."""
    steps = [_step(one) for one in _CLASSES]
    usual = float(np.interp(_step(spectrum), steps, _COLOURS))
    off = _OFF_EARLY if _step(spectrum) <= _step("F0") else _OFF_LATE
    return abs(colour - usual) <= off


def _step(spectrum: str) -> int:
    return "OBAFGKM".index(spectrum[0]) * 10 + int(spectrum[1])


def _numbers(table: str) -> dict[str, dict[str, object]]:
    """Give the rows of a table by Hipparcos number, numbers as numbers, None where empty."""
    words = {"of", "source"}
    return {
        row.pop("hip"): {
            name: text if name in words else float(text) if text else None
            for name, text in row.items()
        }
        for row in read_table(table)
    }
