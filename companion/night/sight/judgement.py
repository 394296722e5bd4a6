"""How well many objects show, each where it stands: numbers first, words in ``visibility``."""

from dataclasses import dataclass

import numpy as np

from companion.arrays import BoolArray, FloatArray, RowArray
from companion.night.sight.air import airmass
from companion.night.sight.choose_view import choose_views
from companion.night.sight.grades import grade_numbers, uncertainty_mag
from companion.night.sight.limits import splits
from companion.night.sight.objects import NightObjects
from companion.night.sight.observer import Conditions
from companion.night.sight.reach import Reach
from companion.night.sight.skylight import SkyLight
from companion.night.sight.views import View
from companion.sky import SUN_DANGER_DEG

MOST_TO_SPARE_MAG = 20.0  # stands for "whatever the sky", and its negative for "not up"


@dataclass(frozen=True, slots=True, eq=False)
class Spots:
    """Where n objects stand and how bright the sky is there; arrays of shape (n,)."""

    altitude_deg: FloatArray  # refracted
    light: SkyLight
    moon_distance_deg: FloatArray
    sun_distance_deg: FloatArray  # infinite while the Sun is down
    diameter_arcsec: FloatArray  # of bodies; NaN for the rest

    @property
    def in_danger(self) -> BoolArray:
        """Which are so close to the risen Sun that nobody may look there."""
        return np.asarray(self.sun_distance_deg < SUN_DANGER_DEG)


@dataclass(frozen=True, slots=True, eq=False)
class Judgement:
    """The visibility of n objects in numbers; arrays of shape (n,).

    A double star that no view parts has ``split`` False and is judged out of reach.
    """

    objects: NightObjects
    spots: Spots
    views: tuple[View, ...]
    conditions: Conditions
    margin_mag: FloatArray  # NaN where the brightness is not known
    sigma_mag: FloatArray
    grade: RowArray  # in GRADES
    view: RowArray  # in views
    moon_cost_mag: FloatArray
    twilight_cost_mag: FloatArray
    air_cost_mag: FloatArray  # against the zenith
    split: BoolArray


def judge(
    objects: NightObjects, spots: Spots, views: tuple[View, ...], conditions: Conditions
) -> Judgement:
    """Judge n objects at once, each on its own sky."""
    air = conditions.extinction_mag * airmass(spots.altitude_deg)
    chosen, limits = choose_views(
        objects, views, spots.light.total, objects.magnitude + air, conditions
    )
    reach = Reach.of(objects, views, conditions)
    on_this_sky = reach.at(spots.light.total[None, :])[0]
    margin = np.clip(limits - air - objects.magnitude, -MOST_TO_SPARE_MAG, MOST_TO_SPARE_MAG)
    margin[objects.always] = MOST_TO_SPARE_MAG
    margin[(spots.altitude_deg <= 0.0) | spots.in_danger] = -MOST_TO_SPARE_MAG
    # What cannot be looked at stays out of reach however bright it may be tonight.
    brighter = np.where(margin > -MOST_TO_SPARE_MAG, objects.brighter_mag, 0.0)
    sigma = uncertainty_mag(objects, spots.altitude_deg, conditions)
    return Judgement(
        objects=objects,
        spots=spots,
        views=views,
        conditions=conditions,
        margin_mag=margin,
        sigma_mag=sigma,
        grade=grade_numbers(margin, sigma, objects.guessed, brighter),
        view=chosen,
        moon_cost_mag=reach.at(spots.light.without_moon[None, :])[0] - on_this_sky,
        twilight_cost_mag=reach.at(spots.light.without_sun[None, :])[0] - on_this_sky,
        air_cost_mag=air - conditions.extinction_mag,
        split=np.logical_or.reduce([splits(view, objects, conditions) for view in views]),
    )
