"""``companion way``: how to get to a target by eye and finder, or where a star group leads."""

import argparse
from datetime import UTC, datetime
from typing import Final

from companion.advice import AdviceError
from companion.commands.context import Context
from companion.commands.night_given import conditions_of
from companion.commands.output import write, write_json
from companion.commands.place import given_site, given_time, number
from companion.commands.remarks import heading, sun_caution
from companion.finding import (
    Hop,
    Instrument,
    MapLead,
    Optics,
    Place,
    Viewing,
    Way,
    WayFinder,
    find_group,
    finder_limit,
    guide_map,
    hops_to,
    optics_of,
    viewing_text,
    ways_to,
)
from companion.journal import from_plain
from companion.night import EyeSky, eye_sky, find_instrument
from companion.sky import Moment, Target, ra_dec_of

VIEWS: Final = {
    "upright": Viewing.UPRIGHT,
    "turned": Viewing.TURNED,
    "mirrored": Viewing.MIRRORED,
}
_USUAL_FINDER: Final = Optics("finder", 8.0, 6.0, 6.25, 7.5, Viewing.TURNED)
_SMALLEST_FIELD_DEG, _LARGEST_FIELD_DEG = 0.01, 120.0
_WAY_FIELDS: Final = (
    "kind", "gap_deg", "extension_deg", "gaps", "distance_deg", "fists", "miss_deg", "side",
    "course", "bearing_deg", "sentence",
)  # fmt: skip
_HOP_FIELDS: Final = (
    "start_hip", "start_name", "hip", "name", "magnitude", "leg_deg", "fields", "view_angle_deg",
    "clock", "view", "push", "landmark", "azimuth_deg", "altitude_deg", "sentence",
)  # fmt: skip


def run(context: Context, options: argparse.Namespace) -> int:
    """Print the ways to a target, or the guide map of a group where no target is named.

    Raises
    ------
    AdviceError
        If target or group are unknown, or neither is named.
    """
    site = given_site(context, vars(options))
    utc = given_time(context, site, options.at)
    if options.target is None and options.from_group is None:
        raise AdviceError(
            "Neither a target nor a star group was named.",
            'Name one: companion way "M 31", or companion way --from dipper.',
        )
    moment = context.ephemeris.moment(site, utc)
    finder = WayFinder(context.catalogue, utc)
    sky = eye_sky(moment, conditions_of(site, options))
    if options.target is None:
        answer = _map_answer(context, moment, options.from_group, sky)
    else:
        optics = _optics(context, options)
        meant = context.search.understand(options.target)
        answer = _target_answer(finder, moment, meant.target, optics, options.from_group, sky)
        answer |= {"taken_for": meant.taken_for} if meant.taken_for else {}
    answer = {"eye_limit": round(sky.faintest, 2)} | answer
    if options.json:
        write_json({"site": site.name, "utc": _iso(utc)} | answer)
    else:
        write(heading(site, utc))
        _write_answer(answer)
    return 0


def _target_answer(  # noqa: PLR0917 - what was asked, and the sky it was asked under
    finder: WayFinder,
    moment: Moment,
    target: Target,
    optics: Optics,
    group_text: str | None,
    sky: EyeSky,
) -> dict[str, object]:
    """Give ways and hops to one target."""
    group = None if group_text is None else find_group(group_text)
    (place,) = finder.places(moment, (target,))
    longitude_deg, altitude_deg = ra_dec_of(place.vector)
    answer: dict[str, object] = {
        "key": target.key,
        "name": target.name,
        "azimuth_deg": float(-longitude_deg % 360.0),
        "altitude_deg": float(altitude_deg),
        "finder": {
            "name": optics.name,
            "field_deg": optics.field_deg,
            "viewing": str(optics.viewing),
        },
    }
    if caution := _caution(moment, place):
        nothing = {"ways": [], "ways_advice": "", "hops": [], "second": [], "hops_advice": ""}
        return answer | nothing | {"caution": caution}
    ways = ways_to(finder.guide_stars(moment, sky.limit), place, from_group=group)
    faintest = finder_limit(sky.faintest, optics)
    hops = hops_to(finder.field_stars(moment, faintest, sky.limit), place, optics)
    return answer | {
        "ways": [_way(way) for way in ways.ways],
        "ways_advice": ways.advice,
        "hops": [_hop(hop) for hop in hops.steps],
        "second": [_hop(hop) for hop in hops.second],
        "hops_advice": hops.advice,
    }


