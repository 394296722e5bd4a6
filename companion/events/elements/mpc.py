"""The Minor Planet Center's one-line formats and its JSON, for comets and for minor planets.

Columns as published: "Format for comet orbital elements" (Ephemerides and Orbital Elements Format)
and "Export format for minor-planet orbits"; the fields of the JSON files by their names.
"""

import re
from collections.abc import Mapping

from companion.events.elements.fields import (
    julian_day,
    maybe,
    number,
    orbit,
    packed_day,
    perihelion_of_anomaly,
)
from companion.events.elements.record import Elements, Family, NoElementsError

_COMET = re.compile(r".{4}[PCDXAI].{9}[\d ]{4} [\d ]\d [\d ]\d\.")
_MINOR = re.compile(r".{7} .{11} [IJKL]\d\d[1-9A-C][1-9A-V] ")


# Columns, from 0, that are blank between those that hold something.
_COMET_BLANKS = (13, 18, 21, 29, 39, 40, 49, 50, 59, 60, 69, 70, 79, 80, 89, 90, 95, 100, 101)
_MINOR_BLANKS = (7, 13, 19, 25, 35, 36, 46, 47, 57, 58, 68, 69, 79, 91)


def is_comet(line: str) -> bool:
    """Tell whether a line has the columns of a comet."""
    return bool(_COMET.match(line))


def is_minor(line: str) -> bool:
    """Tell whether a line has the columns of a minor planet."""
    return bool(_MINOR.match(line))


def comet_of_line(line: str) -> Elements:
    """Read a comet.

    Raises
    ------
    NoElementsError
        If a column holds something else.
    """
    if len(line.rstrip()) < 103:
        raise NoElementsError("the line ends before its name")
    _check_blanks(line, _COMET_BLANKS)
    perihelion = julian_day(line[14:18], line[19:21], line[22:29])
    epoch = line[81:89].strip()
    return orbit(
        Family.COMET,
        _designation(line[102:158]),
        line[102:158],
        julian_day(epoch[:4], epoch[4:6], epoch[6:8]) if epoch else perihelion,
        {
            "perihelion_au": number(line[30:39], "perihelion distance"),
            "eccentricity": number(line[41:49], "eccentricity"),
            "argument_deg": number(line[51:59], "argument of perihelion"),
            "node_deg": number(line[61:69], "node"),
            "inclination_deg": number(line[71:79], "inclination"),
            "perihelion_jd": perihelion,
            "magnitude": maybe(line[91:95], "magnitude"),
            "slope": maybe(line[96:100], "slope"),
        },
    )


def _check_blanks(line: str, columns: tuple[int, ...]) -> None:
    """Refuse a line whose columns have slipped: its numbers would be read as others."""
    wrong = next((at for at in columns if line[at : at + 1].strip()), None)
    if wrong is not None:
        raise NoElementsError(f"column {wrong + 1} is not blank: its columns have slipped")


def _designation(name: str) -> str:
    """Give the designation of a name such as "C/1995 O1 (Hale-Bopp)" or "1P/Halley"."""
    first = name.strip()
    if re.match(r"\d+[PDI]/", first):
        return first.partition("/")[0] + _fragment(first)
    return first.partition("(")[0].strip()


def _fragment(name: str) -> str:
    """Give the fragment's letters of "73P-B/..." which stand before the stroke already."""
    found = re.match(r"\d+[PDI]/[^()]*-([A-Z]{1,2})\s*\Z", name)
    return f"-{found[1]}" if found else ""


def minor_of_line(line: str) -> Elements:
    """Read a minor planet.

    Raises
    ------
    NoElementsError
        If a column holds something else.
    """
    if len(line.rstrip()) < 103:
        raise NoElementsError("the line ends before its semimajor axis")
    _check_blanks(line, _MINOR_BLANKS)
    written = line[166:194].strip() or line[:7].strip()
    epoch = packed_day(line[20:25])
    eccentricity = number(line[70:79], "eccentricity")
    perihelion_au, perihelion_jd = perihelion_of_anomaly(
        number(line[92:103], "semimajor axis"),
        eccentricity,
        number(line[26:35], "mean anomaly"),
        epoch,
    )
    designation, name = minor_names(written)
    return orbit(
        Family.MINOR,
        designation,
        name,
        epoch,
        {
            "perihelion_au": perihelion_au,
            "eccentricity": eccentricity,
            "argument_deg": number(line[37:46], "argument of perihelion"),
            "node_deg": number(line[48:57], "node"),
            "inclination_deg": number(line[59:68], "inclination"),
            "perihelion_jd": perihelion_jd,
            "magnitude": maybe(line[8:13], "magnitude"),
            "slope": maybe(line[14:19], "slope"),
        },
    )


def minor_names(written: str) -> tuple[str, str]:
    """Part "(1) Ceres" into number and name."""
    found = re.match(r"\((\d+)\)\s*(.*)\Z", written.strip())
    if not found:
        return written.strip(), written.strip()
    return found[1], f"{found[1]} {found[2]}".strip()


def of_object(fields: Mapping[str, object]) -> Elements:
    """Read an object of the Center's JSON files.

    Raises
    ------
    NoElementsError
        If it is none of theirs, or a field holds something else.
    """
    if "Perihelion_dist" in fields:
        return _comet_of_object(fields)
    if "M" in fields and "Peri" in fields:
        return _minor_of_object(fields)
    raise NoElementsError("it has not the fields of a comet, a minor planet or a satellite")


def _angles(fields: Mapping[str, object]) -> dict[str, float]:
    return {
        "argument_deg": number(fields.get("Peri"), "argument of perihelion"),
        "node_deg": number(fields.get("Node"), "node"),
        "inclination_deg": number(fields.get("i"), "inclination"),
        "eccentricity": number(fields.get("e"), "eccentricity"),
    }


def _comet_of_object(fields: Mapping[str, object]) -> Elements:
    name = str(fields.get("Designation_and_name", ""))
    perihelion = julian_day(
        fields.get("Year_of_perihelion"),
        fields.get("Month_of_perihelion"),
        fields.get("Day_of_perihelion"),
    )
    epoch = [fields.get(f"Epoch_{part}") for part in ("year", "month", "day")]
    return orbit(
        Family.COMET,
        _designation(name),
        name,
        perihelion if None in epoch else julian_day(*epoch),
        {
            **_angles(fields),
            "perihelion_au": number(fields.get("Perihelion_dist"), "perihelion distance"),
            "perihelion_jd": perihelion,
            "magnitude": maybe(fields.get("H"), "magnitude"),
            "slope": maybe(fields.get("G"), "slope"),
        },
    )


def _minor_of_object(fields: Mapping[str, object]) -> Elements:
    numbered = str(fields.get("Number") or "").strip("() ")
    name = str(fields.get("Name") or fields.get("Principal_desig") or "")
    epoch = number(fields.get("Epoch"), "epoch")
    angles = _angles(fields)
    perihelion_au, perihelion_jd = perihelion_of_anomaly(
        number(fields.get("a"), "semimajor axis"),
        angles["eccentricity"],
        number(fields.get("M"), "mean anomaly"),
        epoch,
    )
    return orbit(
        Family.MINOR,
        numbered or name,
        f"{numbered} {name}".strip(),
        epoch,
        {
            **angles,
            "perihelion_au": perihelion_au,
            "perihelion_jd": perihelion_jd,
            "magnitude": maybe(fields.get("H"), "magnitude"),
            "slope": maybe(fields.get("G"), "slope"),
        },
    )
