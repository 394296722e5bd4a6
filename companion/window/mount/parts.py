"""The parts of a mount's description: what each shows, and how what is typed changes it."""

from collections.abc import Callable
from dataclasses import dataclass, replace

from companion.advice import AdviceError
from companion.mount import (
    AXIS_HEIGHTS_M,
    CountedFrom,
    Dial,
    Mount,
    shown_step_deg,
    with_play,
)
from companion.sky import altitude_text
from companion.window.forms.prompts import number_in
from companion.window.kit.record_page import Part


@dataclass(frozen=True, slots=True)
class Switch:
    """A part of a mount with two states: Enter goes to the other one."""

    caption: str
    say: Callable[[Mount], tuple[str, str]]
    turn: Callable[[Mount], Mount]


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
            f"“{text.strip()[:40]}” is not a range.",
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
    return f"{dial.step_deg:g}°", "" if dial.digital else f"read to {step_words(dial)}°"


def step_words(dial: Dial) -> str:
    """Write the finest step that can be set on a dial."""
    step = shown_step_deg(dial)
    return altitude_text(step, step) if step >= 0.25 else f"{step:g}"


def _growing_words(dial: Dial) -> tuple[str, str]:
    if dial.counted_from is CountedFrom.ZENITH:
        return ("as the tube sinks" if dial.clockwise else "as the tube rises"), ""
    return ("as the tube rises" if dial.clockwise else "as the tube sinks"), ""


_PLAY_HELP = (
    "How far the readings of one star differ when you centre it from one side, then from the "
    "other. 0: no play. Empty: not measured, and the numbers allow for what dials usually have."
)


def _play_words(dial: Dial) -> tuple[str, str]:
    if dial.play_deg is None:
        return "not measured", ""
    if dial.play_deg == 0.0:
        return "none", ""
    return f"{dial.play_deg:g}°", f"±{dial.play_deg / 2.0:g}° from either side"


def _play_text(dial: Dial) -> str:
    return "" if dial.play_deg is None else f"{dial.play_deg:g}"


def _play(text: str) -> float | None:
    return _number(text, "play", 0.0, 10.0) if text.strip() else None


def _cable(mount: Mount, text: str) -> Mount:
    if not text.strip():
        return replace(mount, cable_limit_deg=None)
    return replace(mount, cable_limit_deg=_number(text, "cable limit", 180.0, 3600.0))


def _axis_height(mount: Mount, text: str) -> Mount:
    if not text.strip():
        return replace(mount, axis_height_m=None)
    low, high = AXIS_HEIGHTS_M
    return replace(mount, axis_height_m=number_in(text, "height of the axis", low, high, " m"))


def _counted(mount: Mount) -> Mount:
    other = (
        CountedFrom.HORIZON
        if mount.altitude.counted_from is CountedFrom.ZENITH
        else CountedFrom.ZENITH
    )
    return _altitude(mount, counted_from=other)


