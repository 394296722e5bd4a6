"""Lists of targets from anywhere: names or positions, one a line, and a word on what is unclear."""

from dataclasses import dataclass, field, replace

import numpy as np

from companion.advice import AdviceError
from companion.night.choose.filters import kinds_named
from companion.night.lists.rows import MOST_LINES, ListRow, count_lines, rows_of
from companion.night.lists.text_file import LIST_LIMITS, decode
from companion.night.progress import Progress, go_on
from companion.sky import (
    Kind,
    SearchIndex,
    Target,
    Understood,
    constellation_of,
    parse_direction,
    place_target,
    separation_deg,
    unit_vectors,
)

_MOST_SEARCHED = 200  # names that nothing is called exactly; each takes the search some time
_SAME_PLACE_DEG = 0.5  # a known name with a position farther off is somebody's own object
_EVERY = 1000  # lines between words on how far it is


@dataclass(frozen=True, slots=True)
class ListEntry:
    """One target of a list; minutes and value are None where the list has none."""

    target: Target
    line: int
    minutes: float | None = None
    value: float | None = None
    note: str = ""


@dataclass(frozen=True, slots=True)
class ImportedList:
    """What was understood, and a line for each that was not: nothing is dropped silently."""

    entries: tuple[ListEntry, ...]
    report: tuple[str, ...]
    lines: int

    @property
    def targets(self) -> tuple[Target, ...]:
        """The targets in the order of the list."""
        return tuple(entry.target for entry in self.entries)


def read_list(
    data: bytes | str,
    search: SearchIndex,
    progress: Progress | None = None,
) -> ImportedList:
    """Read a list in text or CSV.

    Names are those of the catalogue, exactly, or with one slip in a longer word, which the report
    says; several things of a name, or none, are reported and left out. Positions are ICRS right
    ascension and declination, decimal right ascension in degrees unless its column is called
    ``ra_h``. A name with a position that the catalogue does not know is an object of one's own.
    Columns may be called name, ra, dec, magnitude, kind, note, minutes, value; other columns are
    passed over.

    Parameters
    ----------
    data : bytes or str
        The file, in whatever encoding and with whatever separator.
    search : SearchIndex
        Knows the names; slips are looked for in the first 200 different texts only.
    progress : callable, optional
        Takes the part that is done; gives False to stop.

    Raises
    ------
    AdviceError
        If the file is too large to be a list.
    Cancelled
        If ``progress`` says so.
    """
    text = decode(data, LIST_LIMITS)
    lines = count_lines(text)
    if lines > MOST_LINES:
        raise AdviceError(
            f"This list has {lines} lines, more than {MOST_LINES}.",
            "Split it; nobody sees more in a lifetime.",
            "Nothing was read.",
        )
    reader = _Reader(search)
    for count, row in enumerate(rows_of(text)):
        if count % _EVERY == 0:
            go_on(progress, min(row.number / max(lines, 1), 1.0))
        reader.take(row)
    go_on(progress, 1.0)
    return ImportedList(tuple(_placed(reader.entries)), tuple(reader.report), lines)


