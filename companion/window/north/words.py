"""What the north screen says, in words: pure text of the facts, without a widget."""

from companion.instant import AimFacts, CompassZone, NorthFacts, Snapshot
from companion.sky import azimuth_text, signed_text
from companion.window.aim.words import NOTHING, Notice, withheld
from companion.window.kit.facts import Fact

_STEP_DEG = 0.5  # finer than a compass is read


def side(degrees: float) -> str:
    """Write a turn of the needle: "16.2° west"."""
    if abs(degrees) < 0.05:
        return "0.0°"
    return f"{abs(degrees):.1f}° {'east' if degrees > 0 else 'west'}"


def compass_north(north: NorthFacts) -> str:
    """Give what the compass must read to face true north, without the degree sign."""
    reading = north.compass_for_true_north_deg
    return "" if reading is None else azimuth_text(reading, _STEP_DEG)


def compass_target(north: NorthFacts, aim: AimFacts | None, uncovered: frozenset[str]) -> str:
    """Give what it must read to face the target; nothing near the Sun."""
    reading = north.compass_for_target_deg
    if reading is None or aim is None or withheld(aim, uncovered):
        return ""
    return azimuth_text(reading, _STEP_DEG)


def target_caption(aim: AimFacts | None, uncovered: frozenset[str]) -> str:
    """Name the second number, or say why there is none."""
    if aim is None:
        return "NO TARGET IS CHOSEN"
    if withheld(aim, uncovered):
        return f"{aim.target.name.upper()}: WITHHELD, NEAR THE SUN"
    return f"COMPASS TOWARDS {aim.target.name.upper()}"


def facts(north: NorthFacts) -> tuple[Fact, ...]:
    """Give the quieter facts in their order of use."""
    return (*_magnetic(north), _deviation(north), *_other_norths(north))


def _magnetic(north: NorthFacts) -> tuple[Fact, ...]:
    if north.declination_deg is None:
        return (Fact("MAGNETIC DECLINATION", "none worth using", north.model),)
    change = north.yearly_change_deg
    return (
        Fact(
            "MAGNETIC DECLINATION",
            side(north.declination_deg),
            f"± {north.declination_sigma_deg:.1f}° · {north.model}",
        ),
        Fact("IT CHANGES", f"{abs(change):.2f}° a year", f"to the {_way(change)}"),
    )


def _way(degrees: float) -> str:
    return "east" if degrees > 0 else "west"


def _deviation(north: NorthFacts) -> Fact:
    if north.deviation_deg is None:
        return Fact(
            "DEVIATION OF THIS COMPASS", "not measured", "press shift d towards a known body"
        )
    return Fact("DEVIATION OF THIS COMPASS", f"{signed_text(north.deviation_deg)}°", "x forgets it")


def _gain_words(gain: float) -> tuple[str, str]:
    """Say how a star does as a north beside the compass: near the zenith it does badly."""
    if gain >= 1.5:
        return f"{gain:.0f} times better", "than the compass"
    return ("about as good", "as the compass") if gain > 1 / 1.5 else ("worse", "than the compass")


def _other_norths(north: NorthFacts) -> tuple[Fact, ...]:
    made: list[Fact] = []
    if north.polaris_azimuth_deg is not None and north.polaris_altitude_deg is not None:
        away = (north.polaris_azimuth_deg + 180.0) % 360.0 - 180.0
        made.append(
            Fact("POLARIS", f"{north.polaris_altitude_deg:.1f}° up", f"{side(away)} of true north")
        )
        if north.polaris_gain is not None and north.declination_deg is not None:
            made.append(Fact("AS A NORTH IT IS", *_gain_words(north.polaris_gain)))
    if north.shadow_azimuth_deg is not None:
        made.append(
            Fact(
                "SHADOW OF A PLUMB LINE",
                f"{azimuth_text(north.shadow_azimuth_deg, 0.1)}°",
                "never look at the Sun",
            )
        )
    return tuple(made)


def notice(snapshot: Snapshot) -> Notice:
    """Say what makes this north doubtful, the worst first, and what to use instead."""
    north = snapshot.north
    if north.zone is CompassZone.BLACKOUT:
        return Notice(
            "A compass is of no use here.",
            f"Too steep a field: {north.horizontal_nt:,.0f} nT are level. {_instead(snapshot)}",
        )
    if north.expired:
        return Notice(
            "The magnetic model has run out.",
            f"{north.model}. Up to a degree may be wrong by now. {_instead(snapshot)}",
        )
    if north.zone is CompassZone.CAUTION:
        return Notice(
            "Trust the compass little here.",
            f"Only {north.horizontal_nt:,.0f} nT are level: a weak needle. {_instead(snapshot)}",
        )
    if north.polaris_altitude_deg is None:
        return Notice("Polaris is below the horizon.", _instead(snapshot))
    return NOTHING


def _instead(snapshot: Snapshot) -> str:
    """Say which north is the better one here and now."""
    north = snapshot.north
    if north.polaris_altitude_deg is not None:
        star = "Set true north by Polaris"
    else:
        star = "Set true north by sighting a star or planet that you know"
    if north.shadow_azimuth_deg is None:
        return f"{star}."
    return f"{star}, or by the shadow of a plumb line now. Never look at the Sun."
