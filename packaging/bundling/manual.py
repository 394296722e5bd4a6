"""The manual page, made from the program's own command line."""

import re
from datetime import date
from xml.etree import ElementTree as ET

from argparse_manpage.manpage import Manpage
from environment import ROOT

from companion import __version__
from companion.command_line import command_line

_ABOUT = ROOT / "packaging" / "linux" / "org.example.companion.metainfo.xml"
_SECTIONS = {
    "exit status": """\
0 done, 1 something failed, 2 wrong use. Errors are one line on standard error.""",
    "environment": r"""
.TP
.B COMPANION_HOME
The folder where all state is kept, as with \-\-home.""",
    "files": r"""
.TP
.I journal.sqlite
The record of all evenings, in the platform's folder for program data or in \-\-home.
Nothing in it is ever changed or removed.""",
    "caution": """\
Never look at the Sun, nor near it, through any instrument or finder: a glance blinds.""",
}


def released() -> date:
    """Give the day of the newest version, from what software centres are told."""
    newest = ET.parse(_ABOUT).find("releases/release")  # noqa: S314 - our own file
    if newest is None or newest.get("version") != __version__:
        raise ValueError(f"{_ABOUT.name} lacks the release {__version__}: put it first.")
    return date.fromisoformat(newest.get("date", ""))


def manual() -> str:
    """Give the page as text for ``man``."""
    page = Manpage(command_line())
    page.description = "what to set on a manual telescope mount, and a way to the target"
    page.source = f"companion {__version__}"
    page.manual = "User Commands"
    page.date = released().strftime("%B %d, %Y")
    for heading, text in _SECTIONS.items():
        page.add_section(heading, "=", text.strip())
    # The library lets man refill the usage of commands; as it was written it is readable.
    return re.sub(r"(?ms)^(usage: .*?)\n\n", r".nf\n\1\n.fi\n\n", str(page))
