"""Whether a mount's description makes sense, whoever typed or sent it."""

from companion.advice import AdviceError, check_within
from companion.mount.records import CountedFrom, Dial, Mount

LONGEST_NAME = 80
MOST_PLAY_DEG = 10.0
AXIS_HEIGHTS_M = (0.1, 5.0)
_KEPT = "No mount was changed."


def checked_mount(mount: Mount) -> Mount:
    """Give the mount back if it makes sense.

    Raises
    ------
    AdviceError
        If a value lies outside its range, two contradict each other or the name is unfit.
    """
    if not mount.name.strip() or len(mount.name) > LONGEST_NAME or not mount.name.isprintable():
        raise AdviceError(
            "The mount's name is empty, too long or holds characters that cannot be shown.",
            f"Give it a name of 1 to {LONGEST_NAME} plain characters.",
            _KEPT,
        )
    _check_dial(mount.azimuth, "azimuth")
    _check_dial(mount.altitude, "altitude")
    check_within("reach_low_deg", mount.reach_low_deg, -90.0, 90.0, kept=_KEPT)
    check_within("reach_high_deg", mount.reach_high_deg, -90.0, 180.0, kept=_KEPT)
    _ordered("reach_low_deg", mount.reach_low_deg, "reach_high_deg", mount.reach_high_deg)
    check_within("centring_sigma_deg", mount.centring_sigma_deg, 0.0, 5.0, kept=_KEPT)
    if mount.cable_limit_deg is not None:
        check_within("cable_limit_deg", mount.cable_limit_deg, 180.0, 3600.0, kept=_KEPT)
    if mount.axis_height_m is not None:
        low, high = AXIS_HEIGHTS_M
        check_within("axis_height_m", mount.axis_height_m, low, high, kept=_KEPT)
    if mount.azimuth.counted_from is not CountedFrom.HORIZON or mount.azimuth.level_on_tube:
        raise AdviceError(
            "The azimuth dial is described as an altitude dial.",
            "Leave counted_from and level_on_tube to the altitude dial.",
            _KEPT,
        )
    return mount


def _check_dial(dial: Dial, what: str) -> None:
    check_within(f"{what}.zero_deg", dial.zero_deg, -360.0, 360.0, kept=_KEPT)
    check_within(f"{what}.low_deg", dial.low_deg, -720.0, 720.0, kept=_KEPT)
    check_within(f"{what}.high_deg", dial.high_deg, -720.0, 720.0, kept=_KEPT)
    _ordered(f"{what}.low_deg", dial.low_deg, f"{what}.high_deg", dial.high_deg)
    check_within(f"{what}.step_deg", dial.step_deg, 0.001, 45.0, kept=_KEPT)
    if dial.play_deg is not None:
        check_within(f"{what}.play_deg", dial.play_deg, 0.0, MOST_PLAY_DEG, kept=_KEPT)


def _ordered(low_name: str, low: float, high_name: str, high: float) -> None:
    if not low < high:
        raise AdviceError(
            f"{low_name} is {low:g} and {high_name} is {high:g}.",
            f"Give a {high_name} above {low_name}.",
            _KEPT,
        )
