"""The values that are typed on the host's screen."""

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from companion.advice import AdviceError
from companion.live import Severity
from companion.sky import zone_of
from companion.window.forms.prompt_sheet import Prompt
from companion.window.forms.prompts import number_in
from companion.window.sky.print_prompt import file_name, free_name

if TYPE_CHECKING:
    from companion.charts import SheetSky
    from companion.live import Evening
    from companion.road import Sheet

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
        "told how high the eyepiece stands, and who needs a step. Empty: as the mount has it.",
        "" if host.axis_m is None else f"{host.axis_m:g}",
        take,
    )


def sheet_prompt(evening: "Evening") -> Prompt:
    """Ask under which name the sheet for visitors is to be printed."""
    local = evening.clock.now_utc.astimezone(zone_of(evening.choices.site.time_zone))
    return Prompt(
        "A sheet for visitors to take home",
        "The sky as they stand with its best-known group and where it leads, what the journal has "
        "of tonight, three things for next week. Black on white, for paper; written as PDF into "
        f"{evening.home}.",
        file_name(f"{local:%Y-%m-%d} for visitors"),
        lambda text, _choice: _print(evening, text),
        longest=80,
    )


def _print(evening: "Evening", text: str) -> None:
    """Have the sheet made; the message tells where it is."""
    plain = text.strip().removesuffix(".pdf")
    name = file_name(plain)
    if name == ".pdf":
        raise AdviceError("The file has no name.", "Type one, such as visitors.pdf.")
    path = free_name(evening.home / name)

    def draw(sheet: "Sheet", sky: "SheetSky") -> Path:
        from companion.window.host.sheet_page import print_sheet

        print_sheet(path, sheet, sky)
        return path

    def tell(written: Path) -> None:
        evening.messages.say(Severity.NOTE, f"Printed: the sheet is in {written}.", "print")

    evening.messages.say(Severity.NOTE, "The sheet is being printed.", "print")
    evening.host.ask_sheet(draw, tell)
