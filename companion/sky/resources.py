"""Where the data files that the program carries are found."""

from pathlib import Path

_HERE = Path(__file__).resolve()
# Inside the package where it is installed; beside it in a checkout.
_PLACES = (_HERE.parents[1] / "resources", _HERE.parents[2] / "resources")


def resource(name: str) -> Path:
    """Give the path of a data file under ``resources/``.

    Parameters
    ----------
    name : str
        Path below ``resources/``, with forward slashes.

    Raises
    ------
    FileNotFoundError
        If the installation lacks the file.
    """
    for place in _PLACES:
        path = place / name
        if path.is_file():
            return path
    raise FileNotFoundError(f"The data file {name} is missing from {_PLACES[0]}.")
