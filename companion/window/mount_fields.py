"""The fields of a mount: what each shows, and how what is typed changes the description."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from companion.live import WOODEN
from companion.mount import (
    PLAIN_MOUNT,
    CountedFrom,
    Dial,
    Mount,
    checked_mount,
    read_mount,
    shown_step_deg,
    write_mount,
)
from companion.sky import AdviceError, altitude_text
from companion.window.aim_words import NOTHING, Notice
from companion.window.entries import number_in
from companion.window.entry_sheet import Entry
from companion.window.gear import Gear, GearChoice, GearField

if TYPE_CHECKING:
    from companion.live import Evening

_NONE = Notice(
    "Choose what comes nearest to your mount.",
    "Its fields can then be changed one by one. A wooden mount has a ring of degrees around its "
    "base and a level on the tube; plain dials are two scales on the axes.",
)
_ABOUT = "what its dials look like, and what it can reach"


@dataclass(frozen=True, slots=True)
class _Part:
    """A typed part of a mount; ``change`` raises ``AdviceError`` where the text can't be used."""

    caption: str
    explanation: str
    say: Callable[[Mount], tuple[str, str]]
    text: Callable[[Mount], str]
    change: Callable[[Mount, str], Mount]


@dataclass(frozen=True, slots=True)
class _Switch:
    """A part of a mount with two states: Enter goes to the other one."""

    caption: str
    say: Callable[[Mount], tuple[str, str]]
    turn: Callable[[Mount], Mount]


def mount_gear(evening: "Evening") -> Gear:
    """Give the page of the mount in use and of those that can be chosen."""
    mount = evening.choices.mount
    fields = () if mount is None else tuple(_field(evening, mount, part) for part in _PARTS)
    return Gear(
        "Mount" if mount is None else mount.name,
        "none in use: the numbers are true directions" if mount is None else _ABOUT,
        "Mounts to choose",
        fields,
        _choices(evening),
        _NONE if mount is None else NOTHING,
    )


def _choices(evening: "Evening") -> tuple[GearChoice, ...]:
    """Give the remembered mounts, then the ready ones, then none."""
    own = evening.mounts.mounts
    names = {mount.name for mount in own}
    ready = [mount for mount in (WOODEN, PLAIN_MOUNT) if mount.name not in names]
    made = [
        GearChoice(mount.name, _dials_words(mount), partial(evening.mounts.choose, mount))
        for mount in (*own, *ready)
    ]
    none = GearChoice("no mount", "true directions", partial(evening.mounts.choose, None))
    return (*made, none)


def _dials_words(mount: Mount) -> str:
    """Say in short what the dials of a mount show."""
    azimuth, altitude = (_step_words(dial) for dial in (mount.azimuth, mount.altitude))
    return f"azimuth to {azimuth}°, altitude to {altitude}°"


def _field(evening: "Evening", mount: Mount, part: _Part | _Switch) -> GearField:
    value, more = part.say(mount)
    if isinstance(part, _Switch):
        turn = part.turn

        def change() -> None:
            evening.mounts.choose(checked_mount(turn(mount)))

        return GearField(part.caption, value, more, change)
    return GearField(part.caption, value, more, partial(_entry, evening, mount, part))


def _entry(evening: "Evening", mount: Mount, part: _Part) -> Entry:
    def take(text: str, _choice: int) -> None:
        evening.mounts.choose(checked_mount(part.change(mount, text)))

    return Entry(part.caption.capitalize(), part.explanation, part.text(mount), take, longest=80)


# Files.


def export_entry(evening: "Evening") -> Entry | None:
    """Ask where the mount in use is to be written; None while there is none."""
    mount = evening.choices.mount
    if mount is None:
        return None
    name = "".join(letter if letter.isalnum() else "-" for letter in mount.name)
    return Entry(
        "Write this mount to a file",
        "The path of a new TOML file. It can be read on another machine, and by a text editor.",
        str(Path.home() / f"{name}.toml"),
        lambda text, _choice: write_mount(_path(text), mount),
        longest=1000,
    )


def import_entry(evening: "Evening") -> Entry:
    """Ask for the file of a mount."""
    return Entry(
        "Read a mount from a file",
        "The path of a TOML file as this program writes it.",
        f"{Path.home()}/",
        lambda text, _choice: evening.mounts.choose(read_mount(_path(text))),
        longest=1000,
    )


