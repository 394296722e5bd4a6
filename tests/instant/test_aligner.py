from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest

from companion.finding import Eyepiece, Finder, Instrument, InstrumentKind
from companion.instant import BrightSky, Choices, Examination, Snapshot, SnapshotBuilder, examined
from companion.mount import Dial, Mount, Sighting
from companion.sky import (
    LOON_BARRENS,
    Ephemeris,
    Target,
    TargetTable,
    horizontal_separation_deg,
    load_catalogue,
)

UTC_NOW = datetime(2026, 10, 10, 23, 14, tzinfo=UTC)
SEARCH_STEPS = 4  # snapshots until the best next star is known
ZERO_DEG = 23.5  # the dial's zero points at a bush
MOUNT = Mount("wooden", Dial(step_deg=1.0))
SCOPE = Instrument(
    "150 mm f/8",
    InstrumentKind.TELESCOPE,
    150.0,
    focal_mm=1200.0,
    eyepieces=(Eyepiece("25 mm", 25.0), Eyepiece("10 mm", 10.0)),
    finder=Finder("finder", 6.0),
)
VEGA, ARCTURUS, CAPELLA, ALTAIR, DENEB = (
    load_catalogue().star(hip) for hip in (91262, 69673, 24608, 97649, 102098)
)
SATURN = load_catalogue().target("body:saturn")


def sighting(ephemeris: Ephemeris, number: int, target: Target, seen: Target) -> Sighting:
    """Sight ``target``, while the tube really points at ``seen``."""
    utc = UTC_NOW - timedelta(minutes=30 - number)
    moment = ephemeris.moment(LOON_BARRENS, utc)
    places = moment.horizontal(TargetTable.of([target, seen], utc))
    azimuth, altitude = places.azimuth_deg.tolist(), places.altitude_deg.tolist()
    return Sighting(
        utc,
        target.name,
        target.key,
        azimuth[0],
        altitude[0],
        (azimuth[1] + ZERO_DEG) % 360.0,
        altitude[1] + 0.4,
        number=number,
    )


def choices(*sightings: Sighting, queue: tuple[Target, ...] = (VEGA, CAPELLA)) -> Choices:
    return Choices(
        stamp=1,
        site=LOON_BARRENS,
        target=VEGA,
        queue=queue,
        mount=MOUNT,
        instrument=SCOPE,
        sightings=sightings,
    )


def settled(builder: SnapshotBuilder, made: Choices, utc: datetime = UTC_NOW) -> Snapshot:
    """The snapshot once the search for the next star, a step each time, is through."""
    for _ in range(SEARCH_STEPS):
        builder.build(made, utc)
    return builder.build(made, utc)


def test_after_one_star_the_dials_own_readings_are_shown(ephemeris: Ephemeris) -> None:
    made = choices(sighting(ephemeris, 1, ALTAIR, ALTAIR))
    snapshot = settled(SnapshotBuilder(ephemeris), made)
    aim, facts = snapshot.aim, snapshot.alignment
    assert aim is not None
    assert aim.reading is not None
    assert facts is not None
    assert aim.reading.azimuth_deg == pytest.approx((aim.azimuth_deg + ZERO_DEG) % 360, abs=0.6)
    assert facts.words.startswith("aligned on 1 star, 95% of aims within")
    assert "finder" in aim.reading.advice
    rows = {row.key: row for row in snapshot.rows}
    assert rows[VEGA.key].azimuth_reading_deg == pytest.approx(aim.reading.azimuth_deg)
    assert rows[VEGA.key].altitude_text == aim.reading.altitude_text
    assert facts.next_sighting is not None
    assert facts.next_sighting.name != "Altair"


def test_more_stars_make_it_surer(ephemeris: Ephemeris) -> None:
    builder = SnapshotBuilder(ephemeris)
    stars = (ALTAIR, CAPELLA, ARCTURUS)
    radii = []
    for count in (1, 2, 3):
        made = [sighting(ephemeris, i, star, star) for i, star in enumerate(stars[:count])]
        snapshot = builder.build(choices(*made), UTC_NOW)
        assert snapshot.alignment is not None
        radii.append(snapshot.alignment.typical_radius95_deg or 180.0)
    assert radii == sorted(radii, reverse=True)
    assert radii[2] < 0.7 * radii[0]


