"""The sites that are remembered, the one in use, and what the compass adds at each."""

from collections.abc import Mapping
from dataclasses import replace

from companion.advice import AdviceError
from companion.journal import Plain, Settings, from_plain, to_plain
from companion.live.clock import EveningClock
from companion.live.current_choices import CurrentChoices
from companion.live.threads.journal_thread import JournalThread
from companion.sky import Site

_MOST = 50
_SAME_PLACE_DEG = 0.1


class Sites:
    """Reads and keeps sites through the journal's settings, and goes to one of them."""

    def __init__(
        self,
        journal: JournalThread,
        choices: CurrentChoices,
        clock: EveningClock,
        settings: Settings,
    ) -> None:
        self._journal, self._choices, self._clock = journal, choices, clock
        self._settings = settings
        self._show_deviation()

    def take(self, settings: Settings) -> None:
        """Take the settings as they are on disk now."""
        self._settings = settings

    @property
    def known(self) -> tuple[Site, ...]:
        """Remembered sites, the last used first."""
        return tuple(site for site in map(_read, self._settings.sites) if site is not None)

    def visit(self, site: Site) -> None:
        """Go to a town or a demo site; if it was visited before, to what is kept of it.

        Its horizon, the brightness of its sky, its height stay as they were told then.
        """
        kept = (one for one in self.known if one.name == site.name and _is_near(one, site))
        self.choose(next(kept, site))

    def choose(self, site: Site) -> None:
        """Go to a site; remembered, and the night's date follows its clocks. It can be undone."""
        before = None if self._choices.needs_site else self._choices.record.site
        self._go(site)
        if before is not None and before != site:  # after the night was opened that it belongs to
            utc = self._clock.written_utc
            self._journal.go(utc, to_plain(site), to_plain(before))

    def go_back(self, told: Plain, name: str) -> Site | None:
        """Go to one of the two places of an event that is undone or redone; None if nobody can."""
        plain = told.get(name)
        site = _read(plain) if isinstance(plain, Mapping) else None
        if site is None:
            return None
        if told.get("same_horizon") is True:
            site = replace(site, horizon=self._choices.record.site.horizon)
        self._go(site)
        return site

    def _go(self, site: Site) -> None:
        utc = self._clock.written_utc
        others = [to_plain(other) for other in self.known if other.name != site.name]
        plain = to_plain(site)
        self._journal.set_setting(utc, "site", plain)
        self._journal.set_setting(utc, "sites", [plain, *others][:_MOST])
        self._choices.go_to(site, self._settings.compass_deviation_deg(site.name))
        self._clock.open_night()

    def set_deviation(self, degrees: float | None) -> None:
        """Keep what the compass adds at this site; None forgets it."""
        kept = dict(self._settings.compass_deviations_deg)
        kept.pop(self._choices.record.site.name, None)
        if degrees is not None:
            kept[self._choices.record.site.name] = degrees
        self._settings = replace(self._settings, compass_deviations_deg=kept)
        self._journal.set_setting(self._clock.written_utc, "compass_deviations_deg", kept)
        self._show_deviation()

    def measure_deviation(
        self, true_azimuth_deg: float, compass_deg: float, declination_deg: float
    ) -> None:
        """Take the deviation from a known azimuth and what the compass showed towards it."""
        off = true_azimuth_deg - compass_deg - declination_deg
        self.set_deviation((off + 180.0) % 360.0 - 180.0)

    def _show_deviation(self) -> None:
        record = self._choices.record
        deviation_deg = self._settings.compass_deviation_deg(record.site.name)
        self._choices.change(replace(record, compass_deviation_deg=deviation_deg))


def _is_near(one: Site, other: Site) -> bool:
    """Say whether two sites of one name are the same place: a town is some kilometres wide."""
    apart = abs(one.latitude_deg - other.latitude_deg), abs(one.longitude_deg - other.longitude_deg)
    return max(apart) < _SAME_PLACE_DEG


def remembered_site(settings: Settings) -> Site | None:
    """Give the site that was used last."""
    return _read(settings.site)


def _read(plain: Plain | None) -> Site | None:
    """Read a remembered site; one that is of no use any more is passed over."""
    try:
        return None if plain is None else from_plain(Site, plain)
    except AdviceError:
        return None
