"""The face of the aim: two columns, altitude and azimuth, each with number, way and instrument."""

from typing import TYPE_CHECKING

from PySide6.QtCore import QRect
from PySide6.QtGui import QFontMetrics
from PySide6.QtWidgets import QWidget

from companion.window.aim import words as aim_words
from companion.window.aim.field_circles import CircleFacts, FieldCircles
from companion.window.aim.quadrant import Quadrant, QuadrantFacts
from companion.window.aim.ring import Ring, RingFacts
from companion.window.aim.turn_arrow import TurnArrow
from companion.window.kit.attention import Attention
from companion.window.kit.dial_face import PLAIN_RING, PLAIN_SCALE, DialScale
from companion.window.kit.facts import Facts
from companion.window.kit.figure import FULL_POINTS, Figure, height_of, width_of
from companion.window.kit.lettering import Size, Words
from companion.window.kit.motion import Motion
from companion.window.kit.palette import Role
from companion.window.kit.symbols import Heading
from companion.window.kit.type_scale import Arranged
from companion.window.mount.words import FURTHEST_DEG

if TYPE_CHECKING:
    from companion.instant import AimFacts, Choices, Snapshot, Turn
    from companion.sky import Site

_WAY_SIZES = (Size.TURN, Size.TITLE, Size.VALUE, Size.BODY)  # the largest that both ways fit in
_USUAL = ("88.8", "288½")  # what the columns are made for, so that they don't move with digits
_LEAST_INSTRUMENT = 96  # pixels: under it a dial can't be read and gives way to the numbers


