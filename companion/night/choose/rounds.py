"""Ready-made rounds through the sky, computed for tonight."""

from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from companion.finding import InstrumentKind
from companion.night.choose.candidates import Candidates
from companion.night.choose.filters import SEEABLE
from companion.night.choose.tonight import Tonight, TonightRequest, TonightRow, rank_tonight
from companion.night.choose.worth import WorthFor
from companion.night.hours.darkness import Darkness, darkness
from companion.night.hours.grid import NightGrid, night_grid
from companion.night.hours.sky_source import SkySource
from companion.night.progress import Progress
from companion.night.sight.grades import Grade
from companion.night.sight.instruments import eye, find_instrument
from companion.sky import Catalogue, Kind, zone_of

_STAR_KINDS = frozenset({Kind.STAR, Kind.VARIABLE, Kind.GROUP})
_SURE = frozenset({Grade.EASY, Grade.FAIR})
_EASY = frozenset({Grade.EASY})
_FAINT_KINDS = frozenset(
    {Kind.GALAXY, Kind.NEBULA, Kind.PLANETARY, Kind.REMNANT, Kind.GLOBULAR, Kind.CLUSTER_NEBULA}
)
_AN_HOUR = timedelta(hours=1)
_HIGH_ENOUGH_DEG = 25.0  # for visitors: no stooping, little air
_PLANETS_HIGH_DEG = 12.0  # bright enough to be worth it lower down
_IN_AN_HOUR, _OF_A_KIND_BY_GLASS = 12, 3
_VISITS, _MOST_OF_A_KIND, _TO_CHOOSE_FROM = 8, 2, 80
_FIRST = ("moon", "venus", "jupiter", "saturn", "mars", "mercury")  # as they come out at dusk


@dataclass(frozen=True, slots=True)
class Round:
    """One round: ``name`` to show, ``about`` for whom it is, ``request`` makes its question.

    ``arranged`` picks from the answer and puts it into order.
    """

    key: str
    name: str
    about: str
    request: Callable[["_Ask"], TonightRequest | str]  # or why there is none tonight
    arranged: Callable[[tuple[TonightRow, ...]], tuple[TonightRow, ...]] = tuple


@dataclass(frozen=True, slots=True)
class _Ask:
    """What a round is made from: the person's own request, the night, the lists."""

    request: TonightRequest
    night: Darkness
    middle_utc: datetime
    catalogue: Catalogue


def _by_eye(ask: _Ask) -> TonightRequest:
    kinds = _STAR_KINDS | {Kind.PLANET, Kind.MOON, Kind.OPEN_CLUSTER, Kind.GALAXY}
    return replace(
        ask.request,
        instrument=eye(ask.request.conditions.observer),
        filters=replace(ask.request.filters, kinds=kinds, grades=_EASY, lowest_deg=20.0),
        limit=15,
    )


def _begins(ask: _Ask) -> datetime:
    """Give when the round begins: now, at dusk, or with the person's own hours."""
    starts = ask.night.nautical.begins_utc or ask.night.civil.begins_utc
    begins = ask.request.utc if starts is None else max(ask.request.utc, starts)
    if ask.request.hours is None:
        return begins
    zone = zone_of(ask.request.site.time_zone)
    return max(begins, ask.request.hours.of_night(ask.middle_utc, zone)[0])


def _binoculars(ask: _Ask) -> TonightRequest:
    """Take an hour's worth, with the person's own binoculars if they are in use."""
    begins, own = _begins(ask), ask.request.instrument
    pair = own if own.kind is InstrumentKind.BINOCULARS else find_instrument("10×50")
    return replace(
        ask.request,
        from_utc=begins,
        until_utc=begins + _AN_HOUR,
        instrument=pair,
        filters=replace(ask.request.filters, grades=_SURE),
        limit=_TO_CHOOSE_FROM,
    )


def _an_hour_s(rows: tuple[TonightRow, ...]) -> tuple[TonightRow, ...]:
    """Take what an hour has time for, three of a kind at most, in the order in which they sink."""
    counts: Counter[Kind] = Counter()
    chosen = []
    for row in rows:
        if counts[row.target.kind] < _OF_A_KIND_BY_GLASS:
            counts[row.target.kind] += 1
            chosen.append(row)
    return tuple(sorted(chosen[:_IN_AN_HOUR], key=lambda row: row.closes_utc))


def _visitors(ask: _Ask) -> TonightRequest:
    """Take what makes visitors exclaim, in the hour from now or from dusk."""
    begins = _begins(ask)
    return replace(
        ask.request,
        from_utc=begins,
        until_utc=begins + _AN_HOUR,
        filters=replace(ask.request.filters, grades=_EASY),
        whom=WorthFor.VISITORS,
        limit=_TO_CHOOSE_FROM,
    )


