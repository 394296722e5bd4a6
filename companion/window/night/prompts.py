"""The values that are typed on the screen of the night."""

from dataclasses import replace
from datetime import UTC, datetime
from typing import TYPE_CHECKING

from companion.advice import AdviceError
from companion.sky import clock_text, parse_time, zone_of
from companion.window.forms.prompt_sheet import Prompt
from companion.window.forms.prompts import number_in, say_which
from companion.window.night.words import hours_text

if TYPE_CHECKING:
    from companion.live import Evening

_KEPT = "The break before is kept."


def cloud_prompt(evening: "Evening") -> Prompt:
    """Ask which part of the sky is clouded."""
    return Prompt(
        "Where are the clouds?",
        "A direction and for how long: west, 30 min. Or from one azimuth to another: 200 to 300, "
        "45. Empty: the sky is clear again.",
        "",
        lambda text, _choice: evening.night.say_clouds(text),
    )


def minutes_prompt(evening: "Evening") -> Prompt:
    """Ask how long a target takes."""
    return Prompt(
        "Minutes for each target",
        "Looking, showing, talking; the turn to the next one comes on top of it.",
        f"{evening.night.wishes.target_minutes:g}",
        lambda text, _choice: evening.night.set_minutes(
            number_in(text, "number of minutes", 0.5, 600.0, " min")
        ),
    )


def end_prompt(evening: "Evening") -> Prompt:
    """Ask when the evening ends."""
    zone, now = evening.choices.site.time_zone, evening.clock.now_utc
    end = evening.night.wishes.end_utc

    def take(text: str, _choice: int) -> None:
        evening.night.set_end(_after(evening, text, now) if text.strip() else None)

    return Prompt(
        "When to pack up",
        "By the site's clocks: 01:30. Empty: at dawn.",
        "" if end is None else clock_text(end.astimezone(zone_of(zone))),
        take,
    )


def hours_prompt(evening: "Evening") -> Prompt:
    """Ask for the person's own hours, which are remembered."""
    return Prompt(
        "Your hours",
        "From and until, by the site's clocks: 20:30-00:30. List, order and rounds keep to them, "
        "tonight and every night. Empty: the whole night.",
        hours_text(evening.choices.hours),
        lambda text, _choice: evening.set_hours(text),
    )


def break_prompt(evening: "Evening") -> Prompt:
    """Ask for a break."""
    now = evening.clock.now_utc

    def take(text: str, _choice: int) -> None:
        if not text.strip():
            evening.night.no_breaks()
            return
        begins, dash, ends = text.replace("–", "-").partition("-")
        if not dash:
            raise AdviceError(f"“{text.strip()[:40]}” is not a break.", "Type 23:00-23:20.", _KEPT)
        first = _after(evening, begins, now)
        evening.night.set_break(first, _after(evening, ends, first))

    return Prompt(
        "A break",
        "From and until, by the site's clocks: 23:00-23:20. Empty takes all breaks away.",
        "",
        take,
    )


def _after(evening: "Evening", text: str, now: datetime) -> datetime:
    """Read a time of day that lies ahead, and say which one of two it is."""
    local = parse_time(text.strip(), evening.choices.site.time_zone, now, ahead=True)
    say_which(evening, local)
    return local.astimezone(UTC)


def constellation_prompt(evening: "Evening") -> Prompt:
    """Ask for the one constellation to choose from."""

    def take(text: str, _choice: int) -> None:
        night = evening.night
        night.want(replace(night.wanted, constellation=constellation_of(text)))

    return Prompt(
        "In which constellation?",
        "Its name or abbreviation: Cygnus, or Cyg. Empty: all of them.",
        evening.night.wanted.constellation,
        take,
    )


def constellation_of(text: str) -> str:
    """Give the abbreviation of a constellation's name; empty for none.

    Raises
    ------
    AdviceError
        If none is called so.
    """
    from companion.sky import CONSTELLATIONS

    wanted = " ".join(text.casefold().split())
    if not wanted:
        return ""
    begun = [
        short for short, names in CONSTELLATIONS.items() if names[0].casefold().startswith(wanted)
    ]
    exact = [short for short in CONSTELLATIONS if short.casefold() == wanted]
    if not (exact or len(begun) == 1):
        raise AdviceError(
            f"“{text.strip()[:40]}” may be several constellations."
            if begun
            else f"“{text.strip()[:40]}” is not a constellation.",
            "Type its whole name, or its three letters: Cyg.",
            "The list is as it was.",
        )
    return (exact or begun)[0]


def file_prompt(evening: "Evening") -> Prompt:
    """Ask for the file of a list."""
    return Prompt(
        "Read a list of targets",
        "The path of a text or CSV file with a name or a position in each line. What is not "
        "understood is told, line by line.",
        "",
        lambda text, _choice: evening.night.read_file(text) if text.strip() else None,
        longest=1000,
    )
