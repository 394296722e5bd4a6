"""A horizon from typed or measured points, with a word on each that could not be taken as is."""

import csv
from dataclasses import dataclass
from itertools import pairwise

from companion.advice import AdviceError
from companion.night.lists.text_file import decode, sniffed_delimiter
from companion.untrusted import Limits, read_file

LOWEST_DEG, HIGHEST_DEG = 0.0, 90.0
WIDEST_GAP_DEG = 30.0  # a wider one is bridged all the same, and said
_LIMITS = Limits(
    "a horizon",
    2_000_000,
    kept="The horizon is as it was.",
    do="Type points as 0 5, 90 12, or the whole path of a CSV file; 360 points are enough.",
)
_MOST_POINTS = 100_000
_LONGEST_LINE = 1000  # characters


@dataclass(frozen=True, slots=True)
class ImportedHorizon:
    """Points fit for ``Site.horizon``, and what was done to get them."""

    points: tuple[tuple[float, float], ...]
    report: tuple[str, ...]


def read_horizon(data: bytes | str) -> ImportedHorizon:
    """Read lines of azimuth and altitude in degrees, in any order, with or without a heading.

    Altitudes below 0° become 0°, above 90° become 90°; azimuths are brought to 0° to 360°; of
    several altitudes at one azimuth the highest counts. Each such change is reported.

    Raises
    ------
    AdviceError
        If not one line holds two numbers.
    """
    text = decode(data, _LIMITS)
    report: list[str] = []
    found: dict[float, float] = {}
    mark = sniffed_delimiter(text)
    for number, line in enumerate(text.splitlines(), start=1):
        cells = _cells(line, mark)
        if not cells or cells[0].startswith("#"):
            continue
        if (point := _numbers(cells)) is None:
            report += _unread(number, cells, first=not found and not report)
            continue
        _take(found, number, point, report)
        if len(found) > _MOST_POINTS:
            raise AdviceError(
                f"This horizon has more than {_MOST_POINTS} points.",
                "Give one every degree or so: 360 are enough.",
            )
    if not found:
        raise AdviceError(
            "No line of this horizon holds an azimuth and an altitude.",
            "Give two numbers a line, such as 135,12 for 12° of trees in the south-east.",
            "The horizon is as it was.",
        )
    points = tuple(sorted(found.items()))
    return ImportedHorizon(points, (*report, *_gaps(points)))


def read_horizon_file(path: str) -> ImportedHorizon:
    """Read the horizon of a file by its path as typed; see ``read_horizon``.

    Raises
    ------
    AdviceError
        If it cannot be read, or holds no horizon.
    """
    return read_horizon(read_file(path, _LIMITS))


def _cells(line: str, mark: str) -> list[str]:
    """Part a line by itself, so that a stray quote or an endless field spoils one line only."""
    try:
        row = next(csv.reader([line[:_LONGEST_LINE]], delimiter=mark), [])
    except csv.Error:
        row = line[:_LONGEST_LINE].split(mark)
    return [cell.strip() for cell in row if cell.strip()]


def _numbers(cells: list[str]) -> tuple[float, float] | None:
    """Read the first two cells; a degree sign and a comma for the point are understood."""
    if len(cells) == 1:
        cells = cells[0].split()
    if len(cells) < 2:
        return None
    try:
        azimuth, altitude = (float(cell.rstrip("° ").replace(",", ".")) for cell in cells[:2])
    except ValueError:
        return None
    finite = abs(azimuth) < 1e6 and abs(altitude) < 1e6  # refuses NaN and infinity too
    return (azimuth, altitude) if finite else None


def _unread(number: int, cells: list[str], *, first: bool) -> list[str]:
    """Report a line without two numbers; a heading is none of them."""
    if first and not any(character.isdigit() for character in "".join(cells)):
        return []
    return [f"Line {number}: “{' '.join(cells)[:60]}” has no azimuth and altitude; left out."]


def _take(
    found: dict[float, float], number: int, point: tuple[float, float], report: list[str]
) -> None:
    """Put one point in its place, reporting what had to be changed."""
    azimuth, altitude = point
    if not 0.0 <= azimuth < 360.0:
        report.append(f"Line {number}: azimuth {azimuth:g}° taken as {azimuth % 360.0:g}°.")
    azimuth %= 360.0
    inside = min(max(altitude, LOWEST_DEG), HIGHEST_DEG)
    if inside != altitude:
        report.append(f"Line {number}: altitude {altitude:g}° taken as {inside:g}°.")
    if azimuth in found and found[azimuth] != inside:
        kept = max(found[azimuth], inside)
        report.append(f"Line {number}: azimuth {azimuth:g}° is given again; {kept:g}° is kept.")
    found[azimuth] = max(found.get(azimuth, LOWEST_DEG), inside)


def _gaps(points: tuple[tuple[float, float], ...]) -> list[str]:
    """Name the stretches without a point that a straight line bridges."""
    if len(points) == 1:
        return [f"Only one point: the horizon is {points[0][1]:g}° all round."]
    around = [azimuth for azimuth, _altitude in points]
    around.append(around[0] + 360.0)
    return [
        f"No point between {low:g}° and {high % 360.0:g}°: joined by a straight line."
        for low, high in pairwise(around)
        if high - low > WIDEST_GAP_DEG
    ]
