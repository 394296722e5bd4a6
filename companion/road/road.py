"""The road: the steps that fit this place and this evening, the next one first."""

from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from typing import Final

from companion.night import Conditions
from companion.road.aims import AIMS, BY_KEY, Aim, Tool
from companion.road.answer import Road, Step
from companion.road.evening import Evening
from companion.road.learned import Learned, Standing, missed_in_practice, standings
from companion.road.steps import TELLERS
from companion.road.tell_first import STARS, from_another_side
from companion.road.telling import Telling, Waiting
from companion.sky import Catalogue, Ephemeris, Site

MOST_STEPS: Final = 8
MOST_WAITING: Final = 4
_STARS_OUT_DEG: Final = -6.5  # the Sun's altitude from which the brightest stars are out
_DUSK_DEG: Final = -9.0
_TRIES: Final = 4  # moments looked at until a step that waits is left without one
_REST_WORDS: Final = (
    "Not found three times: leave it for a week. Check the time, the place and the horizon that "
    "were given, or ask somebody to show it once."
)


@dataclass(frozen=True, slots=True)
class RoadRequest:
    """What the road is computed from. ``overcast`` is what the person told of the clouds."""

    site: Site
    utc: datetime
    conditions: Conditions
    tool: Tool = Tool.EYE
    tries: tuple[Learned, ...] = ()
    overcast: bool = False


def road(ephemeris: Ephemeris, catalogue: Catalogue, request: RoadRequest) -> Road:
    """Give the road for a place and a moment.

    By day it is that of the coming dusk. At most one new figure of stars is learned in a night;
    what was learned before and is due comes first; what cannot be done now waits, and says until
    when.
    """
    moment = ephemeris.moment(request.site, request.utc)
    known = standings(request.tries)
    now = Evening(catalogue, moment, request.conditions, _own_groups(known))
    evening, later, words = _evening(ephemeris, request, now)
    context = _Context(ephemeris, request, evening, now, known, later)
    due = [step for one in _due(known, request.utc) if (step := context.again(one))]
    fresh, waiting = context.new(len(due))
    wanted = missed_in_practice(request.tries)
    fresh.sort(key=lambda step: step.subject not in wanted)  # stable: the rest keeps its order
    steps = (*due, *fresh)[:MOST_STEPS]
    waiting.sort(key=lambda step: (step.waits_until is None, step.waits_until or request.utc))
    mastered = sum(one.nights > 1 for one in known.values())
    return Road(evening.moment.utc, (*steps, *waiting[:MOST_WAITING]), words, mastered)


def _own_groups(known: dict[tuple[str, str], Standing]) -> tuple[str, ...]:
    """Give the groups that were found, the newest first."""
    newest = sorted(known.values(), key=lambda one: one.last_utc, reverse=True)
    return tuple(one.subject for one in newest if one.aim == "own-group" and one.box)


def _evening(
    ephemeris: Ephemeris, request: RoadRequest, now: Evening
) -> tuple[Evening, datetime | None, str]:
    """Give the evening that the road is for, when it begins if not now, and what is said of it."""
    if now.moment.body("sun").altitude_airless_deg <= _STARS_OUT_DEG:
        return now, None, "Clouds: what can be done under them." if request.overcast else ""
    dusk = now.season.when_dark(_DUSK_DEG)
    if dusk is None or dusk - request.utc > timedelta(hours=30):
        return now, dusk, "The Sun does not go down far enough: stars come again later in the year."
    return now.at(ephemeris.moment(request.site, dusk)), dusk, "For this evening, from dusk on."


def _due(known: dict[tuple[str, str], Standing], utc: datetime) -> list[Standing]:
    """Give what is to be asked again, the longest waiting first; three in a night at most."""
    due = [one for one in known.values() if one.due(utc) and one.aim in BY_KEY]
    return sorted(due, key=lambda one: one.last_utc)[:3]


