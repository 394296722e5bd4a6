"""The fields of a place that the night asks for: how dark its sky is, and its horizon."""

import re
from dataclasses import replace
from typing import TYPE_CHECKING

from companion.advice import AdviceError
from companion.live import Severity, SkyCount, count_stars
from companion.sky import Site
from companion.window.forms.prompt_sheet import Prompt

if TYPE_CHECKING:
    from companion.live import Evening

SKY_HELP = (
    "How dark it is overhead without Moon: a brightness meter's reading (21.3), the faintest star "
    "that you see there (5.8), a Bortle class (Bortle 4), or how many stars you count inside a "
    "figure, not its corners (9 in the Great Square). Empty: unknown, an ordinary countryside sky "
    "is taken."
)
HORIZON_HELP = (
    "What stands around: azimuth and altitude of points, parted by commas: 0 5, 90 12, 180 3. "
    "Between them it runs straight. Or the path of a CSV file with two numbers in each line. "
    "Empty: open all round."
)
_KEPT = "What was known before is kept."
_BORTLE = re.compile(r"\s*b(?:ortle)?\s*(?:class\s*)?(\d)\s*$")
_COUNT = re.compile(
    r"\s*(\d{1,4})\s*(?:stars?\s*)?in(?:side)?\s+(?:the\s+)?(\S.*?)\s*$", re.IGNORECASE
)
_DARKEST_STAR = 9.0  # greater numbers are a meter's
_GAP = "No point between"
_LONGEST = 60_000  # a surveyed horizon takes some 20,000


def sky_words(site: Site) -> tuple[str, str]:
    """Say how dark the sky is, and what that means."""
    zenith = site.sky_brightness_mag_per_arcsec2
    if zenith is None:
        return "unknown", "21.0 is taken"
    from companion.night import bortle_class, naked_eye_limit

    faintest = float(naked_eye_limit(zenith))
    return f"{zenith:.1f} mag/″²", f"stars to {faintest:.1f}, Bortle {bortle_class(zenith)}"


def sky_text(site: Site) -> str:
    """Give the value as it can be typed."""
    zenith = site.sky_brightness_mag_per_arcsec2
    return "" if zenith is None else f"{zenith:.2f}"


def sky_prompt(evening: "Evening") -> Prompt:
    """Ask how dark the sky is; what a count of stars gives is said with its error."""

    def take(typed: str, _choice: int) -> None:
        site = evening.choices.site
        count = _COUNT.match(typed)
        if count is None:
            evening.sites.choose(with_sky(site, typed))
            return
        from companion.finding import find_group  # not before the first frame

        group, number = find_group(count[2]), int(count[1])

        def use(found: SkyCount) -> None:
            zenith_mag = round(found.zenith_mag, 3)
            now = evening.choices.site
            evening.sites.choose(replace(now, sky_brightness_mag_per_arcsec2=zenith_mag))
            evening.messages.say(Severity.NOTE, count_words(number, group.called, found), "sky")

        evening.ask("sky", lambda library: count_stars(library, group.key, number), use)

    return Prompt("Sky overhead", SKY_HELP, sky_text(evening.choices.site), take)


def count_words(count: int, figure: str, found: SkyCount) -> str:
    """Say what a count of stars says of the sky, and how sure that is."""
    return (
        f"{count} stars in {figure}: the faintest {found.limit_mag:.1f}, the sky "
        f"{found.zenith_mag:.1f} ± {found.error_mag:.1f} mag/″². Charts, lists and road follow."
    )


def with_sky(site: Site, text: str) -> Site:
    """Take the brightness of the sky as typed, in whichever measure.

    Raises
    ------
    AdviceError
        If it is none of the three, or out of its range.
    """
    from companion.night import zenith_brightness

    plain = text.casefold().strip().replace(",", ".")
    if not plain:
        return replace(site, sky_brightness_mag_per_arcsec2=None)
    bortle = _BORTLE.match(plain)
    if bortle:
        zenith = zenith_brightness(bortle=int(bortle[1]))
        return replace(site, sky_brightness_mag_per_arcsec2=zenith)
    number = re.match(r"[a-z:=. ]*?(\d+(?:\.\d+)?)", plain)
    if number is None:
        raise AdviceError(
            f"“{text.strip()[:40]}” is not a brightness of a sky.",
            "Type a brightness meter's 21.3, 5.8 for the faintest star, Bortle 4, or 9 in the "
            "Great Square.",
            _KEPT,
        )
    value = float(number[1])
    if value > _DARKEST_STAR:
        zenith = zenith_brightness(meter=value)
    else:
        zenith = zenith_brightness(limit_mag=value)
    return replace(site, sky_brightness_mag_per_arcsec2=round(zenith, 3))


def horizon_words(site: Site) -> tuple[str, str]:
    """Say what the horizon is like."""
    if not site.horizon:
        return "open", "all round"
    highest = max(site.horizon, key=lambda point: point[1])
    count = len(site.horizon)
    points = "one point" if count == 1 else f"{count} points"
    return points, f"up to {highest[1]:.0f}° at {highest[0]:.0f}°"


def horizon_prompt(evening: "Evening") -> Prompt:
    """Ask for the horizon, as points or as a file."""
    points = evening.choices.site.horizon
    text = ", ".join(f"{azimuth:g} {altitude:g}" for azimuth, altitude in points)

    def take(typed: str, _choice: int) -> None:
        site, report = with_horizon(evening.choices.site, typed)
        evening.sites.choose(site)
        if report:
            more = f" And {len(report) - 3} more remarks." if len(report) > 3 else ""
            said = " ".join(report[:3]) + more
            evening.messages.say(Severity.NOTE, f"Horizon taken. {said}", "horizon")

    return Prompt("Horizon", HORIZON_HELP, text, take, longest=_LONGEST)


def with_horizon(site: Site, typed: str) -> tuple[Site, tuple[str, ...]]:
    """Take the horizon from typed points or from the file of a typed path; give remarks, too.

    Raises
    ------
    AdviceError
        If there are no points, or the file cannot be read.
    """
    from companion.night import read_horizon, read_horizon_file

    if not typed.strip():
        return replace(site, horizon=()), ()
    looks_typed = not any(letter.isalpha() for letter in typed)
    if looks_typed:
        made = read_horizon("\n".join(part for part in re.split(r"[,;]", typed) if part.strip()))
    else:
        made = read_horizon_file(typed.strip().strip("\"'"))
    gaps = _GAP if looks_typed else "\0"  # somebody who types a few points knows of the gaps
    report = tuple(line for line in made.report if not line.startswith(gaps))
    return replace(site, horizon=made.points), report
