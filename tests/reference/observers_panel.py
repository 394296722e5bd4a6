"""What observers look at by eye, in binoculars and in a telescope, by hemisphere and season.

Common practice, no source: twenty names for each evening. Whatever of them is well placed must
stand among the first forty of the list for that evening.
"""

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

from companion.night import (
    Candidates,
    Conditions,
    TonightRequest,
    darkness,
    find_instrument,
    night_grid,
    rank_tonight,
)
from companion.sky import (
    DRY_PAN,
    LOON_BARRENS,
    Catalogue,
    Ephemeris,
    Site,
    Target,
    TargetTable,
    load_search,
)

FIRST, WELL_PLACED_DEG, EVENING = 40, 30.0, timedelta(hours=4)
COUNTRY_SKY = 21.3  # mag/arcsec²

# New Moon lies within a day or two of each.
SEASONS = {
    "winter": (1, 17),
    "spring": (4, 16),
    "summer": (7, 14),
    "autumn": (10, 10),
}
SITES = {"north": LOON_BARRENS, "south": DRY_PAN}

PANEL = {
    ("north", "winter", "eye"): (
        "M 45, Hyades, Orion's Belt, Orion's Sword, Orion's figure, Betelgeuse, Rigel, Sirius, "
        "Procyon, Aldebaran, Capella, Winter Hexagon, Winter Triangle, Heads of the Twins, M 44, "
        "Double Cluster, M 31, W of Cassiopeia, Big Dipper, Algol"
    ),
    ("north", "spring", "eye"): (
        "Big Dipper, Little Dipper, Mizar, Arcturus, Spica, Regulus, Sickle of Leo, M 44, "
        "Melotte 111, Spring Triangle, Capella, Heads of the Twins, Procyon, Pollux, "
        "Arc of the Northern Crown, Kite of Boötes, Great Diamond, Vega, Pointers of the Dipper, "
        "W of Cassiopeia"
    ),
    ("north", "summer", "eye"): (
        "Summer Triangle, Vega, Deneb, Altair, Northern Cross, Big Dipper, Mizar, Arcturus, "
        "Little Dipper, W of Cassiopeia, Arc of the Northern Crown, Keystone, Head of Draco, "
        "Job's Coffin, M 31, Double Cluster, Great Square of Pegasus, Kite of Boötes, Sheliak, "
        "Alpha Persei Cluster"
    ),
    ("north", "autumn", "eye"): (
        "Great Square of Pegasus, M 31, W of Cassiopeia, Double Cluster, M 45, Hyades, Capella, "
        "Algol, Alpha Persei Cluster, Summer Triangle, Northern Cross, Vega, Deneb, Altair, "
        "Job's Coffin, Little Dipper, Head of Draco, Mizar, Big Dipper, delta Cep"
    ),
    ("south", "winter", "eye"): (
        "Large Magellanic Cloud, Small Magellanic Cloud, Canopus, Sirius, Orion's Belt, "
        "Orion's Sword, M 42, Betelgeuse, Rigel, M 45, Hyades, Aldebaran, Southern Cross, "
        "Achernar, IC 2602, NGC 3372, False Cross, Procyon, NGC 2516, Winter Triangle"
    ),
    ("south", "spring", "eye"): (
        "Southern Cross, Southern Pointers, Coalsack, Rigil Kentaurus, Hadar, NGC 3372, IC 2602, "
        "NGC 5139, Canopus, Sirius, False Cross, Large Magellanic Cloud, NGC 3532, IC 2391, "
        "M 44, Spica, Regulus, Sail of Corvus, Arcturus, Procyon"
    ),
    ("south", "summer", "eye"): (
        "Southern Cross, Southern Pointers, Coalsack, Rigil Kentaurus, Hadar, Fish Hook, Antares, "
        "Teapot, M 7, M 6, M 24, NGC 5139, NGC 3372, IC 2602, NGC 6231, Spica, Arcturus, "
        "Altair, Vega, Head of Scorpius"
    ),
    ("south", "autumn", "eye"): (
        "Large Magellanic Cloud, Small Magellanic Cloud, NGC 104, Achernar, Fomalhaut, Canopus, "
        "Great Square of Pegasus, M 45, Neck of the Crane, Teapot, M 7, Fish Hook, Antares, "
        "Altair, Summer Triangle, M 24, Saturn, Hyades, Rigil Kentaurus, Alnair"
    ),
    ("north", "winter", "10x50"): (
        "M 45, M 42, Hyades, Double Cluster, M 31, M 44, M 35, M 36, M 37, M 38, M 41, M 47, "
        "M 34, Alpha Persei Cluster, NGC 752, NGC 2264, Kemble's Cascade, M 33, NGC 2244, M 48"
    ),
    ("north", "spring", "10x50"): (
        "M 44, Melotte 111, M 67, M 48, M 35, M 37, M 3, M 13, M 5, M 92, M 81, M 47, "
        "Double Cluster, La Superba, M 36, M 38, M 34, Alpha Persei Cluster, Kemble's Cascade, "
        "M 42"
    ),
    ("north", "summer", "10x50"): (
        "M 13, M 92, M 11, M 27, M 8, M 17, M 22, M 24, M 25, M 31, Coathanger, Albireo, M 39, "
        "mu Cep, IC 4665, IC 4756, NGC 6633, NGC 7000, M 5, Double Cluster"
    ),
    ("north", "autumn", "10x50"): (
        "M 31, M 33, Double Cluster, M 45, Alpha Persei Cluster, Hyades, NGC 752, M 34, M 15, "
        "M 13, M 27, Coathanger, Albireo, M 39, mu Cep, Kemble's Cascade, NGC 457, NGC 7789, "
        "NGC 7000, M 11"
    ),
    ("south", "winter", "10x50"): (
        "Large Magellanic Cloud, NGC 2070, Small Magellanic Cloud, NGC 104, M 42, M 45, Hyades, "
        "M 41, M 47, M 46, M 93, NGC 2451, NGC 2477, NGC 2516, NGC 3372, NGC 3532, IC 2602, "
        "IC 2391, NGC 3114, NGC 2547"
    ),
    ("south", "spring", "10x50"): (
        "NGC 3372, NGC 3532, IC 2602, NGC 5139, NGC 4755, NGC 3766, NGC 2516, IC 2391, NGC 3114, "
        "NGC 2451, NGC 2477, NGC 5128, M 44, M 41, M 47, M 46, NGC 6231, NGC 2547, NGC 2070, "
        "Large Magellanic Cloud"
    ),
    ("south", "summer", "10x50"): (
        "M 7, M 6, M 8, M 17, M 22, M 24, M 25, M 23, M 11, M 4, NGC 6231, NGC 5139, NGC 4755, "
        "NGC 3372, NGC 3532, NGC 6397, NGC 6752, IC 2602, NGC 5128, M 16"
    ),
    ("south", "autumn", "10x50"): (
        "Small Magellanic Cloud, Large Magellanic Cloud, NGC 104, NGC 2070, NGC 253, M 7, M 6, "
        "M 8, M 17, M 22, M 24, M 25, M 11, NGC 6231, NGC 6397, NGC 6752, M 45, M 15, M 27, M 23"
    ),
    ("north", "winter", "150"): (
        "M 42, Double Cluster, M 31, M 35, M 36, M 37, M 38, M 45, M 46, M 1, M 81, M 82, "
        "NGC 2392, NGC 2264, NGC 457, Castor, Almach, beta Mon, M 41, NGC 7662"
    ),
    ("north", "spring", "150"): (
        "M 3, M 13, M 5, M 92, M 51, M 81, M 82, M 104, M 65, M 66, NGC 4565, NGC 2903, M 64, "
        "M 44, M 67, Algieba, Mizar, Castor, Cor Caroli, NGC 3242"
    ),
    ("north", "summer", "150"): (
        "M 13, M 57, M 27, Albireo, HIP 91919, M 11, M 8, M 17, M 22, M 5, M 92, M 15, M 51, "
        "M 31, NGC 6543, NGC 6826, Mizar, gamma Del, M 3, M 4"
    ),
    ("north", "autumn", "150"): (
        "M 31, Double Cluster, M 15, M 2, M 57, M 27, M 13, Albireo, Almach, HIP 91919, "
        "NGC 7662, NGC 7009, NGC 457, NGC 7789, M 45, M 33, gamma Del, M 11, NGC 6543, M 92"
    ),
    ("south", "winter", "150"): (
        "NGC 104, NGC 2070, M 42, NGC 362, NGC 1851, NGC 2516, NGC 2477, M 41, M 46, NGC 2362, "
        "HIP 35210, NGC 3372, NGC 3532, NGC 3132, NGC 2808, M 45, M 35, Acamar, NGC 253, "
        "Large Magellanic Cloud"
    ),
    ("south", "spring", "150"): (
        "NGC 3372, NGC 5139, NGC 4755, NGC 3532, NGC 3766, NGC 5128, NGC 3293, NGC 2516, "
        "NGC 2477, NGC 3132, NGC 3242, M 104, M 83, Acrux, Rigil Kentaurus, NGC 2070, NGC 104, "
        "NGC 6231, Algieba, M 46"
    ),
    ("south", "summer", "150"): (
        "NGC 5139, NGC 4755, NGC 3372, NGC 5128, NGC 6397, NGC 6752, NGC 6231, M 4, M 6, M 7, "
        "M 8, M 11, M 17, M 20, M 22, Rigil Kentaurus, Acrux, M 104, M 57, NGC 104"
    ),
    ("south", "autumn", "150"): (
        "NGC 104, NGC 362, NGC 253, NGC 55, NGC 2070, NGC 6752, NGC 6397, M 22, M 8, M 17, M 11, "
        "M 15, M 2, M 27, M 57, NGC 7009, Saturn, Albireo, M 31, NGC 6231"
    ),
}  # fmt: skip


