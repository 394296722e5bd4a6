"""What the planner's thread owns and does: its own ephemeris and catalogue, and every answer.

Imported only in that thread: it brings numpy and the ephemeris.
"""

from collections.abc import Callable
from dataclasses import fields, replace
from functools import cached_property, singledispatchmethod

import numpy as np

from companion.files import write_whole
from companion.live.night_questions import (
    Answer,
    Around,
    ExportQuestion,
    ExportView,
    ImportQuestion,
    ImportView,
    ListQuestion,
    ListView,
    NightQuestion,
    NightView,
    OfferQuestion,
    OfferView,
    OrderQuestion,
    OrderView,
    Question,
)
from companion.live.threads.night_parts import (
    EASY,
    OFFERED,
    OFFERED_BY_EYE,
    OFFERED_FOR,
    OFFERED_FROM_DEG,
    SEEN,
    USUAL,
    curve_of,
    evening_of,
    filters_of,
    holds,
    instrument_of,
    shown_span,
)
from companion.night import (
    LIST_LIMITS,
    ROUNDS,
    Cancelled,
    Candidates,
    Conditions,
    Filters,
    MyHours,
    NightGrid,
    NightPlan,
    Session,
    TonightRequest,
    Wish,
    darkness,
    eye,
    find_instrument,
    night_grid,
    order_calendar,
    order_csv,
    order_queue,
    plan_night,
    rank_tonight,
    read_list,
    round_tonight,
)
from companion.sky import (
    PLANETS,
    Catalogue,
    Ephemeris,
    Target,
    load_catalogue,
    load_search,
)
from companion.untrusted import read_file

Go = Callable[[float], bool]

_MOST_ROWS = 300
_LIST_LIMITS = replace(
    LIST_LIMITS,
    kept="The queue is as it was.",
    do="Type the whole path of a text or CSV file with one target a line.",
)


