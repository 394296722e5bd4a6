from .answer import about as about
from .jupiter_moons import PlanetMoon as PlanetMoon
from .moon import MoonLook as MoonLook
from .planet_words import event_text as event_text, state_text as state_text
from .record import (
    About as About,
    AboutQuestion as AboutQuestion,
    MoonPage as MoonPage,
    PlanetPage as PlanetPage,
)
