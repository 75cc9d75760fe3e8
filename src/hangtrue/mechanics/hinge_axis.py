"""A hinge axis that is not plumb: torque over the swing, rest, time to close, height of any corner.

x runs from the axis to the free edge of the closed leaf, y to the side it opens to, z up. The leans
are those of the top of the axis: `lean_x` towards the free edge (closes the leaf), `lean_y` towards
the opening side (moves its place of rest). Exact for any lean; opening angles are about the axis.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.special import ellipkinc

from hangtrue.mechanics.customary import GRAVITY
from hangtrue.mechanics.ranges import OutOfRange, positive, within
from hangtrue.source import cites

Array = NDArray[np.float64]
Place = tuple[float, float, float]

STEEPEST = math.radians(30)
"""rad; an axis that leans more is no hinge axis of a door but a slip of the reading."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Axis:
    """Direction of a hinge axis: leans of its top as slopes (rise over run), see the module."""

    lean_x: float
    lean_y: float

    @property
    def direction(self) -> Array:
        """Unit vector (3,) upwards along the axis."""
        up = np.array([self.lean_x, self.lean_y, 1.0])
        return np.asarray(up / np.linalg.norm(up))

    @property
    def lean_rad(self) -> float:
        """Angle between the axis and the plumb line."""
        return math.atan(math.hypot(self.lean_x, self.lean_y))


def axis_through(lower: Place, upper: Place) -> Axis:
    """Axis through the centres of the two hinges as they will sit, shims included; mm."""
    rise = positive("rise from lower to upper hinge", upper[2] - lower[2])
    axis = Axis(lean_x=(upper[0] - lower[0]) / rise, lean_y=(upper[1] - lower[1]) / rise)
    within("lean of the hinge axis", axis.lean_rad, 0, STEEPEST, "rad")
    return axis


def leaf_directions(axis: Axis, opening_rad: float) -> tuple[Array, Array]:
    """Unit vectors (3,) across the leaf and out of its face, the way it opens."""
    up = axis.direction
    closed = np.array([1.0, 0.0, 0.0]) - up[0] * up
    across = closed / np.linalg.norm(closed)
    face = np.cross(up, across)
    cosine, sine = math.cos(opening_rad), math.sin(opening_rad)
    return across * cosine + face * sine, face * cosine - across * sine


@cites("own", "rotation about a leaning axis")
def place(axis: Axis, across: float, along: float, opening_rad: float, out: float = 0.0) -> Place:
    """Place of a point of the leaf in the room, from the lower end of the axis; mm.

    Parameters
    ----------
    axis
        The hinge axis.
    across
        From the axis across the leaf.
    along
        Along the axis, up; negative below its lower end.
    opening_rad
        0 is closed.
    out
        Out of the leaf's face, the way it opens.

    """
    over, face = leaf_directions(axis, opening_rad)
    x, y, z = axis.direction * along + over * across + face * out
    return float(x), float(y), float(z)


@cites("own", "rotation about a leaning axis")
def rise(axis: Axis, across: float, opening_rad: float, out: float = 0.0) -> float:
    """How much higher a point of the leaf is than when closed; mm, negative where it drops."""
    opened = place(axis, across, 0.0, opening_rad, out)[2]
    return opened - place(axis, across, 0.0, 0.0, out)[2]


@cites("own", "rotation about a leaning axis")
def lowest(
    axis: Axis, across: float, from_rad: float, to_rad: float, out: float = 0.0
) -> tuple[float, float]:
    """Least `rise` of a point between two openings, and the opening where it is; (mm, rad)."""
    # the height is a cosine of the opening: its only minimum is opposite its maximum
    start, quarter = (place(axis, across, 0.0, a, out)[2] for a in (0.0, math.pi / 2))
    turning = (math.atan2(quarter, start) + math.pi) % (2 * math.pi)
    inside = [a for a in (turning, turning - 2 * math.pi) if from_rad <= a <= to_rad]
    return min((rise(axis, across, a, out), a) for a in (from_rad, to_rad, *inside))


@cites("own", "torque of the weight about a leaning axis")
def torque(axis: Axis, mass_kg: float, centre: float, opening_rad: float) -> float:
    """Torque of the leaf's weight about its axis, N mm: positive opens it, negative closes it.

    For small leans m g c (-lean_x sin t + lean_y cos t); here the vector product itself.

    Parameters
    ----------
    axis
        The hinge axis.
    mass_kg
        Of the leaf.
    centre
        From the axis to the centre of mass, across the leaf, mm.
    opening_rad
        0 is closed.

    """
    over, _ = leaf_directions(axis, opening_rad)
    weight = np.array([0.0, 0.0, -positive("mass of the leaf", mass_kg) * GRAVITY])
    return float(axis.direction @ np.cross(over * centre, weight))


