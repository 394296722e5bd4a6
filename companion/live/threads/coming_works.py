"""What the thread for what comes owns: its own ephemeris and the elements that are kept.

Imported only in that thread: it brings numpy and the ephemeris.
"""

from collections.abc import Callable, Mapping
from pathlib import Path

from companion.advice import AdviceError
from companion.events import (
    ComingRequest,
    Family,
    KeptElements,
    ReadElements,
    aurora_look,
    days_of,
    read_elements_file,
    read_kp_file,
    what_comes,
)
from companion.instant import TrustedFit
from companion.journal import prepared_home
from companion.live.coming_questions import (
    AuroraQuestion,
    ComingQuestion,
    ComingView,
    FileQuestion,
    FileRead,
    ReadingsQuestion,
)
from companion.mount import shown
from companion.night import Conditions, find_instrument
from companion.sky import Ephemeris, load_catalogue

_USUAL = "10×50"
_REFUSED_SAID = 2  # lines that a message has room for


class ComingWorks:
    """Answers what comes.

    Parameters
    ----------
    home : Path
        Where elements are kept.
    """

    def __init__(self, home: Path) -> None:
        self._ephemeris = Ephemeris.load()
        self._home, self._kept = home, KeptElements(home)
        self._fit = TrustedFit()

    def close(self) -> None:
        """Close the ephemeris."""
        self._ephemeris.close()

    def answer(self, question: object, progress: Callable[[float], bool]) -> object:
        """Answer one question.

        Raises
        ------
        AdviceError
            If it has no answer, in words for the person.
        Cancelled
            If ``progress`` gives False.
        """
        match question:
            case AuroraQuestion():
                return aurora_look(question.site, question.utc, question.kp)
            case FileQuestion():
                return self._read(question)
            case ReadingsQuestion():
                return self._readings(question)
            case ComingQuestion():
                return self._look_ahead(question, progress)
        raise TypeError(question)

    def _look_ahead(
        self, question: ComingQuestion, progress: Callable[[float], bool]
    ) -> ComingView:
        request = ComingRequest(
            question.site,
            question.first,
            question.last,
            question.instrument or find_instrument(_USUAL),
            Conditions.at(question.site),
            satellites=tuple(self._kept.all(Family.SATELLITE)),
        )
        return ComingView(
            question,
            what_comes(self._ephemeris, load_catalogue(), request, progress),
            days_of(self._ephemeris, request),
        )

    def _readings(self, question: ReadingsQuestion) -> Mapping[str, str]:
        """Give what both dials show; nothing for a mount that is not aligned."""
        self._fit.update(question.choices)
        alignment = self._fit.alignment
        if alignment is None or not alignment.used:
            return {}
        mount, found = alignment.mount, {}
        for name, azimuth_deg, altitude_deg in question.places:
            aim = alignment.aim(azimuth_deg, altitude_deg)
            dials = (
                shown(mount.altitude, aim.altitude_reading_deg),
                shown(mount.azimuth, aim.azimuth_reading_deg),
            )
            found[name] = " ".join(f"{dial.text}°" for dial in dials)
        return found

    def _read(self, question: FileQuestion) -> FileRead:
        """Read elements and keep them; what holds none may hold Kp."""
        try:
            read = read_elements_file(question.path)
        except AdviceError as error:
            return self._read_kp(question, error)
        if not read.elements:
            return self._read_kp(question, _no_elements(question.path, read))
        prepared_home(self._home)
        count = self._kept.keep(read.elements, question.utc)
        old = sum(1 for one in read.elements if one.age_words(question.utc))
        parts = [f"{count} kept, the first {read.elements[0].name}"]
        parts += [f"{old} of them too old to aim by" if old > 1 else "too old to aim by"] * bool(
            old
        )
        parts += [f"{read.refused_count} lines refused: {_refused(read)}"] * bool(read.refused)
        return FileRead(f"Elements: {'; '.join(parts)}.")

    @staticmethod
    def _read_kp(question: FileQuestion, otherwise: AdviceError) -> FileRead:
        try:
            rows = read_kp_file(question.path)
        except AdviceError:
            raise otherwise from None
        first, last = rows[0].start_utc, rows[-1].start_utc
        return FileRead(
            f"Kp of {first:%Y-%m-%d %H:%M} to {last:%Y-%m-%d %H:%M} UTC was read.", rows
        )


def _no_elements(path: str, read: ReadElements) -> AdviceError:
    return AdviceError(
        f"{path[:200]} holds neither elements nor Kp: {_refused(read)}.",
        "Name a file of elements as the Minor Planet Center or a satellite service publishes them, "
        "or of Kp.",
        "Nothing was kept.",
    )


def _refused(read: ReadElements) -> str:
    return "; ".join(f"line {one.line}, {one.reason}" for one in read.refused[:_REFUSED_SAID])