def evening_of(hemisphere: str, season: str) -> tuple[Site, datetime]:
    """Give site and an afternoon moment of the season's evening."""
    site = SITES[hemisphere]
    month, day = SEASONS[season]
    return site, datetime(2026, month, day, 20 if hemisphere == "north" else 15, tzinfo=UTC)


@dataclass(frozen=True)
class Share:
    """What one evening's list has of the well placed names of the panel."""

    met: int
    wanted: int
    missing: tuple[str, ...]


class Panel:
    """Ranks evenings; everything heavy is read once."""

    def __init__(self, catalogue: Catalogue, ephemeris: Ephemeris | None = None) -> None:
        self._ephemeris = ephemeris or Ephemeris.load()
        self._catalogue = catalogue
        self._candidates = Candidates.of(catalogue)

    def share(self, hemisphere: str, season: str, through: str) -> Share:
        """Rank one evening, from dusk on, and look for the panel's names."""
        site, utc = evening_of(hemisphere, season)
        grid = night_grid(self._ephemeris, site, utc)
        dusk = darkness(grid).nautical.begins_utc
        assert dusk is not None
        request = TonightRequest(
            site,
            utc,
            find_instrument(through),
            Conditions.at(site, zenith_mag=COUNTRY_SKY),
            from_utc=dusk,
            until_utc=dusk + EVENING,
            limit=FIRST,
        )
        rows = rank_tonight(self._ephemeris, self._candidates, request, None, grid).rows
        found = {row.target.key for row in rows}
        wanted = self._well_placed(PANEL[hemisphere, season, through], site, dusk)
        missing = tuple(name for key, name in wanted.items() if key not in found)
        return Share(len(wanted) - len(missing), len(wanted), missing)

    def _well_placed(self, names: str, site: Site, dusk: datetime) -> dict[str, str]:
        """Give the names by key that stand high enough at some hour of the evening."""
        search = load_search()
        targets = {name: search.resolve(name) for name in names.split(", ")}
        high = {}
        for hour in range(5):
            utc = dusk + EVENING * hour / 4
            for name, altitude in self._altitudes(targets, site, utc).items():
                if altitude >= WELL_PLACED_DEG:
                    high[targets[name].key] = name
        return high

    def _altitudes(self, targets: dict[str, Target], site: Site, utc: datetime) -> dict[str, float]:
        moment = self._ephemeris.moment(site, utc)
        fixed = {name: target for name, target in targets.items() if not target.body}
        place = moment.horizontal(TargetTable.of(tuple(fixed.values()), utc))
        altitudes = dict(zip(fixed, place.altitude_airless_deg.tolist(), strict=True))
        bodies = {name: target.body for name, target in targets.items() if target.body}
        return altitudes | {
            name: moment.body(body).altitude_airless_deg for name, body in bodies.items()
        }