def _path(text: str) -> Path:
    plain = text.strip().strip('"')
    if not plain or "\0" in plain:
        raise AdviceError("No file is named.", "Type its path.", "No mount was changed.")
    try:
        return Path(plain).expanduser()
    except RuntimeError:
        raise AdviceError(
            f"“{plain[:40]}” is nobody's folder.", "Type the whole path.", "No mount was changed."
        ) from None


# The parts.


def _number(text: str, what: str, low: float, high: float) -> float:
    return number_in(text, what, low, high, "°")


def _azimuth(mount: Mount, **changes: object) -> Mount:
    return replace(mount, azimuth=replace(mount.azimuth, **changes))  # type: ignore[arg-type]  # names and kinds are those of the parts below


def _altitude(mount: Mount, **changes: object) -> Mount:
    return replace(mount, altitude=replace(mount.altitude, **changes))  # type: ignore[arg-type]  # as above


def _range(text: str, what: str) -> tuple[float, float]:
    """Read two numbers: 0 to 360, 0 360, 0…360, −10 – 100."""
    plain = text.replace("°", " ").replace("to", " ").replace("…", " ").replace("–", " ")
    parts = plain.split()
    if len(parts) != 2:
        raise AdviceError(
            f"“{text.strip()[:40]}” is no range.",
            "Give the first and the last reading on the dial: 0 to 360.",
            f"The {what} before is kept.",
        )
    low, high = (_number(part, what, -720.0, 720.0) for part in parts)
    return low, high


def _degrees(value_deg: float) -> str:
    return f"{value_deg:g}°".replace("-", "−")


def _range_words(dial: Dial) -> tuple[str, str]:
    return f"{_degrees(dial.low_deg)} to {_degrees(dial.high_deg)}", ""


def _range_text(dial: Dial) -> str:
    return f"{dial.low_deg:g} to {dial.high_deg:g}"


def _graduation_words(dial: Dial) -> tuple[str, str]:
    return f"{dial.step_deg:g}°", "" if dial.digital else f"read to {_step_words(dial)}°"


def _step_words(dial: Dial) -> str:
    """Write the finest step that can be set on a dial."""
    step = shown_step_deg(dial)
    return altitude_text(step, step) if step >= 0.25 else f"{step:g}"


def _growing_words(dial: Dial) -> tuple[str, str]:
    if dial.counted_from is CountedFrom.ZENITH:
        return ("as the tube sinks" if dial.clockwise else "as the tube rises"), ""
    return ("as the tube rises" if dial.clockwise else "as the tube sinks"), ""


def _cable(mount: Mount, text: str) -> Mount:
    if not text.strip():
        return replace(mount, cable_limit_deg=None)
    return replace(mount, cable_limit_deg=_number(text, "cable limit", 180.0, 3600.0))


def _counted(mount: Mount) -> Mount:
    other = (
        CountedFrom.HORIZON
        if mount.altitude.counted_from is CountedFrom.ZENITH
        else CountedFrom.ZENITH
    )
    return _altitude(mount, counted_from=other)


