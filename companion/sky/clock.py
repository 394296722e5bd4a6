"""Whether a clock can be right."""

from datetime import UTC, datetime

# A machine that lost its clock starts in the past; nobody runs the program before it was made.
MADE_UTC = datetime(2026, 11, 1, tzinfo=UTC)
_LATEST_YEAR = 2040  # an honest clock will hardly meet this version then


def clock_doubt(utc: datetime) -> str:
    """Say why the present time as the machine tells it cannot be right; empty when it can."""
    if utc < MADE_UTC:
        return (
            f"The clock says {utc:%Y-%m-%d}, which is before this program was made. "
            "Set the machine's clock, or a correction in Place."
        )
    if utc.year >= _LATEST_YEAR:
        return (
            f"The clock says {utc:%Y-%m-%d}, which lies far ahead. "
            "Set the machine's clock, or a correction in Place."
        )
    return ""
