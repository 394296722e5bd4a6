"""Asks what is to be printed and under which name, and has it printed in another thread."""

import re
from pathlib import Path
from typing import TYPE_CHECKING

from companion.advice import AdviceError
from companion.live import Severity
from companion.sky import Target, zone_of
from companion.window.forms.prompt_sheet import Prompt

if TYPE_CHECKING:
    from companion.live import Evening

_CHOICES = (
    "this target, for paper",
    "this target, for a screen",
    "what waits, for paper",
    "what waits, for a screen",
)
_NAME = re.compile(r"[^\w.+-]+")
_LONGEST = 80
_MOST_PAGES = 60


def print_prompt(evening: "Evening") -> Prompt:
    """Ask for pages."""
    local = evening.clock.now_utc.astimezone(zone_of(evening.choices.site.time_zone))
    target = evening.choices.target
    name = f"{local:%Y-%m-%d}" + ("" if target is None else f" {target.name}")
    return Prompt(
        "Print to a file",
        "A page for each target, for its turn in the order of the night, else for now or when it "
        "shows best: where to look, finder, eyepiece, where it stands through its hours, the way "
        "in words. Black on white for paper, red on black for a screen. It is written as PDF into "
        f"{evening.home}.",
        file_name(name),
        lambda text, choice: _print(evening, text, choice),
        _CHOICES,
        longest=_LONGEST,
    )


def file_name(text: str) -> str:
    """Give the name of a file that a title makes: no letter in it that a folder can't hold."""
    return f"{_NAME.sub('-', text.strip()).strip('-.')[: _LONGEST - 4]}.pdf"


def free_name(path: Path) -> Path:
    """Give the name, or with a number behind it, so that no page takes another one's place."""
    name, number = path, 1
    while name.exists():
        number += 1
        name = path.with_stem(f"{path.stem}-{number}")
    return name


def _print(evening: "Evening", text: str, choice: int) -> None:
    """Have the pages made; the message tells where they are."""
    plain = text.strip().removesuffix(".pdf")
    if not _NAME.sub("", plain).strip(".-"):
        raise AdviceError("The file has no name.", "Type one, such as tonight.pdf.")
    path = free_name(evening.home / file_name(plain))
    targets = _targets(evening, whole=choice >= 2)
    choices, utc, paper = evening.choices, evening.clock.now_utc, choice % 2 == 0
    planned = evening.night.planned

    def make(_library: object) -> Path:
        from companion.charts import sky_pages
        from companion.window.sky.print_page import paper_ink, print_pages, screen_ink

        pages = sky_pages(choices, targets, utc, planned)
        print_pages(path, pages, paper_ink() if paper else screen_ink())
        return path

    def tell(written: Path) -> None:
        pages = "a page is" if len(targets) == 1 else f"{len(targets)} pages are"
        evening.messages.say(Severity.NOTE, f"Printed: {pages} in {written}.", "print")

    evening.messages.say(Severity.NOTE, "The pages are being printed.", "print")
    evening.ask("print", make, tell)


def _targets(evening: "Evening", *, whole: bool) -> tuple[Target, ...]:
    """Give what the pages are about."""
    target = evening.choices.target
    if whole:
        found = tuple(item.target for item in evening.queue.items if item.waiting)[:_MOST_PAGES]
    else:
        found = () if target is None else (target,)
    if not found:
        raise AdviceError(
            "There is nothing to print.", "Choose a target first: press / and type its name."
        )
    return found
