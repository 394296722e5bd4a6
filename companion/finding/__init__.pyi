from .groups import (
    Group as Group,
    Hemisphere as Hemisphere,
    find_group as find_group,
    load_groups as load_groups,
)
from .guide import (
    GuideStars as GuideStars,
    guide_targets as guide_targets,
    seen_vectors as seen_vectors,
)
from .instrument import (
    Eyepiece as Eyepiece,
    Finder as Finder,
    Instrument as Instrument,
    InstrumentKind as InstrumentKind,
    Viewing as Viewing,
)
from .lines import follow as follow, known_pairs as known_pairs
from .pointers import round_of as round_of, ways_to as ways_to
from .single_ways import Place as Place
from .ways import Way as Way, WayKind as WayKind, Ways as Ways
