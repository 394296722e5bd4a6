"""The fields of an instrument, and those that can be chosen instead."""

from collections.abc import Callable
from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING

from companion.advice import AdviceError
from companion.finding import (
    Eyepiece,
    Finder,
    Instrument,
    InstrumentKind,
    Viewing,
    optics_of,
    viewing_text,
)
from companion.sky import angle_text
from companion.window.aim.words import NOTHING, Notice
from companion.window.forms.prompt_sheet import Prompt
from companion.window.forms.prompts import number_in
from companion.window.kit.record_page import OtherRecord, RecordFacts, RecordField

if TYPE_CHECKING:
    from companion.live import Evening

_NONE = Notice(
    "Choose what you look through.",
    "The aim then says in which field the target will be, and how long it stays there.",
)
_LONGEST_NAME = 60
_MOST_EYEPIECES = 12


def fields_of(instrument: Instrument) -> tuple[tuple[str, float], ...]:
    """Give name and diameter of every field, widest first; none for the eye or a poor record."""
    if instrument.kind is InstrumentKind.EYE:
        return ()
    try:
        return tuple((look.name, look.field_deg) for look in optics_of(instrument))
    except AdviceError:
        return ()


def instrument_facts(evening: "Evening") -> RecordFacts:
    """Give the page of the instrument in use and of those that can be chosen."""
    instrument = evening.choices.instrument
    return RecordFacts(
        "Instrument" if instrument is None else instrument.name,
        "none in particular" if instrument is None else _about(instrument),
        "Instruments to choose",
        () if instrument is None else _fields(evening, instrument),
        _choices(evening),
        _NONE if instrument is None else NOTHING,
    )


def _about(instrument: Instrument) -> str:
    widths = [f"{name} {angle_text(width)}" for name, width in fields_of(instrument)]
    return " · ".join([str(instrument.kind), *widths])


def _choices(evening: "Evening") -> tuple[OtherRecord, ...]:
    choose = evening.instruments.choose
    made = [
        OtherRecord(one.name, _short(one), partial(choose, one))
        for one in evening.instruments.known
    ]
    return (*made, OtherRecord("nothing", "in particular", partial(choose, None)))


def _short(instrument: Instrument) -> str:
    if instrument.focal_mm is not None:
        count = len(instrument.eyepieces)
        eyepieces = f"{count} eyepiece{'' if count == 1 else 's'}"
        return f"{instrument.kind}, {eyepieces}"
    return str(instrument.kind) if instrument.name != str(instrument.kind) else ""


Changed = Callable[[str], Instrument]


def _fields(evening: "Evening", one: Instrument) -> tuple[RecordField, ...]:
    fields = [
        _typed(
            evening,
            "NAME",
            "What you call it. Under another name it is kept beside the old one.",
            (one.name, ""),
            text=one.name,
            change=lambda text: replace(one, name=_name(text)),
        ),
        _typed(
            evening,
            "APERTURE",
            "The width of the front lens or mirror, in millimetres.",
            (f"{one.aperture_mm:g} mm", ""),
            text=f"{one.aperture_mm:g}",
            change=lambda text: replace(
                one, aperture_mm=number_in(text, "aperture", 1.0, 3000.0, " mm")
            ),
        ),
    ]
    fields += _own_fields(evening, one) if one.focal_mm is None else _tube_fields(evening, one)
    fields.append(_viewing(evening, "ITS VIEW IS", one.viewing, partial(_with_viewing, one)))
    return tuple(fields)


def _own_fields(evening: "Evening", one: Instrument) -> list[RecordField]:
    return [
        _typed(
            evening,
            "MAGNIFICATION",
            "How many times larger it shows things.",
            (f"{one.magnification:g}×", ""),
            text=f"{one.magnification:g}",
            change=lambda text: replace(
                one, magnification=number_in(text, "magnification", 1.0, 500.0, "×")
            ),
        ),
        _typed(
            evening,
            "FIELD",
            "How much of the sky it shows at once, across, in degrees.",
            (f"{one.field_deg:g}°", ""),
            text=f"{one.field_deg:g}",
            change=lambda text: replace(one, field_deg=number_in(text, "field", 0.05, 180.0, "°")),
        ),
        *([_holding(evening, one)] if one.kind is InstrumentKind.BINOCULARS else []),
    ]


def _holding(evening: "Evening", one: Instrument) -> RecordField:
    """Give a field that takes binoculars into the hand, or onto a tripod."""
    said = ("in the hand", "stars lose half a magnitude") if one.held else ("on a tripod", "")

    def turn() -> None:
        evening.instruments.choose(replace(one, held=not one.held))

    return RecordField("IT STANDS", *said, turn)


