"""The sites that are remembered, with what the compass adds at each."""

from dataclasses import replace
from datetime import datetime
from typing import Any

from companion.journal import Plain, Settings, from_plain, to_plain
from companion.live.threads.journal_thread import JournalKeeper
from companion.sky import DEMO_SITES, AdviceError, Site

_MOST = 50


class SiteBook:
    """Reads and keeps sites through the journal's settings."""

    def __init__(self, keeper: JournalKeeper, settings: Settings) -> None:
        self._keeper = keeper
        self._settings = settings

    def take(self, settings: Settings) -> None:
        """Take the settings as they are on disk now."""
        self._settings = settings

    @property
    def site(self) -> Site | None:
        """The site that was used last."""
        return _read(self._settings.site)

    @property
    def sites(self) -> tuple[Site, ...]:
        """Remembered sites, the last used first, then the demo sites."""
        kept = [site for site in map(_read, self._settings.sites) if site is not None]
        names = {site.name for site in kept}
        return (*kept, *(site for site in DEMO_SITES if site.name not in names))

    def remember(self, utc: datetime, site: Site) -> None:
        """Keep a site as the one in use and the first of the list."""
        others = [to_plain(other) for other in self.sites if other.name != site.name]
        plain = to_plain(site)
        self._keeper.set_setting(utc, "site", plain)
        self._keeper.set_setting(utc, "sites", [plain, *others][:_MOST])

    def compass(self, site: Site) -> dict[str, Any]:
        """Give the field of the choices that belongs to a site's compass."""
        return {"compass_deviation_deg": self._settings.compass_deviation_deg(site.name)}

    def set_deviation(self, utc: datetime, site: Site, degrees: float | None) -> None:
        """Keep what the compass adds at a site; None forgets it."""
        kept = dict(self._settings.compass_deviations_deg)
        kept.pop(site.name, None)
        if degrees is not None:
            kept[site.name] = degrees
        self._settings = replace(self._settings, compass_deviations_deg=kept)
        self._keeper.set_setting(utc, "compass_deviations_deg", kept)


def _read(plain: Plain | None) -> Site | None:
    """Read a remembered site; one that is of no use any more is passed over."""
    try:
        return None if plain is None else from_plain(Site, plain)
    except AdviceError:
        return None