@dataclass(frozen=True, slots=True)
class _Context:
    """What the steps are made from."""

    ephemeris: Ephemeris
    request: RoadRequest
    evening: Evening
    now: Evening
    known: dict[tuple[str, str], Standing]
    later: datetime | None

    def again(self, one: Standing) -> Step | None:
        """Ask again for what was learned, where it can be done now; a star from another side."""
        if self._clouded(BY_KEY[one.aim]):
            return None
        side = from_another_side(self.evening, one.subject) if one.aim in STARS else None
        told = side or TELLERS[one.aim](self.evening)
        if not isinstance(told, Telling) or told.subject != one.subject:
            return None
        step = _step(BY_KEY[one.aim], told)
        words = (one_less_help(step.check), *step.sentences)
        return replace(step, title=f"Again: {step.title}", sentences=words, again=True)

    def new(self, taken: int) -> tuple[list[Step], list[Step]]:
        """Give the steps that come next, and those that have to wait."""
        fresh: list[Step] = []
        waiting: list[Step] = []
        reached = self._found()
        figures = 1 if self._new_figure_tonight() else 0
        for aim in AIMS:
            enough = len(fresh) + taken >= MOST_STEPS and len(waiting) >= MOST_WAITING
            if enough or aim.key in self._found() or not aim.fits(self.request.tool):
                continue
            if not set(aim.after) <= reached:
                continue
            step = self._made(aim)
            if not step.waits and aim.figure and figures:
                continue
            (waiting if step.waits else fresh).append(step)
            if not step.waits:
                figures += aim.figure
                reached |= {aim.key}
        return fresh, waiting

    def _made(self, aim: Aim) -> Step:
        resting = next(
            (o for o in self.known.values() if o.aim == aim.key and o.rests(self.request.utc)), None
        )
        if resting is not None:
            week = resting.last_utc + timedelta(days=7)
            return _waiting_step(aim, Waiting(_REST_WORDS, week))
        if self._clouded(aim):
            return _waiting_step(aim, Waiting("Clouds cover the sky."))
        told = TELLERS[aim.key](self.now if aim.key == "sunset" else self.evening)
        if isinstance(told, Waiting):
            return _waiting_step(aim, self._kept(aim, told))
        step = _step(aim, told)
        if self.later is not None and aim.sky and self._is_far:
            waiting = Waiting("It does not get dark now.", self.later)
            return _waiting_step(aim, self._kept(aim, waiting))
        return replace(step, waits_until=self.later if aim.sky else None)

    def _kept(self, aim: Aim, waiting: Waiting) -> Waiting:
        """Give no moment at which the step would wait still; go from each to the next that is told.

        The moments come from simple formulae and look at one reason alone.
        """
        until = waiting.until_utc
        for _ in range(_TRIES):
            if until is None:
                break
            moment = self.ephemeris.moment(self.request.site, until)
            told = TELLERS[aim.key](self.evening.at(moment))
            if isinstance(told, Telling):
                return replace(waiting, until_utc=until)
            until = told.until_utc if told.until_utc and told.until_utc > until else None
        return replace(waiting, until_utc=None)

    @property
    def _is_far(self) -> bool:
        """Whether the evening that the sky is dark again is not the next one."""
        return self.later is not None and self.later - self.request.utc > timedelta(hours=30)

    def _clouded(self, aim: Aim) -> bool:
        return self.request.overcast and aim.sky and aim.key != "hand"

    def _found(self) -> set[str]:
        return {one.aim for one in self.known.values() if one.box}

    def _new_figure_tonight(self) -> bool:
        night = timedelta(hours=12)
        return any(
            BY_KEY[one.aim].figure and one.nights == 1 and self.request.utc - one.last_utc < night
            for one in self.known.values()
            if one.aim in BY_KEY and one.box
        )


def one_less_help(check: str) -> str:
    """Turn what is asked on another night into a task for now."""
    for beginning in ("Another night, ", "Another day, ", "In a week, ", "Tomorrow, "):
        if check.startswith(beginning):
            rest = check.removeprefix(beginning)
            return f"First without help: {rest}"
    return f"First without help: {check[:1].lower()}{check[1:]}"


def _step(aim: Aim, told: Telling) -> Step:
    title = f"{aim.title}: {told.thing}" if told.thing else aim.title
    return Step(
        aim.key,
        title,
        told.subject,
        aim.tool,
        told.azimuth_deg,
        told.altitude_deg,
        told.sentences,
        told.check,
        told.missing,
        is_figure=aim.figure,
    )


def _waiting_step(aim: Aim, waiting: Waiting) -> Step:
    return Step(
        aim.key,
        aim.title,
        "",
        aim.tool,
        None,
        None,
        (waiting.why,),
        "",
        "",
        waiting.until_utc,
        waits=True,
        is_figure=aim.figure,
    )