def _tube_fields(evening: "Evening", one: Instrument) -> list[RecordField]:
    focal = one.focal_mm or 0.0
    widths = dict(fields_of(one))
    fields = [
        _typed(
            evening,
            "FOCAL LENGTH",
            "Of the telescope, in millimetres: printed on its tube.",
            (f"{focal:g} mm", f"f/{focal / one.aperture_mm:.1f}"),
            text=f"{focal:g}",
            change=lambda text: replace(
                one, focal_mm=number_in(text, "focal length", 10.0, 30_000.0, " mm")
            ),
        ),
        *(_eyepiece(evening, one, at, widths) for at in range(len(one.eyepieces))),
    ]
    if len(one.eyepieces) < _MOST_EYEPIECES:
        fields.append(_eyepiece(evening, one, len(one.eyepieces), widths))
    return [*fields, *_finder_fields(evening, one)]


def _eyepiece(
    evening: "Evening", one: Instrument, at: int, widths: dict[str, float]
) -> RecordField:
    """Give the field of an eyepiece; the one after the last adds another."""
    new = at == len(one.eyepieces)
    known = None if new else one.eyepieces[at]
    text = "" if known is None else f"{known.focal_mm:g} {known.apparent_field_deg:g}"
    value = "add one" if known is None else known.name
    more = (
        ""
        if known is None or known.name not in widths
        else f"field {angle_text(widths[known.name])}"
    )
    return _typed(
        evening,
        "ANOTHER EYEPIECE" if new else f"EYEPIECE {at + 1}",
        "Its focal length in millimetres, then how wide its view looks, in degrees, where that is "
        "known: 25 52. Empty takes the eyepiece away.",
        (value, more),
        text=text,
        change=partial(_with_eyepiece, one, at),
    )


def _with_eyepiece(one: Instrument, at: int, text: str) -> Instrument:
    rest = (*one.eyepieces[:at], *one.eyepieces[at + 1 :])
    if not text.strip():
        return replace(one, eyepieces=rest)
    parts = text.replace("mm", " ").replace("°", " ").split()
    if len(parts) > 2:
        raise AdviceError(
            f"“{text.strip()[:40]}” is not an eyepiece.",
            "Give its focal length and the width of its view: 25 52.",
            "The eyepiece before is kept.",
        )
    focal = number_in(parts[0], "focal length", 1.0, 100.0, " mm")
    usual = one.eyepieces[at].apparent_field_deg if at < len(one.eyepieces) else 50.0
    wide = number_in(parts[1], "apparent field", 20.0, 130.0, "°") if len(parts) > 1 else usual
    made = Eyepiece(f"{focal:g} mm", focal, wide)
    if any(other.name == made.name for other in rest):
        raise AdviceError(
            f"There is a {made.name} already.", "Change that one.", "The eyepieces are kept."
        )
    kept = sorted((*rest, made), key=lambda eyepiece: -eyepiece.focal_mm)
    return replace(one, eyepieces=tuple(kept))


def _finder_fields(evening: "Evening", one: Instrument) -> list[RecordField]:
    finder = one.finder
    field = "" if finder is None else f"{finder.field_deg:g}"
    made = [
        _typed(
            evening,
            "FINDER",
            "How much of the sky the finder shows at once, across, in degrees: 6 for most. Empty: "
            "there is none.",
            ("none", "") if finder is None else (finder.name, f"field {finder.field_deg:g}°"),
            text=field,
            change=partial(_with_finder, one),
        )
    ]
    if finder is not None:
        turn = partial(_with_finder_viewing, one, finder)
        made.append(_viewing(evening, "FINDER VIEW", finder.viewing, turn))
    return made


def _with_finder(one: Instrument, text: str) -> Instrument:
    if not text.strip():
        return replace(one, finder=None)
    field = number_in(text, "field", 0.2, 60.0, "°")
    if one.finder is None:
        return replace(one, finder=Finder("finder", field))
    return replace(one, finder=replace(one.finder, field_deg=field))


def _with_finder_viewing(one: Instrument, finder: Finder, viewing: Viewing) -> Instrument:
    return replace(one, finder=replace(finder, viewing=viewing))


def _with_viewing(one: Instrument, viewing: Viewing) -> Instrument:
    return replace(one, viewing=viewing)


def _viewing(
    evening: "Evening", caption: str, now: Viewing, change: Callable[[Viewing], Instrument]
) -> RecordField:
    """Give a field that goes round the ways in which a view can stand."""
    ways = list(Viewing)
    following = ways[(ways.index(now) + 1) % len(ways)]

    def turn() -> None:
        evening.instruments.choose(change(following))

    return RecordField(caption, viewing_text(now), "", turn)


def _typed(
    evening: "Evening",
    caption: str,
    explanation: str,
    said: tuple[str, str],
    *,
    text: str,
    change: Changed,
) -> RecordField:
    def take(typed: str, _choice: int) -> None:
        made = change(typed)
        optics_of(made)  # says what makes no sense
        evening.instruments.choose(made)

    head = caption.capitalize()
    return RecordField(
        caption, *said, lambda: Prompt(head, explanation, text, take, longest=_LONGEST_NAME)
    )


def _name(text: str) -> str:
    name = " ".join(text.split())[:_LONGEST_NAME]
    if not name:
        raise AdviceError(
            "An instrument needs a name.", "Type one, or press esc.", "The name before is kept."
        )
    return name
