"""The alignment: the target of residuals, the sightings beside it, what is known beneath them."""

from typing import TYPE_CHECKING

from PySide6.QtWidgets import QWidget

from companion.instant import AlignmentFacts, Snapshot
from companion.mount import Doubt
from companion.window.kit.attention import Attention
from companion.window.kit.facts import Facts
from companion.window.kit.lettering import Size, Words
from companion.window.kit.palette import Role
from companion.window.kit.type_scale import Arranged
from companion.window.mount import words as mount_words
from companion.window.mount.parameter_bars import ParameterBars
from companion.window.mount.residual_plot import PlotFacts, TargetPlot
from companion.window.mount.sighting_list import SightingList

if TYPE_CHECKING:
    from companion.live import Evening

_PLOT_FROM = 660  # pixels of width, under which the words have the window to themselves
_WORDS_COLUMN = 5
_LEAST_ROWS = 4

Kept = frozenset[tuple[str, tuple[int, ...]]]


class AlignPage(Arranged):
    """Draws how far the dials are trusted, and why."""

    def __init__(self, evening: "Evening", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._evening = evening
        self._chosen = 0
        self._kept: Kept = frozenset()  # doubts that were left as they are
        self._fields: tuple[object, tuple[tuple[str, float], ...]] = (None, ())
        self.name = Words(Size.TITLE, Role.EMPHASIS, parent=self)
        self.about = Words(Size.BODY, parent=self)
        self.plot = TargetPlot(self)
        self.attention = Attention(self)
        self.next = Facts(Size.VALUE, self)
        self.why = Words(Size.SMALL, wrap=True, parent=self)
        self.list = SightingList(self)
        self.bars = ParameterBars(self)
        self.list.hit.connect(self._choose)

    @property
    def alignment(self) -> AlignmentFacts | None:
        """The newest facts, as long as they are of the mount in use."""
        mount, latest = self._evening.choices.mount, self._evening.latest
        facts = None if latest is None else latest.alignment
        return facts if mount is not None and facts is not None else None

    @property
    def chosen(self) -> mount_words.SightingWords | None:
        """The chosen row of the list."""
        return self.list.rows[self._chosen] if self._chosen < len(self.list.rows) else None

    @property
    def doubts(self) -> tuple[Doubt, ...]:
        """The doubts that wait for an answer, the one that is shown first."""
        facts = self.alignment
        return () if facts is None else mount_words.open_doubts(facts, self._kept)

    # What the keys do.

    def step(self, by: int) -> None:
        """Choose another sighting."""
        self._choose(min(max(self._chosen + by, 0), max(0, len(self.list.rows) - 1)))

    def keep(self) -> None:
        """Keep the sightings of the shown doubt: they count. What is only told is put away."""
        for doubt in self.doubts[:1]:
            if doubt.contradicts and doubt.numbers:
                self._evening.mounts.keep(doubt.numbers)
            self._kept |= {(doubt.kind, doubt.numbers)}
        self.redraw()

    def _choose(self, at: int) -> None:
        self._chosen = at
        self.redraw()

    # What is new.

    def show_snapshot(self, _snapshot: Snapshot) -> None:
        """Draw a new instant."""
        self.redraw()

    def redraw(self) -> None:
        """Draw what is known now."""
        facts, choices = self.alignment, self._evening.choices
        latest, mount, instrument = self._evening.latest, choices.mount, choices.instrument
        self.name.say("Mount" if mount is None else mount.name)
        self.about.say(mount_words.about(facts, "" if instrument is None else instrument.name))
        self.attention.say(mount_words.notice(facts, self._kept, described=mount is not None))
        self.next.say(mount_words.next_fact(facts))
        star = None if facts is None else facts.next_sighting
        self.why.say("" if star is None else star.words)
        if facts is None or latest is None:
            self.list.say((), 0)
            self.bars.say(())
            self.plot.show_facts(PlotFacts(fields=self._looks()))
        else:
            self._draw(facts, latest)
        self.arrange()

    def _draw(self, facts: AlignmentFacts, latest: Snapshot) -> None:
        questioned = mount_words.questioned_numbers(self.doubts)
        zone = latest.local.tzinfo
        rows = [mount_words.sighting_words(one, zone, questioned) for one in facts.sightings]
        self._chosen = min(self._chosen, max(0, len(rows) - 1))
        self.list.say(rows, self._chosen)
        self.bars.say([mount_words.parameter_words(one) for one in facts.parameters])
        chosen = self.chosen
        self.plot.show_facts(
            PlotFacts(
                tuple(mount_words.plot_point(one, questioned) for one in facts.sightings),
                mount_words.plot_radius(facts),
                self._looks(),
                None if chosen is None else chosen.number,
            )
        )

    def _looks(self) -> tuple[tuple[str, float], ...]:
        """Give the fields of the chosen instrument, computed anew only for another one."""
        instrument = self._evening.choices.instrument
        if self._fields[0] is not instrument:
            from companion.window.mount.instrument_fields import (
                fields_of,  # brings numpy: not at start
            )

            self._fields = (instrument, () if instrument is None else fields_of(instrument))
        return self._fields[1]

    # Where it stands.

    def arrange(self) -> None:
        """Lay the parts out."""
        grid, margin = self.scale.grid, self.scale.grid(6)
        whole = max(1, self.width() - 2 * margin)
        top = grid(3)
        for words in (self.name, self.about):
            words.setGeometry(margin, top, whole, words.height_for(whole))
            top += words.height()
        top += grid(2)
        # Without a sighting the target would be empty: the next star has the room then.
        sighted = any(point.read for point in self.plot.facts.points)
        shown = sighted and self.width() >= max(_PLOT_FROM, grid(108))
        self.next.set_size(Size.VALUE if sighted else Size.TURN)
        edge = self.scale.column(self.width(), _WORDS_COLUMN)
        side = min(self.height() - top - grid(2), edge - margin - grid(4)) if shown else 0
        self.plot.setVisible(shown and side > grid(20))
        self.plot.setGeometry(margin, top, max(1, side), max(1, side))
        left = edge if shown else margin
        self._arrange_words(left, top, max(1, self.width() - left - margin))

    def _arrange_words(self, left: int, top: int, width: int) -> None:
        """Stack what needs attention, the next star, the sightings and what is known."""
        grid = self.scale.grid
        bottom = self.height() - grid(2)
        self.attention.setVisible(bool(self.attention.notice.head))
        self.attention.set_compact(compact=bool(self.list.rows) or self.height() < grid(60))
        high = self.attention.height_for(width)
        self.attention.setGeometry(left, top, width, high)
        top += high + (grid(2) if high else 0)
        top = self._arrange_next(left, top, width, bottom)
        rows = len(self.list.rows)
        bars = round(self.bars.pitch() * len(self.bars.rows)) if rows else 0
        least = self.list.height_for_rows(min(rows, _LEAST_ROWS))
        room = max(0, bottom - top)
        wanted = min(self.list.height_for_rows(rows), max(least, room - bars - grid(2)))
        wanted = min(wanted, room) if rows else 0
        self.list.setVisible(wanted >= self.list.height_for_rows(1))
        self.list.setGeometry(left - grid(3), top, width + grid(3), max(1, wanted))
        top += wanted + grid(2)
        self.bars.setVisible(bool(bars) and bottom - top >= self.bars.pitch())
        self.bars.setGeometry(left, top, width, max(1, min(bars, bottom - top)))

    def _arrange_next(self, left: int, top: int, width: int, bottom: int) -> int:
        """Place the next best sighting, unless the little room is needed for the sightings."""
        grid = self.scale.grid
        high = self.next.sizeHint().height() if self.next.facts else 0
        why = self.why.height_for(width) if self.why.text else 0
        least = self.list.height_for_rows(min(2, len(self.list.rows)))
        shown = bool(high) and not self.doubts and top + high + why + least <= bottom
        self.next.setVisible(shown)
        self.why.setVisible(shown)
        if not shown:
            return top
        self.next.setGeometry(left, top, width, high)
        self.why.setGeometry(left, top + high - grid(1), width, why)
        return top + high + why + grid(1)
