"""``companion aim``: altitude and azimuth of targets, now or at any time, here or anywhere."""

import argparse
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import UTC, datetime

from companion.advice import AdviceError
from companion.commands.context import Context
from companion.commands.output import in_words, write, write_json, write_remarked
from companion.commands.place import given_site, given_time
from companion.commands.remarks import heading, sun_caution
from companion.commands.requests import read_requests
from companion.sky import (
    Horizontal,
    Kind,
    MagneticZone,
    Moment,
    Site,
    Target,
    TargetTable,
    Understood,
    altitude_text,
    azimuth_text,
    magnetic_field,
)

_HEAD = ("target", "altitude", "azimuth", "compass")


@dataclass(frozen=True, slots=True)
class AimRequest:
    """One question: this target, from this site, at this moment."""

    label: object
    target: Target
    site: Site
    utc: datetime


def run(context: Context, options: argparse.Namespace) -> int:
    """Answer all targets of the command line, or all lines of a file; 1 if any of them failed."""
    if options.requests is not None:
        return _run_requests(context, options)
    return _run_targets(context, options)


def _run_targets(context: Context, options: argparse.Namespace) -> int:
    site, utc = _place_and_time(context, options)
    targets: list[object] = list(options.targets)
    if options.demo:
        targets += context.demo_queue
    if not targets:
        raise AdviceError("No target was named.", "Name one: companion aim saturn.")
    answers = [_answer_to(context, {"target": text}, site, utc) for text in targets]
    if options.json:
        for answer in answers:
            write_json(answer)
    else:
        write(heading(site, utc))
        rows = [_as_row(answer) for answer in answers]
        write_remarked(_HEAD, [row[:-1] for row in rows], [row[-1] for row in rows])
    return 1 if any("error" in answer for answer in answers) else 0


def _place_and_time(context: Context, options: argparse.Namespace) -> tuple[Site, datetime]:
    """Give place and time of the command line; the demo evening has its own."""
    values = vars(options)
    if options.demo:
        site = given_site(context, {"site": context.demo_site.name} | _given(values))
        return site, given_time(context, site, values.get("at") or context.demo_utc.isoformat())
    site = given_site(context, values)
    return site, given_time(context, site, options.at)


def _given(values: Mapping[str, object]) -> dict[str, object]:
    return {key: value for key, value in values.items() if value is not None}


def _run_requests(context: Context, options: argparse.Namespace) -> int:
    failed = False
    for answer in _request_answers(context, options):
        failed = failed or "error" in answer
        if options.json:
            write_json(answer)
        else:
            write(f"line {answer['line']}: {': '.join(part for part in _as_row(answer) if part)}")
    return 1 if failed else 0


def _request_answers(context: Context, options: argparse.Namespace) -> Iterator[dict[str, object]]:
    """Answer each line of the file; what a line leaves out comes from the command line."""
    defaults = _given(vars(options))
    for number, request in read_requests(options.requests):
        if isinstance(request, AdviceError):
            yield {"line": number, "target": None, "error": in_words(request)}
            continue
        values = dict(defaults)
        if "lat" in request or "lon" in request:
            values = {key: value for key, value in values.items() if key not in {"lat", "lon"}}
        yield _answer_to(context, values | _given(request), None, None) | {"line": number}


def _answer_to(
    context: Context,
    request: Mapping[str, object],
    site: Site | None,
    utc: datetime | None,
) -> dict[str, object]:
    """Answer one request, or say in words why it can't be answered."""
    label = request.get("target")
    try:
        place = given_site(context, request) if site is None else site
        moment = given_time(context, place, request.get("at")) if utc is None else utc
        meant = _understood(context, label)
        shown = label.name if isinstance(label, Target) else label
        answer = aim_answer(context, AimRequest(shown, meant.target, place, moment))
        return answer | ({"taken_for": meant.taken_for} if meant.taken_for else {})
    except AdviceError as error:
        return {"target": _short(label), "error": in_words(error)}


def _short(label: object) -> object:
    """Keep an answer readable whatever was asked for."""
    if isinstance(label, str):
        return label[:200]
    return label if len(str(label)) <= 200 else str(label)[:200]


