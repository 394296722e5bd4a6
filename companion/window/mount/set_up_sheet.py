"""The guided set-up: one step a screen, one key a step."""

from collections.abc import Callable, Mapping, Sequence
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget

from companion.advice import AdviceError
from companion.live import Severity
from companion.mount import (
    LEVELLED,
    NorthLook,
    OneSide,
    SetUpKind,
    SetUpStep,
    compass_sighting,
    compass_sigma_deg,
    level_sighting,
    levelled_sighting,
    parse_reading,
    play_of,
    reading_of,
    set_up_steps,
    shadow_sighting,
    with_play,
)
from companion.window.aim.words import NOTHING, Notice
from companion.window.frame.keys import SET_UP
from companion.window.frame.screen import Action
from companion.window.frame.sheet import Sheet
from companion.window.kit.attention import Attention
from companion.window.kit.lettering import Size, Words
from companion.window.kit.palette import Role
from companion.window.mount.set_up_drawing import SetUpDrawing

if TYPE_CHECKING:
    from companion.instant import Snapshot
    from companion.live import Evening
    from companion.mount import Dial, Mount, Sighting

_PLAYS = {SetUpKind.AZIMUTH_PLAY: "azimuth", SetUpKind.ALTITUDE_PLAY: "altitude"}
_TYPED = frozenset({SetUpKind.ALTITUDE, SetUpKind.SHADOW, SetUpKind.COMPASS, *_PLAYS})
_NORTHS = frozenset({SetUpKind.SHADOW, SetUpKind.COMPASS, SetUpKind.POLARIS, SetUpKind.STAR})
_DRAWN_FROM = 130  # steps of the grid
_DRAWING_SHARE = 0.36
_SIGHTED = frozenset({SetUpKind.POLARIS, SetUpKind.STAR})
_POLARIS_KEY = "hip:11767"
_DONE = "The mount is set up roughly. A star comes next: the screen of the mount (5) says which."
_COUNTED = " It counts already. z takes back what was done last; Enter in the list sets it aside."
_NOTHING_AIMED = (
    "Both sides of a dial are read on one star. Aim at a bright one below 65°, away from the Sun, "
    "then press b again."
)


def north_look(latest: "Snapshot | None") -> NorthLook:
    """Give what is known of north now."""
    if latest is None:
        return NorthLook()
    north = latest.north
    star = None if latest.alignment is None else latest.alignment.next_sighting
    aimed = None if latest.aim is None or latest.aim.sun_danger else latest.aim
    return NorthLook(
        compass_for_true_north_deg=north.compass_for_true_north_deg,
        declination_sigma_deg=north.declination_sigma_deg,
        shadow_azimuth_deg=north.shadow_azimuth_deg,
        polaris_azimuth_deg=north.polaris_azimuth_deg,
        polaris_altitude_deg=north.polaris_altitude_deg,
        star_name="" if star is None else star.name,
        star_azimuth_deg=None if star is None else star.azimuth_deg,
        star_altitude_deg=None if star is None else star.altitude_deg,
        aimed_name="" if aimed is None else aimed.target.name,
        aimed_altitude_deg=None if aimed is None else aimed.now_deg[1],
    )


