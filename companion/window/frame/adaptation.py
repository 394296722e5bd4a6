"""How long the eyes have had no light but a dim screen: a clock, not a measurement."""

from companion.sky import duration_text

DIM = 0.105  # of full luminance: a screen brighter than a tenth sets the clock back
_FULL_S = 1800.0  # common practice, no source: after half an hour little more is gained


class Adaptation:
    """Counts from the last white light, or from when the screen was last bright."""

    def __init__(self, now_s: float) -> None:
        self._since_s = now_s

    def begin(self, now_s: float) -> None:
        """Begin anew: somebody switched a white light on."""
        self._since_s = now_s

    def words(self, now_s: float, luminance: float) -> str:
        """Say how long the eyes have adapted; a bright screen sets the clock back, silently."""
        if luminance > DIM:
            self._since_s = now_s
            return ""
        dark_s = now_s - self._since_s
        if dark_s >= _FULL_S:
            return "eyes adapted"
        return f"eyes {duration_text(dark_s)} in the dark" if dark_s >= 60.0 else "eyes adapting"
