"""Turns choices and a moment into a snapshot. Owns what is kept from one snapshot to the next."""

from datetime import UTC, datetime, timedelta

from companion.instant.aim_facts import AimMaker, row_facts
from companion.instant.aligner import Aligner
from companion.instant.bright_stars import BrightSky
from companion.instant.choices import Choices
from companion.instant.events import Events
from companion.instant.pointer import SkyPointer
from companion.instant.sky_facts import dark_facts, light_facts, north_facts
from companion.instant.sky_table import Instant, SkyTables
from companion.instant.snapshot import Snapshot
from companion.sky import Ephemeris, magnetic_field, zone_of

# A machine that lost its clock starts in the past; nobody runs the program before it was made.
_MADE_UTC = datetime(2026, 11, 1, tzinfo=UTC)
_LATEST_YEAR = 2040  # an honest clock will hardly meet this version then


class SnapshotBuilder:
    """Belongs to one thread, with its ephemeris."""

    def __init__(self, ephemeris: Ephemeris) -> None:
        self._ephemeris = ephemeris
        self._events = Events(ephemeris)
        self._tables = SkyTables()
        self._aims = AimMaker(self._events)
        stars = BrightSky(ephemeris)
        self._aligner = Aligner(stars)
        self._pointer = SkyPointer(stars)

    def build(self, choices: Choices, utc: datetime, made_monotonic_s: float = 0.0) -> Snapshot:
        """Give the snapshot of a moment.

        Parameters
        ----------
        choices : Choices
            What the person wants to see.
        utc : datetime
            The moment, already corrected, or the one of the preview.
        made_monotonic_s : float, optional
            What a clock that is never set shows, to tell later how old the snapshot is.

        Raises
        ------
        AdviceError
            If the ephemeris does not cover the moment.
        """
        self._events.begin()
        site = choices.site
        moment = self._ephemeris.moment(site, utc)
        sky = self._tables.table(choices, utc)
        ahead, lead_s = moment, choices.lead_at(utc)
        if lead_s:
            ahead = self._ephemeris.moment(site, utc + timedelta(seconds=lead_s))
        places = moment.horizontal(sky.table)
        instant = Instant(choices, sky, moment, ahead, places, magnetic_field(site, utc))
        self._aligner.update(choices)
        aim = self._aims.facts(instant, self._aligner.reading, self._aligner.rows)
        return Snapshot(
            stamp=choices.stamp,
            utc=utc,
            local=utc.astimezone(zone_of(site.time_zone)),
            made_monotonic_s=made_monotonic_s,
            preview=choices.preview_utc is not None,
            site=site,
            aim=aim,
            rows=row_facts(instant, self._aligner.rows),
            lights=light_facts(instant),
            north=north_facts(instant, None if aim is None else aim.azimuth_deg),
            dark=dark_facts(instant, self._events),
            alignment=self._aligner.facts(instant),
            pointed=self._pointer.facts(instant, self._aligner.alignment),
            doubts=self._doubts(choices, utc, expired=instant.field.expired),
        )

    def _doubts(self, choices: Choices, utc: datetime, *, expired: bool) -> tuple[str, ...]:
        """Say what the numbers should not be trusted for."""
        clock = "" if choices.preview_utc is not None else _clock_doubt(utc)
        magnetic = (
            "The magnetic model holds from 2025 to 2030: prefer Polaris or a sighting."
            if expired
            else ""
        )
        found = (clock, self._ephemeris.earth_note(utc), magnetic)
        return tuple(doubt for doubt in found if doubt)


def _clock_doubt(utc: datetime) -> str:
    """Say why the present time as the machine tells it cannot be right; empty when it can."""
    if utc < _MADE_UTC:
        return (
            f"The clock says {utc:%Y-%m-%d}, which is before this program was made. "
            "Set the machine's clock, or a correction in Place."
        )
    if utc.year >= _LATEST_YEAR:
        return (
            f"The clock says {utc:%Y-%m-%d}, which lies far ahead. "
            "Set the machine's clock, or a correction in Place."
        )
    return ""