def compared(made: Choices, ephemeris: Ephemeris) -> Choices:
    """The same choices once their sightings have been examined."""
    question = made.sightings_question
    assert question is not None
    return replace(made, examination=examined(question, BrightSky(ephemeris)))


def with_a_wrong_star(ephemeris: Ephemeris) -> list[Sighting]:
    return [
        sighting(ephemeris, 1, VEGA, VEGA),
        sighting(ephemeris, 2, CAPELLA, CAPELLA),
        sighting(ephemeris, 3, ARCTURUS, ARCTURUS),
        sighting(ephemeris, 4, DENEB, ALTAIR),  # took Altair for Deneb
    ]


def test_a_wrong_star_is_questioned_and_named(ephemeris: Ephemeris) -> None:
    made = with_a_wrong_star(ephemeris)
    examined = compared(choices(*made), ephemeris)
    facts = SnapshotBuilder(ephemeris).build(examined, UTC_NOW).alignment
    assert facts is not None
    doubt = facts.doubts[0]
    assert doubt.numbers == (4,)
    assert doubt.fits[0].name == "Altair"
    aside = choices(*(replace(one, set_aside=one.number == 4) for one in made))
    calm = SnapshotBuilder(ephemeris).build(compared(aside, ephemeris), UTC_NOW).alignment
    assert calm is not None
    assert not calm.doubts
    assert calm.sightings_set_aside == 1
    shown = {one.number: one for one in calm.sightings}
    assert shown[4].set_aside
    assert shown[4].residual_deg > 5.0
    assert shown[1].residual_deg < 0.5


def off_deg(ephemeris: Ephemeris, made: Choices) -> tuple[float, float]:
    """How far the aim at Saturn is from where the dials must stand, and what is stated."""
    aim = SnapshotBuilder(ephemeris).build(replace(made, target=SATURN), UTC_NOW).aim
    assert aim is not None
    assert aim.reading is not None
    right = (aim.azimuth_deg + ZERO_DEG) % 360.0, aim.altitude_deg + 0.4
    there = aim.reading.azimuth_deg, aim.reading.altitude_deg
    return float(horizontal_separation_deg(*right, *there)), aim.reading.radius95_deg


def test_no_number_rests_on_a_wrong_star(ephemeris: Ephemeris) -> None:
    made = choices(*with_a_wrong_star(ephemeris))
    off, radius = off_deg(ephemeris, compared(made, ephemeris))
    assert off < radius < 2.0


def test_before_they_are_compared_sightings_that_fit_badly_give_no_numbers(
    ephemeris: Ephemeris,
) -> None:
    made = with_a_wrong_star(ephemeris)
    builder = SnapshotBuilder(ephemeris)
    facts = builder.build(choices(*made), UTC_NOW).alignment
    assert facts is not None
    assert facts.words == "the sightings are not compared yet: no numbers"
    off, radius = off_deg(ephemeris, choices(*made))
    assert off < radius
    assert radius > 60.0


def test_a_sighting_that_is_kept_counts_at_once_and_is_no_more_asked_about(
    ephemeris: Ephemeris,
) -> None:
    made = with_a_wrong_star(ephemeris)
    kept = choices(*(replace(one, kept=True) for one in made))
    for shown in (kept, compared(kept, ephemeris)):
        facts = SnapshotBuilder(ephemeris).build(shown, UTC_NOW).alignment
        assert facts is not None
        assert facts.words.startswith(f"aligned on {len(made)} stars,")
        assert not [one for one in facts.doubts if one.contradicts]
        assert all(one.kept for one in facts.sightings)


def test_a_new_sighting_that_does_not_fit_leaves_the_numbers_of_those_before(
    ephemeris: Ephemeris,
) -> None:
    made = with_a_wrong_star(ephemeris)
    builder = SnapshotBuilder(ephemeris)
    before = builder.build(compared(choices(*made[:3]), ephemeris), UTC_NOW).aim
    after = builder.build(choices(*made), UTC_NOW).aim
    assert before is not None
    assert after is not None
    assert after.reading == before.reading