def _map_answer(
    context: Context, moment: Moment, group_text: str, sky: EyeSky
) -> dict[str, object]:
    """Give the guide map of one group."""
    found = guide_map(context.catalogue, moment, group_text, sky.limit)
    return {
        "group": found.group.name,
        "look_azimuth_deg": found.azimuth_deg,
        "look_altitude_deg": found.altitude_deg,
        "own_length_deg": found.own_deg,
        "facing": found.facing,
        "leads": [_lead(lead) for lead in found.leads],
        "binoculars": [_lead(lead) for lead in found.binoculars],
        "advice": found.advice,
        "instead": None if found.instead is None else found.instead.name,
    }


def _lead(lead: MapLead) -> dict[str, object]:
    return {
        "key": lead.target.key,
        "name": lead.target.name,
        "face_azimuth_deg": lead.face_azimuth_deg,
        "look_azimuth_deg": lead.azimuth_deg,
        "look_altitude_deg": lead.altitude_deg,
        "lengths": lead.lengths or None,
        "check": lead.check,
    } | _way(lead.way)


def _optics(context: Context, options: argparse.Namespace) -> Optics:
    """Give what the person finds with: the chosen instrument's widest view, or a usual finder."""
    optics = _USUAL_FINDER
    chosen = options.instrument or context.settings.instrument
    if chosen:
        own = tuple(from_plain(Instrument, plain) for plain in context.settings.instruments)
        optics = optics_of(find_instrument(chosen, own))[0]
    field_deg = optics.field_deg if options.field is None else number("field", options.field)
    if not _SMALLEST_FIELD_DEG <= field_deg <= _LARGEST_FIELD_DEG:
        raise AdviceError(
            f"A field of {field_deg:g}° is outside {_SMALLEST_FIELD_DEG:g}° to "
            f"{_LARGEST_FIELD_DEG:g}°.",
            "Give the true field of the finder; 5° to 7° is usual.",
        )
    viewing = optics.viewing if options.view is None else VIEWS[options.view]
    return Optics(
        optics.name,
        optics.magnification,
        field_deg,
        optics.exit_pupil_mm,
        optics.resolution_arcsec,
        viewing,
    )


def _caution(moment: Moment, place: Place) -> str:
    longitude_deg, altitude_deg = ra_dec_of(place.vector)
    return sun_caution(moment, -float(longitude_deg), float(altitude_deg))


def _way(way: Way) -> dict[str, object]:
    values: dict[str, object] = {name: getattr(way, name) for name in _WAY_FIELDS}
    values["kind"] = str(way.kind)
    values["stars"] = list(way.names)
    values["hip"] = list(way.stars)
    values["group"] = way.group.name if way.group else None
    values["first"] = _way(way.first) if way.first else None
    return values


def _hop(hop: Hop) -> dict[str, object]:
    return {name: getattr(hop, name) for name in _HOP_FIELDS}


def _write_answer(answer: dict[str, object]) -> None:
    """Write an answer for a person."""
    if taken := answer.get("taken_for"):
        write(f"taken for {taken}")
    if "leads" in answer:
        if facing := answer["facing"]:
            write(str(facing))
        _write_sentences(f"from {answer['group']}:", answer["leads"], str(answer["advice"]))
        if answer["binoculars"]:
            _write_sentences("then through binoculars:", answer["binoculars"], "")
        return
    if caution := answer.get("caution"):
        write(f"{answer['name']}: withheld, {caution}")
        return
    _write_sentences(f"by eye to {answer['name']}:", answer["ways"], str(answer["ways_advice"]))
    finder = answer["finder"]
    if isinstance(finder, dict):
        viewing = viewing_text(Viewing(finder["viewing"]))
        head = f"{finder['name']}, {finder['field_deg']:g}° field, {viewing}:"
        _write_sentences(head, answer["hops"], str(answer["hops_advice"]))
    if answer["second"]:
        _write_sentences("or else:", answer["second"], "")


def _write_sentences(head: str, found: object, advice: str) -> None:
    write(head)
    for one in found if isinstance(found, list) else []:
        write(f"  {one['sentence']}")
    if advice:
        write(f"  {advice}")


def _iso(utc: datetime) -> str:
    return utc.astimezone(UTC).isoformat().replace("+00:00", "Z")