class AimFace(Arranged):
    """Name, numbers, ways, instruments and facts of the current target."""

    def __init__(self, motion: Motion, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._asked = False
        self.name = Words(Size.TURN, Role.EMPHASIS, parent=self)
        self.about = Words(Size.BODY, parent=self)
        self.captions = (Words(Size.CAPTION, parent=self), Words(Size.CAPTION, parent=self))
        self.figures = (Figure("Altitude", self), Figure("Azimuth", self))
        self.beneath = (Words(Size.BODY, parent=self), Words(Size.BODY, parent=self))
        self.ways = (TurnArrow(self), TurnArrow(self))
        self.attention = Attention(self)
        self.quadrant, self.ring = Quadrant(motion, self), Ring(motion, self)
        self.facts = Facts(parent=self)
        self.circles = FieldCircles(self)
        self.advice = Words(Size.BODY, Role.EMPHASIS, wrap=True, parent=self)

    # What it shows.

    def show_nothing(self, notice: aim_words.Notice) -> None:
        """Show that there are no numbers, and what to do."""
        self._blank()
        for words, text in zip(self.captions, aim_words.captions(None), strict=True):
            words.say(text)
        self.name.say("")
        self.about.say("")
        self.facts.say()
        self.attention.say(notice)
        self.arrange()

    def show_coming(self, name: str) -> None:
        """Show the name; the numbers are on their way, the needles wait to sweep to them."""
        for part in (*self.figures, *self.beneath, self.advice, self.about):
            part.say("")
        self._no_ways()
        self.facts.say()
        self.name.say(name)
        if self.attention.say(aim_words.NOTHING):
            self.arrange()

    def show_aim(
        self, snapshot: "Snapshot", aim: "AimFacts", choices: "Choices", *, asked: bool
    ) -> None:
        """Show a target; ``asked``: the person has asked once to uncover its numbers."""
        self.name.say(aim.target.name)
        self.about.say(aim_words.description(aim))
        notice = aim_words.notice(snapshot, aim, choices.uncovered, asked=asked)
        self.attention.say(notice)
        for words, text in zip(self.captions, aim_words.captions(aim), strict=True):
            words.say(text)
        if aim_words.withheld(aim, choices.uncovered):
            self._blank()
            self.facts.say()
        else:
            self._show_numbers(aim)
            self._show_ways(snapshot, aim)
            self._show_instruments(snapshot, aim, choices)
            self.facts.say(*aim_words.facts(snapshot, aim, choices.low_limit_deg))
        self.arrange()

    def _show_numbers(self, aim: "AimFacts") -> None:
        role = Role.EMPHASIS if aim.altitude_deg >= 0.0 else Role.TEXT
        for figure, text in zip(self.figures, aim_words.numbers(aim), strict=True):
            figure.say(text, role)
        for words, text in zip(self.beneath, aim_words.beneath(aim), strict=True):
            words.say(text)

    def _show_ways(self, snapshot: "Snapshot", aim: "AimFacts") -> None:
        up, side, fists = aim_words.turns(aim)
        turn = _shown_turn(aim)
        self.advice.say(aim_words.advice(aim, snapshot.local))
        if turn is not None:
            self.ways[0].say(
                Heading.UP if turn.altitude_deg > 0 else Heading.DOWN, up, f"from {turn.from_name}"
            )
            self.ways[1].say(Heading.RIGHT if turn.azimuth_deg > 0 else Heading.LEFT, side, fists)
        else:
            self._no_ways()

    def _show_instruments(self, snapshot: "Snapshot", aim: "AimFacts", choices: "Choices") -> None:
        up, turn = aim.altitude_deg, _shown_turn(aim)
        altitude_dial, azimuth_dial = _dials(choices)
        self.circles.show_facts(_circles(aim))
        self.quadrant.show_facts(
            QuadrantFacts(
                altitude_deg=up if up >= 0.0 else None,
                last_deg=None if turn is None else up - turn.altitude_deg,
                horizon_deg=_horizon_deg(snapshot.site, aim.azimuth_deg),
                scale=altitude_dial,
            )
        )
        self.ring.show_facts(
            RingFacts(
                azimuth_deg=aim.azimuth_deg,
                turn_deg=None if turn is None else turn.azimuth_deg,
                magnetic_north_deg=snapshot.north.declination_deg,
                lights=snapshot.lights,
                scale=azimuth_dial,
            )
        )

    def _blank(self) -> None:
        for part in (*self.figures, *self.beneath, self.advice):
            part.say("")
        self._no_ways()
        self.quadrant.show_facts(QuadrantFacts())
        self.ring.show_facts(RingFacts())
        self.circles.show_facts(CircleFacts())

    def _no_ways(self) -> None:
        for way in self.ways:
            way.say(Heading.UP, "")

    # Where it stands.

    def _columns(self) -> tuple[QRect, QRect, float]:
        """Give the two columns and the size of type with which both numbers fit."""
        margin, gap = self.scale.grid(6), self.scale.grid(6)
        room = max(1, self.width() - 2 * margin - gap)
        wide = [
            max(width_of(figure.text, 100.0), width_of(least, 100.0))
            for figure, least in zip(self.figures, _USUAL, strict=True)
        ]
        pixels = min(float(self.scale.pixels(FULL_POINTS)), 100.0 * room / sum(wide))
        first = round(room * wide[0] / sum(wide))
        return (
            QRect(margin, 0, first, self.height()),
            QRect(margin + first + gap, 0, room - first, self.height()),
            pixels,
        )

    def arrange(self) -> None:
        """Stack the rows; the instruments take what is left, or stay away."""
        left, right, pixels = self._columns()
        whole = QRect(left.left(), 0, right.right() - left.left(), self.height())
        grid = self.scale.grid
        start = self._arrange_head(whole) + grid(2)
        top = self._arrange_numbers(start, left, right, pixels)
        noticed = bool(self.attention.notice.head)
        if noticed:
            top = self._arrange_notice(start, top, whole)
        else:
            top = self._arrange_ways(top, left, right, whole) + grid(2)
        self.attention.setVisible(noticed)
        self.advice.setVisible(not noticed)
        for way in self.ways if noticed else ():
            way.hide()
        self._arrange_instruments(top, left, right)

    def _arrange_head(self, whole: QRect) -> int:
        """Put what the target is beside its name, on the same baseline, or below it."""
        grid = self.scale.grid
        name, about = (QFontMetrics(size.font(self.scale)) for size in (Size.TURN, Size.BODY))
        used = name.horizontalAdvance(self.name.text) + grid(3)
        beside = used + self.about.sizeHint().width() <= whole.width()
        self.name.set_size(Size.TURN if beside else Size.TITLE)
        if not beside:
            return self._row(self._row(grid(3), whole, self.name), whole, self.about)
        below = self._row(grid(1), whole, self.name)
        self.name.resize(used - grid(3), self.name.height())
        top = self.name.y() + name.ascent() - about.ascent()
        self.about.setGeometry(whole.left() + used, top, whole.width() - used, about.height())
        return below

    def _arrange_numbers(self, top: int, left: QRect, right: QRect, pixels: float) -> int:
        grid, high = self.scale.grid, height_of(pixels)
        for part in (*self.captions, *self.figures, *self.beneath):
            part.show()
        top = self._pair(top, left, right, self.captions) + grid(1.5)
        for figure, column in zip(self.figures, (left, right), strict=True):
            figure.set_pixels(pixels)
            figure.setGeometry(column.left(), top, column.width(), high)
        return self._pair(top + high + grid(1.5), left, right, self.beneath) + grid(2)

    def _arrange_ways(self, top: int, left: QRect, right: QRect, whole: QRect) -> int:
        """Put the advice below the ways; in a low window it takes their place."""
        advice = self.advice.height_for(whole.width()) if self.advice.text else 0
        both = tuple(zip(self.ways, (left, right), strict=True))
        size = next(
            (one for one in _WAY_SIZES if all(way.fits(one, at.width()) for way, at in both)),
            _WAY_SIZES[-1],
        )
        for way in self.ways:
            way.set_size(size)
        ways = self.ways[0].sizeHint().height() if self.ways[1].text else 0
        shown = not advice or top + ways + advice <= self.height()
        for way in self.ways:
            way.setVisible(shown)
        if shown and ways:
            top = self._pair(top, left, right, self.ways)
        return self._row(top, whole, self.advice) if advice else top

    def _arrange_notice(self, start: int, top: int, whole: QRect) -> int:
        """Put the notice under the numbers; in a low window it takes their place if none stand."""
        self.attention.set_compact(compact=False)
        high = self.attention.height_for(whole.width())
        if top + high > self.height() and not self.figures[0].text:
            for part in (*self.captions, *self.figures, *self.beneath):
                part.hide()
            top = start
        if top + high > self.height():
            self.attention.set_compact(compact=True)
            high = self.attention.height_for(whole.width())
        self.attention.setGeometry(whole.left(), top, whole.width(), high)
        return top + high + self.scale.grid(2)

    def _arrange_instruments(self, top: int, left: QRect, right: QRect) -> None:
        grid = self.scale.grid
        bottom = self.height() - grid(2)
        room = bottom - top
        shown = room >= _LEAST_INSTRUMENT
        for part in (self.quadrant, self.ring):
            part.setVisible(shown)
        side = min(room, round(right.width() * 0.62))
        self.quadrant.setGeometry(left.left() - grid(1), top, left.width(), room)
        self.ring.setGeometry(right.left() - grid(1), top, side, room)
        self._arrange_circles(top, room, left, shown=shown)
        start = right.left() + side + grid(3)
        self.facts.setVisible(shown and right.right() - start >= grid(20))
        high = min(room, self.facts.sizeHint().height())
        self.facts.setGeometry(start, top + (room - high) // 2, right.right() - start, high)

    def _arrange_circles(self, top: int, room: int, left: QRect, *, shown: bool) -> None:
        """Put the fields beside the quadrant, if that leaves them room to be told apart."""
        start = self.quadrant.x() + self.quadrant.reach()
        side = min(left.right() - start, room)
        self.quadrant.resize(min(self.quadrant.width(), self.quadrant.reach()), room)
        self.circles.setVisible(
            shown and side >= _LEAST_INSTRUMENT and self.circles.facts.radius95_deg is not None
        )
        self.circles.setGeometry(start, top + (room - side) // 2, max(1, side), max(1, side))

    def _row(self, top: int, column: QRect, words: Words) -> int:
        high = words.height_for(column.width())
        words.setGeometry(column.left(), top, column.width(), high)
        return top + high

    def _pair(
        self,
        top: int,
        left: QRect,
        right: QRect,
        pair: tuple[Words, Words] | tuple[TurnArrow, TurnArrow],
    ) -> int:
        high = pair[0].sizeHint().height()
        for part, column in zip(pair, (left, right), strict=True):
            part.setGeometry(column.left(), top, column.width(), high)
        return top + high


def _horizon_deg(site: "Site", azimuth_deg: float) -> float:
    """Give the height of the site's own horizon in one direction."""
    from companion.sky import horizon_altitude_deg  # brings numpy: not before the first frame

    return float(horizon_altitude_deg(site.horizon, azimuth_deg))


def _circles(aim: "AimFacts") -> CircleFacts:
    """Give what is drawn of how far the aim is trusted; nothing without an instrument."""
    stays = aim.handling.stays
    if aim.reading is None or not stays or aim.reading.radius95_deg > FURTHEST_DEG:
        return CircleFacts()
    return CircleFacts(
        aim.reading.radius95_deg, tuple((stay.look, stay.field_deg) for stay in stays)
    )


def _dials(choices: "Choices") -> tuple[DialScale, DialScale]:
    """Give the graduation of the mount's dials, as far as a drawing needs it."""
    mount = choices.mount
    if mount is None:
        return PLAIN_SCALE, PLAIN_RING
    return (
        DialScale(step_deg=mount.altitude.step_deg),
        DialScale(
            direction=1 if mount.azimuth.clockwise else -1,
            offset_deg=mount.azimuth.zero_deg,
            step_deg=mount.azimuth.step_deg,
            period_deg=360.0,
        ),
    )


def _shown_turn(aim: "AimFacts") -> "Turn | None":
    """Give the turn that may be drawn: none that would pass the Sun."""
    return None if aim.turn is None or aim.turn.past_sun is not None else aim.turn
