"""A side-hung leaf on two hinges: what it does to each plate and each screw at any opening.

Closed, the leaf stands square to the wall that carries it. On the wall: `pull` away from it,
`along` towards the side the leaf opens to, `down` along gravity.
"""

# ruff: noqa: N802, N803, N815 - units keep their capitals

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from hangtrue.geometry import Point
from hangtrue.mechanics.customary import GRAVITY
from hangtrue.mechanics.ranges import listed, positive, within
from hangtrue.source import cites
from hangtrue.tables import table

Share = Literal["both", "upper", "lower"]
CARRIED_ABOVE = {"both": 0.5, "upper": 1.0, "lower": 0.0}
"""Share of the vertical load that the upper hinge carries; which is so cannot be known."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Leaf:
    """A leaf on two hinges; lengths in mm.

    Attributes
    ----------
    mass_kg
        Glass by its nominal thickness, and what is fixed to it.
    centre
        From the hinge axis to the centre of mass, across the leaf.
    spacing
        Between the hinge centres.
    lower_hinge
        Height of the lower hinge's centre.

    """

    mass_kg: float
    centre: float
    spacing: float
    lower_hinge: float = 0.0

    @property
    def weight_N(self) -> float:
        """Weight of the leaf."""
        return self.mass_kg * GRAVITY


@dataclass(frozen=True, slots=True, kw_only=True)
class LeafLoad:
    """A force on the leaf besides its weight.

    Attributes
    ----------
    arm
        From the hinge axis, across the leaf, mm.
    height
        Same datum as the hinges, mm.
    along_N, across_N, down_N
        Towards the free edge; out of the leaf's plane the way it opens; along gravity.

    """

    arm: float
    height: float
    along_N: float = 0.0
    across_N: float = 0.0
    down_N: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class PlateForce:
    """Force of the leaf on one hinge plate, N: away from the wall, along it, down."""

    pull_N: float
    along_N: float
    down_N: float


@dataclass(frozen=True, slots=True, kw_only=True)
class HingeForces:
    """What the leaf does to both plates, and the torque about its axis that nothing of them takes.

    Attributes
    ----------
    upper, lower
        On the wall.
    torque_Nmm
        Of the loads about the axis, positive where they open the leaf: for the detent, the stop or
        a hand.

    """

    upper: PlateForce
    lower: PlateForce
    torque_Nmm: float


@cites("own", "statics of a side-hung leaf")
def hinge_forces(
    leaf: Leaf, opening_rad: float, share: Share = "both", loads: Sequence[LeafLoad] = ()
) -> HingeForces:
    """Forces on both hinge plates at an opening angle (0 is closed).

    The couple of the weight is exact; how its vertical part is shared is not determined, so `both`
    (half and half), `upper` and `lower` (all on one) are to be tried.
    """
    positive("mass of the leaf", leaf.mass_kg)
    spacing = positive("spacing of the hinges", leaf.spacing)
    carried = CARRIED_ABOVE[listed("share", share, CARRIED_ABOVE)]
    down = leaf.weight_N + sum(load.down_N for load in loads)
    tipping = leaf.weight_N * leaf.centre + sum(load.down_N * load.arm for load in loads)
    along, along_moment = _sums([(q.along_N, q.height) for q in loads], leaf.lower_hinge)
    across, across_moment = _sums([(q.across_N, q.height) for q in loads], leaf.lower_hinge)
    out_up = (tipping + along_moment) / spacing
    side_up = across_moment / spacing
    upper = _on_wall(opening_rad, out_up, side_up, down * carried)
    lower = _on_wall(opening_rad, along - out_up, across - side_up, down * (1 - carried))
    torque = sum(load.across_N * load.arm for load in loads)
    return HingeForces(upper=upper, lower=lower, torque_Nmm=torque)


def _sums(forces: Sequence[tuple[float, float]], datum: float) -> tuple[float, float]:
    """Sum of the forces and their moment about a height."""
    return sum(f for f, _ in forces), sum(f * (z - datum) for f, z in forces)


def _on_wall(opening: float, along_leaf: float, across_leaf: float, down: float) -> PlateForce:
    """Turn a force in the leaf's directions into the wall's."""
    cosine, sine = math.cos(opening), math.sin(opening)
    return PlateForce(
        pull_N=along_leaf * cosine - across_leaf * sine,
        along_N=along_leaf * sine + across_leaf * cosine,
        down_N=down,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class ScrewForce:
    """Demand on one screw, N: tension, and shear along the wall and down."""

    tension_N: float
    along_N: float
    down_N: float

    @property
    def shear_N(self) -> float:
        """Shear, both directions together."""
        return math.hypot(self.along_N, self.down_N)


@cites("own", "elastic screw group under a rigid plate")
def screw_forces(
    force: PlateForce, screws: Sequence[Point], stand_off: float
) -> tuple[ScrewForce, ...]:
    """Demand on each screw of a plate whose force acts at a distance from the wall.

    The plate is stiff and the screws share by their distance from the middle of the group; pressure
    of the plate on the wall is not counted on. A row of screws at +-s/2 sees V e / s from the
    weight.

    Parameters
    ----------
    force
        On the plate, at the hinge axis.
    screws
        Places (along the wall, up) in mm from the point on the plate level with the force.
    stand_off
        From the wall's face to the hinge axis, mm.

    Raises
    ------
    OutOfRange
        Without a screw, or where the screws stand in a row that cannot take a moment across it.

    """
    within("number of screws", len(screws), 1)
    count = len(screws)
    mid_y, mid_z = (sum(s[i] for s in screws) / count for i in (0, 1))
    places = [(y - mid_y, z - mid_z) for y, z in screws]
    nod = force.down_N * stand_off - force.pull_N * mid_z
    turn = force.along_N * stand_off + force.pull_N * mid_y
    twist = force.down_N * mid_y + force.along_N * mid_z
    spread_y, spread_z = sum(y * y for y, _ in places), sum(z * z for _, z in places)
    return tuple(
        ScrewForce(
            tension_N=max(
                0.0,
                force.pull_N / count
                + _part(nod, z, spread_z, "up the wall")
                - _part(turn, y, spread_y, "along the wall"),
            ),
            along_N=force.along_N / count - _part(twist, z, spread_y + spread_z, "apart"),
            down_N=force.down_N / count - _part(twist, y, spread_y + spread_z, "apart"),
        )
        for y, z in places
    )


def _part(moment: float, place: float, spread: float, way: str) -> float:
    """Share of a moment that falls to one screw."""
    if moment == 0:
        return 0.0
    positive(f"spread of the screws {way}", spread)
    return moment * place / spread


@cites("en-1935", "width allowance")
def width_allowance(height: float, width: float) -> float:
    """Share of the mass to add for a leaf wider than half its height: 2 - height/width, or 0."""
    return max(0.0, 2 - positive("height", height) / positive("width", width))


@cites("en-1935", "mass adjustment")
def adjusted_mass(mass_kg: float, height: float, width: float, adders: Sequence[str] = ()) -> float:
    """Mass by which a hinge is graded, kg: the shares of `doors.toml` add up.

    A yardstick only for glass hinges, which open both ways and so lie outside the standard.
    """
    rows = table("mechanics/doors")["adder"]
    for name in adders:
        listed("adder", name, (row for row in rows if row != "source"))
    share = width_allowance(height, width) + sum(float(rows[name]) for name in adders)
    return positive("mass of the leaf", mass_kg) * (1 + share)


@cites("en-1935", "table 1, hinge grades")
def hinge_grade(mass_kg: float, cycles: int = 200_000) -> int:
    """Least hinge grade for an adjusted mass and a number of test cycles.

    Raises
    ------
    OutOfRange
        If no grade covers it: above 160 kg or 200,000 cycles.

    """
    rows = table("mechanics/doors")["hinge-grade"]
    grades = [(int(k), float(row[0]), int(row[1])) for k, row in rows.items() if k != "source"]
    enough = [g for g, mass, tested in grades if mass >= mass_kg and tested >= cycles]
    if not enough:
        within("adjusted mass", mass_kg, 0, max(mass for _, mass, _ in grades), "kg")
        within("cycles", cycles, 0, max(tested for _, _, tested in grades))
    return min(enough)


@cites("own", "couple of the weight")
def heaviest_leaf(capacity_N: float, centre: float, spacing: float) -> float:
    """Mass whose couple just uses a plate's pull capacity with the leaf closed; kg."""
    return positive("capacity", capacity_N) * spacing / (GRAVITY * positive("centre", centre))