PARTS: tuple[Part[Mount] | Switch, ...] = (
    Part(
        "NAME",
        "What you call this mount. Under another name it is kept beside the old one, and its "
        "sightings stay with the old one.",
        lambda mount: (mount.name, ""),
        lambda mount: mount.name,
        lambda mount, text: replace(mount, name=" ".join(text.split())),
    ),
    Switch(
        "AZIMUTH GROWS",
        lambda mount: (
            ("to the right", "from north to east")
            if mount.azimuth.clockwise
            else ("to the left", "from north to west")
        ),
        lambda mount: _azimuth(mount, clockwise=not mount.azimuth.clockwise),
    ),
    Part(
        "AZIMUTH ZERO",
        "What the azimuth dial shows when the tube points to true north. It need not be right: "
        "the first star corrects it.",
        lambda mount: (_degrees(mount.azimuth.zero_deg), "at true north"),
        lambda mount: f"{mount.azimuth.zero_deg:g}",
        lambda mount, text: _azimuth(mount, zero_deg=_number(text, "reading", -360.0, 360.0)),
    ),
    Part(
        "AZIMUTH RANGE",
        "The first and the last reading on the azimuth dial: 0 to 360, or -180 to 180.",
        lambda mount: _range_words(mount.azimuth),
        lambda mount: _range_text(mount.azimuth),
        lambda mount, text: _azimuth(
            mount, **dict(zip(("low_deg", "high_deg"), _range(text, "range"), strict=True))
        ),
    ),
    Part(
        "AZIMUTH MARKS",
        "Degrees between two marks of the azimuth dial, or its last digit.",
        lambda mount: _graduation_words(mount.azimuth),
        lambda mount: f"{mount.azimuth.step_deg:g}",
        lambda mount, text: _azimuth(mount, step_deg=_number(text, "graduation", 0.001, 45.0)),
    ),
    Switch(
        "AZIMUTH IS READ",
        lambda mount: ("as digits" if mount.azimuth.digital else "between marks", ""),
        lambda mount: _azimuth(mount, digital=not mount.azimuth.digital),
    ),
    Part(
        "AZIMUTH PLAY",
        f"{_PLAY_HELP} On the screen of the mount, b measures it in two minutes.",
        lambda mount: _play_words(mount.azimuth),
        lambda mount: _play_text(mount.azimuth),
        lambda mount, text: with_play(mount, "azimuth", _play(text)),
    ),
    Switch(
        "ALTITUDE IS",
        lambda mount: (
            ("a level on the tube", "against gravity")
            if mount.altitude.level_on_tube
            else ("a scale on the axis", "leans with the base")
        ),
        lambda mount: _altitude(mount, level_on_tube=not mount.altitude.level_on_tube),
    ),
    Switch(
        "COUNTED FROM",
        lambda mount: (f"the {mount.altitude.counted_from}", ""),
        _counted,
    ),
    Switch(
        "ALTITUDE GROWS",
        lambda mount: _growing_words(mount.altitude),
        lambda mount: _altitude(mount, clockwise=not mount.altitude.clockwise),
    ),
    Part(
        "ALTITUDE ZERO",
        "What the altitude dial shows at the place that it counts from: 0, as a rule.",
        lambda mount: (_degrees(mount.altitude.zero_deg), f"at the {mount.altitude.counted_from}"),
        lambda mount: f"{mount.altitude.zero_deg:g}",
        lambda mount, text: _altitude(mount, zero_deg=_number(text, "reading", -360.0, 360.0)),
    ),
    Part(
        "ALTITUDE RANGE",
        "The first and the last reading on the altitude dial: -10 to 100.",
        lambda mount: _range_words(mount.altitude),
        lambda mount: _range_text(mount.altitude),
        lambda mount, text: _altitude(
            mount, **dict(zip(("low_deg", "high_deg"), _range(text, "range"), strict=True))
        ),
    ),
    Part(
        "ALTITUDE MARKS",
        "Degrees between two marks of the altitude dial, or the last digit of the level.",
        lambda mount: _graduation_words(mount.altitude),
        lambda mount: f"{mount.altitude.step_deg:g}",
        lambda mount, text: _altitude(mount, step_deg=_number(text, "graduation", 0.001, 45.0)),
    ),
    Switch(
        "ALTITUDE IS READ",
        lambda mount: ("as digits" if mount.altitude.digital else "between marks", ""),
        lambda mount: _altitude(mount, digital=not mount.altitude.digital),
    ),
    Part(
        "ALTITUDE PLAY",
        f"{_PLAY_HELP} On the screen of the mount, b measures it in two minutes.",
        lambda mount: _play_words(mount.altitude),
        lambda mount: _play_text(mount.altitude),
        lambda mount, text: with_play(mount, "altitude", _play(text)),
    ),
    Part(
        "TUBE DOWN TO",
        "The lowest altitude that the tube can be brought to.",
        lambda mount: (_degrees(mount.reach_low_deg), ""),
        lambda mount: f"{mount.reach_low_deg:g}",
        lambda mount, text: replace(mount, reach_low_deg=_number(text, "altitude", -90.0, 90.0)),
    ),
    Part(
        "TUBE UP TO",
        "The highest altitude that the tube can be brought to: a tripod's legs may end it before "
        "90.",
        lambda mount: (_degrees(mount.reach_high_deg), ""),
        lambda mount: f"{mount.reach_high_deg:g}",
        lambda mount, text: replace(mount, reach_high_deg=_number(text, "altitude", -90.0, 180.0)),
    ),
    Part(
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
    Part(
        "CENTRED WITHIN",
        "How well you bring a star to the middle of the view, in degrees: a tenth of the field.",
        lambda mount: (f"{mount.centring_sigma_deg:g}°", ""),
        lambda mount: f"{mount.centring_sigma_deg:g}",
        lambda mount, text: replace(
            mount, centring_sigma_deg=_number(text, "centring", 0.0, 5.0)
        ),
    ),
    Part(
        "AXIS ABOVE GROUND",
        "How high the axis stands on which the tube goes up and down, in metres: then the aim "
        "tells how high the eyepiece is. Empty: unknown.",
        lambda mount: (
            ("unknown", "") if mount.axis_height_m is None
            else (f"{mount.axis_height_m:g} m", "the aim tells the eyepiece's")
        ),
        lambda mount: "" if mount.axis_height_m is None else f"{mount.axis_height_m:g}",
        _axis_height,
    ),
    Switch(
        "LEVELLED",
        lambda mount: (
            ("always, with care", "on a pillar") if mount.levelled_with_care
            else ("anew each night", "g sets it up")
        ),
        lambda mount: replace(mount, levelled_with_care=not mount.levelled_with_care),
    ),
)  # fmt: skip
