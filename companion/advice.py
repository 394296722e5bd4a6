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
