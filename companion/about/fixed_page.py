"""The page of what stands still among the stars, from what the catalogue has."""

from companion.about.record import About, AboutQuestion, Figures
from companion.about.words import figures, light_time
from companion.sky import Kind, kind_text

LIGHT_YEAR_S = 31557600.0
_PARSEC_LY = 3.26156
_STARS = frozenset({Kind.STAR, Kind.DOUBLE, Kind.VARIABLE})


def fixed_page(question: AboutQuestion) -> About:
    """Tell of a star or a deep-sky object; what is not known is left out."""
    target = question.target
    distance = _PARSEC_LY * 1000.0 / target.parallax_mas if target.parallax_mas > 1.0 else None
    says = [f"{target.name} is a {kind_text(target.kind)}."]
    if distance is not None:
        says.append(f"It is {figures(distance)} light years away.")
        says.append(f"Its light left it {light_time(distance * LIGHT_YEAR_S)} ago.")
    size = target.major_arcmin
    return About(
        target=target,
        utc=question.utc,
        instrument=question.instrument,
        figures=Figures(
            distance_ly=distance,
            light_time_s=None if distance is None else distance * LIGHT_YEAR_S,
            diameter_arcsec=None if size is None or target.kind in _STARS else size * 60.0,
            magnitude=target.magnitude,
        ),
        says=tuple(says),
    )
