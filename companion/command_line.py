"""The command line: the program's own options, and those of every text command."""

import argparse
from typing import TYPE_CHECKING

from companion import __version__
from companion.commands import (
    SHELLS,
    OneLineParser,
    PrintCompletion,
    count,
    fist_option,
    home_options,
    json_option,
    night_options,
    place_options,
)

_EPILOG = "Without a command the window opens. Times without an offset are the site's own."


def command_line() -> OneLineParser:
    """Build the whole command line."""
    parser = OneLineParser(
        prog="companion",
        description="Two numbers to set on a manual telescope mount, and a way to the target.",
        epilog=_EPILOG,
        parents=[home_options()],
    )
    which = parser.add_mutually_exclusive_group()
    which.add_argument("--demo", action="store_true", help="open the demo evening")
    which.add_argument("--site", metavar="NAME", help="open at this site")
    parser.add_argument("--full-screen", action="store_true", help="hide the desktop")
    parser.add_argument("--version", action="version", version=f"companion {__version__}")
    parser.add_argument(
        "--print-completion",
        action=PrintCompletion,
        choices=SHELLS,
        metavar="SHELL",
        help=f"print what completes words in the shell: {', '.join(SHELLS)}",
    )
    commands = parser.add_subparsers(
        dest="command", metavar="COMMAND", parser_class=OneLineParser, title="text commands"
    )
    _add_about(commands)
    _add_aim(commands)
    _add_align(commands)
    _add_aurora(commands)
    _add_compass(commands)
    _add_elements(commands)
    _add_events(commands)
    _add_find(commands)
    _add_journal(commands)
    _add_mark(commands)
    _add_way(commands)
    _add_tonight(commands)
    _add_order(commands)
    _add_road(commands)
    _add_rehearse(commands)
    _add_program(commands)
    return parser


if TYPE_CHECKING:
    _Commands = argparse._SubParsersAction[OneLineParser]  # noqa: SLF001 - it has no public name


def _add_about(commands: "_Commands") -> None:
    parser = commands.add_parser(
        "about",
        help="what a target is, and what an instrument shows of it",
        parents=[home_options(), place_options(), night_options(), json_option()],
    )
    parser.add_argument("target", metavar="TARGET", help="a name, number or position")
    parser.add_argument(
        "--longitude",
        type=float,
        metavar="DEG",
        help="when this longitude of Jupiter (System II) or Mars crosses the middle of the disk",
    )


def _add_aim(commands: "_Commands") -> None:
    parser = commands.add_parser(
        "aim",
        help="altitude and azimuth of targets",
        parents=[home_options(), place_options(), json_option()],
    )
    parser.add_argument("targets", nargs="*", metavar="TARGET", help="a name, number or position")
    parser.add_argument("--requests", metavar="FILE", help="JSON lines to answer, - for stdin")
    parser.add_argument("--demo", action="store_true", help="answer for the demo queue")


class _Predict(argparse.Action):
    """``--predict`` begins a prediction; an ``--at`` after it belongs to it."""

    def __call__(
        self,
        parser: argparse.ArgumentParser,  # noqa: ARG002
        namespace: argparse.Namespace,
        values: object,
        option_string: str | None = None,
    ) -> None:
        asked = list(namespace.predict or [])
        if option_string == "--predict":
            asked.append((str(values), None))
        elif asked:
            asked[-1] = (asked[-1][0], str(values))
        else:
            namespace.at = values
        namespace.predict = asked


def _add_align(commands: "_Commands") -> None:
    parser = commands.add_parser(
        "align",
        help="fit a mount's dials to sightings",
        parents=[home_options(), place_options(at_action=_Predict), json_option()],
    )
    parser.add_argument("sightings", metavar="SIGHTINGS.csv", help="what was sighted and read")
    parser.add_argument("--mount", metavar="FILE|NAME", help="a mount's TOML file, or its name")
    parser.add_argument(
        "--predict", action=_Predict, metavar="TARGET", help='a name, or "83.63 22.01 deg"'
    )


def _add_aurora(commands: "_Commands") -> None:
    parser = commands.add_parser(
        "aurora",
        help="whether an aurora can be seen from here",
        parents=[home_options(), place_options(), json_option()],
    )
    given = parser.add_mutually_exclusive_group()
    given.add_argument("--kp", metavar="K", help="the planetary index as published: 5, 5+, 4.33")
    given.add_argument("--kp-file", metavar="FILE", help="the index as published, in a file")


def _add_compass(commands: "_Commands") -> None:
    commands.add_parser(
        "compass",
        help="true north by the compass",
        parents=[home_options(), place_options(), json_option()],
    )


def _add_elements(commands: "_Commands") -> None:
    parser = commands.add_parser(
        "elements",
        help="read and keep the orbits of comets, minor planets and satellites",
        parents=[home_options(), json_option()],
    )
    parser.add_argument("files", nargs="+", metavar="FILE", help="one-line, two-line, OMM or JSON")


def _add_events(commands: "_Commands") -> None:
    parser = commands.add_parser(
        "events",
        help="what the sky brings in the days to come; Jupiter's moons and satellites for ten",
        parents=[home_options(), place_options(), night_options(), json_option()],
    )
    parser.add_argument("--days", type=count, default=30, metavar="N", help="so many days ahead")
    parser.add_argument("--kinds", metavar="KINDS", help="such as eclipses,conjunction,meteors")
    parser.add_argument("--calendar", metavar="FILE", help="write them as iCalendar")


