"""Steps through binoculars and the telescope: each takes the thing that stands best now."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from companion.finding import azimuth_altitude_deg, face_words, stand_words, ways_to
from companion.road.evening import Evening
from companion.road.tell_sky import too_bright
from companion.road.telling import HIDDEN, TOO_SOON, Telling, Waiting


@dataclass(frozen=True, slots=True)
class Choice:
    """Things of one sort, the best first, and what is said of them.

    ``dark`` is whether they need a dark sky, ``by_way`` whether the way there is part of it.
    """

    keys: tuple[str, ...]
    looks: str
    what: str
    check: str
    dark: bool = False
    by_way: bool = True


# Which thing of each sort a beginner sees best: common practice, no source.
_CHOICES: Final = {
    "cluster-eye": Choice(
        ("ngc:Mel022", "ngc:NGC2632", "ngc:NGC6475", "ngc:NGC3532", "ngc:IC2602", "hip:20894",
         "hip:15863", "hip:102098", "hip:76267"),
        "A small crowd of stars; count how many you see without glass.",
        "Stars of one birth, still together.",
        "Another night, find it without help and count again.",
    ),
    "wide-double": Choice(
        ("hip:65378", "hip:95947", "hip:72622", "hip:20894", "hip:91919", "hip:100064",
         "hip:85819", "hip:26241", "hip:82514"),
        "Two points where the eye sees one: say which is the brighter, and both colours.",
        "Some such pairs belong together, others only stand in one line.",
        "Another night, find it again and say on which side the fainter one stands.",
    ),
    "open-cluster": Choice(
        ("ngc:Mel022", "ngc:NGC2632", "ngc:NGC6475", "ngc:NGC0869", "ngc:NGC3532", "ngc:NGC2287",
         "ngc:NGC1039", "ngc:NGC7092", "ngc:NGC6405", "ngc:NGC2168", "ngc:NGC6633", "ngc:IC4665"),
        "A swarm of points, the more the longer you look: count them twice.",
        "Stars of one birth, a few hundred million years old.",
        "Another night, find it without help and count again.",
        dark=True,
    ),
    "averted": Choice(
        ("ngc:NGC0224", "ngc:NGC6205", "ngc:NGC5139", "ngc:NGC6656", "ngc:NGC5272", "ngc:NGC2682",
         "ngc:NGC1904", "ngc:NGC7078", "ngc:NGC5904", "ngc:NGC6341", "ngc:NGC0104"),
        "A small grey patch: look a little beside it, and it grows.",
        "The edge of the eye's field sees faint light better than its middle.",
        "Another night, say how much larger it is when you look beside it.",
        dark=True,
    ),
    "galaxy": Choice(
        ("ngc:NGC0224", "ngc:NGC3031", "ngc:NGC5128", "ngc:NGC0253", "ngc:NGC0598", "ngc:NGC4594",
         "ngc:NGC5194"),
        "Small and grey: an oval glow without an edge.",
        "It is another galaxy; its light left millions of years ago.",
        "Another night, go there in two steps without help.",
        dark=True,
    ),
    "three-hops": Choice(
        ("ngc:NGC2682", "ngc:NGC1912", "ngc:NGC6705", "ngc:NGC7654", "ngc:NGC3114", "ngc:NGC6633",
         "ngc:NGC2168", "ngc:NGC5272", "ngc:NGC6341", "ngc:NGC5904"),
        "A faint swarm at the end of three steps, each shorter than the field.",
        "Who can go back the same way is never lost.",
        "Another night, go there and back without help.",
        dark=True,
    ),
    "split-double": Choice(
        ("hip:95947", "hip:9640", "hip:50583", "hip:36850", "hip:71683", "hip:60718", "hip:65378",
         "hip:8832", "hip:91919", "hip:67927"),
        "At low power one star or two? Raise the power until they part.",
        "Two suns: many such pairs go round each other.",
        "Another night, say beforehand which power parts them.",
    ),
    "globular": Choice(
        ("ngc:NGC5139", "ngc:NGC0104", "ngc:NGC6205", "ngc:NGC6656", "ngc:NGC5272", "ngc:NGC7078",
         "ngc:NGC5904", "ngc:NGC1904", "ngc:NGC2808"),
        "Small and grey, a ball of light: the edge falls into points when you wait.",
        "Some hundred thousand stars, older than the Sun.",
        "Another night, say whether its middle or its edge falls into stars first.",
        dark=True,
    ),
    "dial-hop": Choice(
        ("ngc:NGC6720", "ngc:NGC6853", "ngc:NGC2392", "ngc:NGC7662", "ngc:NGC3242", "ngc:NGC6543",
         "ngc:NGC3918", "ngc:NGC7009", "ngc:NGC2022"),
        "Small and grey, a little disc or ring: known by the stars beside it on the chart.",
        "The shell of a star that has ended.",
        "Another night, prove by its field that you have it.",
        dark=True,
    ),
}  # fmt: skip


def choice(key: str) -> Callable[[Evening], Telling | Waiting]:
    """Give the builder of a step that takes the best of one sort of things."""
    return lambda evening: _told(evening, _CHOICES[key])


def _told(evening: Evening, sort: Choice) -> Telling | Waiting:
    if sort.dark and not evening.is_dark:
        return too_bright(evening)
    if evening.faintest < 3.0:
        return Waiting("Too few stars are out.", evening.season.when_dark())
    best = evening.best_of(sort.keys)
    if best is None:
        targets = tuple(evening.catalogue.target(key) for key in sort.keys)
        until = evening.season.when(targets, 28.0, faint=sort.dark)
        return Waiting("Nothing of the sort stands well now.", until)
    target, place = best
    azimuth_deg, altitude_deg = azimuth_altitude_deg(place.vector)
    ways = ways_to(evening.stars, place, most=1).ways if sort.by_way else ()
    return Telling(
        azimuth_deg,
        altitude_deg,
        (
            f"{face_words(place.vector)}: {target.name} stands {stand_words(place.vector)}.",
            *(way.sentence for way in ways),
            sort.looks,
            sort.what,
        ),
        sort.check,
        TOO_SOON if sort.dark else HIDDEN,
        target.key,
        target.name,
    )


def _at_a_bright_star(
    evening: Evening, sentences: tuple[str, ...], check: str
) -> Telling | Waiting:
    """Give a step that any bright star will do for."""
    rows = evening.bright(2.2)
    if not rows:
        return Waiting("No bright star is out.", evening.season.when_dark())
    vector, name = evening.stars.vectors[rows[0]], evening.stars.names[rows[0]]
    azimuth_deg, altitude_deg = azimuth_altitude_deg(vector)
    first = f"{face_words(vector)}: {name} stands {stand_words(vector)}."
    key = f"hip:{int(evening.stars.hip[rows[0]])}"
    return Telling(azimuth_deg, altitude_deg, (first, *sentences), check, HIDDEN, key)


def hold_binoculars(evening: Evening) -> Telling | Waiting:
    """Hold and focus binoculars, each eye by itself."""
    return _at_a_bright_star(
        evening,
        (
            "Close the right eye and focus with the middle wheel; then the left, with its ring.",
            "Elbows on a wall or the car's roof. In focus the star is a point.",
        ),
        "Another night, have both eyes sharp within a minute.",
    )


def tripod(evening: Evening) -> Telling | Waiting:
    """See what a tripod changes."""
    return _at_a_bright_star(
        evening,
        (
            "Count the stars of one field, binoculars held; then on a tripod or a broomstick.",
            "Held still, about a magnitude more is seen.",
        ),
        "Another night, guess beforehand how many stars the tripod adds.",
    )


def low_power(evening: Evening) -> Telling | Waiting:
    """Begin with the longest eyepiece."""
    return _at_a_bright_star(
        evening,
        (
            "The eyepiece with the largest number first: the widest view, the brightest image.",
            "Centre it, focus until it is a point, take your hands off and wait three seconds.",
        ),
        "Another night, have a star sharp and centred within two minutes.",
    )


def pushing(evening: Evening) -> Telling | Waiting:
    """Know which way to push."""
    return _at_a_bright_star(
        evening,
        (
            "Let it drift out of the view: where it goes out is west.",
            "The view is turned or mirrored: push the tube, and see which way the star goes.",
        ),
        "Another night, bring a star back to the middle at the first push.",
    )


def set_up(_evening: Evening) -> Telling | Waiting:
    """Set the telescope down by day."""
    return Telling(
        None,
        None,
        (
            "By day: firm ground, the mount level, the tube outside an hour before it is used.",
            "Align the finder on something at least a kilometre away, never anywhere near the Sun.",
            "Cover the telescope while the Sun is up: a glance at the Sun through it blinds.",
        ),
        "Another day, do it without help in a quarter of an hour.",
        "The finder shows another place? Turn its screws until both show the same.",
    )


def first_list(evening: Evening) -> Telling | Waiting:
    """Make a list of twelve, then lead another person."""
    return _at_a_bright_star(
        evening,
        (
            "Choose twelve for one night: three by eye, four by binoculars, five by telescope.",
            "Take what stands low in the west first. Then lead another person through it.",
        ),
        "Lead somebody who knows nothing to your own group.",
    )