@dataclass(slots=True)
class _Reader:
    """Takes one row after the other."""

    search: SearchIndex
    entries: list[ListEntry] = field(default_factory=list)
    report: list[str] = field(default_factory=list)
    lines_of: dict[str, int] = field(default_factory=dict)
    searched: dict[str, Understood | str] = field(default_factory=dict)

    def take(self, row: ListRow) -> None:
        """Understand a row, or report it."""
        try:
            found = self._under_heading(row) if row.values else self._bare(row)
        except AdviceError as error:
            self.report.append(f"Line {row.number}: “{row.text}” left out. {error.wrong}")
            return
        minutes, value = self._number(row, "minutes"), self._number(row, "value")
        for target in found:
            first = self.lines_of.setdefault(target.key, row.number)
            if first != row.number:
                self.report.append(
                    f"Line {row.number}: {target.name} is in line {first} already; left out."
                )
                continue
            note = row.values.get("note", "")
            self.entries.append(ListEntry(target, row.number, minutes, value, note))

    def _under_heading(self, row: ListRow) -> list[Target]:
        values = row.values
        if known := self.search.lookup(values.get("key", "")):
            return [known]
        hours = "ra hours" in values
        ra, dec = values.get("ra hours" if hours else "ra"), values.get("dec")
        name = values.get("name", "")
        if ra and dec:
            place = _direction(ra + "h" if hours and _is_number(ra) else ra, dec)
            return [self._at_place(name, place, row)]
        return [self._named(name or row.text, row)]

    def _bare(self, row: ListRow) -> list[Target]:
        """Understand a line without a heading: a name, a position, or a name with one."""
        cells = row.cells
        exact = [self.search.lookup(cell) for cell in cells]
        if all(exact):
            return [target for target in exact if target is not None]
        if len(cells) == 1:
            alone = parse_direction(cells[0]) if cells[0][0].isdigit() else None
            return [place_target(*alone) if alone else self._named(cells[0], row)]
        for at in (0, 1):  # a position alone, or after a name
            pair = cells[at : at + 2]
            if len(pair) == 2 and all(cell[0].isdigit() or cell[0] in "+-−" for cell in pair):
                name = cells[0] if at else ""
                return [self._at_place(name, _direction(*pair), row)]
        return [exact[0] or self._named(cells[0], row)]

    def _named(self, text: str, row: ListRow) -> Target:
        known = self.search.lookup(text)
        if known is not None:
            return known
        if text not in self.searched:
            if len(self.searched) >= _MOST_SEARCHED:
                raise AdviceError("Nothing is called exactly so.", "Write it as catalogues do.")
            try:
                self.searched[text] = self.search.understand(text)
            except AdviceError as error:
                self.searched[text] = error.wrong
        answer = self.searched[text]
        if isinstance(answer, str):
            raise AdviceError(answer, "Write it as catalogues do.")
        if answer.taken_for:
            self.report.append(f"Line {row.number}: “{text}” taken for {answer.taken_for}.")
        return answer.target

    def _at_place(self, name: str, place: tuple[float, float], row: ListRow) -> Target:
        """Give the known target of that name and place, or make one's own object."""
        known = self.search.lookup(name)
        if known is not None and _is_near(known, place):
            return known
        if not name:
            return place_target(*place)
        return Target(
            key=f"own:{name}",
            name=name,
            kind=_kind(row.values.get("kind", "")),
            ra_deg=place[0],
            dec_deg=place[1],
            magnitude=self._number(row, "magnitude"),
            note=row.values.get("note", ""),
        )

    def _number(self, row: ListRow, role: str) -> float | None:
        text = row.values.get(role, "")
        if not text:
            return None
        if not _is_number(text):
            self.report.append(
                f"Line {row.number}: {role} “{text[:20]}” is not a number; not used."
            )
            return None
        return _number_of(text)


def _direction(ra: str, dec: str) -> tuple[float, float]:
    """Read a position from its two cells; plain numbers are degrees, with any decimals."""
    if _is_number(ra) and _is_number(dec):
        ra_deg, dec_deg = _number_of(ra), _number_of(dec)
        if not (0.0 <= ra_deg <= 360.0 and abs(dec_deg) <= 90.0):
            place_target(ra_deg, dec_deg)  # says in words that this is not in the sky
        return ra_deg, dec_deg
    signed = dec if dec[:1] in {"+", "-", "−"} else f"+{dec}"
    place = parse_direction(f"{ra} {signed}")
    if place is None:
        raise AdviceError("It holds no position.", "Write 05 35.3 and -05 23, or 83.82 and -5.39.")
    return place


def _number_of(text: str) -> float:
    return float(text.replace(",", ".").replace("−", "-"))


def _is_number(text: str) -> bool:
    try:
        value = _number_of(text)
    except ValueError:
        return False
    return abs(value) < 1e9  # refuses NaN and infinity too


def _is_near(known: Target, place: tuple[float, float]) -> bool:
    if known.ra_deg is None or known.dec_deg is None:
        return False
    there, here = unit_vectors(known.ra_deg, known.dec_deg), unit_vectors(*place)
    return float(separation_deg(there, here)) < _SAME_PLACE_DEG


def _kind(text: str) -> Kind:
    try:
        kinds = kinds_named(text)
    except AdviceError:
        return Kind.OTHER
    return next(iter(kinds)) if len(kinds) == 1 else Kind.OTHER


def _placed(entries: list[ListEntry]) -> list[ListEntry]:
    """Fill in the constellations of one's own objects, all at once."""
    own = [at for at, entry in enumerate(entries) if entry.target.key.startswith("own:")]
    if not own:
        return entries
    ra = np.array([entries[at].target.ra_deg for at in own], dtype=np.float64)
    dec = np.array([entries[at].target.dec_deg for at in own], dtype=np.float64)
    done = list(entries)
    for at, constellation in zip(own, constellation_of(ra, dec).tolist(), strict=True):
        target = replace(entries[at].target, constellation=constellation)
        done[at] = replace(entries[at], target=target)
    return done