class NightWorks:
    """Ephemeris, catalogue and the last night's grid, each made when it is first needed."""

    def __init__(self) -> None:
        self._ephemeris = Ephemeris.load()
        self._grid: NightGrid | None = None
        self._grid_of: tuple[object, ...] = ()

    def close(self) -> None:
        """Close the ephemeris."""
        self._ephemeris.close()

    @cached_property
    def _catalogue(self) -> Catalogue:
        return load_catalogue()

    @cached_property
    def _candidates(self) -> Candidates:
        return Candidates.of(self._catalogue)

    def answer(self, question: Question, progress: Go) -> Answer:
        """Answer one question.

        Raises
        ------
        AdviceError
            If it has no answer, in words for the person.
        Cancelled
            If ``progress`` gives False.
        """
        if not progress(0.0):
            raise Cancelled
        return self._answer(question, progress)

    @singledispatchmethod
    def _answer(self, question: Question, _progress: Go) -> Answer:
        raise TypeError(f"nobody answers a {type(question).__name__}")

    @_answer.register
    def _night(self, question: NightQuestion, _progress: Go) -> NightView:
        around = question.around
        grid, conditions = self._night_of(around), Conditions.at(around.site)
        instrument = instrument_of(around)
        night = darkness(grid)
        begins, ends = shown_span(grid, night)
        tracks = grid.tracks
        return NightView(
            question=question,
            begins_utc=begins,
            ends_utc=ends,
            times_s=tuple((grid.middle_utc.timestamp() + grid.offsets_s).tolist()),
            sun_altitude_deg=tuple(grid.sun.altitude_deg.tolist()),
            moon=curve_of("Moon", grid.moon),
            planets=tuple(curve_of(one.name, tracks[one.body]) for one in PLANETS),
            plans=self._plans(question.targets, grid, around),
            darkness=night,
            instrument=instrument,
            zenith_mag=conditions.zenith_mag,
            sky_assumed=conditions.assumed,
        )

    @_answer.register
    def _list(self, question: ListQuestion, progress: Go) -> ListView:
        around = question.around
        request = TonightRequest(
            site=around.site,
            utc=around.utc,
            instrument=instrument_of(around),
            conditions=Conditions.at(around.site),
            filters=filters_of(question.wanted),
            seen_keys=question.seen_keys,
            low_limit_deg=around.low_limit_deg,
            from_utc=around.utc,
            hours=MyHours.of(around.hours),
            limit=_MOST_ROWS,
        )
        grid = self._night_of(around)
        which = next((one for one in ROUNDS if one.key == question.round_key), None)
        if which is None:
            ranked = rank_tonight(self._ephemeris, self._candidates, request, progress, grid)
            return ListView(question, ranked, request.instrument)
        made = round_tonight(
            which,
            self._ephemeris,
            self._candidates,
            self._catalogue,
            replace(request, filters=Filters(seen=SEEN[question.wanted.seen])),
            progress=progress,
            grid=grid,
        )
        return ListView(question, made, request.instrument, which.name)

    @_answer.register
    def _offer(self, question: OfferQuestion, progress: Go) -> OfferView:
        """Give the best by eye, then by binoculars; nothing twice."""
        around = question.around
        grid, conditions = self._night_of(around), Conditions.at(around.site)
        dusk = darkness(grid).nautical.begins_utc or around.utc
        begins = max(around.utc, dusk)
        request = TonightRequest(
            site=around.site,
            utc=around.utc,
            instrument=eye(conditions.observer),
            conditions=conditions,
            filters=Filters(grades=EASY, lowest_deg=OFFERED_FROM_DEG),
            low_limit_deg=around.low_limit_deg,
            from_utc=begins,
            until_utc=begins + OFFERED_FOR,
            limit=OFFERED,
        )
        by_eye = rank_tonight(self._ephemeris, self._candidates, request, progress, grid)
        wider = replace(request, instrument=find_instrument(USUAL))
        by_both = rank_tonight(self._ephemeris, self._candidates, wider, progress, grid)
        rows = [(row, request.instrument) for row in by_eye.rows[:OFFERED_BY_EYE]]
        known = {row.target.key for row, _with in rows}
        rows += [(row, wider.instrument) for row in by_both.rows if row.target.key not in known]
        return OfferView(question, begins, tuple(rows[:OFFERED]))

    @_answer.register
    def _order(self, question: OrderQuestion, progress: Go) -> OrderView:
        around = question.around
        grid = self._night_of(around)
        start, ends = evening_of(grid, around)
        wishes = [Wish(target) for target in question.targets]
        tube = self._stands(question.tube, grid, around)
        session = Session(
            start,
            question.end_utc or ends,
            breaks=question.breaks,
            blocked=question.blocked,
            target_minutes=question.target_minutes,
            tube_deg=tube,
        )
        order = order_queue(
            self._ephemeris,
            grid,
            wishes,
            session,
            instrument=instrument_of(around),
            conditions=Conditions.at(around.site),
            doubles=self._catalogue.names.doubles,
            low_limit_deg=around.low_limit_deg,
            before=question.before,
            progress=progress,
        )
        return OrderView(question, order)

    @_answer.register
    def _import(self, question: ImportQuestion, progress: Go) -> ImportView:
        data = read_file(question.path, _LIST_LIMITS)
        return ImportView(question, read_list(data, load_search(), progress))

    @_answer.register
    def _export(self, question: ExportQuestion, _progress: Go) -> ExportView:
        table = question.folder / f"{question.stem}.csv"
        calendar = question.folder / f"{question.stem}.ics"
        write_whole(table, order_csv(question.order).encode())
        made = order_calendar(question.order, question.site, question.made_utc)
        write_whole(calendar, made)
        return ExportView((table, calendar))

    def _night_of(self, around: Around) -> NightGrid:
        """Give the grid of the night; the one that is known already if the moment lies in it."""
        known, grid = (around.site,), self._grid
        if grid is not None and known == self._grid_of and holds(grid, around.utc):
            return grid
        grid = night_grid(self._ephemeris, around.site, around.utc)
        self._grid, self._grid_of = grid, known
        return grid

    def _plans(
        self, targets: tuple[Target, ...], grid: NightGrid, around: Around
    ) -> tuple[NightPlan, ...]:
        plans = plan_night(
            self._ephemeris,
            grid,
            targets,
            instrument=instrument_of(around),
            conditions=Conditions.at(around.site),
            doubles=self._catalogue.names.doubles,
            low_limit_deg=around.low_limit_deg,
        )
        for plan in plans:
            for column in fields(plan.curve):
                getattr(plan.curve, column.name).flags.writeable = False
        return plans

    def _stands(
        self, tube: Target | None, grid: NightGrid, around: Around
    ) -> tuple[float, float] | None:
        """Give azimuth and altitude of what the tube points to now."""
        if tube is None:
            return None
        (plan,) = self._plans((tube,), grid, around)
        step = int(np.abs(grid.offsets_s - grid.offset_s(around.utc)).argmin())
        return float(plan.curve.azimuth_deg[step]), float(plan.curve.altitude_deg[step])
