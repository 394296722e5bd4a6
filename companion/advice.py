"""Errors that a person can act on."""


class AdviceError(Exception):
    """Something outside the program is wrong, and the text says what to do about it.

    A bug of ours is never an ``AdviceError``: those reach the one handler in ``app`` and ``cli``.

    Parameters
    ----------
    wrong : str
        What was wrong, with the valid range where there is one.
    do : str
        The next step for the person.
    kept : str, optional
        What was kept or stays as it was.
    """

    def __init__(self, wrong: str, do: str, kept: str = "") -> None:
        self.wrong = wrong
        self.do = do
        self.kept = kept
        super().__init__(" ".join(part for part in (wrong, kept, do) if part))


def check_within(
    what: str,
    value: float,
    low: float,
    high: float,
    unit: str = "",
    *,
    do: str = "",
    kept: str = "",
) -> None:
    """Refuse a value outside its range, NaN included.

    Parameters
    ----------
    what : str
        What the value is: "latitude".
    value, low, high : float
        In the unit.
    unit : str, optional
        As it follows a number: "°", " m".
    do, kept : str, optional
        As in ``AdviceError``; without ``do`` a value within the range is asked for.

    Raises
    ------
    AdviceError
        If it is outside.
    """
    if not low <= value <= high:
        raise AdviceError(
            f"The {what} {value:g}{unit} is outside {low:g}{unit} to {high:g}{unit}.",
            do or f"Give a {what} within that range.",
            kept,
        )
