"""Which telling belongs to which aim."""

from collections.abc import Callable
from functools import partial
from typing import Final

from companion.road import counting, tell_first, tell_glass, tell_moving, tell_sky
from companion.road.evening import Evening
from companion.road.telling import Telling, Waiting

Teller = Callable[[Evening], Telling | Waiting]

_SINGLE: Final[dict[str, Teller]] = {
    "own-group": tell_first.own_group,
    "pole": tell_first.pole,
    "first-star": partial(tell_first.bright_star, number=0),
    "second-star": partial(tell_first.bright_star, number=1),
    "third-star": partial(tell_first.bright_star, number=2),
    "directions": tell_first.directions,
    "hand": tell_first.hand,
    "sunset": tell_sky.sunset,
    "adapt": tell_sky.adapt,
    "dark-sky": counting.dark_sky,
    "colours": tell_sky.colours,
    "magnitudes": tell_sky.magnitudes,
    "rising": tell_sky.rising,
    "earlier": tell_sky.earlier,
    "turning": tell_sky.turning,
    "ecliptic": tell_sky.ecliptic,
    "moving-lights": tell_sky.moving_lights,
    "milky-way": tell_sky.milky_way,
    "moon": tell_moving.moon,
    "moon-moves": tell_moving.moon_moves,
    "planet-or-star": tell_moving.planet_or_star,
    "moon-seas": tell_moving.moon_seas,
    "moon-shadow": tell_moving.moon_shadow,
    "jupiter-moons": tell_moving.jupiter_moons,
    "patience": tell_moving.patience,
    "hold-binoculars": tell_glass.hold_binoculars,
    "tripod": tell_glass.tripod,
    "set-up": tell_glass.set_up,
    "low-power": tell_glass.low_power,
    "pushing": tell_glass.pushing,
    "first-list": tell_glass.first_list,
}
TELLERS: Final[dict[str, Teller]] = _SINGLE | {
    key: tell_glass.choice(key)
    for key in (
        "cluster-eye", "wide-double", "open-cluster", "averted", "galaxy", "three-hops",
        "split-double", "globular", "dial-hop",
    )
}  # fmt: skip