def test_an_examination_of_other_sightings_does_not_count(ephemeris: Ephemeris) -> None:
    made = with_a_wrong_star(ephemeris)
    question = choices(*made[:3]).sightings_question
    assert question is not None
    stale = replace(choices(*made), examination=Examination(question, ()))
    facts = SnapshotBuilder(ephemeris).build(stale, UTC_NOW).alignment
    assert facts is not None
    assert facts.words == "the sightings are not compared yet: no numbers"


def test_without_a_mount_there_are_no_readings(ephemeris: Ephemeris) -> None:
    bare = replace(choices(), mount=None)
    snapshot = SnapshotBuilder(ephemeris).build(bare, UTC_NOW)
    assert snapshot.alignment is None
    assert snapshot.aim is not None
    assert snapshot.aim.reading is None


def test_an_unaligned_mount_says_what_to_do_next(ephemeris: Ephemeris) -> None:
    snapshot = settled(SnapshotBuilder(ephemeris), choices())
    assert snapshot.alignment is not None
    assert snapshot.alignment.words == "not aligned: sight a bright star"
    assert snapshot.alignment.next_sighting is not None
    assert "least certain aim in the queue" in snapshot.alignment.next_sighting.words


def test_no_star_near_the_sun_is_offered(ephemeris: Ephemeris) -> None:
    # On 23 August the Sun stands beside Regulus, which would help itself most.
    regulus = load_catalogue().star(49669)
    builder, offered = SnapshotBuilder(ephemeris), set()
    for half_hour in range(24):
        utc = datetime(2026, 8, 23, 10, tzinfo=UTC) + timedelta(minutes=30 * half_hour)
        alignment = settled(builder, choices(queue=(regulus,)), utc).alignment
        assert alignment is not None
        following = alignment.next_sighting
        if following is None:
            continue
        offered.add(following.name)
        moment = ephemeris.moment(LOON_BARRENS, utc)
        star = load_catalogue().star(int(following.key.removeprefix("hip:")))
        place = moment.horizontal(TargetTable.of([star], utc))
        sun = moment.body("sun")
        away = float(
            horizontal_separation_deg(
                place.azimuth_deg[0], place.altitude_deg[0], sun.azimuth_deg, sun.altitude_deg
            )
        )
        assert sun.altitude_airless_deg < -0.84 or away > 20.0
    assert offered


def next_names(builder: SnapshotBuilder, made: Choices, from_s: int, to_s: int) -> list[str]:
    """What each second's snapshot offers as the next star; empty where nothing yet."""
    offered = []
    for second in range(from_s, to_s):
        facts = builder.build(made, UTC_NOW + timedelta(seconds=second)).alignment
        assert facts is not None
        offered.append("" if facts.next_sighting is None else facts.next_sighting.name)
    return offered


def test_the_next_star_of_an_earlier_fit_or_queue_is_not_offered(ephemeris: Ephemeris) -> None:
    builder = SnapshotBuilder(ephemeris)
    first = choices(sighting(ephemeris, 1, ALTAIR, ALTAIR))
    second = replace(first, sightings=(*first.sightings, sighting(ephemeris, 2, CAPELLA, CAPELLA)))
    third = replace(second, queue=(ARCTURUS, SATURN))
    for made in (first, second, third):
        offered = next_names(builder, made, 0, 8)
        assert offered[:SEARCH_STEPS] == [""] * SEARCH_STEPS
        assert all(offered[SEARCH_STEPS:])


def test_a_star_that_is_merely_old_stays_until_the_next_is_found(ephemeris: Ephemeris) -> None:
    builder = SnapshotBuilder(ephemeris)
    made = choices(sighting(ephemeris, 1, ALTAIR, ALTAIR))
    next_names(builder, made, 0, 6)
    assert all(next_names(builder, made, 6, 60))
    leapt = next_names(builder, made, 3600, 3610)
    assert leapt[:SEARCH_STEPS] == [""] * SEARCH_STEPS
    assert all(leapt[SEARCH_STEPS:])
