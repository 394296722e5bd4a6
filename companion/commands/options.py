"""What the commands share: one-line errors, place and time options."""

import argparse
import re
import sys
from collections.abc import Iterator, Sequence
from typing import Any, NoReturn

from companion.commands.output import write_error, write_raw

# argparse takes "-45.2S" for an option; joined to its own option with "=" it stays a value.
_MAY_BE_NEGATIVE = ("--lat", "--lon", "--elevation", "--temperature")

SHELLS = ("bash", "zsh", "fish")
_FILES = ("FILE", "FILE|NAME", "LIST", "SIGHTINGS.csv")  # placeholders that stand for files
_FOLDERS = ("DIR",)


class OneLineParser(argparse.ArgumentParser):
    """A parser whose errors are one line that instructs; wrong use exits with 2."""

    def error(self, message: str) -> NoReturn:
        """Say what was wrong and where help is, then exit."""
        write_error(f"{message}. See: {self.prog} --help")
        raise SystemExit(2)

    def _print_message(self, message: str, file: Any = None) -> None:  # noqa: ANN401 - as there
        """Write help and version; what cannot be written is said, where the library is silent."""
        if message:
            write_raw(message, file)


class PrintCompletion(argparse.Action):
    """Print the script with which a shell completes this whole command line, and end."""

    def __call__(
        self,
        parser: argparse.ArgumentParser,
        namespace: argparse.Namespace,  # noqa: ARG002
        values: object,
        option_string: str | None = None,  # noqa: ARG002
    ) -> None:
        """Mark which words are files, then let the library write the script."""
        import shtab

        for action in _all_actions(parser):
            if action.metavar in _FILES + _FOLDERS:
                complete = shtab.FILE if action.metavar in _FILES else shtab.DIRECTORY
                setattr(action, "complete", complete)  # noqa: B010 - the library's own attribute
        sys.stdout.write(shtab.complete(parser, str(values)))
        parser.exit()


def _all_actions(parser: argparse.ArgumentParser) -> Iterator[argparse.Action]:
    """Give the options and arguments of a parser and of its commands."""
    for action in parser._actions:  # noqa: SLF001 - argparse has no public way to list them
        yield action
        if isinstance(action, argparse._SubParsersAction):  # noqa: SLF001
            for command in action.choices.values():
                yield from _all_actions(command)


def count(text: str) -> int:
    """Read a whole number from 1 on; argparse says what was wrong with anything else."""
    if not text.isascii() or not text.isdigit() or not int(text[:9]) > 0 or len(text) > 9:
        raise argparse.ArgumentTypeError(f"{text[:40]!r} is not a number from 1 on")
    return int(text)


def join_negative_values(argv: Sequence[str]) -> list[str]:
    """Join ``--lat -45.2S`` to ``--lat=-45.2S``, so that it is read as a value."""
    joined: list[str] = []
    for word in argv:
        if joined and joined[-1] in _MAY_BE_NEGATIVE and re.match(r"[-−+]?[\d.]", word):
            joined[-1] += "=" + word
        else:
            joined.append(word)
    return joined


def place_options(at_action: type[argparse.Action] | str = "store") -> OneLineParser:
    """Give a parent parser with the options of place, weather and time.

    ``at_action`` is for commands that may be asked for several times.
    """
    parent = OneLineParser(add_help=False)
    group = parent.add_argument_group("place and time")
    group.add_argument("--site", metavar="NAME", help="a remembered site, a demo site or a town")
    group.add_argument("--lat", metavar="D", help="latitude, north positive: 45.2, 45°12′N")
    group.add_argument("--lon", metavar="D", help="longitude, east positive: -62.3, 62°18′W")
    group.add_argument("--elevation", metavar="M", help="above the sea, in metres")
    group.add_argument("--pressure", metavar="HPA", help="air pressure at the site in hPa")
    group.add_argument("--temperature", metavar="C", help="air temperature in °C")
    group.add_argument(
        "--at",
        metavar="TIME",
        help="ISO 8601 moment; without an offset, the site's own time",
        action=at_action,
    )
    return parent


def night_options() -> OneLineParser:
    """Give a parent parser with the options of instrument, darkness and hours."""
    parent = OneLineParser(add_help=False)
    group = parent.add_argument_group("instrument, darkness and hours")
    group.add_argument("--instrument", metavar="NAME", help="eye, 10x50, 150, or one of your own")
    group.add_argument("--age", type=float, metavar="YEARS", help="of the observer's eyes")
    group.add_argument(
        "--hours", metavar="FROM-UNTIL", help="your hours, such as 20:30-00:30, or all"
    )
    dark = group.add_mutually_exclusive_group()
    meter = "a brightness meter's reading overhead, mag/arcsec²"
    dark.add_argument("--meter", type=float, metavar="MAG", help=meter)
    dark.add_argument("--faintest", type=float, metavar="MAG", help="faintest star overhead")
    dark.add_argument("--bortle", type=int, metavar="CLASS", help="1 (darkest) to 9")
    return parent


def fist_option() -> OneLineParser:
    """Give a parent parser with the width of the fist by which lengths are told."""
    parent = OneLineParser(add_help=False)
    parent.add_argument(
        "--fist", type=float, metavar="DEG", help="what your fist covers; else as remembered, or 10"
    )
    return parent


def home_options() -> OneLineParser:
    """Give a parent parser with the options of state and output."""
    parent = OneLineParser(add_help=False)
    parent.add_argument(
        "--home",
        metavar="DIR",
        default=argparse.SUPPRESS,
        help="where all state is kept (or set COMPANION_HOME)",
    )
    return parent


def json_option() -> OneLineParser:
    """Give a parent parser with ``--json``."""
    parent = OneLineParser(add_help=False)
    parent.add_argument("--json", action="store_true", help="print JSON, an object a line")
    return parent
