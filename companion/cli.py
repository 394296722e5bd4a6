"""The same answers as text and JSON: parse the words, run one command, print errors in a line."""

import argparse
import importlib
import logging
import os
import sys
from collections.abc import Sequence
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Protocol

from companion.command_line import command_line
from companion.commands import (
    OutputGone,
    flush_output,
    in_words,
    join_negative_values,
    leave_output,
    prepare_streams,
    write_error,
)

if TYPE_CHECKING:  # read when a command needs them
    from companion.charts import SheetSky
    from companion.road import Sheet


class _Command(Protocol):
    def __call__(self, options: argparse.Namespace) -> int: ...


def main(argv: Sequence[str] | None = None) -> int:
    """Run the program; give the exit code: 0 done, 1 failed, 2 wrong use."""
    prepare_streams()
    words = join_negative_values(sys.argv[1:] if argv is None else argv)
    try:
        options = _parsed(words)
        run: _Command = _open_window if options.command is None else _run_command
        code = run(options)
        flush_output()
    except OutputGone as gone:
        return leave_output(gone)
    except KeyboardInterrupt:
        return 1
    return code


def _parsed(words: Sequence[str]) -> argparse.Namespace:
    """Read the command line; help and the version are written before they end the program."""
    try:
        return command_line().parse_args(words)
    except SystemExit:
        flush_output()
        raise


def _run_command(options: argparse.Namespace) -> int:
    """Run a text command; what a person can mend is said in one line."""
    from companion.advice import AdviceError
    from companion.commands import Context, use_hand
    from companion.journal import JournalError, home_of
    from companion.sky import CARRIED

    logging.basicConfig(level=logging.WARNING, format="companion: %(message)s")
    command = importlib.import_module(f"companion.commands.{options.command}")
    try:
        home = home_of(getattr(options, "home", None), os.environ)
        with closing(Context(home, datetime.now(UTC), _print_sheet)) as context:
            CARRIED.use(context.elements)
            use_hand(context, options)
            code: int = command.run(context, options)
    except JournalError as error:
        write_error(str(error))
        return 1
    except AdviceError as error:
        write_error(in_words(error))
        return 1
    return code


def _print_sheet(path: Path, sheet: "Sheet", sky: "SheetSky") -> None:
    """Print a sheet for visitors: the one thing of the text commands that draws."""
    from companion.window import print_sheet

    print_sheet(path, sheet, sky)


def _open_window(options: argparse.Namespace) -> int:
    from companion.app import AppOptions, run

    return run(
        AppOptions(
            demo=options.demo,
            site_name=options.site,
            full_screen=options.full_screen,
            home=getattr(options, "home", None),
        )
    )