def _as_visitors_see(rows: tuple[TonightRow, ...]) -> tuple[TonightRow, ...]:
    """Take the best, two of a kind at most, and begin with what is seen first after sunset."""
    counts: Counter[Kind] = Counter()
    chosen = []
    for row in rows:
        high = row.altitude_deg >= (_PLANETS_HIGH_DEG if row.target.body else _HIGH_ENOUGH_DEG)
        if high and counts[row.target.kind] < _MOST_OF_A_KIND:
            counts[row.target.kind] += 1
            chosen.append(row)
    return tuple(sorted(chosen[:_VISITS], key=_seen_first))


def _seen_first(row: TonightRow) -> int:
    """Give the place of Moon and planets; everything else keeps its own after them."""
    body = row.target.body
    return _FIRST.index(body) if body in _FIRST else len(_FIRST)


def _faint(ask: _Ask) -> TonightRequest | str:
    """Take the longest stretch of full darkness without the Moon."""
    if not ask.night.moonless:
        return ask.night.words or "the Moon is up all the dark night"
    begins, ends = max(ask.night.moonless, key=lambda span: span[1] - span[0])
    return replace(
        ask.request,
        from_utc=begins,
        until_utc=ends,
        filters=replace(
            ask.request.filters, kinds=_FAINT_KINDS, grades=frozenset({Grade.FAIR, Grade.HARD})
        ),
        limit=30,
    )


def _keyed(
    asked: TonightRequest, keys: frozenset[str], grades: frozenset[Grade] = frozenset(Grade)
) -> TonightRequest:
    filters = replace(asked.filters, keys=keys, grades=grades)
    return replace(asked, filters=filters, limit=len(keys))


def _messier(ask: _Ask) -> TonightRequest:
    return _keyed(ask.request, _deep_sky_keys(ask.catalogue, ask.catalogue.deep_sky.messier_rows))


def _caldwell(ask: _Ask) -> TonightRequest:
    return _keyed(ask.request, _deep_sky_keys(ask.catalogue, ask.catalogue.deep_sky.caldwell_rows))


def _deep_sky_keys(catalogue: Catalogue, rows: dict[int, int]) -> frozenset[str]:
    return frozenset(catalogue.deep_sky.target(row).key for row in rows.values())


def _doubles(ask: _Ask) -> TonightRequest:
    keys = frozenset(f"hip:{hip}" for hip in ask.catalogue.names.doubles)
    return _keyed(ask.request, keys, SEEABLE)


def _coloured(ask: _Ask) -> TonightRequest:
    keys = frozenset(f"hip:{hip}" for hip in ask.catalogue.names.colours)
    return _keyed(ask.request, keys, SEEABLE)


ROUNDS = (
    Round("eye", "First night by eye", "without an instrument: bright, and easy to find", _by_eye),
    Round(
        "binoculars",
        "An hour with binoculars",
        "twelve targets; a tripod steadies the binoculars",
        _binoculars,
        _an_hour_s,
    ),
    Round(
        "visitors",
        "An hour with visitors",
        "eight targets that show at the first look",
        _visitors,
        _as_visitors_see,
    ),
    Round("faint", "Faint targets, the Moon down", "after half an hour in the dark", _faint),
    Round(
        "messier",
        "Messier's list",
        "of the best-known 110, all that come up",
        _messier,
    ),
    Round("caldwell", "Caldwell's list", "of 109 more, all that come up", _caldwell),
    Round("doubles", "Double stars", "pairs that your instrument shows as two", _doubles),
    Round("colours", "Coloured stars", "orange, red and deep red ones", _coloured),
)


def round_tonight(
    which: Round,
    sky: SkySource,
    candidates: Candidates,
    catalogue: Catalogue,
    asked: TonightRequest,
    *,
    progress: Progress | None = None,
    grid: NightGrid | None = None,
) -> Tonight:
    """Compute one round.

    Parameters
    ----------
    which : Round
        One of ``ROUNDS``.
    sky : SkySource
        The ephemeris.
    candidates : Candidates
        Made once a session.
    catalogue : Catalogue
        For the lists of numbers.
    asked : TonightRequest
        Place, time, instrument and conditions; its filters hold as far as the round sets none.
    progress : callable, optional
        Takes the part that is done; gives False to stop.
    grid : NightGrid, optional
        The same night's grid, where it is known already.

    Returns
    -------
    Tonight
        Rows in the order of their value; without rows, ``words`` says why.

    Raises
    ------
    AdviceError
        If the instrument is none, or the ephemeris does not cover the night.
    Cancelled
        If ``progress`` says so.
    """
    grid = grid or night_grid(sky, asked.site, asked.utc)
    night = darkness(grid)
    request = which.request(_Ask(asked, night, grid.middle_utc, catalogue))
    if isinstance(request, str):
        return Tonight((), night, 0, 0, request)
    found = rank_tonight(sky, candidates, request, progress, grid)
    return replace(found, rows=which.arranged(found.rows))
