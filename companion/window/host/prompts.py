"""The values that are typed on the host's screen."""

from dataclasses import replace
from typing import TYPE_CHECKING

from companion.window.forms.prompt_sheet import Prompt
from companion.window.forms.prompts import number_in

if TYPE_CHECKING:
    from companion.live import Evening

MOST_TARGETS, LONGEST_MIN = 20, 120


def targets_prompt(evening: "Evening") -> Prompt:
    """Ask how many targets the evening has."""
    host = evening.host

    def take(text: str, _choice: int) -> None:
        number = number_in(text, "number of targets", 1, MOST_TARGETS, "")
        host.want(replace(host.wishes, targets=round(number)))

    return Prompt(
        "How many targets?",
        "For an hour, five of ten minutes: the turns between them come on top.",
        f"{host.wishes.targets}",
        take,
    )


def minutes_prompt(evening: "Evening") -> Prompt:
    """Ask how long each is shown."""
    host = evening.host

    def take(text: str, _choice: int) -> None:
        number = number_in(text, "number of minutes", 1, LONGEST_MIN, " min")
        host.want(replace(host.wishes, minutes=number))

    return Prompt(
        "Minutes for each",
        "Half a minute for each guest and eye, and time to talk. The turn to the next one comes on "
        "top.",
        f"{host.wishes.minutes:g}",
        take,
    )


def axis_prompt(evening: "Evening") -> Prompt:
    """Ask how high the mount's altitude axis is."""
    host = evening.host

    def take(text: str, _choice: int) -> None:
        height = number_in(text, "height", 0.1, 5.0, " m") if text.strip() else None
        host.want(replace(host.wishes, axis_m=height))

    return Prompt(
        "Height of the altitude axis",
        "From the ground to the axis on which the tube goes up and down, in metres. Then it is "
        "told how high the eyepiece stands, and who needs a step. Empty: not told.",
        "" if host.wishes.axis_m is None else f"{host.wishes.axis_m:g}",
        take,
    )
