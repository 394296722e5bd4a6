"""The road of a beginner at many places, months and skies; with a learner who goes it.

``python tests/benchmarks/road.py [STEP]`` takes every STEPth of 12 places, 12 months, 4 skies, and
prints: on which share of the evenings on which it gets dark five first steps can be done; how many
questions have more or less than one right answer; nights from the first step to the telescope for
a learner who finds four of five; how long a road takes against one guide map of the same run.
"""

import random
import sys
import time
from datetime import UTC, datetime, timedelta

from companion.finding import guide_map
from companion.night import Conditions, eye_sky
from companion.road import Learned, RoadRequest, Tool, rehearse, road
from companion.sky import LOON_BARRENS, Ephemeris, Site, load_catalogue

PLACES = tuple(
    Site(f"{latitude:g} {longitude:g}", latitude, longitude)
    for latitude, longitude in (
        (65.0, 26.0), (60.2, 24.9), (52.5, 13.4), (45.2, -62.3), (40.0, -105.0), (28.0, -15.5),
        (13.0, 77.6), (0.0, 37.0), (-16.5, -68.1), (-23.0, -46.0), (-32.4, 20.8), (-45.0, 169.0),
    )
)  # fmt: skip
SKIES = (17.5, 19.0, 20.5, 21.8)  # mag/arcsec²: city, town, village, dark


def evenings(step: int) -> list[tuple[Site, datetime, float]]:
    found = [
        (site, datetime(2027, month, 12, 12, 0, tzinfo=UTC), sky)
        for site in PLACES
        for month in range(1, 13)
        for sky in SKIES
    ]
    return found[::step]


def share_with_five(ephemeris: Ephemeris, step: int) -> None:
    full = dark = 0
    spent = 0.0
    for site, utc, sky in evenings(step):
        request = RoadRequest(site, utc, Conditions.at(site, zenith_mag=sky))
        before = time.perf_counter()
        found = road(ephemeris, load_catalogue(), request)
        spent += time.perf_counter() - before
        if found.utc - utc < timedelta(hours=30) and found.utc != utc:
            dark += 1
            full += len(found.doable) >= 5
    moment = ephemeris.moment(LOON_BARRENS, datetime(2027, 4, 11, 1, 0, tzinfo=UTC))
    limit = eye_sky(moment, Conditions.at(LOON_BARRENS)).limit
    before = time.perf_counter()
    guide_map(load_catalogue(), moment, "dipper", limit)
    one_map = time.perf_counter() - before
    each = spent / len(evenings(step))
    print(f"five first steps: {full} of {dark} evenings that get dark ({full / max(dark, 1):.1%})")
    print(f"a road: {each * 1000:.0f} ms, {each / one_map:.1f} guide maps")


def wrong_questions(ephemeris: Ephemeris, step: int) -> None:
    asked = wrong = 0
    for site, utc, sky in evenings(step * 6):
        conditions = Conditions.at(site, zenith_mag=sky)
        catalogue = load_catalogue()
        made = rehearse(ephemeris, catalogue, site, utc, conditions, count=20, seed=1)
        for one in made.questions:
            asked += 1
            wrong += len(set(one.choices)) != len(one.choices)
    print(f"questions with a choice twice: {wrong} of {asked}")


def nights_to_telescope(ephemeris: Ephemeris) -> None:
    chance = random.Random(1)  # noqa: S311 - a learner
    tries: list[Learned] = []
    for night in range(200):
        utc = datetime(2027, 1, 5, 23, 0, tzinfo=UTC) + timedelta(days=night)
        conditions = Conditions.at(LOON_BARRENS, zenith_mag=21.0)
        request = RoadRequest(LOON_BARRENS, utc, conditions, Tool.TELESCOPE, tuple(tries))
        for step in road(ephemeris, load_catalogue(), request).doable[:4]:
            tries.append(Learned(step.key, step.subject, utc, chance.random() < 0.8))
            if step.key == "low-power" and tries[-1].found:
                print(f"nights from the first step to the telescope: {night + 1}")
                return
    print("nights from the first step to the telescope: more than 200")


def main() -> None:
    step = int(sys.argv[1]) if len(sys.argv) > 1 else 1
    ephemeris = Ephemeris.load()
    share_with_five(ephemeris, step)
    nights_to_telescope(ephemeris)
    wrong_questions(ephemeris, step)
    ephemeris.close()


if __name__ == "__main__":
    main()
