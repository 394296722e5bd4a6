"""One walk along stops in a given order, each begun as early as it may be."""

from collections.abc import Sequence

from companion.night.order.route import START, RouteProblem

Place = tuple[int, int, float]  # slot in which one is ready to turn, last stop, total so far
AT_START: Place = (0, START, 0.0)


class Walk:
    """Walks along orders; ``hold`` gives the slot before which each stop is not begun.

    What comes too late, or is of no use any more, is passed over: any order of all stops stands
    for a route.
    """

    def __init__(self, problem: RouteProblem) -> None:
        self.hold = [0] * len(problem)
        self._slots, self._stretch = problem.slots, problem.stretch
        self._lists = problem.lists

    def along(self, order: Sequence[int], at: int = 0, place: Place = AT_START) -> list[Place]:
        """Give the place before each stop from one on, and that at the end."""
        lists, hold = self._lists, self.hold
        gain, next_start, service = lists.gain, lists.next_start, lists.service
        turn_price, wait_price, turns = lists.turn_price, lists.wait_price, lists.turn
        slots, stretch = self._slots, self._stretch
        now, here, total = place
        trail: list[Place] = []
        tell = trail.append
        for stop in order[at:]:
            tell((now, here, total))
            turn = turns[now // stretch][here + 1][stop]
            start = arrive = now + turn
            held = hold[stop]
            if held > start:  # noqa: PLR1730 - a call of max would cost a third of the walk
                start = held
            if start >= slots:
                continue
            start = next_start[stop][start]
            if start >= slots:
                continue
            total += gain[stop][start] - turn * turn_price[stop]
            if start > arrive:
                total -= (start - arrive) * wait_price[stop]
            now, here = start + service[stop], stop
        tell((now, here, total))
        return trail

    def kept(self, order: Sequence[int]) -> list[int]:
        """Give the stops of an order that find their time."""
        trail = self.along(order)
        return [stop for stop, after in zip(order, trail[1:], strict=True) if after[1] == stop]

    def starts(self, route: Sequence[int]) -> list[int]:
        """Give the starts of stops that all find their time."""
        ends = [place[0] for place in self.along(route)[1:]]
        return [end - self._lists.service[stop] for stop, end in zip(route, ends, strict=True)]
