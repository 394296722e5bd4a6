"""The evening: the model behind the window. It is read and called; it never draws."""

from collections.abc import Callable, Sequence
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal

from companion.instant import Snapshot
from companion.journal import (
    EveningState,
    Fault,
    JournalError,
    Settings,
    Written,
    night_of,
)
from companion.live.board import Board, remembered
from companion.live.instruments import InstrumentRack
from companion.live.messages import Messages, Severity
from companion.live.mounts import MountDesk
from companion.live.night_plan import NightDesk
from companion.live.nights import JournalBook
from companion.live.queue import QueueItem, deed_text, items_of
from companion.live.queue_actions import QueueDeeds
from companion.live.sites import SiteBook
from companion.live.threads.catalogue_thread import Asker, Library
from companion.live.threads.chart_thread import ChartService
from companion.live.threads.ephemeris_thread import EphemerisService
from companion.live.threads.journal_thread import JournalKeeper
from companion.live.threads.planner_thread import Planner
from companion.sky import DEMO_SITES, AdviceError, Site, zone_of

if TYPE_CHECKING:  # the search is loaded by the thread that needs it, after the first frame
    from companion.finding import GroupRound
    from companion.sky import Hit, Town

FAST_HZ, SLOW_HZ = 10.0, 2.0
_RUNNING_NOTE = "journal"


