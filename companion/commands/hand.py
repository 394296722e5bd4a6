"""The hand that the lengths of a command are told by."""

import argparse

from companion.commands.context import Context
from companion.sky import HAND


def use_hand(context: Context, options: argparse.Namespace) -> None:
    """Take the width of the fist as it was given, else as the person's own was measured.

    Commands that tell no length by hand leave the settings unread.

    Raises
    ------
    AdviceError
        If no fist is as narrow or as wide.
    """
    if "fist" in options:
        HAND.use(context.settings.fist_deg if options.fist is None else options.fist)