class SetUpSheet(Sheet):
    """Leads through the steps that are open; a step that is left out changes nothing.

    Parameters
    ----------
    evening : Evening
        Told what each step says of the mount.
    sight : callable
        Aims at the star of that key and asks for its sighting.
    """

    word = SET_UP
    wide = True

    def __init__(
        self, evening: "Evening", sight: Callable[[str], None], parent: QWidget | None = None
    ) -> None:
        super().__init__(parent, 60)
        self._evening, self._sight = evening, sight
        self._steps: tuple[SetUpStep, ...] = ()
        self._at = 0
        self._aimed = ""  # key of the star that both sides are read on
        self._side: OneSide | None = None  # the first reading of two
        self.caution = Attention(self)
        self.yields = Words(Size.BODY, Role.TEXT, wrap=True, parent=self)
        self.drawing = SetUpDrawing(self)

    @property
    def step(self) -> SetUpStep | None:
        """The step that is up."""
        return self._steps[self._at] if self._at < len(self._steps) else None

    def open(self) -> None:
        """Begin with the first step."""
        mount = self._evening.choices.mount
        look = north_look(self._evening.latest)
        self._steps = () if mount is None else set_up_steps(mount, look)
        aim = None if self._evening.latest is None else self._evening.latest.aim
        self._aimed = "" if aim is None else aim.target.key
        self._go_to(0)

    def open_at_play(self) -> None:
        """Begin with the play of the dials, if something is aimed at that can be centred."""
        kinds = [step.kind for step in self._steps]
        if not _PLAYS.keys() & set(kinds):
            self.dismiss()
            self._evening.messages.say(Severity.WARNING, _NOTHING_AIMED, "set-up")
            return
        self._go_to(next(at for at, kind in enumerate(kinds) if kind in _PLAYS))

    def key_actions(self) -> Mapping[str, Action]:
        """Give what the keys do."""
        return {
            "take": self._take,
            "step_on": lambda: self._go_to(self._at + 1),
            "step_back": lambda: self._go_to(max(0, self._at - 1)),
        }

    def _show(self) -> None:
        step = self.step
        if step is None:
            self.dismiss()
            return
        self.head.say(head_words(self._steps, self._at))
        self.drawing.show_step(step.kind)
        self.explanation.say(step.do if self._side is None else step.then)
        self.caution.say(Notice("Caution", step.caution, caution=True) if step.caution else NOTHING)
        ask = " Enter asks for both readings." if step.kind in _SIGHTED else ""
        counted = _COUNTED if step.kind is SetUpKind.LEVEL and self._is_levelled() else ""
        self.yields.say(f"What it tells: {step.yields}{ask}{counted}")
        self.field.setVisible(step.kind in _TYPED)
        self.field.clear()
        super().open()
        if step.kind not in _TYPED:
            self.setFocus(Qt.FocusReason.OtherFocusReason)

    def _is_levelled(self) -> bool:
        sightings = self._evening.choices.sightings
        return any(one.target_key == LEVELLED and not one.set_aside for one in sightings)

    def _go_to(self, at: int) -> None:
        self._at, self._side = at, None
        self._show()

    # What a step tells.

    def _take(self) -> None:
        step, mount = self.step, self._evening.choices.mount
        if step is None or mount is None:
            return
        try:
            self._tell(step, mount)
        except AdviceError as error:
            self.show_error(str(error))

    def _tell(self, step: SetUpStep, mount: "Mount") -> None:
        """Do what the step says; one way to north is enough."""
        if step.kind in _SIGHTED:
            self.dismiss()
            self._sight(self._star_key(step))
            return
        if step.kind in _PLAYS:
            self._read_side(mount, _PLAYS[step.kind])
            return
        self._evening.mounts.write(self._sighting(step, mount))
        if step.kind in _NORTHS:
            self.dismiss()
            self._evening.messages.say(Severity.NOTE, _DONE, "set-up")
        else:
            self._go_to(self._at + 1)

    def _read_side(self, mount: "Mount", what: str) -> None:
        """Take the reading from one side; after the second one the play is known and kept."""
        if not self.field.text().strip():
            raise AdviceError("No reading was typed.", f"Type what the {what} dial shows.")
        dial = mount.azimuth if what == "azimuth" else mount.altitude
        side = self._one_side(parse_reading(dial, self.field.text(), what))
        if self._side is None:
            self._side = side
            self._show()
            return
        try:
            play = play_of(mount, what, self._side, side)
        except AdviceError:
            self._side = None
            self._show()  # from the first side again
            raise
        self._evening.mounts.choose(with_play(mount, what, play.kept_deg))
        self._evening.messages.say(Severity.NOTE, play.words, "play")
        self._go_to(self._at + 1)

    def _one_side(self, reading_deg: float) -> OneSide:
        """Give a reading with where the star stands that the step is about."""
        latest = self._evening.latest
        aim = None if latest is None else latest.aim
        if aim is None or latest is None or aim.target.key != self._aimed:
            raise AdviceError("The target is another one now.", "Press Esc, then b again.")
        return OneSide(latest.utc, reading_deg, *aim.now_deg)

    def _sighting(self, step: SetUpStep, mount: "Mount") -> "Sighting":
        """Give the weak sighting of what was typed, or of what the step asked to be set."""
        look, utc = north_look(self._evening.latest), self._evening.clock.now_utc
        text = self.field.text()
        if step.kind is SetUpKind.LEVEL:
            return levelled_sighting(utc)
        if step.kind is SetUpKind.ALTITUDE:
            if not text.strip():
                raise AdviceError(
                    "No reading was typed.", "Type what the altitude dial shows, or leave it out."
                )
            return level_sighting(utc, parse_reading(mount.altitude, text, "altitude"))
        if step.kind is SetUpKind.SHADOW and look.shadow_azimuth_deg is not None:
            shadow = look.shadow_azimuth_deg
            return shadow_sighting(utc, shadow, _reading(mount.azimuth, text, shadow))
        sigma = compass_sigma_deg(look.declination_sigma_deg)
        return compass_sighting(utc, _reading(mount.azimuth, text, 0.0), sigma)

    def _star_key(self, step: SetUpStep) -> str:
        alignment = None if self._evening.latest is None else self._evening.latest.alignment
        star = None if alignment is None else alignment.next_sighting
        return _POLARIS_KEY if step.kind is SetUpKind.POLARIS or star is None else star.key

    # Where it stands.

    def arrange(self) -> None:
        """Stack the parts; what to do is written large where there is room."""
        low = self.height() < self.scale.grid(80)
        self.explanation.set_size(Size.BODY if low else Size.VALUE)
        self.caution.set_level(level=not low)
        self.caution.set_compact(compact=low)
        super().arrange()

    def room_at_side(self) -> int:
        """Give the room that the drawing takes at the right: none in a small window."""
        grid = self.scale.grid
        small = self.width() < grid(_DRAWN_FROM) or self.height() < grid(80)
        return 0 if small else round(self.width() * _DRAWING_SHARE)

    def arrange_rest(self, top: int) -> None:
        """Put below the field what the step tells, and how nobody gets hurt by it."""
        grid, left, side = self.scale.grid, self.margin(), self.room_at_side()
        width = max(1, self.width() - 2 * left - side)
        self.drawing.setVisible(bool(side))
        start, high = self.explanation.y(), self.height() - self.explanation.y() - grid(4)
        self.drawing.setGeometry(left + width + grid(4), start, side - grid(4), max(1, high))
        high = self.yields.height_for(width)
        caution = self.caution.height_for(width)
        if top + high + grid(3) + caution > self.height():
            high = 0  # what it tells gives way before how nobody gets hurt
        self.yields.setVisible(high > 0)
        self.yields.setGeometry(left, top, width, high)
        self.caution.setVisible(self.caution.notice != NOTHING)
        start = top + high + (grid(3) if high else 0)
        self.caution.setGeometry(left, start, width, caution)


def head_words(steps: Sequence[SetUpStep], at: int) -> str:
    """Say which step is up; the ways to north are one step, of which any way is enough."""
    parts = list(dict.fromkeys(_part(step) for step in steps))
    number = f"Step {parts.index(_part(steps[at])) + 1} of {len(parts)}"
    ways = [step for step in steps if step.kind in _NORTHS]
    if steps[at] in ways and len(ways) > 1:
        number += f", way {ways.index(steps[at]) + 1} of {len(ways)}, one is enough"
    return f"{number}: {steps[at].title}"


def _part(step: SetUpStep) -> str:
    return "north" if step.kind in _NORTHS else str(step.kind)


def _reading(dial: "Dial", text: str, azimuth_deg: float) -> float:
    """Give the reading as typed; nothing typed means that the dial was set as asked."""
    return parse_reading(dial, text) if text.strip() else reading_of(dial, azimuth_deg)
