"""What stands on a printed page, in words."""

from dataclasses import dataclass

from companion.charts import (
    ChartKind,
    Lens,
    PageTime,
    SkyFrame,
    SkyHop,
    SkyPage,
    in_field,
)
from companion.finding import viewing_text
from companion.sky import (
    altitude_text,
    angle_text,
    azimuth_text,
    clock_text,
    declination_text,
    right_ascension_text,
    zone_of,
    zone_text,
)
from companion.window.sky.words import (
    Passage,
    Walk,
    by_eye_passage,
    double_passage,
    drift_passage,
    found_words,
)

_REASONS = {
    PageTime.PLANNED: "its planned time",
    PageTime.NOW: "now",
    PageTime.BEST: "when it shows best",
    PageTime.UNSEEN: "now; not to be seen tonight",
}


@dataclass(frozen=True, slots=True)
class HoursRow:
    """A line of the table of times; ``own`` is the column of the page's own time."""

    caption: str
    cells: tuple[str, ...]
    own: int | None


def page_when(page: SkyPage) -> str:
    """Say which time the page is for, and why."""
    local = page.sky.utc.astimezone(zone_of(page.sky.site.time_zone))
    return f"{local:%Y-%m-%d} {clock_text(local)} {zone_text(local)}, {_REASONS[page.time]}"


def page_place(page: SkyPage) -> str:
    """Say where the catalogues have it; empty near the Sun."""
    if page.sky.caution:
        return ""
    ra, dec = right_ascension_text(page.ra_deg), declination_text(page.dec_deg)
    return f"RA {ra}, Dec {dec} (J2000{', at this time' if page.moves else ''})"


def page_night(page: SkyPage) -> str:
    """Say from when to when it can be seen; empty near the Sun."""
    return "" if page.sky.caution else f"tonight: {page.words}"


def page_hours(page: SkyPage) -> tuple[HoursRow, ...]:
    """Give the table of times: altitude, azimuth, and the dials' numbers where these are known."""
    if not page.hours:
        return ()
    zone = zone_of(page.sky.site.time_zone)
    own = next((at for at, hour in enumerate(page.hours) if hour.utc == page.sky.utc), None)
    dials = [hour.dials for hour in page.hours if hour.dials is not None]
    lines = [
        ("TIME", [clock_text(hour.utc.astimezone(zone)) for hour in page.hours]),
        ("ALTITUDE", [f"{altitude_text(hour.altitude_deg)}°" for hour in page.hours]),
        ("AZIMUTH", [f"{azimuth_text(hour.azimuth_deg, 0.1)}°" for hour in page.hours]),
    ]
    if len(dials) == len(page.hours):
        lines += [
            ("DIALS ALT", [dial.altitude for dial in dials]),
            ("DIALS AZ", [dial.azimuth for dial in dials]),
        ]
    return tuple(HoursRow(caption, tuple(cells), own) for caption, cells in lines)


def caption(sky: SkyFrame, lens: Lens) -> str:
    """Say under a printed chart what it shows, the most important first."""
    if lens.kind is ChartKind.WIDE:
        circle = f"circle: {angle_text(sky.finder.field_deg)} finder"
        return f"by eye, {viewing_text(lens.viewing)} · {circle}"
    name = lens.name
    if lens.kind is ChartKind.EYEPIECE and lens.optics is not None:
        name = f"{name} at {lens.optics.magnification:.0f}×"
    field = f"field {angle_text(lens.field_deg)}"
    return f"{name} · {viewing_text(lens.viewing)} · {field}"


def complete(lens: Lens) -> str:
    """Say to which magnitude every star is on a chart."""
    some = ", some fainter" if lens.star_limit > lens.complete_to else ""
    return f"all stars to magnitude {lens.complete_to:.1f}{some}"


def page_passages(sky: SkyFrame, lens: Lens, walk: Walk) -> tuple[Passage, ...]:
    """Give what a printed page of the target says: both ways whole, then what the field holds."""
    if sky.caution or sky.target is None:
        return (Passage("CAUTION", sky.caution),) if sky.caution else ()
    made = [by_eye_passage(sky, walk), double_passage(sky)]
    steps = sky.paths.hops
    made.append(Passage("BY FINDER", _all_steps(steps) if steps else sky.paths.hops_advice))
    made.append(Passage("OR ELSE", _all_steps(sky.paths.second)))
    field = in_field(sky, lens, sky.target.vector)
    made.append(Passage(f"IN THE FIELD, {lens.name}", "; ".join(map(found_words, field))))
    made.append(drift_passage(sky, lens, sky.target.vector))
    return tuple(passage for passage in made if passage.text)


def _all_steps(steps: tuple[SkyHop, ...]) -> str:
    """Give all steps of a route as numbered lines."""
    return "\n".join(
        f"{number}. {hop.sentence}" + (f" Dials then: {hop.readings}." if hop.readings else "")
        for number, hop in enumerate(steps, 1)
    )