@cites("own", "place of rest of a leaf on a leaning axis")
def rest_angle(axis: Axis) -> float:
    """Opening, -pi to pi, at which the leaf hangs lowest; OutOfRange if the axis is plumb."""
    if axis.lean_rad == 0:
        raise OutOfRange("lean of the hinge axis", 0, "axes out of plumb")
    closed, face = leaf_directions(axis, 0.0)
    return math.atan2(-face[2], -closed[2])


@cites("own", "rotation of a free leaf on a leaning axis")
def swing_time(axis: Axis, radius: float, from_rad: float, to_rad: float) -> float:
    """Time a leaf let go at one opening takes, without friction, to first pass another; s.

    Elliptic integrals: w0^2 = 3 g sin L / (2 b) for a uniform leaf of width b.

    Parameters
    ----------
    axis
        The hinge axis.
    radius
        Reduced length: moment of inertia over first moment of the leaf about the axis, mm; 2 b / 3
        for a uniform leaf hung on its edge.
    from_rad
        Where it is let go.
    to_rad
        On its way: nearer to the place of rest, or beyond it as far as it swings.

    """
    rest = rest_angle(axis)
    start = _wrapped(from_rad - rest)
    end = _wrapped(to_rad - rest) * (1 if start >= 0 else -1)
    start = abs(start)
    within("opening to pass, measured from rest", end, -start, start, "rad")
    frequency = math.sqrt(GRAVITY * 1000 * math.sin(axis.lean_rad) / positive("radius", radius))
    modulus = math.sin(start / 2)
    if modulus == 0:
        return 0.0
    phase = math.asin(max(-1.0, min(1.0, math.sin(end / 2) / modulus)))
    quarter = float(ellipkinc(math.pi / 2, modulus**2))
    return (quarter - float(ellipkinc(phase, modulus**2))) / frequency


def _wrapped(angle: float) -> float:
    return (angle + math.pi) % (2 * math.pi) - math.pi


@cites("own", "rotation of a free leaf on a leaning axis")
def lean_closing_in(seconds: float, width: float, from_rad: float) -> float:
    """Lean in the closed plane that closes a uniform leaf in a time, let go at an opening; rad.

    sin L = 2 b K(sin(t0/2))^2 / (3 g T^2).
    """
    within("opening", from_rad, 1e-6, math.pi - 1e-6, "rad")
    quarter = float(ellipkinc(math.pi / 2, math.sin(from_rad / 2) ** 2))
    sine = 2 * width * (quarter / positive("time", seconds)) ** 2 / (3000 * GRAVITY)
    return math.asin(within("sine of the lean", sine, 0, 1))


def stays_put(axis: Axis, mass_kg: float, centre: float, opening_rad: float, hold: float) -> bool:
    """Whether a hinge's friction or detent torque (`hold`, N mm) keeps the leaf where it is."""
    return abs(torque(axis, mass_kg, centre, opening_rad)) <= within("holding torque", hold, 0)


def handle_force(
    axis: Axis, mass_kg: float, centre: float, opening_rad: float, arm: float
) -> float:
    """Force across the leaf at the handle that balances the weight; N, positive pushes it open."""
    return -torque(axis, mass_kg, centre, opening_rad) / positive("arm of the handle", arm)


@cites("own", "place of rest of a leaf on a leaning axis")
def shim_to_rest_at(axis: Axis, spacing: float, rest_rad: float) -> float:
    """How far to move the upper hinge along y so that the leaf rests at an opening; mm.

    Only an axis that leans towards the free edge (lean_x > 0) rests within a quarter turn.

    Raises
    ------
    OutOfRange
        If no shim can do it, for want of a lean towards the free edge.

    """
    within("opening to rest at", rest_rad, -math.radians(89), math.radians(89), "rad")
    lean = positive("lean of the axis towards the free edge", axis.lean_x)
    # tan(rest) = lean_y sqrt(1 + lean_x^2 + lean_y^2) / lean_x, solved for lean_y
    target, plain = lean * math.tan(rest_rad), 1 + lean**2
    size = math.sqrt((math.sqrt(plain**2 + 4 * target**2) - plain) / 2)
    wanted = math.copysign(size, target)
    return (wanted - axis.lean_y) * positive("spacing of the hinges", spacing)
