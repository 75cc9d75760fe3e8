"""The hinge axis as the plates will sit: where a door rests, how hard it pulls, how it rises."""

# ruff: noqa: N802, N803 - units keep their capitals

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from hangtrue.check.case import Case
from hangtrue.check.finding import Finding, Level
from hangtrue.check.hung import Hung
from hangtrue.check.wording import sentence
from hangtrue.estimate import NORMAL, Estimate
from hangtrue.fit.enclosure import Gap
from hangtrue.job.hardware import Handle
from hangtrue.job.readings import Side
from hangtrue.mechanics.customary import GRAVITY
from hangtrue.mechanics.hinge_axis import Axis, rest_angle, rise, shim_to_rest_at, torque
from hangtrue.phrase import phrase
from hangtrue.source import cites

PAIR = 2
"""Hinges that make an axis."""
PLUMB = 1e-6
"""Slope under which an axis counts as plumb."""
LEANING = 0.5
"""mm by which the upper plate is set in beyond plumb where a door must be made to close."""
STEPS = 201
PLACES = 9
"""Places along a lower edge that are followed, both ends included."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Swing:
    """A door on its hinge axis.

    Attributes
    ----------
    lean_in, lean_out
        How far the upper hinge stands from the plumb line through the lower one: toward the free
        edge of the shut door, and to the side the door opens to; mm.
    packing
        How much of `lean_in` is packing that the gaps ask for, mm.
    spacing
        Lower to upper hinge, mm.
    mass_kg, centre, width
        Of the door; centre of mass and free edge from the axis, mm.
    handle
        From the axis, mm.
    height
        Of the door, mm.

    """

    lean_in: Estimate
    lean_out: Estimate
    packing: float
    spacing: float
    mass_kg: float
    centre: float
    width: float
    handle: float
    height: float = 0.0

    @property
    def axis(self) -> Axis:
        """The axis by the best values."""
        return Axis(
            lean_x=self.lean_in.value / self.spacing, lean_y=self.lean_out.value / self.spacing
        )

    @property
    def moment_Nm(self) -> float:
        """Weight times the distance of the centre of mass, N m."""
        return self.mass_kg * GRAVITY * self.centre / 1000

    @property
    def torque(self) -> Estimate:
        """Greatest torque about the axis at any opening, without sign, N m."""
        x, y = self.lean_in.value / self.spacing, self.lean_out.value / self.spacing
        lean = math.hypot(x, y)
        slopes = (x / lean, y / lean) if lean > PLUMB else (0.7071, 0.7071)
        sds = (self.lean_in.sd / self.spacing, self.lean_out.sd / self.spacing)
        sd = math.hypot(slopes[0] * sds[0], slopes[1] * sds[1])
        return Estimate(self.moment_Nm * math.sin(self.axis.lean_rad), self.moment_Nm * sd)

    @property
    def rest_deg(self) -> float | None:
        """Opening at which the door hangs lowest, degrees, -180 to 180; None on a plumb axis."""
        if self.axis.lean_rad < PLUMB:
            return None
        return math.degrees(rest_angle(self.axis))

    def pull_Nm(self, opening_deg: float) -> float:
        """Torque of the weight at an opening, N m: + opens the door, - closes it."""
        opened = math.radians(opening_deg)
        return torque(self.axis, self.mass_kg, self.centre, opened) / 1000

    def held_until(self, torque_Nm: float, upto_deg: int) -> int | None:
        """Opening up to which such a torque holds it from shut on, degrees; None if not shut."""
        slack = (deg for deg in range(upto_deg + 1) if abs(self.pull_Nm(deg)) > torque_Nm)
        first = next(slack, upto_deg + 1)
        return first - 1 if first else None

    def the_other_way(self) -> Swing:
        """Return the same door as it opens to the other side."""
        return replace(self, lean_out=self.lean_out.scaled(-1.0))

    def below(self, torque_Nm: float) -> float:
        """Probability that the greatest torque is at most this."""
        reach = self.spacing * torque_Nm / self.moment_Nm
        return chance_within(self.lean_in, self.lean_out, reach)

    def with_lean(self, lean_in: float, lean_out: float) -> Swing:
        """Return the door on another axis."""
        return replace(
            self,
            lean_in=replace(self.lean_in, value=lean_in),
            lean_out=replace(self.lean_out, value=lean_out),
        )


@cites("own", "normal distribution over a circle, integrated strip by strip")
def chance_within(x: Estimate, y: Estimate, radius: float) -> float:
    """Probability that two independent quantities lie within a circle about 0.

    Examples
    --------
    >>> round(chance_within(Estimate(0, 1), Estimate(0, 1), 2.0), 3)  # 1 - exp(-2)
    0.865

    """
    if x.sd == 0 or y.sd == 0:
        other = y if x.sd == 0 else x
        fixed = x.value if x.sd == 0 else y.value
        half = math.sqrt(max(radius**2 - fixed**2, 0.0))
        return max(0.0, other.below(half) - other.below(-half)) if abs(fixed) <= radius else 0.0
    low, high = max(-radius, x.value - 6 * x.sd), min(radius, x.value + 6 * x.sd)
    if low >= high:
        return 0.0
    total, step = 0.0, (high - low) / STEPS
    for n in range(STEPS):
        at = low + (n + 0.5) * step
        half = math.sqrt(radius**2 - at**2)
        strip = NORMAL.cdf((half - y.value) / y.sd) - NORMAL.cdf((-half - y.value) / y.sd)
        total += NORMAL.pdf((at - x.value) / x.sd) / x.sd * strip * step
    return min(total, 1.0)


def no_axis(hung: Hung) -> Finding | None:
    """Ask for the hinges of a door that has no two to swing on; None where it has."""
    if len(hung.plates) >= PAIR:
        return None
    return Finding(
        level=Level.NOT_CHECKED,
        where=hung.id,
        found=phrase("{door} has no two hinges to swing on.", door=sentence(hung.called)),
        do="How many hinges does it hang on, and where?",
    )


def swing(case: Case, hung: Hung) -> Swing:
    """Return the door on the axis through its outer hinge plates."""
    door = hung.glass
    low, high = hung.plates[0], hung.plates[-1]
    width = max(door.width_bottom, door.width_top)
    edge = door.corners[0][0] if hung.side == "left" else door.corners[1][0]
    lean_in, packing = _lean_in(case, hung, low, high)
    return Swing(
        lean_in=lean_in,
        lean_out=_lean_out(case, hung, high - low),
        packing=packing,
        spacing=high - low,
        mass_kg=door.mass_kg,
        centre=abs(door.centroid[0] - edge),
        width=width,
        handle=width - _inset(case),
        height=max(door.height_left, door.height_right),
    )


def _inset(case: Case) -> float:
    """Distance of the handle from the free edge, mm; 0 where none is known."""
    handle = case.brief.items.get(case.job.hardware.handle)
    return float(handle.from_edge) if isinstance(handle, Handle) and not case.boxed else 0.0


def _set(case: Case) -> float:
    """Standard deviation of how two plates are set against each other, mm."""
    return math.sqrt(2.0) * float(case.brief.profile.setting_sd)


def _lean_in(case: Case, hung: Hung, low: float, high: float) -> tuple[Estimate, float]:
    """Lean of the axis toward the free edge, with the packing that the gaps ask for, mm."""
    if hung.wall is None:
        return Estimate(0.0, _set(case)), 0.0
    way = 1.0 if hung.wall == "left" else -1.0
    opening = case.opening
    walls = opening.wall(hung.wall, high) - opening.wall(hung.wall, low)
    lean = opening.estimate(walls).scaled(way)
    packing = _packed(case, hung, hung.wall, high) - _packed(case, hung, hung.wall, low)
    return Estimate(lean.value + packing, math.hypot(lean.sd, _set(case))), packing


def _packed(case: Case, hung: Hung, side: Side, height: float) -> float:
    """Packing behind a plate: what its gap is more than the hinge takes without, mm."""
    gaps = case.gaps(hung.id, f"{side} wall")
    if not gaps:
        return 0.0
    nearest: Gap = min(gaps, key=lambda gap: abs(gap.at - height))
    return max(0.0, nearest.predicted.value - float(hung.hinge.gap.most))


def _lean_out(case: Case, hung: Hung, spacing: float) -> Estimate:
    """Lean of the axis to the side the door opens to, if the plates follow the wall, mm."""
    entry = f"across {hung.wall}"
    if hung.wall is None or not case.opening.knows(entry):
        return Estimate(0.0, _set(case))
    way = 1.0 if case.job.wanted.swing == "in" else -1.0
    lean = case.opening.estimate(case.opening.entry(entry)).scaled(way * spacing)
    return Estimate(lean.value, math.hypot(lean.sd, _set(case)))


def plate_shift(door: Swing) -> tuple[float, float]:
    """How far to move the upper plate so that the door rests shut, mm.

    Toward the free edge, and to the side the door opens to.
    """
    inward = max(0.0, LEANING - door.lean_in.value)
    moved = door.with_lean(door.lean_in.value + inward, door.lean_out.value)
    return inward, shim_to_rest_at(moved.axis, door.spacing, 0.0)


def rise_square(door: Swing) -> float:
    """How much higher the free corner stands when the door is open square; mm."""
    return rise(door.axis, door.width, math.pi / 2)


@dataclass(frozen=True, slots=True, kw_only=True)
class Ground:
    """What is below a door on the side it opens to.

    Attributes
    ----------
    half
        From the glass line to the edge of the curb, mm.
    drop
        From the curb at the hinge edge down to the level floor beyond it, mm.
    climb
        How steeply the curb rises outward from the glass line.
    along
        How steeply the curb rises from the hinge edge to the free edge.

    """

    half: float
    drop: float
    climb: Estimate
    along: Estimate = Estimate(0.0, 0.0)  # noqa: RUF009 - frozen


@dataclass(frozen=True, slots=True, kw_only=True)
class Low:
    """Where the lower edge comes nearest to what is below: mm, opening, and from the hinge."""

    clearance: Estimate
    opening_deg: float
    across: float
    over_curb: bool


def lowest(door: Swing, gap: tuple[Estimate, Estimate], ground: Ground, upto: float = 90.0) -> Low:
    """Least clearance of the whole lower edge over curb and floor, from shut to an opening.

    Parameters
    ----------
    door
        On its axis.
    gap
        Under the shut door at its hinge edge and at its free edge, mm.
    ground
        What is below it.
    upto
        Opening to which it is followed, degrees.

    """
    angle, x = np.meshgrid(np.radians(np.arange(0, upto + 1)), np.linspace(0, door.width, PLACES))
    out = x * np.sin(angle)
    lean_x, lean_y = door.axis.lean_x, door.axis.lean_y
    under = gap[0].value + (gap[1].value - gap[0].value) * x / door.width
    lift = x * (lean_x * (1 - np.cos(angle)) - lean_y * np.sin(angle))
    over = out <= ground.half
    on_curb = ground.along.value * x * (1 - np.cos(angle)) - ground.climb.value * out
    clear = under + lift + np.where(over, on_curb, ground.along.value * x + ground.drop)
    n = np.unravel_index(int(clear.argmin()), clear.shape)
    a, r, y = float(angle[n]), float(x[n]), float(out[n])
    spread = (
        max(gap[0].sd, gap[1].sd),
        r * (1 - math.cos(a)) * door.lean_in.sd / door.spacing,
        r * math.sin(a) * door.lean_out.sd / door.spacing,
        y * ground.climb.sd if over[n] else 0.0,
        r * (1 - math.cos(a)) * ground.along.sd if over[n] else r * ground.along.sd,
    )
    exact = float(clear[n]) - float(lift[n]) + rise(door.axis, r, a)
    return Low(
        clearance=Estimate(exact, math.hypot(*spread)),
        opening_deg=math.degrees(a),
        across=r,
        over_curb=bool(over[n]),
    )


def highest(door: Swing, upto: float = 90.0) -> tuple[float, float]:
    """How far the free top corner rises at most from shut to an opening (mm), and where (deg)."""
    turn = np.radians(np.arange(0, int(upto) + 1))
    lift = door.axis.lean_x * (1 - np.cos(turn)) - door.axis.lean_y * np.sin(turn)
    most = float(turn[int(lift.argmax())])
    return top_rise(door, most), math.degrees(most)


def top_rise(door: Swing, opening_rad: float, across: float | None = None) -> float:
    """How much higher a place of the top edge stands than shut, mm; the free corner if not said."""
    return rise(door.axis, door.width if across is None else across, opening_rad)
