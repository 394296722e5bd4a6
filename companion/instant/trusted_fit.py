"""The fit that the numbers come from, while its sightings are still being compared and after."""

from typing import TYPE_CHECKING, Final

from companion.instant.choices import Choices
from companion.instant.examination import Examination
from companion.mount import Mount, Sighting

if TYPE_CHECKING:  # all about fits is loaded when a mount is first chosen
    from companion.mount import Alignment, Doubt

NOT_COMPARED: Final = "the sightings are not compared yet: no numbers"
_ODD: Final = 1e-3  # one honest night in a thousand fits worse


class TrustedFit:
    """Fits again when mount, sightings or what is said of them have changed.

    A fit takes milliseconds and is there at once; the examination of its sightings comes later.
    Until it does, sightings that fit each other badly have no part in the fit, unless an earlier
    examination has passed them.
    """

    def __init__(self) -> None:
        self.alignment: Alignment | None = None
        self.doubts: tuple[Doubt, ...] = ()
        self.compared = True
        self._of: tuple[Mount, tuple[Sighting, ...], Examination | None] | None = None
        self._passed: tuple[Sighting, ...] = ()

    def update(self, choices: Choices) -> bool:
        """Follow the choices; give whether anything is different now."""
        question = choices.sightings_question
        known = choices.examination
        if known is None or known.question != question:
            known = None
        if choices.mount is None:
            changed, self._of, self.alignment = self.alignment is not None, None, None
            return changed
        of = (choices.mount, choices.sightings, known)
        if of == self._of:
            return False
        self._of, self.compared = of, known is not None or question is None
        if known is None:
            self._fit_for_now(choices.mount, choices.sightings)
        else:
            self._fit_examined(known)
        return True

    @property
    def words(self) -> str:
        """Say why there are no numbers; empty where sightings would bring them."""
        from companion.mount import CONTRADICTED

        if self.alignment is None or not self.alignment.doubted:
            return ""
        return CONTRADICTED if self.compared else NOT_COMPARED

    def _fit_examined(self, known: Examination) -> None:
        from companion.mount import trusted

        question = known.question
        self.alignment = trusted(question.mount, question.sightings, known.doubts)
        self.doubts, self._passed = known.doubts, self.alignment.used

    def _fit_for_now(self, mount: Mount, sightings: tuple[Sighting, ...]) -> None:
        from companion.mount import fit

        self.alignment, self.doubts = fit(mount, sightings), ()
        if self.alignment.posterior.tail < _ODD:
            used = self.alignment.used
            new = tuple(one for one in used if not (one.kept or one in self._passed))
            self.alignment = fit(mount, sightings, new)
