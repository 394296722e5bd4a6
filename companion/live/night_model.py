"""The night's plan: what is asked of the planner, what came back, and what a person wants of it."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal

from companion.journal import night_of, seen_keys
from companion.live.clock import EveningClock
from companion.live.current_choices import CurrentChoices
from companion.live.messages import Messages, Severity
from companion.live.night_questions import (
    Answer,
    Around,
    ExportQuestion,
    ExportView,
    ImportQuestion,
    ImportView,
    ListQuestion,
    ListView,
    NightQuestion,
    NightView,
    OrderQuestion,
    OrderView,
    Wanted,
)
from companion.live.order_wishes import OrderWishes, cloud_of
from companion.live.queue import Queue
from companion.live.threads.journal_thread import JournalThread
from companion.live.threads.planner_thread import PlannerThread
from companion.sky import duration_text, zone_of

if TYPE_CHECKING:
    from companion.night import PlannedStop

_FAILED, _DONE = "night failed", "night done"  # keys of messages
_BEHIND_S = 120.0  # past a target's end before the order is made anew
_AGAIN_S = 120.0  # between two orders made for that reason


class NightModel(QObject):
    """Asks for the night once its screen came up, and keeps the answers in step with the evening.

    Every call returns at once. ``changed`` tells that there is something new to show.
    """

    changed = Signal()

    def __init__(
        self,
        queue: Queue,
        choices: CurrentChoices,
        clock: EveningClock,
        *,
        messages: Messages,
        journal: JournalThread,
        planner: PlannerThread,
        home: Path,
        parent: QObject | None = None,
    ) -> None:
        super().__init__(parent)
        self._queue, self._choices, self._clock = queue, choices, clock
        self._messages, self._journal, self._planner = messages, journal, planner
        self._home = home
        self.view: NightView | None = None
        self.list: ListView | None = None
        self.round: ListView | None = None  # the ready-made round that was added last
        self.order: OrderView | None = None
        self.report: ImportView | None = None
        self.wanted = Wanted()
        self.wishes = OrderWishes()
        self._begun = False
        self._asked: tuple[object, ...] = ()
        self._replanned_utc: datetime | None = None
        self._owes_order = False
        planner.answered.connect(self._take)
        planner.failed.connect(self._report)
        planner.changed.connect(self.changed)
        choices.changed.connect(self._follow)
        queue.changed.connect(self._follow)

    def share(self, kind: type) -> float | None:
        """Give how far the work on a kind of question is; None if there is none."""
        return self._planner.share(kind)

    def begin(self) -> None:
        """Begin to plan, or begin again after a stop: the screen of the night is up."""
        self._begun = True
        if self.view is None and self._planner.share(NightQuestion) is None:
            self._asked = ()
        self._follow()

    def cancel(self) -> bool:
        """Stop all work; give whether there was any."""
        return self._planner.cancel()

    # Tonight's list.

    def want(self, wanted: Wanted) -> None:
        """Ask for another list."""
        self.wanted = wanted
        self.ask_list()

    def ask_list(self, round_key: str = "") -> None:
        """Ask for tonight's list, or for a ready-made round, which is put into the queue whole."""
        if self._choices.needs_site:
            return
        around, wanted = self._around(), self.wanted

        def ask(seen: frozenset[str] | None) -> None:
            self._planner.ask(ListQuestion(around, wanted, seen or frozenset(), round_key))

        self._journal.read(seen_keys, ask)

    # The order.

    def ask_order(self) -> None:
        """Ask for an order of what is waiting, from now on."""
        if self._choices.needs_site:
            return
        around = self._around()
        self.wishes = self.wishes.at(around.utc)
        self._planner.ask(
            OrderQuestion(
                around,
                self._queue.waiting,
                self.wishes.end_utc,
                self.wishes.target_minutes,
                self.wishes.breaks,
                self.wishes.clouds,
                self._queue.tube,
                None if self.order is None else self.order.order,
            )
        )

    def accept(self) -> None:
        """Put the queue into the order shown and aim at its first; undo takes the order back."""
        if self.order is None or not self.order.order.stops:
            return
        keys = self.order.order.keys
        self._queue.order(keys)
        waiting = {target.key for target in self._queue.waiting}
        first = next((key for key in keys if key in waiting), None)
        if first is not None:
            self._queue.choose(first)

    @property
    def planned(self) -> Mapping[str, datetime]:
        """When each target has its turn in the order that was accepted, by key; else empty."""
        if self.order is None or not self.accepted:
            return {}
        return {stop.target.key: stop.start_utc for stop in self.order.order.stops}

    @property
    def accepted(self) -> bool:
        """Whether what waits stands in the order shown."""
        if self.order is None:
            return False
        waiting = [target.key for target in self._queue.waiting]
        planned = [key for key in self.order.order.keys if key in set(waiting)]
        return bool(planned) and waiting[: len(planned)] == planned

    def say_clouds(self, text: str) -> None:
        """Take a cloud bank as typed, "west, 30 min"; empty: the sky is clear again.

        Raises
        ------
        AdviceError
            If it is not understood.
        """
        clouds = self.wishes.clouds
        after = (*clouds, cloud_of(text, self._clock.now_utc)) if text.strip() else ()
        self._wish(replace(self.wishes, clouds=after))

    def set_minutes(self, minutes: float) -> None:
        """Take another time per target."""
        self._wish(replace(self.wishes, target_minutes=minutes))

    def set_end(self, utc: datetime | None) -> None:
        """Take another end of the evening; None is dawn."""
        self._wish(replace(self.wishes, end_utc=utc))

    def set_break(self, begins_utc: datetime, ends_utc: datetime) -> None:
        """Add a break.

        Raises
        ------
        AdviceError
            If it ends before it begins.
        """
        self._wish(self.wishes.with_break(begins_utc, ends_utc))

    def no_breaks(self) -> None:
        """Take no break."""
        self._wish(replace(self.wishes, breaks=()))

    def _wish(self, wishes: OrderWishes) -> None:
        self.wishes = wishes
        self.ask_order()

    @property
    def order_words(self) -> tuple[str, ...]:
        """What the order was asked to mind, one part each."""
        return self.wishes.words(zone_of(self._choices.record.site.time_zone))

    # Files.

    def read_file(self, text: str) -> None:
        """Read a list of targets from the file of a typed path."""
        path = Path(text.strip().strip("\"'")).expanduser()
        self._planner.ask(ImportQuestion(path))

    def write_files(self) -> None:
        """Write the order as a table and a calendar into the home folder."""
        if self.order is None or not self.order.order.stops:
            self._messages.say(Severity.NOTE, "There is no order to write yet.", _DONE)
            return
        site, now = self._choices.record.site, self._clock.now_utc
        stem = f"plan-{night_of(now, zone_of(site.time_zone))}"
        self._planner.ask(ExportQuestion(self.order.order, site, now, self._home, stem))

    # What comes back.

    def _take(self, answer: Answer) -> None:
        self._messages.clear(_FAILED)
        match answer:
            case NightView():
                self.view = answer
            case ListView():
                self._take_list(answer)
            case OrderView():
                self.order = answer
            case ImportView():
                self._take_import(answer)
            case ExportView(paths):
                names = " and ".join(str(path) for path in paths)
                self._messages.say(Severity.NOTE, f"Written: {names}.", _DONE)
        self.changed.emit()

    def _take_list(self, answer: ListView) -> None:
        if not answer.question.round_key:
            self.list = answer
            return
        self.round = answer
        targets = [row.target for row in answer.tonight.rows]
        if targets:
            self._queue.add_all(targets)
            said = f"{answer.round_name}: {_targets(len(targets))} added; z takes them out again."
        else:
            said = f"{answer.round_name}: {answer.tonight.words or 'nothing of it is up tonight'}."
        self._messages.say(Severity.NOTE, said, _DONE)

    def _take_import(self, answer: ImportView) -> None:
        self.report = answer
        targets, missed = answer.read.targets, len(answer.read.report)
        if targets:
            self._queue.add_all(targets)
        said = f"{answer.question.path.name}: {_targets(len(targets))} added"
        said += f", {missed} remarks" if missed else ", every line understood"
        self._messages.say(Severity.WARNING if missed else Severity.NOTE, f"{said}.", _DONE)

    def _report(self, _kind: type, words: str) -> None:
        self._messages.say(Severity.WARNING, words, _FAILED)
        self.changed.emit()

    # What changes meanwhile.

    def _around(self) -> Around:
        choices = self._choices.record
        utc = self._clock.now_utc
        limit, hours = choices.low_limit_deg, choices.hours
        return Around(choices.site, utc, choices.instrument, limit, hours)

    def _follow(self) -> None:
        """Ask anew if the evening is no longer the one that was asked about."""
        if not self._begun or self._choices.needs_site:
            return
        around = self._around()
        targets = self._queue.waiting
        night = night_of(around.utc, zone_of(around.site.time_zone))
        circumstances = (
            around.site,
            night,
            around.instrument,
            around.low_limit_deg,
            around.hours,
        )
        asked = (circumstances, frozenset(target.key for target in targets))
        if asked == self._asked:
            self._pay_order()
            return
        before, self._asked = self._asked, asked
        self._planner.ask(NightQuestion(around, targets))
        moved = not before or before[0] != circumstances
        if moved and self.list is not None:
            self.ask_list()
        if self.order is not None and (moved or self._has_more(asked[1])):
            self._owes_order = True
        self._pay_order()

    def _pay_order(self) -> None:
        """Make the order anew that is owed; while another moment is looked at, it waits."""
        if self._owes_order and not self._clock.stands_still:
            self._owes_order = False
            self.ask_order()

    def _has_more(self, keys: frozenset[str]) -> bool:
        """Say whether something waits that the order does not know."""
        assert self.order is not None  # noqa: S101  # asked only where there is one
        return bool(keys - {target.key for target in self.order.question.targets})

    def behind(self) -> "PlannedStop | None":
        """Give the planned target whose time is over though it still waits."""
        if self.order is None or not self.accepted:
            return None
        waiting = {target.key for target in self._queue.waiting}
        late = self._clock.now_utc - timedelta(seconds=_BEHIND_S)
        for stop in self.order.order.stops:
            if stop.end_utc < late and stop.target.key in waiting:
                return stop
        return None

    def look_at_the_clock(self) -> None:
        """Go over to another night with the clock; order anew if the person has fallen behind."""
        self._follow()
        stop, now = self.behind(), self._clock.now_utc
        if stop is None or self._clock.stands_still:
            return
        if self._replanned_utc and abs((now - self._replanned_utc).total_seconds()) < _AGAIN_S:
            return
        self._replanned_utc = now
        late = duration_text((now - stop.end_utc).total_seconds())
        self._messages.say(
            Severity.NOTE,
            f"{stop.target.name} was to be done {late} ago: here is an order from now on.",
            "behind",
        )
        self.ask_order()


def _targets(count: int) -> str:
    return "one target" if count == 1 else f"{count} targets"