_PARTS: tuple[_Part | _Switch, ...] = (
    _Part(
        "NAME",
        "What you call this mount. Under another name it is kept beside the old one, and its "
        "sightings stay with the old one.",
        lambda mount: (mount.name, ""),
        lambda mount: mount.name,
        lambda mount, text: replace(mount, name=" ".join(text.split())),
    ),
    _Switch(
        "AZIMUTH GROWS",
        lambda mount: (
            ("to the right", "from north to east")
            if mount.azimuth.clockwise
            else ("to the left", "from north to west")
        ),
        lambda mount: _azimuth(mount, clockwise=not mount.azimuth.clockwise),
    ),
    _Part(
        "AZIMUTH ZERO",
        "What the azimuth dial shows when the tube points to true north. It need not be right: "
        "the first star corrects it.",
        lambda mount: (_degrees(mount.azimuth.zero_deg), "at true north"),
        lambda mount: f"{mount.azimuth.zero_deg:g}",
        lambda mount, text: _azimuth(mount, zero_deg=_number(text, "reading", -360.0, 360.0)),
    ),
    _Part(
        "AZIMUTH RANGE",
        "The first and the last reading on the azimuth dial: 0 to 360, or -180 to 180.",
        lambda mount: _range_words(mount.azimuth),
        lambda mount: _range_text(mount.azimuth),
        lambda mount, text: _azimuth(
            mount, **dict(zip(("low_deg", "high_deg"), _range(text, "range"), strict=True))
        ),
    ),
    _Part(
        "AZIMUTH MARKS",
        "Degrees between two marks of the azimuth dial, or its last digit.",
        lambda mount: _graduation_words(mount.azimuth),
        lambda mount: f"{mount.azimuth.step_deg:g}",
        lambda mount, text: _azimuth(mount, step_deg=_number(text, "graduation", 0.001, 45.0)),
    ),
    _Switch(
        "AZIMUTH IS READ",
        lambda mount: ("as digits" if mount.azimuth.digital else "between marks", ""),
        lambda mount: _azimuth(mount, digital=not mount.azimuth.digital),
    ),
    _Switch(
        "ALTITUDE IS",
        lambda mount: (
            ("a level on the tube", "against gravity")
            if mount.altitude.level_on_tube
            else ("a scale on the axis", "leans with the base")
        ),
        lambda mount: _altitude(mount, level_on_tube=not mount.altitude.level_on_tube),
    ),
    _Switch(
        "COUNTED FROM",
        lambda mount: (f"the {mount.altitude.counted_from}", ""),
        _counted,
    ),
    _Switch(
        "ALTITUDE GROWS",
        lambda mount: _growing_words(mount.altitude),
        lambda mount: _altitude(mount, clockwise=not mount.altitude.clockwise),
    ),
    _Part(
        "ALTITUDE ZERO",
        "What the altitude dial shows at the place that it counts from: 0, as a rule.",
        lambda mount: (_degrees(mount.altitude.zero_deg), f"at the {mount.altitude.counted_from}"),
        lambda mount: f"{mount.altitude.zero_deg:g}",
        lambda mount, text: _altitude(mount, zero_deg=_number(text, "reading", -360.0, 360.0)),
    ),
    _Part(
        "ALTITUDE RANGE",
        "The first and the last reading on the altitude dial: -10 to 100.",
        lambda mount: _range_words(mount.altitude),
        lambda mount: _range_text(mount.altitude),
        lambda mount, text: _altitude(
            mount, **dict(zip(("low_deg", "high_deg"), _range(text, "range"), strict=True))
        ),
    ),
    _Part(
        "ALTITUDE MARKS",
        "Degrees between two marks of the altitude dial, or the last digit of the level.",
        lambda mount: _graduation_words(mount.altitude),
        lambda mount: f"{mount.altitude.step_deg:g}",
        lambda mount, text: _altitude(mount, step_deg=_number(text, "graduation", 0.001, 45.0)),
    ),
    _Switch(
        "ALTITUDE IS READ",
        lambda mount: ("as digits" if mount.altitude.digital else "between marks", ""),
        lambda mount: _altitude(mount, digital=not mount.altitude.digital),
    ),
    _Part(
        "TUBE DOWN TO",
        "The lowest altitude that the tube can be brought to.",
        lambda mount: (_degrees(mount.reach_low_deg), ""),
        lambda mount: f"{mount.reach_low_deg:g}",
        lambda mount, text: replace(mount, reach_low_deg=_number(text, "altitude", -90.0, 90.0)),
    ),
    _Part(
        "TUBE UP TO",
        "The highest altitude that the tube can be brought to: a tripod's legs may end it before "
        "90.",
        lambda mount: (_degrees(mount.reach_high_deg), ""),
        lambda mount: f"{mount.reach_high_deg:g}",
        lambda mount, text: replace(mount, reach_high_deg=_number(text, "altitude", -90.0, 180.0)),
    ),
    _Part(
        "CABLE",
        "How far it may be turned either way from the azimuth dial's zero before a cable is wound "
        "up. Empty: there is none.",
        lambda mount: (
            ("none", "") if mount.cable_limit_deg is None
            else (f"{mount.cable_limit_deg:g}°", "either way from the zero")
        ),
        lambda mount: "" if mount.cable_limit_deg is None else f"{mount.cable_limit_deg:g}",
        _cable,
    ),
    _Part(
        "CENTRED WITHIN",
        "How well you bring a star to the middle of the view, in degrees: a tenth of the field.",
        lambda mount: (f"{mount.centring_sigma_deg:g}°", ""),
        lambda mount: f"{mount.centring_sigma_deg:g}",
        lambda mount, text: replace(
            mount, centring_sigma_deg=_number(text, "centring", 0.0, 5.0)
        ),
    ),
    _Switch(
        "LEVELLED",
        lambda mount: (
            ("with care", "to about 0.3°") if mount.levelled_with_care
            else ("by eye", "to about a degree")
        ),
        lambda mount: replace(mount, levelled_with_care=not mount.levelled_with_care),
    ),
)  # fmt: skip
