"""A site by its name: one that is known already, or a town."""

from collections.abc import Sequence

from companion.advice import AdviceError
from companion.sky.site import Site
from companion.sky.towns import TownIndex


def find_site(name: str, known: Sequence[Site]) -> Site:
    """Give the known site of that name, or else the largest town that is called so.

    Raises
    ------
    AdviceError
        If nothing is called so.
    """
    wanted = name.strip().casefold()
    for site in known:
        if site.name.casefold() == wanted:
            return site
    towns = TownIndex().find(name, limit=1)
    if not towns:
        names = ", ".join(site.name for site in known[:6])
        raise AdviceError(
            f"No site or town is called {name[:60]!r}.",
            f"Give --lat and --lon, a larger town near by, or one of: {names}.",
        )
    town = towns[0]
    return Site(town.name, town.latitude_deg, town.longitude_deg, time_zone=town.time_zone)
