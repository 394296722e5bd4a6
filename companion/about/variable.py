"""A variable star with a period: what it is doing now, and what can be seen next from here."""

import math
from datetime import UTC, datetime, timedelta

from companion.about.record import AboutQuestion, VariablePage
from companion.about.tables import Epoch, load_tables
from companion.about.words import a
from companion.sky import Ephemeris, TargetTable, VariableStar, clock_text, zone_of

_J2000_JD, _J2000 = 2451545.0, datetime(2000, 1, 1, 12, tzinfo=UTC)
_LOWEST_DEG, _SUN_BELOW_DEG = 10.0, -6.0
_MOST_PERIODS, _MOST_DAYS = 60, 800.0
_DAY_HOURS = range(-12, 12, 3)


def variable_page(
    ephemeris: Ephemeris, star: VariableStar, question: AboutQuestion
) -> VariablePage | None:
    """Give the next minimum and maximum that stand high in a dark sky here.

    None where the star keeps no period, or no epoch of it is known.
    """
    epoch = load_tables().epochs.get(star.hip)
    if epoch is None:
        return None
    least = epoch.of == "minimum"
    seen = _next_seen(ephemeris, question, epoch, 0.0)
    other = None
    if epoch.rise is not None:  # the minimum lies so long before the maximum
        other = _next_seen(ephemeris, question, epoch, -epoch.rise * epoch.period_days)
    return VariablePage(
        magnitude_now=_now(star, epoch, question.utc),
        next_minimum_utc=seen if least else other,
        next_maximum_utc=None if least else seen,
        uncertain_days=epoch.uncertain_days,
    )


def _now(star: VariableStar, epoch: Epoch, utc: datetime) -> float | None:
    """Give the magnitude where the form of the curve is known; a straight line in each part."""
    jd = _J2000_JD + (utc - _J2000) / timedelta(days=1)
    last, coming = epoch.after(jd)
    if epoch.width_days is not None:
        nearest = min(jd - last, coming - jd)
        deep = max(1.0 - nearest / (epoch.width_days / 2.0), 0.0)
        return round(star.brightest + deep * (star.faintest - star.brightest), 1)
    if epoch.rise is None:
        return None
    phase, fall = (jd - last) / (coming - last), 1.0 - epoch.rise
    down = phase / fall if phase < fall else (1.0 - phase) / epoch.rise
    return round(star.brightest + down * (star.faintest - star.brightest), 1)


def _next_seen(
    ephemeris: Ephemeris, question: AboutQuestion, epoch: Epoch, shift_days: float
) -> datetime | None:
    """Find the next one that can be seen from here."""
    start = _J2000_JD + (question.utc - _J2000) / timedelta(days=1)
    _first, last = ephemeris.mover("sun").holds
    jd = start - shift_days
    for _ in range(min(_MOST_PERIODS, math.ceil(_MOST_DAYS / epoch.period_days))):
        jd = epoch.after(jd)[1]
        utc = _J2000 + timedelta(days=jd + shift_days - _J2000_JD)
        if utc + timedelta(days=1) > last:
            return None
        # What is known to the day alone is looked for in that day's night.
        hours = _DAY_HOURS if epoch.uncertain_days > 1.0 else (0,)
        if any(_can_be_seen(ephemeris, question, utc + timedelta(hours=h)) for h in hours):
            return utc
    return None


def _can_be_seen(ephemeris: Ephemeris, question: AboutQuestion, utc: datetime) -> bool:
    moment = ephemeris.moment(question.site, utc)
    if moment.body("sun").altitude_airless_deg > _SUN_BELOW_DEG:
        return False
    table = TargetTable.of([question.target], utc)
    return float(moment.horizontal(table).altitude_deg[0]) > _LOWEST_DEG


def variable_words(
    star: VariableStar, page: VariablePage | None, question: AboutQuestion
) -> list[str]:
    """Say how it varies, and what comes next by the site's own clocks."""
    period = f" in {star.period_days:g} days" if star.period_days else ""
    said = [
        (
            f"It is {a(star.type)} and changes from magnitude {star.brightest:.1f} to "
            f"{star.faintest:.1f}{period}."
        )
    ]
    if page is None:
        return said
    if page.magnitude_now is not None:
        said.append(f"It should be near magnitude {page.magnitude_now:.1f} now.")
    for what, utc in (("minimum", page.next_minimum_utc), ("maximum", page.next_maximum_utc)):
        if utc is not None:
            local = utc.astimezone(zone_of(question.site.time_zone))
            hours = page.uncertain_days * 24.0
            at = f" {clock_text(local)}" if hours < 48.0 else ""
            doubt = f"{hours:.0f} hours" if hours < 48.0 else f"{page.uncertain_days:.0f} days"
            said.append(
                f"Its next {what} that can be seen from here: {local:%Y-%m-%d}{at}, give or take "
                f"{doubt}."
            )
    return said
