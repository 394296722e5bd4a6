"""``companion align``: fit a mount's dials to sightings, question them, and predict readings."""

import argparse
import re
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from companion.advice import AdviceError
from companion.commands.context import Context
from companion.commands.output import in_words, write, write_error, write_json, write_table
from companion.commands.place import given_site, given_time
from companion.instant import BrightSky
from companion.journal import JournalError, from_plain
from companion.mount import (
    PLAIN_MOUNT,
    Alignment,
    Doubt,
    Mount,
    Residual,
    Sighting,
    SightingRow,
    examine,
    parameter_words,
    parse_sightings,
    read_mount,
    shown,
    trust_words,
    trusted,
    undetermined_words,
)
from companion.sky import Site, Target, TargetTable, place_target, signed_text
from companion.untrusted import Limits, read_file, text_of

_NO_NUMBERS = "There are no numbers for it while the sightings contradict each other."
_LIMITS = Limits("a table of sightings", 8_000_000, kept="No sighting was taken.")
_DEGREES = re.compile(r"\s*([-+]?[\d.]+)\s+([-+]?[\d.]+)\s*deg\s*\Z", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Fitted:
    """Everything that the answer is made from."""

    site: Site
    alignment: Alignment
    doubts: tuple[Doubt, ...]
    report: tuple[str, ...]


def run(context: Context, options: argparse.Namespace) -> int:
    """Print parameters, residuals, questioned sightings and predictions; 1 if a line failed."""
    site = given_site(context, vars(options))
    fitted = _fitted(context, site, _mount(context, options.mount), options.sightings)
    predictions = [
        _prediction(context, fitted, text, at or options.at) for text, at in options.predict or []
    ]
    if options.json:
        write_json(_as_dict(fitted) | {"predictions": predictions})
    else:
        _print(fitted, predictions)
    failed = any("error" in prediction for prediction in predictions)
    for line in fitted.report:
        write_error(line)
    return 1 if failed or fitted.report else 0


def _mount(context: Context, name: str | None) -> Mount:
    """Give the mount of a file or of a remembered name; plain dials where none is named."""
    if name is None:
        return PLAIN_MOUNT
    known = [plain for plain in context.settings.mounts if plain.get("name") == name]
    if known:
        try:
            return from_plain(Mount, known[0])
        except JournalError as error:
            raise AdviceError(
                f"The mount {name[:60]!r} can't be read any more.", error.do
            ) from error
    return read_mount(Path(name))


def _fitted(context: Context, site: Site, mount: Mount, name: str) -> Fitted:
    table = parse_sightings(_text_of(name), mount)
    sightings, report = [], list(table.report)
    for row in table.rows:
        try:
            sightings.append(_sighting(context, site, row))
        except AdviceError as error:
            report.append(f"line {row.line}: {in_words(error)}")
    if not sightings:
        raise AdviceError(
            " ".join(["No sighting could be used.", *report[:3]]),
            "Give rows of utc,target,azimuth_reading_deg,altitude_reading_deg.",
        )
    sky = BrightSky(context.ephemeris)
    doubts = examine(mount, sightings, lambda utc: sky.at(site, utc), site.latitude_deg)
    return Fitted(site, trusted(mount, sightings, doubts), doubts, tuple(report))


def _text_of(name: str) -> str:
    return text_of(read_file(name, _LIMITS))


def _sighting(context: Context, site: Site, row: SightingRow) -> Sighting:
    """Compute where a row's target stood when it was sighted."""
    target = _row_target(context, row)
    azimuth_deg, altitude_deg = _place(context, site, target, row.utc)
    return Sighting(
        row.utc,
        row.target or target.name,
        target.key,
        azimuth_deg,
        altitude_deg,
        row.azimuth_reading_deg,
        row.altitude_reading_deg,
        sigma_deg=row.sigma_deg,
        number=row.line,
    )


def _row_target(context: Context, row: SightingRow) -> Target:
    if row.target:
        return context.search.resolve(row.target)
    return place_target((row.ra_deg or 0.0) % 360.0, row.dec_deg or 0.0)


def _place(context: Context, site: Site, target: Target, utc: datetime) -> tuple[float, float]:
    seen = context.ephemeris.moment(site, utc).horizontal(TargetTable.of([target], utc))
    return float(seen.azimuth_deg[0]), float(seen.altitude_deg[0])


def _prediction(context: Context, fitted: Fitted, text: str, at: str | None) -> dict[str, object]:
    """Give the readings for one target, or say why there are none."""
    try:
        utc = given_time(context, fitted.site, at)
        degrees = _DEGREES.match(text)
        target = (
            place_target(float(degrees[1]) % 360.0, float(degrees[2]))
            if degrees
            else context.search.resolve(text)
        )
        place = _place(context, fitted.site, target, utc)
    except AdviceError as error:
        return {"target": text[:200], "error": in_words(error)}
    except ValueError:
        return {
            "target": text[:200],
            "error": 'It is not a position. Give it as "83.63 22.01 deg".',
        }
    aim = fitted.alignment.aim(*place)
    if not aim.known and fitted.doubts:
        return {"target": text, "error": _NO_NUMBERS}
    return {
        "target": text,
        "utc": _utc(utc),
        "azimuth_reading_deg": aim.azimuth_reading_deg,
        "altitude_reading_deg": aim.altitude_reading_deg,
        "radius95_deg": aim.fit_radius95_deg,  # of the readings as printed, unrounded
        "radius95_as_set_deg": aim.radius95_deg,  # with both dials set to their own steps
        "azimuth_deg": place[0],
        "altitude_deg": place[1],
    }


def _utc(utc: datetime) -> str:
    return utc.astimezone(UTC).isoformat().replace("+00:00", "Z")


def _as_dict(fitted: Fitted) -> dict[str, object]:
    alignment = fitted.alignment
    questioned = {one.number for doubt in fitted.doubts for one in doubt.sightings}
    return {
        "mount": alignment.mount.name,
        "words": trust_words(alignment, None),
        "parameters": {
            name: {
                "value_deg": one.value_deg,
                "sigma_deg": one.sigma_deg,
                "prior_sigma_deg": one.prior_sigma_deg,
                "determined": one.determined,
            }
            for name, one in alignment.parameters.items()
        },
        "residuals": [_residual_dict(one, questioned, alignment) for one in alignment.residuals],
        "questioned": [_doubt_dict(doubt) for doubt in fitted.doubts],
        "report": list(fitted.report),
    }


def _residual_dict(
    residual: Residual, questioned: set[int], alignment: Alignment
) -> dict[str, object]:
    return {
        "line": residual.sighting.number,
        "target": residual.sighting.name,
        "utc": _utc(residual.sighting.utc),
        "azimuth_deg": residual.azimuth_deg,
        "altitude_deg": residual.altitude_deg,
        "on_sky_deg": residual.on_sky_deg,
        "questioned": residual.sighting.number in questioned,
        "used": residual.sighting in alignment.used,
    }


def _doubt_dict(doubt: Doubt) -> dict[str, object]:
    return {
        "kind": str(doubt.kind),
        "targets": [one.name for one in doubt.sightings],
        "lines": [one.number for one in doubt.sightings],
        "wrong": doubt.wrong,
        "do": doubt.do,
        "would_fit": [
            {"target": one.name, "key": one.key, "residual_deg": one.off_deg} for one in doubt.fits
        ],
        "hours": doubt.hours,
        "readings_exchanged": doubt.exchanged,
    }


def _print(fitted: Fitted, predictions: list[dict[str, object]]) -> None:
    """Print for a person."""
    alignment = fitted.alignment
    write(f"{alignment.mount.name}: {trust_words(alignment, None)}")
    for name, one in alignment.parameters.items():
        known = "" if one.determined else "  not known yet"
        write(f"  {parameter_words(name)}: {one.value_deg:+.2f}° ± {one.sigma_deg:.2f}°{known}")
    if undetermined_words(alignment):
        write(undetermined_words(alignment))
    write_table(
        ("sighting", "altitude off", "azimuth off"),
        [
            (one.sighting.name, _off(one.altitude_deg), _off(one.azimuth_deg))
            for one in alignment.residuals
        ],
    )
    for doubt in fitted.doubts:
        write(f"{doubt.kind}: {doubt.wrong} {doubt.do}")
    for answer in predictions:
        write(_prediction_line(alignment.mount, answer))


def _off(degrees: float | None) -> str:
    return "not read" if degrees is None else f"{signed_text(degrees, 2)}°"


def _prediction_line(mount: Mount, answer: dict[str, object]) -> str:
    if "error" in answer:
        return f"{answer['target']}: {answer['error']}"
    azimuth = shown(mount.azimuth, float(str(answer["azimuth_reading_deg"])))
    altitude = shown(mount.altitude, float(str(answer["altitude_reading_deg"])))
    return (
        f"{answer['target']} at {answer['utc']}: altitude {altitude.text}, azimuth {azimuth.text}, "
        f"95% within {float(str(answer['radius95_as_set_deg'])):.2f}°"
    )
