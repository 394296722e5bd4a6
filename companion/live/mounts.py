"""The person's mounts and the sightings of the evening, as called by the window and kept."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime

from companion.advice import AdviceError
from companion.instant import AimFacts
from companion.journal import (
    EveningState,
    Settings,
    SightingEntry,
    to_plain,
)
from companion.live.clock import EveningClock
from companion.live.current_choices import CurrentChoices
from companion.live.kept_sightings import read_sighting
from companion.live.named_records import NamedRecords
from companion.live.threads.journal_thread import JournalThread
from companion.mount import Dial, Fitting, Mount, Sighting, parse_reading

# The demo's wooden mount, and a fair description of most home-made ones.
WOODEN = Mount("wooden mount", Dial(step_deg=1.0))


class Mounts:
    """Mounts by name, the one in use, and its sightings.

    Parameters
    ----------
    journal : JournalThread
        Writes what is to be kept.
    choices : CurrentChoices
        Holds the choices that mount and sightings belong to.
    clock : EveningClock
        Gives the moment that an action is written with.
    settings : Settings
        As read at the start.
    """

    def __init__(
        self,
        journal: JournalThread,
        choices: CurrentChoices,
        clock: EveningClock,
        settings: Settings,
    ) -> None:
        self._journal = journal
        self._choices = choices
        self._clock = clock
        self._kept = NamedRecords(Mount, journal, "mount", clock)
        self._entries: tuple[SightingEntry, ...] = ()
        # What was found last, as it stood then: its dials may still be read for a sighting.
        self.centred: tuple[AimFacts, datetime] | None = None
        self.take_settings(settings)
        choices.change(replace(choices.record, mount=self._kept.named(settings.mount)))

    @property
    def known(self) -> tuple[Mount, ...]:
        """All mounts, the last used first."""
        return self._kept.records

    @property
    def in_use(self) -> Mount | None:
        """The mount in use."""
        return self._choices.record.mount

    def take_settings(self, settings: Settings) -> None:
        """Take the mounts as they are on disk."""
        self._kept.take(settings.mounts)

    def take_state(self, state: EveningState) -> None:
        """Take the sightings as they are on disk."""
        self._entries = state.sightings
        self._show_sightings()

    def choose(self, mount: Mount | None) -> None:
        """Use a mount, new or changed, and remember it; None goes back to true directions."""
        self._kept.choose(mount)
        self._choices.change(replace(self._choices.record, mount=mount))
        self._show_sightings()

    def sight(self, aim: AimFacts, utc: datetime, *, altitude: str, azimuth: str) -> None:
        """Take a sighting of the current target from the readings as typed; one may be empty.

        Raises
        ------
        AdviceError
            If there is no mount, nothing was typed, or a reading is none of this mount's.
        """
        mount = self.in_use
        if mount is None:
            raise AdviceError("No mount is chosen.", "Choose or describe one first, in Mount.")
        if not azimuth.strip() and not altitude.strip():
            raise AdviceError(
                "No reading was typed.",
                "Type what the altitude dial shows, the azimuth dial, or both.",
            )
        self.write(
            Sighting(
                utc,
                aim.target.name,
                aim.target.key,
                aim.now_deg[0],
                aim.now_deg[1],
                parse_reading(mount.azimuth, azimuth) if azimuth.strip() else None,
                parse_reading(mount.altitude, altitude, "altitude") if altitude.strip() else None,
            )
        )

    def write(self, sighting: Sighting) -> None:
        """Keep a sighting of the mount in use, also a weak one of compass or level."""
        if self.in_use is not None:
            self._journal.sight(self._clock.written_utc, self.in_use.name, to_plain(sighting))

    def set_aside(self, numbers: Sequence[int]) -> None:
        """Leave sightings out of the fit; nothing is deleted."""
        self._journal.set_aside(self._clock.written_utc, numbers)

    def bring_back(self, numbers: Sequence[int]) -> None:
        """Use sightings again."""
        self._journal.bring_back(self._clock.written_utc, numbers)

    def keep(self, numbers: Sequence[int]) -> None:
        """Let sightings count that the person is sure of, whatever is said of them."""
        self._journal.keep(self._clock.written_utc, numbers)

    def rename(self, number: int, star: Fitting) -> None:
        """Accept that a sighting was of another star: the old one is set aside, a new one kept."""
        old = next((one for one in self._choices.record.sightings if one.number == number), None)
        if old is None:
            return
        self.write(
            replace(
                old,
                name=star.name,
                target_key=star.key,
                azimuth_deg=star.azimuth_deg,
                altitude_deg=star.altitude_deg,
                number=0,
                set_aside=False,
                kept=False,
            )
        )
        self.set_aside([number])

    def _show_sightings(self) -> None:
        """Hand the sightings of the mount in use to the service."""
        name = None if self.in_use is None else self.in_use.name
        read = [read_sighting(entry) for entry in self._entries if entry.mount == name]
        sightings = tuple(one for one in read if one is not None)
        self._choices.change(replace(self._choices.record, sightings=sightings))
