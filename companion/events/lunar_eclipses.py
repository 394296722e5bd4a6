"""Eclipses of the Moon: contacts, how deep, how dark."""

import numpy as np

from companion.arrays import FloatArray, RowArray
from companion.events.event import EventKind
from companion.events.scene import Draft, Scene
from companion.events.search import minima, moments, roots
from companion.events.shadow import shadow_at

_STEP_S = 10800.0
_REACH_S, _FINE_S = 4.0 * 3600.0, 600.0
_LOOK_S = 600.0
_FAINT = 0.6  # of the diameter: less of the penumbra, and the eye finds no shade
# Edge of the shadow (0 penumbra, 1 umbra), side of the Moon that touches it, codes of the contacts.
_CONTACTS = (
    ("penumbra_begins", "penumbra_ends"),
    ("partial_begins", "partial_ends"),
    ("total_begins", "total_ends"),
)


def lunar_eclipses(scene: Scene) -> list[Draft]:
    """Find all of them, seen from here or not."""

    def curve(seconds: FloatArray, _rows: RowArray) -> FloatArray:
        return shadow_at(scene, seconds).apart ** 2

    steps = moments(scene.span.length_s, _STEP_S)
    found, _ = minima(curve, steps, curve(steps, np.zeros(0, np.intp))[:, None])
    deep = found[shadow_at(scene, found).penumbral_magnitude > 0.0] if len(found) else found
    return [_draft(scene, s) for s in deep.tolist()]


def _draft(scene: Scene, s: float) -> Draft:
    shadow = shadow_at(scene, np.array([s]))
    umbral, penumbral = float(shadow.umbral_magnitude[0]), float(shadow.penumbral_magnitude[0])
    contacts = _contacts(scene, s)
    code = "total" if umbral >= 1.0 else "partial" if umbral > 0.0 else "penumbral"
    start_code, end_code = _CONTACTS[0 if code == "penumbral" else 1]
    looks = np.arange(contacts[start_code], contacts[end_code], _LOOK_S)
    return Draft(
        EventKind.LUNAR_ECLIPSE,
        code,
        f"{code.capitalize()} eclipse of the Moon",
        s,
        ("moon",),
        tuple(looks.tolist()),
        0.0,
        start_s=contacts["penumbra_begins"],
        end_s=contacts["penumbra_ends"],
        magnitude=umbral,
        bodies=("Moon",),
        remark=_how_dark(umbral, penumbral, float(shadow.apart[0] / shadow.umbra[0])),
        contacts={**contacts, "greatest": s},
        numbers={"umbral_magnitude": umbral, "penumbral_magnitude": penumbral},
    )


def _contacts(scene: Scene, s: float) -> dict[str, float]:
    def curves(seconds: FloatArray, rows: RowArray) -> FloatArray:
        shadow = shadow_at(scene, seconds)
        edge = np.where(rows == 0, shadow.penumbra, shadow.umbra)
        return shadow.apart - edge - shadow.moon * np.where(rows == 2, -1.0, 1.0)

    steps = s + np.arange(-_REACH_S, _REACH_S + 1.0, _FINE_S)
    values = np.stack([curves(steps, np.full(len(steps), row)) for row in range(3)], axis=1)
    found, which = roots(curves, steps, values)
    return {
        _CONTACTS[row][0 if moment < s else 1]: moment
        for moment, row in zip(found.tolist(), which.tolist(), strict=True)
    }


def _how_dark(umbral: float, penumbral: float, depth: float) -> str:
    """Say how dark it gets (common practice, no source; the air's dust decides)."""
    if umbral >= 1.0:
        return (
            "deep in the shadow: dark red"
            if depth < 0.35
            else "in the shadow: copper, one edge bright"
        )
    if umbral > 0.0:
        return f"{umbral:.0%} of its width in the shadow"
    if penumbral > _FAINT:
        return "a grey shade on one side"
    return "too slight a shade for the eye"
