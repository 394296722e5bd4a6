"""What a desktop, a software centre and ``man`` are told agrees with the program."""

import re
import shutil
import subprocess
import tomllib
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest
from bundling.manual import manual, released

from companion import __version__
from companion.command_line import command_line

LINUX = Path(__file__).parents[2] / "packaging" / "linux"
ABOUT = LINUX / "org.example.companion.metainfo.xml"
ENTRY = LINUX / "companion.desktop"
PROJECT = tomllib.loads((LINUX.parents[1] / "pyproject.toml").read_text())["project"]


def test_software_centres_are_told_version_and_licence() -> None:
    about = ET.parse(ABOUT)  # noqa: S314 - our own file
    licences = re.sub(r"LicenseRef-([\w.-]+)=\S+", r"\1", about.findtext("project_license") or "")
    assert licences == PROJECT["license"]
    newest = about.find("releases/release")
    assert newest is not None
    assert newest.get("version") == __version__
    assert newest.get("date") == released().isoformat()
    assert about.findtext("launchable") == ENTRY.name


@pytest.mark.parametrize(
    "command",
    [
        ("desktop-file-validate", "--no-hints", str(ENTRY)),
        ("appstreamcli", "validate", "--no-net", "--pedantic", str(ABOUT)),
    ],
    ids=lambda command: command[0],
)
def test_the_standards_own_tools_find_no_fault(command: tuple[str, ...]) -> None:
    if shutil.which(command[0]) is None:
        pytest.skip(f"{command[0]} is not here")
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
    assert "error" not in done.stdout


def test_the_manual_page_names_every_command_and_option() -> None:
    page = manual().replace("\\-", "-")
    parser = command_line()
    for action in parser._actions:
        assert all(
            option in page for option in action.option_strings if option not in {"-h", "--help"}
        )
    (commands,) = (action for action in parser._actions if action.dest == "command")
    assert commands.choices is not None
    for name in commands.choices:
        assert f"companion {name} [-h]" in page
    assert f"companion {__version__}" in page.splitlines()[0]
    assert "a glance blinds" in page


def test_the_manual_page_is_well_formed(tmp_path: Path) -> None:
    if shutil.which("mandoc") is None:
        pytest.skip("mandoc is not here")
    file = tmp_path / "companion.1"
    file.write_text(manual())
    done = subprocess.run(
        ["mandoc", "-Tlint", "-W", "warning", file], capture_output=True, text=True, check=False
    )
    assert done.stdout == ""
    assert re.search(r"^\.nf\nusage: companion aim", manual(), re.MULTILINE)
