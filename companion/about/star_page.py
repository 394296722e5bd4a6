"""The page of a star: how far, how bright in truth, its colour, its companion, its changes."""

import math

from companion.about.comparison import Comparison, comparison, comparison_words
from companion.about.double import double_page, double_words
from companion.about.field_picture import comparison_picture
from companion.about.fixed_picture import outline_picture, pair_picture
from companion.about.picture import Picture
from companion.about.record import About, AboutQuestion, DoublePage, Figures, Kept
from companion.about.seeing_power import Power, caption_of, power_of
from companion.about.tables import load_tables
from companion.about.variable import variable_page, variable_words
from companion.about.view_turn import ViewTurn, fixed_turn
from companion.about.words import a, figures, light_time
from companion.sky import Ephemeris, VariableStar, kind_text, load_catalogue

LIGHT_YEAR_S = 31557600.0
_LY_OF_MAS = 3261.5638  # light years at a parallax of one milliarcsecond
_SUN_V = 4.83  # absolute magnitude of the Sun in V (IAU 2015, Mamajek et al.; from memory)
_SURE = 5.0  # parallax over its error from which a distance is told
_HALF_SURE = 2.0  # and from which it is said how far the star is at least
# Colours by B - V (common practice, no source).
_COLOURS = (
    (0.0, "blue-white"), (0.3, "white"), (0.6, "yellowish white"), (0.9, "yellow"),
    (1.4, "orange"), (9.9, "deep orange"),
)  # fmt: skip

# Surfaces of the classes (textbook, from memory).
_KELVIN = {
    "O": "over 30,000", "B": "10,000 to 30,000", "A": "7,500 to 10,000", "F": "6,000 to 7,500",
    "G": "5,000 to 6,000", "K": "3,700 to 5,000", "M": "2,400 to 3,700",
}  # fmt: skip


def star_page(ephemeris: Ephemeris, question: AboutQuestion, kept: Kept) -> About:
    """Tell of a star by its Hipparcos number; what is not known is left out.

    Raises
    ------
    AdviceError
        If an instrument cannot gather light or magnify.
    """
    target = question.target
    hip = int(target.key.partition(":")[2])
    catalogue, tables = load_catalogue(), load_tables()
    spectrum = tables.spectra.get(hip)
    distance, error = _distance(hip)
    luminosity = _luminosity(target.magnitude, distance)
    pair, varies = catalogue.names.doubles.get(hip), catalogue.names.variables.get(hip)
    double = None if pair is None else double_page(pair, question)
    if varies is not None and ("variable", *question.hour) not in kept:
        kept["variable", *question.hour] = variable_page(ephemeris, varies, question)
    variable = kept.get(("variable", *question.hour))
    power = power_of(question.instrument, question.conditions)
    beside = None if varies is None else _comparison(varies, question, power, kept)
    says = [f"{target.name} is {a(colour_word(target.colour_index) + kind_text(target.kind))}."]
    says += _distance_words(hip, distance, error)
    if luminosity is not None:
        says.append(f"In visible light it shines as {figures(luminosity)} Suns would.")
    says += [] if spectrum is None else [_spectrum_words(spectrum)]
    says += [] if double is None else double_words(double, question)
    says += [] if varies is None else variable_words(varies, variable, question)
    if varies is not None and beside is not None:
        says += comparison_words(varies, beside.stars, power)
    sources = {"distance": "Hipparcos, new reduction, van Leeuwen 2007"}
    if double is not None:
        sources["pair"] = tables.orbits[hip][1] if hip in tables.orbits else "from memory"
    if spectrum is not None:
        sources["spectral class"] = "Hipparcos, ESA 1997, through the package ephem"
    if variable is not None:
        sources["times"] = tables.epochs[hip].source
    return About(
        target=target,
        utc=question.utc,
        instrument=question.instrument,
        figures=Figures(
            distance_ly=distance,
            distance_error_ly=error,
            light_time_s=None if distance is None else distance * LIGHT_YEAR_S,
            magnitude=target.magnitude,
            luminosity_suns=luminosity,
        ),
        says=tuple(says),
        spectral_class=spectrum,
        double=double,
        picture=_picture(fixed_turn(ephemeris, question), question, power, double, beside),
        variable=variable,
        comparison_stars=() if beside is None else beside.stars,
        sources=sources,
    )


def _distance(hip: int) -> tuple[float | None, float | None]:
    """Give the distance and its error in light years, where the parallax is sure enough."""
    stars = load_catalogue().stars
    row = stars.row(hip)
    if row is None:
        return None, None
    parallax, error = float(stars.parallax_mas[row]), float(stars.parallax_error_mas[row])
    if parallax <= 0.0 or error <= 0.0 or parallax < _SURE * error:
        return None, None
    distance = _LY_OF_MAS / parallax
    return distance, distance * error / parallax


def _distance_words(hip: int, distance: float | None, error: float | None) -> list[str]:
    if distance is not None and error is not None:
        digits = 3 if error < 0.02 * distance else 2
        return [
            (
                f"It is {figures(distance, digits)} light years away, give or take "
                f"{figures(error, 1)}; its light left it {light_time(distance * LIGHT_YEAR_S)} ago."
            )
        ]
    stars = load_catalogue().stars
    row = stars.row(hip)
    if row is None or stars.parallax_error_mas[row] <= 0.0:
        return []
    most = max(float(stars.parallax_mas[row]), 0.0)
    most += _HALF_SURE * float(stars.parallax_error_mas[row])
    least = figures(_LY_OF_MAS / most, 1)
    return [f"It is too far for a sure measure of its distance: over {least} light years."]


def _spectrum_words(spectrum: str) -> str:
    return f"Its spectrum is of class {spectrum}: its surface has {_KELVIN[spectrum[0]]} kelvin."


def _luminosity(magnitude: float | None, distance_ly: float | None) -> float | None:
    """Give the light in V in Suns, without what dust may take on the way."""
    if magnitude is None or distance_ly is None:
        return None
    absolute = magnitude - 5.0 * math.log10(distance_ly / 32.615638)
    return float(10.0 ** (0.4 * (_SUN_V - absolute)))


def colour_word(colour_index: float | None) -> str:
    """Say the colour of a star by its B - V: "orange "; empty where nobody measured it."""
    if colour_index is None:
        return ""
    return next(word for most, word in _COLOURS if colour_index <= most or most > 9.0) + " "


def _comparison(
    star: VariableStar, question: AboutQuestion, power: Power, kept: Kept
) -> Comparison:
    """Look for the stars to compare with once an hour for each instrument."""
    key = ("comparison", question.instrument, question.conditions, *question.hour)
    if key not in kept:
        kept[key] = comparison(star, question, power)
    found: Comparison = kept[key]
    return found


def _picture(
    turn: ViewTurn,
    question: AboutQuestion,
    power: Power,
    double: DoublePage | None,
    beside: Comparison | None,
) -> Picture:
    """Draw the pair to scale, the stars to compare with, or the star in its field."""
    if beside is not None and beside.stars:
        return comparison_picture(beside, turn, question, power)
    if double is not None:
        return pair_picture(double, turn, caption_of(question.instrument, power.view))
    return outline_picture(
        question.target, turn, power, caption_of(question.instrument, power.views[0])
    )
