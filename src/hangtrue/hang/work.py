"""What is being hung, with the few facts about it that every list needs."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import pairwise
from types import UnionType

from hangtrue.check.finding import Finding
from hangtrue.check.wording import article
from hangtrue.estimate import Estimate
from hangtrue.fit.enclosure import Enclosure, Joint, Lite
from hangtrue.geometry import at_height
from hangtrue.hang.shop import Shop
from hangtrue.job.brief import Brief
from hangtrue.job.document import Step, Wall
from hangtrue.job.hardware import Channel, Clamp, Hinge, Item
from hangtrue.job.readings import Side
from hangtrue.measure.opening import Opening
from hangtrue.phrase import phrase
from hangtrue.units import inches

WALLS: dict[str, Side] = {"left wall": "left", "right wall": "right"}
RISER = "riser of the "
"""How the name of a riser begins; that of its step follows."""
FINE = 50.0
"""mm; shorter lengths are written twice as fine."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Work:
    """One enclosure in its opening, the shop that hangs it, and what the rules found of it."""

    brief: Brief
    opening: Opening
    enclosure: Enclosure
    shop: Shop
    findings: tuple[Finding, ...] = ()

    @property
    def job(self) -> str:
        """Id of the job."""
        return self.brief.job.job.id

    def item(self, joint: Joint) -> Item | None:
        """Return the hardware of a joint."""
        return self.brief.items.get(joint.hardware)

    def wall(self, side: Side) -> Wall:
        """Return what was said of a wall; one that was not described is wholly unknown."""
        return self.brief.job.wall(side) or Wall()

    # ------------------------------------------------------------------------------- places

    @property
    def highest_curb(self) -> Estimate:
        """Height of the highest curb point under the glass above the datum, mm."""
        names = [n for n in self.opening.unknowns if n.startswith("curb ")]
        known = (self.opening.estimate(self.opening.entry(n)) for n in names)
        return max(known, key=lambda e: e.value, default=Estimate(0.0))

    def above_curb(self, height: float) -> Estimate:
        """Height above the highest curb point of a height above the datum, mm."""
        return Estimate(height - self.highest_curb.value, self.highest_curb.sd)

    def face(self, side: Side, height: float) -> float:
        """x of a wall's face at a height, mm."""
        return self.opening.estimate(self.opening.wall(side, height)).value

    def into(self, side: Side, x: float, height: float) -> float:
        """Distance from a wall's face into the opening to x, mm."""
        reach = x - self.face(side, height)
        return reach if side == "left" else -reach

    # ------------------------------------------------------------------------------- joints

    def joints(self, kind: type[Hinge | Channel | Clamp] | UnionType) -> Iterator[Joint]:
        """Joints whose hardware is of a kind, in their order."""
        return (j for j in self.enclosure.joints if isinstance(self.item(j), kind))

    def pane(self, joint: Joint) -> Lite:
        """Return the pane of a joint; the door where there are a door and its carrier."""
        ids = {p.id: p for p in self.enclosure.lites}
        panes = [ids[end] for end in joint.between if end in ids]
        return next((p for p in panes if p.kind == "door"), panes[0])

    def meets(self, joint: Joint) -> str:
        """What the joint holds the pane to: `left wall`, `curb`, a step, `ceiling`, a pane."""
        pane = self.pane(joint).id
        return next(end for end in joint.between if end != pane)

    def side(self, joint: Joint) -> Side | None:
        """Return the wall that a joint is at; None where it is not at a wall."""
        return WALLS.get(self.meets(joint))

    def at_riser(self, joint: Joint) -> bool:
        """Whether a joint runs up the riser of a step."""
        return joint.upright and self.meets(joint) in self.opening.steps

    def surface(self, joint: Joint) -> str:
        """What the joint's fitting is fixed to: as `meets`, but a riser is not its step's cap."""
        step = self.meets(joint)
        return phrase("riser of {step}", step=article(step)) if self.at_riser(joint) else step

    def step(self, surface: str) -> Step | None:
        """Return what was said of the step whose cap or riser a surface is; else None."""
        name = surface.removeprefix(RISER)
        return next((s for s in self.brief.job.steps if s.name == name), None)

    # -------------------------------------------------------------------------------- words

    def say(self, mm: float) -> str:
        """Write a length in the job's unit, small ones finer."""
        return say_in(self.brief)(mm)


def say_in(brief: Brief) -> Callable[[float], str]:
    """Return what writes a length in mm in the job's unit, small ones finer."""
    unit = brief.job.unit

    def say(mm: float) -> str:
        fine = abs(mm) < FINE
        if unit == "in":
            return inches(mm, brief.profile.fraction * (1 + fine))
        places = (unit == "cm") + fine
        amount = mm / 10 if unit == "cm" else mm
        return f"{round(amount, places) + 0.0:.{places}f} {unit}"

    return say


def the(surface: str) -> str:
    """Put `the` before the name of a surface: `the left wall`, `the riser of the bench`."""
    if not surface.startswith(RISER):
        return article(surface)
    return phrase("the riser of {step}", step=article(surface.removeprefix(RISER)))


def is_upright(surface: str) -> bool:
    """Whether places on a surface are told by their height."""
    return surface in WALLS or surface.startswith(RISER)


def edge_x(pane: Lite, side: Side, height: float) -> float:
    """x of an upright edge of a pane as set, at a height above the datum; mm."""
    bl, br, tr, tl = pane.corners
    low, high = (bl, tl) if side == "left" else (br, tr)
    return pane.origin[0] + at_height(low, high, height - pane.origin[1])


def edge_ends(pane: Lite, side: Side) -> tuple[float, float]:
    """Heights of the lower and upper end of an upright edge above the datum, mm."""
    bl, br, tr, tl = pane.corners
    low, high = (bl, tl) if side == "left" else (br, tr)
    if pane.lower:
        low = pane.lower[0 if side == "left" else -1]
    return pane.origin[1] + low[1], pane.origin[1] + high[1]


def foot_ends(pane: Lite) -> tuple[float, float]:
    """x of the two ends of a pane's foot along the glass line, mm."""
    return pane.origin[0] + pane.corners[0][0], pane.origin[0] + pane.corners[1][0]


def level_ends(pane: Lite, joint: Joint) -> tuple[float, float]:
    """x of the two ends of a level joint under or over a pane, mm: a step may take a part of it."""
    low, high = foot_ends(pane)
    return max(low, joint.gaps[0].at), min(high, joint.gaps[-1].at)


def between(points: list[tuple[float, float]], at: float) -> float:
    """Value at a place, straight between known places, flat beyond them."""
    rising = sorted(points)
    if at <= rising[0][0]:
        return rising[0][1]
    for (x0, y0), (x1, y1) in pairwise(rising):
        if at <= x1:
            return y0 + (y1 - y0) * (at - x0) / (x1 - x0) if x1 > x0 else y1
    return rising[-1][1]
