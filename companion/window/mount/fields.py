"""The page that describes a mount: its fields, those to choose instead, and its file."""

from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from companion.advice import AdviceError
from companion.live import WOODEN
from companion.mount import PLAIN_MOUNT, Mount, checked_mount, read_mount, write_mount
from companion.window.aim.words import NOTHING, Notice
from companion.window.forms.prompt_sheet import Prompt
from companion.window.kit.record_page import OtherRecord, Part, RecordFacts, RecordField
from companion.window.mount.parts import PARTS, Switch, step_words

if TYPE_CHECKING:
    from companion.live import Evening

_NONE = Notice(
    "Choose what comes nearest to your mount.",
    "Its fields can then be changed one by one. A wooden mount has a ring of degrees around its "
    "base and a level on the tube; plain dials are two scales on the axes.",
)
_ABOUT = "what its dials look like, and what it can reach"


def mount_facts(evening: "Evening") -> RecordFacts:
    """Give the page of the mount in use and of those that can be chosen."""
    mount = evening.choices.mount
    fields = () if mount is None else tuple(_field(evening, mount, part) for part in PARTS)
    return RecordFacts(
        "Mount" if mount is None else mount.name,
        "none in use: the numbers are true directions" if mount is None else _ABOUT,
        "Mounts to choose",
        fields,
        _choices(evening),
        _NONE if mount is None else NOTHING,
    )


def _choices(evening: "Evening") -> tuple[OtherRecord, ...]:
    """Give the remembered mounts, then the ready ones, then none."""
    own = evening.mounts.known
    names = {mount.name for mount in own}
    ready = [mount for mount in (WOODEN, PLAIN_MOUNT) if mount.name not in names]
    made = [
        OtherRecord(mount.name, _dials_words(mount), partial(evening.mounts.choose, mount))
        for mount in (*own, *ready)
    ]
    none = OtherRecord("no mount", "true directions", partial(evening.mounts.choose, None))
    return (*made, none)


def _dials_words(mount: Mount) -> str:
    """Say in short what the dials of a mount show."""
    azimuth, altitude = (step_words(dial) for dial in (mount.azimuth, mount.altitude))
    return f"altitude to {altitude}°, azimuth to {azimuth}°"


def _field(evening: "Evening", mount: Mount, part: Part[Mount] | Switch) -> RecordField:
    def use(changed: Mount) -> None:
        evening.mounts.choose(checked_mount(changed))

    if not isinstance(part, Switch):
        return part.field(mount, use)
    value, more = part.say(mount)
    turn = part.turn
    return RecordField(part.caption, value, more, lambda: use(turn(mount)))


# Files.


def export_prompt(evening: "Evening") -> Prompt | None:
    """Ask where the mount in use is to be written; None while there is none."""
    mount = evening.choices.mount
    if mount is None:
        return None
    name = "".join(letter if letter.isalnum() else "-" for letter in mount.name)
    return Prompt(
        "Write this mount to a file",
        "The path of a new TOML file. It can be read on another machine, and by a text editor.",
        str(Path.home() / f"{name}.toml"),
        lambda text, _choice: write_mount(_path(text), mount),
        longest=1000,
    )


def import_prompt(evening: "Evening") -> Prompt:
    """Ask for the file of a mount."""
    return Prompt(
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