def _add_find(commands: "_Commands") -> None:
    parser = commands.add_parser(
        "find", help="what is called so", parents=[home_options(), json_option()]
    )
    parser.add_argument("text", metavar="TEXT", help="a name, number or position")
    parser.add_argument("--limit", type=count, default=12, metavar="N", help="at most so many")


def _add_journal(commands: "_Commands") -> None:
    parser = commands.add_parser(
        "journal",
        help="copy the journal, look through it, bring back what was damaged, write it out",
        parents=[home_options(), json_option()],
    )
    parser.add_argument(
        "action",
        choices=("copy", "check", "rescue", "write"),
        help="a whole copy; what cannot be read; what was set aside; .csv, .jsonl or .txt",
    )
    parser.add_argument("file", nargs="?", metavar="FILE", help="where to copy or write it")


def _add_mark(commands: "_Commands") -> None:
    parser = commands.add_parser(
        "mark",
        help="tick a target off in the journal",
        parents=[home_options(), place_options(), json_option()],
    )
    parser.add_argument("target", metavar="TARGET", help="a name, number or position")
    parser.add_argument("outcome", choices=("found", "not_seen", "skipped"))
    parser.add_argument("--note", default="", metavar="TEXT", help="a note to keep with it")
    parser.add_argument(
        "--instrument", metavar="NAME", help="eye, 10x50, 150, or one of your own; else the last"
    )
    parser.add_argument(
        "--eyepiece", metavar="NAME", help="the one that was in, as yours is called"
    )


def _add_way(commands: "_Commands") -> None:
    parser = commands.add_parser(
        "way",
        help="how to get to a target by eye and finder",
        parents=[home_options(), place_options(), night_options(), fist_option(), json_option()],
    )
    parser.add_argument(
        "target", nargs="?", metavar="TARGET", help="a name, number or position; or only --from"
    )
    parser.add_argument(
        "--from", dest="from_group", metavar="GROUP", help="begin at this star group"
    )
    parser.add_argument("--field", metavar="D", help="true field of the finder in degrees")
    parser.add_argument(
        "--view", choices=("upright", "turned", "mirrored"), help="how the finder shows the sky"
    )


def _add_tonight(commands: "_Commands") -> None:
    parser = commands.add_parser(
        "tonight",
        help="what is worth aiming at tonight",
        parents=[home_options(), place_options(), night_options(), json_option()],
    )
    parser.add_argument("--kinds", metavar="KINDS", help="such as planets,galaxies,double")
    parser.add_argument("--constellations", metavar="NAMES", help="such as And,Cassiopeia")
    parser.add_argument("--lowest", type=float, default=0.0, metavar="DEG", help="altitude at best")
    parser.add_argument("--unseen", action="store_true", help="only what was never found before")
    parser.add_argument("--round", metavar="KEY", help="a ready-made round: visitors, messier, ...")
    parser.add_argument("--limit", type=count, default=20, metavar="N", help="at most so many")


def _add_order(commands: "_Commands") -> None:
    parser = commands.add_parser(
        "order",
        help="the best order of a list tonight",
        parents=[home_options(), place_options(), night_options(), json_option()],
    )
    parser.add_argument(
        "list", metavar="LIST", help="names or positions as text or CSV, - for stdin"
    )
    parser.add_argument(
        "--start", metavar="TIME", help="when to begin, with its date if not tonight; else at dusk"
    )
    parser.add_argument("--end", metavar="TIME", help="when to stop; else at dawn")
    parser.add_argument("--minutes", type=float, default=8.0, metavar="M", help="at each target")
    parser.add_argument("--calendar", metavar="FILE", help="write the plan as iCalendar")
    parser.add_argument("--table", metavar="FILE", help="write the plan as CSV")


def _add_road(commands: "_Commands") -> None:
    parser = commands.add_parser(
        "road",
        help="what a beginner learns next, here and tonight",
        parents=[home_options(), place_options(), night_options(), fist_option(), json_option()],
    )
    parser.add_argument("--overcast", action="store_true", help="clouds hide the sky")


def _add_rehearse(commands: "_Commands") -> None:
    parser = commands.add_parser(
        "rehearse",
        help="questions about this evening's sky, to practise indoors",
        parents=[home_options(), place_options(), night_options(), fist_option(), json_option()],
    )
    parser.add_argument("--questions", type=count, default=8, metavar="N", help="how many")
    parser.add_argument("--seed", type=int, default=0, metavar="S", help="the same seed asks alike")


def _add_program(commands: "_Commands") -> None:
    parser = commands.add_parser(
        "program",
        help="an evening for visitors: targets, times, and what is said",
        parents=[home_options(), place_options(), night_options(), fist_option(), json_option()],
    )
    parser.add_argument("--targets", type=count, default=6, metavar="N", help="how many")
    parser.add_argument("--minutes", type=float, default=10.0, metavar="M", help="for each")
    parser.add_argument(
        "--axis",
        type=float,
        metavar="METRES",
        help="height of the mount's altitude axis: how high the eyepiece stands is told then",
    )
    parser.add_argument("--visitors", action="store_true", help="the sheet that they take home")
    parser.add_argument("--sheet", metavar="FILE", help="print that sheet as PDF, black on white")
