"""A change of site in the middle of a night: what becomes of the alignment is asked first."""

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtCore import QTimer

from companion.sky import Site
from companion.window.forms.prompt_sheet import Prompt

if TYPE_CHECKING:
    from companion.live import Evening

_SAME_DEG = 0.05  # so far a position may be corrected without another sky over the mount
_CHOICES = (
    "the mount stands at the new place: set tonight's sightings aside",
    "it was here all the time: keep the alignment",
)


def change_site(
    evening: "Evening",
    ask: Callable[[Prompt | None], None],
    site: Site,
    go: Callable[[Site], None],
) -> None:
    """Go to a site; if a mount is aligned, ask whether it still stands as it was aligned."""
    used = [one.number for one in evening.choices.sightings if not one.set_aside]
    if not used or evening.needs_site or _is_same(evening.choices.site, site):
        go(site)
        return

    def take(_text: str, choice: int) -> None:
        if choice == 0:
            evening.mounts.set_aside(used)
        go(site)

    many = "one sighting" if len(used) == 1 else f"{len(used)} sightings"
    prompt = Prompt(
        f"To {site.name}, with an alignment?",
        f"The mount is aligned by {many} taken at {evening.choices.site.name}. The arrows choose, "
        "enter goes there, esc stays here. What is set aside is kept.",
        "",
        take,
        _CHOICES,
        longest=0,
    )
    # Another sheet may just be going away with what led here: this one comes after it.
    QTimer.singleShot(0, lambda: ask(prompt))


def _is_same(one: Site, other: Site) -> bool:
    apart = abs(one.latitude_deg - other.latitude_deg), abs(one.longitude_deg - other.longitude_deg)
    return max(apart) < _SAME_DEG
