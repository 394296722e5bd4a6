"""What the commands work with, each loaded on first use."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import datetime
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING

from companion.advice import AdviceError
from companion.commands.output import write_error
from companion.events import KeptElements
from companion.instant import DEMO_KEYS, DEMO_UTC
from companion.journal import Settings, from_plain, settings_to_start_with
from companion.sky import (
    DEMO_SITES,
    LOON_BARRENS,
    Catalogue,
    Ephemeris,
    SearchIndex,
    Site,
    Target,
    find_site,
    load_catalogue,
    load_search,
)

if TYPE_CHECKING:  # read when a command needs them
    from companion.charts import SheetSky
    from companion.road import Sheet


@dataclass
class Context:
    """State folder, the moment the command started, and the heavy things behind them."""

    home: Path
    now: datetime
    print_sheet: "Callable[[Path, Sheet, SheetSky], None]"  # draws, which no command can

    def close(self) -> None:
        """Close what was opened."""
        if "ephemeris" in self.__dict__:
            self.ephemeris.close()

    @cached_property
    def elements(self) -> KeptElements:
        """The elements of comets, minor planets and satellites that are kept in the home."""
        return KeptElements(self.home)

    @cached_property
    def ephemeris(self) -> Ephemeris:
        """The ephemeris with Earth rotation."""
        return Ephemeris.load()

    @cached_property
    def catalogue(self) -> Catalogue:
        """Stars, deep sky and bodies."""
        return load_catalogue()

    @cached_property
    def search(self) -> SearchIndex:
        """The search over the catalogue."""
        return load_search()

    @cached_property
    def settings(self) -> Settings:
        """What the person keeps, defaults where nothing is kept yet or can be read."""
        settings, trouble = settings_to_start_with(self.home)
        if trouble:
            write_error(trouble)
        return settings

    @property
    def demo_site(self) -> Site:
        """Where the demo evening takes place."""
        return LOON_BARRENS

    @property
    def demo_utc(self) -> datetime:
        """When the demo evening begins."""
        return DEMO_UTC

    @cached_property
    def demo_queue(self) -> tuple[Target, ...]:
        """The targets of the demo evening."""
        return tuple(self.catalogue.target(key) for key in DEMO_KEYS)

    def current_site(self) -> Site:
        """Give the site that the person chose last.

        Raises
        ------
        AdviceError
            If there is none.
        """
        if self.settings.site is None:
            raise AdviceError(
                "No place is known yet.",
                'Give --lat and --lon, or --site with a town or a demo site ("Loon Barrens").',
            )
        return _site(self.settings.site)

    def named_site(self, name: str) -> Site:
        """Give a remembered site, a demo site or a town.

        Raises
        ------
        AdviceError
            If nothing is called so.
        """
        return find_site(name, (*map(_site, self.settings.sites), *DEMO_SITES))


def _site(plain: Mapping[str, object]) -> Site:
    return from_plain(Site, plain)
