"""The evening: the model behind the window. It is read and called; it never draws."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal

from companion.instant import Choices, Snapshot
from companion.journal import Did, EveningState, Event, Left, Settings, Written
from companion.live.clock import EveningClock
from companion.live.coming import Coming
from companion.live.current_choices import CurrentChoices
from companion.live.examinations import Examinations
from companion.live.guide_round import GuideRound
from companion.live.host import HostModel
from companion.live.inputs import LiveInputs
from companion.live.instruments import Instruments
from companion.live.machine_clock import MachineClock, jump_words
from companion.live.messages import Messages, Severity
from companion.live.mounts import Mounts
from companion.live.night_model import NightModel
from companion.live.nights import Nights
from companion.live.offers import Offers
from companion.live.places import Place, places_of
from companion.live.queue import Queue
from companion.live.queue_items import action_text, done_words, standing_words
from companion.live.road import RoadModel
from companion.live.sites import Sites, remembered_site
from companion.live.threads.about_thread import AboutThread
from companion.live.threads.catalogue_thread import CatalogueThread
from companion.live.threads.chart_thread import ChartThread
from companion.live.threads.ephemeris_thread import EphemerisThread
from companion.live.threads.journal_thread import JournalThread
from companion.live.threads.planner_thread import PlannerThread
from companion.live.upkeep import JournalUpkeep
from companion.sky import DEMO_SITES, HAND, Site

if TYPE_CHECKING:  # the search is loaded by the thread that needs it, after the first frame
    from companion.sky import Hit

FAST_HZ, SLOW_HZ = 10.0, 2.0


class Evening(QObject):
    """Puts one evening together: its parts, the threads behind them, the newest snapshot.

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
    machine : MachineClock, optional
        Another clock than the machine's own.
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
        machine: MachineClock | None = None,
        parent: QObject | None = None,
    ) -> None:
        super().__init__(parent)
        self.home = home
        self.left_as = settings  # how the window was left
        self.demo = demo_utc is not None
        self.messages = Messages(self)
        self.latest: Snapshot | None = None
        self._state: EveningState | None = None
        self._ephemeris = EphemerisThread(self)
        self._catalogues = CatalogueThread(self)
        self._journal = JournalThread(home, self)
        self.upkeep = JournalUpkeep(self._journal, self.messages, self)
        self._choices = self._first_choices(settings, site or remembered_site(settings))
        self._machine = machine or MachineClock(parent=self)
        self.clock = EveningClock(self._machine, self._choices, self._journal)
        kept = (self._journal, self._choices, self.clock)
        self.sites = Sites(*kept, settings)
        self.instruments = Instruments(*kept, settings)
        self.mounts = Mounts(*kept, settings)
        self._examinations = Examinations(self._choices, self.messages, self)
        self.queue = Queue(*kept, settings.target, self)
        self.inputs = LiveInputs(self._choices, self.clock)
        if demo_utc is not None:
            self.clock.run_from(demo_utc)
        self.charts = ChartThread(self.choices, self)
        self.pages = AboutThread(self.choices, self)
        self._make_plans(home)
        self._connect()
        self.upkeep.take_settings(settings)

    def _first_choices(self, settings: Settings, site: Site | None) -> CurrentChoices:
        """Begin with what is kept between evenings."""
        record = Choices(
            stamp=0,
            site=site or DEMO_SITES[0],
            clock_correction_s=settings.clock_correction_s,
            low_limit_deg=settings.low_limit_deg,
            hours=settings.hours,
            rate_hz=settings.rate_hz,
        )
        return CurrentChoices(record, self._ephemeris.choose, needs_site=site is None, parent=self)

    def _make_plans(self, home: Path) -> None:
        """Make what looks at a whole night, or at all of them."""
        self.planner = PlannerThread(parent=self)
        self.night = NightModel(
            self.queue,
            self._choices,
            self.clock,
            messages=self.messages,
            journal=self._journal,
            planner=self.planner,
            home=home,
            parent=self,
        )
        self.guide_round = GuideRound(
            self._choices, self.clock, self.messages, self._catalogues, self.queue
        )
        self.offers = Offers(self._choices, self.clock, self.planner, self)
        self.coming = Coming(
            self._choices, self.clock, self.messages, self._catalogues, home, parent=self
        )
        self.road = RoadModel(
            self._choices,
            self.clock,
            self.messages,
            self._journal,
            self._catalogues,
            parent=self,
        )
        self.host = HostModel(
            self._choices,
            self.clock,
            self.messages,
            queue=self.queue,
            instruments=self.instruments,
            catalogues=self._catalogues,
            journal=self._journal,
            parent=self,
        )
        self.nights = Nights(self._journal, self._catalogues, self.messages, home, self)

    def _connect(self) -> None:
        say = self.messages.say
        self._choices.changed.connect(lambda: self.charts.choose(self.choices))
        self._choices.changed.connect(lambda: self.pages.choose(self.choices))
        self._choices.changed.connect(self.changed)
        self.queue.changed.connect(self.changed)
        self.queue.refused.connect(lambda text: say(Severity.WARNING, text, "refused"))
        self._ephemeris.snapshot_ready.connect(self._take_snapshot)
        self._ephemeris.failed.connect(lambda text: say(Severity.ERROR, text, "service"))
        self.charts.failed.connect(lambda text: say(Severity.ERROR, text, "charts"))
        self.charts.snapshot_ready.connect(lambda _frame: self.messages.clear("charts"))
        self.pages.failed.connect(lambda text: say(Severity.ERROR, text, "page"))
        self.pages.snapshot_ready.connect(lambda _page: self.messages.clear("page"))
        self._catalogues.failed.connect(lambda kind, text: say(Severity.WARNING, text, kind))
        self._journal.opened.connect(self._take_opened)
        self._journal.state_changed.connect(self._take_state)
        self._journal.written.connect(self._take_written)
        self._journal.settings_changed.connect(self._take_settings)
        self.upkeep.changed.connect(self.changed)
        self._machine.jumped.connect(self._say_jump)

    def start(self) -> None:
        """Start the threads; to be called once the first frame is painted."""
        self._ephemeris.start()
        self._choices.begin()
        self.clock.open_night()
        self._machine.start()

    def close(self, *, give_up: bool = False) -> Left:
        """Leave the journal, then stop all threads and wait.

        Parameters
        ----------
        give_up : bool, optional
            Whether to stop though something would be lost; otherwise everything goes on then.

        Returns
        -------
        Left
            What could not be written, and where it is kept.
        """
        left = self.upkeep.close(give_up=give_up)
        if left.lost and not give_up:
            return left
        self._machine.stop()
        self.charts.stop()
        self.pages.stop()
        self.planner.stop()
        self.coming.stop()
        self.road.stop()
        self._ephemeris.stop()
        self._examinations.stop()
        self._catalogues.stop()
        return left

    # What the window reads.

    @property
    def choices(self) -> Choices:
        """What the numbers are made from."""
        return self._choices.record

    @property
    def needs_site(self) -> bool:
        """Whether no place is known yet."""
        return self._choices.needs_site

    @property
    def undo_text(self) -> str:
        """What an undo would take back; empty when there is nothing."""
        return action_text(None if self._state is None else self._state.undo, self.queue.items)

    # The journal and the mount.

    def undo(self) -> None:
        """Take the last action back."""
        self._journal.undo(self.clock.written_utc)

    def redo(self) -> None:
        """Bring back what was undone last."""
        self._journal.redo(self.clock.written_utc)

    # What is remembered.

    def remember(self, name: str, value: object) -> None:
        """Keep how the window was left, by the name of a setting."""
        self._journal.set_setting(self.clock.written_utc, name, value)

    # Choices.

    def look_up(self, readings_deg: tuple[float, float] | None) -> None:
        """Ask what readings of both dials point to; the snapshot answers. None ends it."""
        self._choices.change(replace(self.choices, pointed_deg=readings_deg))

    def set_low_limit(self, degrees: float) -> None:
        """Choose the altitude under which a target counts as gone; remembered."""
        if self._choices.change(replace(self.choices, low_limit_deg=degrees)):
            self._journal.set_setting(self.clock.written_utc, "low_limit_deg", degrees)

    def set_hours(self, text: str) -> None:
        """Choose the hours of the night that list, order and rounds keep to; remembered.

        ``20:30-00:30`` by the site's clocks, or nothing for the whole night.

        Raises
        ------
        AdviceError
            If the text is no hours.
        """
        from companion.night import MyHours  # not before the first frame

        mine = MyHours.typed(text)
        hours = () if mine is None else mine.times
        if self._choices.change(replace(self.choices, hours=hours)):
            self._journal.set_setting(self.clock.written_utc, "hours", hours)

    def uncover(self) -> None:
        """Show the numbers of the current target though it stands near the Sun."""
        choices = self.choices
        if choices.target is not None:
            uncovered = choices.uncovered | {choices.target.key}
            self._choices.change(replace(choices, uncovered=uncovered))

    def set_fast(self, *, fast: bool) -> None:
        """Ask for ten snapshots a second instead of two."""
        self._choices.change(replace(self.choices, rate_hz=FAST_HZ if fast else SLOW_HZ))

    # Questions.

    def find(self, text: str, answer: "Callable[[Sequence[Hit]], None]") -> None:
        """Search the catalogue; a later search drops an earlier one."""
        self._catalogues.ask("find", lambda library: library.search.find(text), answer)

    def find_places(self, text: str, answer: Callable[[Sequence[Place]], None]) -> None:
        """Search the towns, or read a position."""
        self._catalogues.ask("towns", lambda library: places_of(library, text), answer)

    def ask(self, kind: str, question: Callable[..., object], answer: Callable[..., None]) -> None:
        """Ask anything else of the catalogues."""
        self._catalogues.ask(kind, question, answer)

    # What comes back.

    def _take_snapshot(self, snapshot: Snapshot) -> None:
        self.latest = snapshot
        self.messages.clear("service")
        self.queue.take_snapshot(snapshot)
        self.snapshot_ready.emit(snapshot)
        self.night.look_at_the_clock()
        self.coming.look_at_the_clock()
        self.host.look_at_the_clock()

    def _take_opened(self, state: EveningState, settings: Settings) -> None:
        self._take_settings(settings)
        self._take_state(state)
        self.host.take_up(settings.host)

    def _take_settings(self, settings: Settings) -> None:
        HAND.use(settings.fist_deg)
        self.sites.take(settings)
        self.mounts.take_settings(settings)
        self.instruments.take(settings)

    def _take_state(self, state: EveningState) -> None:
        self._state = state
        self.upkeep.take_state(state)
        self.mounts.take_state(state)
        self.queue.take_state(state)

    def _take_written(self, written: Written) -> None:
        """After an undo or redo go to the target that it was about."""
        event = written.event
        if written.contradicted and written.before is not None:
            self.queue.stay()
            said = standing_words(written.before, self.clock.zone)
            self.messages.say(Severity.WARNING, said, "stands")
        if event is None:
            return
        if event.number == written.state.last_number:
            said = done_words(event, self.clock.zone)
            if said:
                self.messages.say(Severity.NOTE, said, "done")
        elif event.kind == Did.WENT:
            self._go_back(event, written.state)
        elif event.subject:
            self.queue.choose(event.subject)

    def _go_back(self, event: Event, state: EveningState) -> None:
        """Follow an undo or redo to the place that it leads to."""
        undone = state.redo is not None and state.redo.cancels == event.number
        site = self.sites.go_back(event.payload, "before" if undone else "site")
        if site is not None:
            said = f"Taken back: {site.name}, as it was told before." if undone else site.name
            self.messages.say(Severity.NOTE, said, "place")

    def _say_jump(self, jump_s: float) -> None:
        said = jump_words(jump_s, self._machine.utc(), self.clock.zone)
        self.messages.say(Severity.WARNING, said, "clock")
