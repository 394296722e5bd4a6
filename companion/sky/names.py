"""Names of stars, star groups, and what is known of the showpieces among them."""

import json
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from companion.sky.bayer import bayer_text, spoken_bayer
from companion.sky.constellation import CONSTELLATIONS
from companion.sky.resources import resource
from companion.sky.target import Kind, Target


@dataclass(frozen=True, slots=True)
class StarName:
    """How one star is called. ``bayer`` is a code such as ``pi3``; 0 and "" mean none."""

    hip: int
    name: str = ""  # approved by the International Astronomical Union
    bayer: str = ""
    flamsteed: int = 0
    constellation: str = ""  # of the Bayer letter and the Flamsteed number
    also: tuple[str, ...] = ()  # older names still in use
    variable: tuple[str, ...] = ()  # "R Leo"

    def best(self) -> str:
        """Give the name to show: proper name, letter, number, variable's name, HIP."""
        return self.all()[0]

    def all(self) -> tuple[str, ...]:
        """Give every way to write this star, best known first."""
        names = [self.name] if self.name else []
        if self.bayer:
            names += [bayer_text(self.bayer, self.constellation)]
        if self.flamsteed:
            names += [f"{self.flamsteed} {self.constellation}"]
        names += [*self.variable, *self.also]
        if self.bayer:
            names += [spoken_bayer(self.bayer, self.constellation)]
        return (*names, f"HIP {self.hip}")


@dataclass(frozen=True, slots=True)
class DoubleStar:
    """A double star worth showing; the angle is of the fainter star, north through east."""

    hip: int
    primary_magnitude: float
    companion_magnitude: float
    separation_arcsec: float
    position_angle_deg: float
    colours: str


@dataclass(frozen=True, slots=True)
class VariableStar:
    """A variable star worth following; ``period_days`` is None where it keeps none.

    ``gcvs_type`` is the type's code in the General Catalogue of Variable Stars (Samus et al. 2017,
    Astronomy Reports 61, 80).
    """

    hip: int
    name: str
    gcvs_type: str
    type: str
    brightest: float
    faintest: float
    period_days: float | None

    @property
    def brightest_again(self) -> float | None:
        """What it rises to again and again; None for a nova, which may not for a lifetime."""
        return None if self.gcvs_type == "NR" else self.brightest


@dataclass(eq=False)
class Names:
    """The parsed contents of ``resources/names.json``."""

    stars: dict[int, StarName]
    groups: dict[str, Target]
    members: dict[str, tuple[int, ...]]  # HIP numbers of each group's stars
    doubles: dict[int, DoubleStar]
    variables: dict[int, VariableStar]
    colours: dict[int, str]  # of the strikingly red stars

    @cached_property
    def by_letter(self) -> dict[tuple[str, str], int]:
        """HIP number of each (Bayer code, constellation)."""
        return {(s.bayer, s.constellation): s.hip for s in self.stars.values() if s.bayer}

    @cached_property
    def by_variable(self) -> dict[tuple[str, str], int]:
        """HIP number of each (variable star's name such as ``RR``, constellation)."""
        found = {}
        for star in self.stars.values():
            for name in star.variable:
                head, _blank, constellation = name.rpartition(" ")
                found[head, constellation] = star.hip
        return found

    def kind(self, hip: int) -> Kind:
        """Say what a star is shown as."""
        if hip in self.doubles:
            return Kind.DOUBLE
        return Kind.VARIABLE if hip in self.variables else Kind.STAR

    def note(self, hip: int) -> str:
        """Say in words what is worth knowing about a star; often nothing."""
        parts = []
        if double := self.doubles.get(hip):
            parts.append(
                f"double {double.primary_magnitude:.1f} and {double.companion_magnitude:.1f}, "
                f"{double.separation_arcsec:g}″ apart: {double.colours}"
            )
        if variable := self.variables.get(hip):
            period = f", every {variable.period_days:g} days" if variable.period_days else ""
            parts.append(
                f"{variable.type}, {variable.brightest:.1f} to {variable.faintest:.1f}{period}"
            )
        if hip in self.colours:
            parts.append(self.colours[hip])
        return "; ".join(parts)


def load_names() -> Names:
    """Read ``resources/names.json``."""
    data = json.loads(resource("names.json").read_text(encoding="utf-8"))
    return Names(
        stars={row["hip"]: _star(row) for row in data["stars"]},
        groups={f"group:{row['key']}": _group(row) for row in data["groups"]},
        members={f"group:{row['key']}": tuple(row["members"]) for row in data["groups"]},
        doubles={row["hip"]: DoubleStar(**row) for row in data["doubles"]},
        variables={row["hip"]: VariableStar(**row) for row in data["variables"]},
        colours={row["hip"]: row["colour"] for row in data["coloured"]},
    )


def _star(row: dict[str, Any]) -> StarName:
    also, variable = tuple(row.pop("also", ())), tuple(row.pop("variable", ()))
    return StarName(**row, also=also, variable=variable)


def _group(row: dict[str, Any]) -> Target:
    fields = {key: row[key] for key in ("name", "ra_deg", "dec_deg", "major_arcmin", "magnitude")}
    return Target(
        key=f"group:{row['key']}",
        kind=Kind(row["kind"]),
        aliases=tuple(row["aliases"]),
        constellation=row["constellation"],
        **fields,
    )


def written_out(designation: str) -> str:
    """Write a variable's or group's abbreviation out: ``R Leo`` becomes ``R Leonis``."""
    head, _blank, tail = designation.rpartition(" ")
    return f"{head} {CONSTELLATIONS[tail][1]}" if head and tail in CONSTELLATIONS else designation
