from .answer import about as about
from .jupiter_events import moon_events as moon_events
from .jupiter_moons import PlanetMoon as PlanetMoon
from .moon import MoonLook as MoonLook
from .picture import Label as Label, Picture as Picture, Shape as Shape
from .planet_words import state_text as state_text
from .record import (
    About as About,
    AboutQuestion as AboutQuestion,
    DoublePage as DoublePage,
    FieldStar as FieldStar,
    Figures as Figures,
    MoonEvening as MoonEvening,
    MoonPage as MoonPage,
    PlanetField as PlanetField,
    PlanetPage as PlanetPage,
    Terminator as Terminator,
    VariablePage as VariablePage,
)
from .saturn_moons import titan_places as titan_places
from .saying import Saying as Saying, saying_of as saying_of
from .seeing_power import power_of as power_of
