"""A round from a star group that one knows: what it leads to goes to the end of the queue."""

from datetime import datetime
from typing import TYPE_CHECKING

from companion.live.clock import EveningClock
from companion.live.current_choices import CurrentChoices
from companion.live.messages import Messages, Severity
from companion.live.queue import Queue
from companion.live.threads.catalogue_thread import CatalogueThread, Library
from companion.sky import Site

if TYPE_CHECKING:  # loaded by the thread that needs it, after the first frame
    from companion.finding import GuideMap


class GuideRound:
    """Asks where a group leads, and queues what stands well now."""

    def __init__(
        self,
        choices: CurrentChoices,
        clock: EveningClock,
        messages: Messages,
        catalogues: CatalogueThread,
        queue: Queue,
    ) -> None:
        self._choices, self._clock, self._messages = choices, clock, messages
        self._catalogues, self._queue = catalogues, queue

    def start(self, group: str) -> None:
        """Start from the group of that name; a message says what came of it."""
        site, utc = self._choices.record.site, self._clock.now_utc
        self._catalogues.ask(
            "group round", lambda library: _guide_map(library, site, utc, group), self._take
        )

    def _take(self, found: "GuideMap") -> None:
        self._messages.say(Severity.NOTE, found.words, "group round")
        if found.queued:
            self._queue.add_all(found.queued)


def _guide_map(library: Library, site: Site, utc: datetime, group: str) -> "GuideMap":
    """Answer in the thread of the catalogues, where numpy and the ephemeris may be read."""
    from companion.finding import guide_map
    from companion.night import Conditions, eye_sky

    moment = library.ephemeris.moment(site, utc)
    return guide_map(library.catalogue, moment, group, eye_sky(moment, Conditions.at(site)).limit)