def _understood(context: Context, label: object) -> Understood:
    """Find a target by name, or make one of ``{"ra_deg": …, "dec_deg": …}`` (ICRS)."""
    if isinstance(label, Target):
        return Understood(label)
    if isinstance(label, str) and label.strip():
        return context.search.understand(label)
    if isinstance(label, Mapping):
        ra, dec = label.get("ra_deg"), label.get("dec_deg")
        if _is_number(ra) and _is_number(dec) and abs(float(dec)) <= 90.0:  # type: ignore[arg-type]
            return Understood(_place_in_sky(float(ra) % 360.0, float(dec)))  # type: ignore[arg-type]
    raise AdviceError(
        "No target is named." if label is None else f"{str(label)[:60]!r} is not a target.",
        'Give a name, or {"ra_deg": 0 to 360, "dec_deg": -90 to 90} (ICRS).',
    )


def _is_number(value: object) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool) and abs(value) < 1e6


def _place_in_sky(ra_deg: float, dec_deg: float) -> Target:
    key = f"icrs:{ra_deg:.5f}{dec_deg:+.5f}"
    return Target(key, key.removeprefix("icrs:"), Kind.PLACE, ra_deg, dec_deg)


def aim_answer(context: Context, request: AimRequest) -> dict[str, object]:
    """Answer one request; the keys are documented in the README."""
    moment = context.ephemeris.moment(request.site, request.utc)
    table = TargetTable.of([request.target], request.utc)
    place, rates = moment.horizontal(table), moment.rates(table)
    azimuth_deg = float(place.azimuth_deg[0])
    field = magnetic_field(request.site, request.utc)
    blackout = field.zone is MagneticZone.BLACKOUT
    answer: dict[str, object] = {
        "target": request.label,
        "name": request.target.name,
        "utc": request.utc.astimezone(UTC).isoformat().replace("+00:00", "Z"),
        "altitude_deg": float(place.altitude_deg[0]),
        "altitude_airless_deg": float(place.altitude_airless_deg[0]),
        "azimuth_deg": azimuth_deg,
        "altitude_rate_arcsec_per_s": float(rates.altitude_arcsec_per_s[0]),
        "azimuth_rate_arcsec_per_s": float(rates.azimuth_arcsec_per_s[0]),
        "magnetic_bearing_deg": None if blackout else (azimuth_deg - field.declination_deg) % 360.0,
        "declination_deg": field.declination_deg,  # the name of before
        "magnetic_declination_deg": field.declination_deg,
        "declination_sigma_deg": field.declination_sigma_deg,
        "compass_zone": str(field.zone),
    }
    return answer | _remarks(context, request, moment, place, expired=field.expired)


def _remarks(
    context: Context, request: AimRequest, moment: Moment, place: Horizontal, *, expired: bool
) -> dict[str, object]:
    """Give what must not be overlooked: the Sun, and models that no longer hold."""
    remarks: dict[str, object] = {}
    caution = sun_caution(moment, float(place.azimuth_deg[0]), float(place.altitude_deg[0]))
    if caution:
        remarks["caution"] = caution
    if expired:
        remarks["declination_expired"] = True
    note = context.ephemeris.earth_note(request.utc)
    return remarks | ({"note": note} if note else {})


def _as_row(answer: Mapping[str, object]) -> tuple[str, ...]:
    """Write an answer for a person, a remark last: no numbers within reach of the Sun."""
    label = str(answer.get("name") or answer["target"] or "")
    if "error" in answer:
        return label, "", "", "", str(answer["error"])
    if "caution" in answer:
        return label, "", "", "", _joined(_taken(answer), f"withheld: {answer['caution']}")
    altitude, azimuth = float(str(answer["altitude_deg"])), float(str(answer["azimuth_deg"]))
    bearing = answer["magnetic_bearing_deg"]
    return (
        label,
        altitude_text(altitude) + "°",
        azimuth_text(azimuth, 0.1) + "°",
        "no compass" if bearing is None else azimuth_text(float(str(bearing)), 0.5) + "°",
        _joined(_taken(answer), "below the horizon" if altitude < 0 else ""),
    )


def _taken(answer: Mapping[str, object]) -> str:
    """Say what a misspelled name was taken for."""
    taken = answer.get("taken_for")
    return f'"{answer["target"]}" taken for {taken}' if taken else ""


def _joined(*parts: str) -> str:
    return "; ".join(filter(None, parts))