class Evening(QueueDeeds):
    """Choices, queue, outcomes, messages and the newest snapshot of one evening.

    Every call returns at once. What concerns the journal shows only when it is on disk.

    Parameters
    ----------
    home : Path
        The folder of the journal.
    settings : Settings
        What is remembered, as read from that folder.
    site : Site, optional
        Overrides the remembered one, without being remembered itself.
    demo_utc : datetime, optional
        The moment at which a demo evening begins; its clock then runs on.
    """

    changed = Signal()
    snapshot_ready = Signal(object)  # Snapshot

    def __init__(
        self,
        home: Path,
        settings: Settings,
        *,
        site: Site | None = None,
        demo_utc: datetime | None = None,
        parent: QObject | None = None,
    ) -> None:
        super().__init__(parent)
        self.home = home
        self.demo = demo_utc is not None
        self.messages = Messages(self)
        self.latest: Snapshot | None = None
        self.journal_fault: Fault | None = None  # what keeps the journal from being written
        self._state: EveningState | None = None
        self._items: tuple[QueueItem, ...] = ()
        self._follow: str | None = None  # after this key the next waiting row comes up
        self._service = EphemerisService(self)
        self._asker = Asker(self)
        self._keeper = JournalKeeper(home, self)
        self._book = SiteBook(self._keeper, settings)
        chosen = site or self._book.site
        self._needs_site = chosen is None
        self._board = Board(chosen or DEMO_SITES[0], self._service, self)
        self._board.change(**remembered(settings), **self._book.compass(self.choices.site))
        self.instruments = InstrumentRack(self._keeper, self._board, settings, self._written_utc)
        self.mounts = MountDesk(self._keeper, self._board, settings, self._written_utc)
        if demo_utc is not None:
            self._board.change(preview_utc=demo_utc, preview_since_utc=datetime.now(UTC))
        self.charts = ChartService(self.choices, self)
        self.planner = Planner(parent=self)
        self.night = NightDesk(self, self.planner, self._keeper, home)
        self.book = JournalBook(self._keeper, self._asker, self.messages, home, self)
        self._connect()
        for name in settings.unusable:
            self.messages.say(
                Severity.WARNING, f"The setting {name} could not be read: its default is used."
            )

    def _connect(self) -> None:
        say = self.messages.say
        self._board.changed.connect(lambda: self.charts.choose(self.choices))
        self._board.changed.connect(self.changed)
        self._service.snapshot_ready.connect(self._take_snapshot)
        self._service.failed.connect(lambda text: say(Severity.ERROR, text, "service"))
        self.charts.failed.connect(lambda text: say(Severity.ERROR, text, "charts"))
        self.charts.snapshot_ready.connect(lambda _frame: self.messages.clear("charts"))
        self._asker.failed.connect(lambda kind, text: say(Severity.WARNING, text, kind))
        self._keeper.opened.connect(self._take_opened)
        self._keeper.state_changed.connect(self._take_state)
        self._keeper.written.connect(self._take_written)
        self._keeper.settings_changed.connect(self._take_settings)
        self._keeper.failed.connect(self._take_failure)
        self._keeper.settled.connect(lambda: self._take_fault(None))

    def start(self) -> None:
        """Start the threads; to be called once the first frame is painted."""
        self._service.start()
        if not self._needs_site:
            self._board.begin()
        self._keeper.open(self._night())

    def close(self) -> int:
        """Stop all threads and wait; give how many entries could not be written."""
        self.charts.stop()
        self.planner.stop()
        self._service.stop()
        self._asker.stop()
        return self._keeper.close()

    # What the window reads.

    @property
    def needs_site(self) -> bool:
        """Whether no place is known yet."""
        return self._needs_site

    @property
    def sites(self) -> tuple[Site, ...]:
        """Remembered sites, the last used first, and the demo sites."""
        return self._book.sites

    @property
    def undo_text(self) -> str:
        """What an undo would take back; empty when there is nothing."""
        return deed_text(None if self._state is None else self._state.undo, self._items)

    @property
    def redo_text(self) -> str:
        """What a redo would bring back; empty when there is nothing."""
        return deed_text(None if self._state is None else self._state.redo_deed, self._items)

    @property
    def now_utc(self) -> datetime:
        """The moment that the numbers are for."""
        return self.choices.moment(datetime.now(UTC))

    # The journal and the mount.

    def retry_journal(self) -> None:
        """Try again to open the journal and to write what waits."""
        self._keeper.retry()

    def begin_anew(self) -> None:
        """Give an unusable journal another name and begin a new one."""
        self._keeper.begin_anew()

    def sight(self, azimuth: str, altitude: str) -> None:
        """Take a sighting of the current target from the readings as typed.

        Raises
        ------
        AdviceError
            If a reading can't be used; nothing is written then.
        """
        aim = None if self.latest is None else self.latest.aim
        if aim is None or self.latest is None or aim.target != self.choices.target:
            raise AdviceError("There is no target to be sighted.", "Choose one and wait a moment.")
        self.mounts.sight(aim, self.latest.utc, azimuth, altitude)

    def look_up(self, readings_deg: tuple[float, float] | None) -> None:
        """Ask what readings of both dials point to; the snapshot answers. None ends it."""
        self._board.change(pointed_deg=readings_deg)

    # Choices.

    def set_lead(self, seconds: float) -> None:
        """Give the aim for moments that many seconds apart; it stands still until each is over."""
        self._board.change(lead_s=seconds, lead_since_utc=self.now_utc)

    def set_preview(self, utc: datetime | None) -> None:
        """Show another moment, standing still; None comes back to the present."""
        self._board.change(preview_utc=utc, preview_since_utc=None)

    def shift_preview(self, seconds: float) -> None:
        """Move the shown moment."""
        self.set_preview(self.now_utc.replace(microsecond=0) + timedelta(seconds=seconds))

    def set_clock_correction(self, seconds: float) -> None:
        """Correct the machine's clock; remembered."""
        if self._board.change(clock_correction_s=seconds):
            self._keeper.set_setting(self._written_utc(), "clock_correction_s", seconds)

    def set_low_limit(self, degrees: float) -> None:
        """Choose the altitude under which a target counts as gone; remembered."""
        if self._board.change(low_limit_deg=degrees):
            self._keeper.set_setting(self._written_utc(), "low_limit_deg", degrees)

    def set_hours(self, hours: tuple[str, ...]) -> None:
        """Choose the hours of the night that list, order and rounds keep to; remembered.

        Two clock times like ``20:30`` by the site's clocks, or nothing for the whole night.
        """
        if self._board.change(hours=hours):
            self._keeper.set_setting(self._written_utc(), "hours", hours)

    def set_site(self, site: Site) -> None:
        """Go to a site; remembered, and the night's date follows its clocks."""
        first = self._needs_site
        self._needs_site = False
        self._book.remember(self._written_utc(), site)
        self._board.change(site=site, **self._book.compass(site))
        if first:
            self._board.begin()
        self._keeper.open(self._night())
        self.changed.emit()

    def set_deviation(self, degrees: float | None) -> None:
        """Keep what the compass adds at this site; None forgets it."""
        site = self.choices.site
        self._book.set_deviation(self._written_utc(), site, degrees)
        self._board.change(**self._book.compass(site))

    def measure_deviation(self, true_azimuth_deg: float, compass_deg: float) -> None:
        """Take the deviation from a known azimuth and what the compass showed towards it."""
        if self.latest is None or self.latest.north.declination_deg is None:
            return
        off = true_azimuth_deg - compass_deg - self.latest.north.declination_deg
        self.set_deviation((off + 180.0) % 360.0 - 180.0)

    def uncover(self) -> None:
        """Show the numbers of the current target though it stands near the Sun."""
        target = self.choices.target
        if target is not None:
            self._board.change(uncovered=self.choices.uncovered | {target.key})

    def set_fast(self, *, fast: bool) -> None:
        """Ask for ten snapshots a second instead of two."""
        self._board.change(rate_hz=FAST_HZ if fast else SLOW_HZ)

    # Questions.

    def find(self, text: str, answer: "Callable[[Sequence[Hit]], None]") -> None:
        """Search the catalogue; a later search drops an earlier one."""
        self._asker.ask("find", lambda library: library.search.find(text), answer)

    def round_from(self, group: str) -> None:
        """Put everything bright that a star group leads to now at the end of the queue."""
        site, utc = self.choices.site, self.now_utc
        self._asker.ask(
            "group round",
            lambda library: _group_round(library, site, utc, group),
            self._take_round,
        )

    def _take_round(self, found: "GroupRound") -> None:
        self.messages.say(Severity.NOTE, found.words, "group round")
        if found.leads:
            self.add_all([target for target, _way in found.leads])

    def find_towns(self, text: str, answer: "Callable[[Sequence[Town]], None]") -> None:
        """Search the towns."""
        self._asker.ask("towns", lambda library: library.towns.find(text), answer)

    def ask(self, kind: str, question: Callable[..., object], answer: Callable[..., None]) -> None:
        """Ask anything else of the catalogues."""
        self._asker.ask(kind, question, answer)

    # What comes back.

    def _take_snapshot(self, snapshot: Snapshot) -> None:
        self.latest = snapshot
        self.messages.clear("service")
        self.snapshot_ready.emit(snapshot)

    def _take_opened(self, state: EveningState, settings: Settings) -> None:
        self._take_fault(None)
        self._take_settings(settings)
        self._take_state(state)

    def _take_settings(self, settings: Settings) -> None:
        self._book.take(settings)
        self.mounts.take_settings(settings)
        self.instruments.take(settings)

    def _take_state(self, state: EveningState) -> None:
        self._state = state
        self._items = items_of(state)
        self._board.change(queue=tuple(item.target for item in self._items))
        self.mounts.take_state(state)
        if self._follow is not None:
            key, self._follow = self._follow, None
            done = self.item(key)
            if done is None or not done.waiting:
                self._aim_at_next(key)
        if self.choices.target is None:
            self._aim_at_next(None)
        self.changed.emit()

    def _take_written(self, written: Written) -> None:
        """After an undo or redo go to the target that it was about."""
        event = written.event
        if event is None or not event.subject or event.number == written.state.last_number:
            return
        self.choose(event.subject)

    def _take_failure(self, error: JournalError) -> None:
        self.messages.say(Severity.ERROR, str(error), _RUNNING_NOTE)
        self._take_fault(error.fault)

    def _take_fault(self, fault: Fault | None) -> None:
        if fault is None:
            self.messages.clear(_RUNNING_NOTE)
        if fault != self.journal_fault:
            self.journal_fault = fault
            self.changed.emit()

    def _night(self) -> str:
        return night_of(self._written_utc(), zone_of(self.choices.site.time_zone))

    def _say(self, severity: Severity, text: str, key: str) -> None:
        self.messages.say(severity, text, key)


def _group_round(library: Library, site: Site, utc: datetime, group: str) -> "GroupRound":
    """Answer in the asker's thread, where numpy and the ephemeris may be read."""
    from companion.finding import group_round

    return group_round(library.catalogue, library.ephemeris.moment(site, utc), group)
