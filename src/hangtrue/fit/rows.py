"""The row: panes from left to right between two abutments, and what is in every joint.

Nothing that works on a row knows which layout it is.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Literal

from hangtrue.fit.enclosure import CornerJoint, HungOn, JointKind, PaneKind
from hangtrue.fit.entries import entries
from hangtrue.fit.meeting import Laps
from hangtrue.job.readings import Side

OTHER: dict[Side | None, Side | None] = {"left": "right", "right": "left", None: None}
WHOLE = (0.0, 1.0)
"""The whole width of a pane."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Range:
    """A gap may be anywhere from least to most, and is best at usual; mm."""

    least: float
    usual: float
    most: float

    @property
    def width(self) -> float:
        """How much the joint can take up, mm."""
        return self.most - self.least


@dataclass(frozen=True, slots=True, kw_only=True)
class Spread:
    """Fittings along an edge: how many, and the centres of the outer two from the edge's ends.

    Attributes
    ----------
    count
        Number of fittings, at least 1.
    from_end
        mm; where zero, `share` of the edge's length is used instead.

    """

    count: int
    from_end: float = 0.0
    share: float = 0.0

    def places(self, low: float, high: float) -> tuple[float, ...]:
        """Centres of the fittings on an edge from `low` to `high`, evenly spread; mm."""
        if self.count == 1:
            return ((low + high) / 2,)
        inset = self.from_end or self.share * (high - low)
        step = (high - low - 2 * inset) / (self.count - 1)
        return tuple(low + inset + step * i for i in range(self.count))


@dataclass(frozen=True, slots=True, kw_only=True)
class RowTurn:
    """A joint where the glass line turns.

    Attributes
    ----------
    number
        Of the corner, from 1, from left to right in the room.
    laps
        Id of the pane that runs past, in a butt joint.

    """

    number: int
    way: Literal["in", "out"]
    joint: CornerJoint
    laps: str


@dataclass(frozen=True, slots=True, kw_only=True)
class RowJoint:
    """Where a pane of the row meets what is beside or below it.

    Attributes
    ----------
    id
        As in `door to left wall`; the pane further left is named first, a wall or curb last.
    between
        What lies left and right of it (upright), or pane and curb.
    hardware
        Id of the fitting.
    elsewhere
        Range of the gap where no fitting sits.
    at_fitting
        Range at the fittings where it differs: the plates of hinges with their packing.
    fittings, fitting_height
        Where plates and clamps sit (None for channels, seals and open joints) and how long they are
        along the edge, mm.
    turn
        How the panes meet where the glass line turns here; None in a straight run.
    scribed
        The edge follows the wall, so that the gap does not depend on its bow.
    level
        It runs along what is below or above.

    """

    id: str
    kind: JointKind
    between: tuple[str, str]
    hardware: str
    elsewhere: Range
    at_fitting: Range | None = None
    fittings: Spread | None = None
    fitting_height: float = 0.0
    turn: RowTurn | None = None
    scribed: bool = False
    level: bool = False

    @property
    def upright(self) -> bool:
        """Whether the joint runs up rather than along what is below or above."""
        return not self.level

    def places(self, low: float, high: float) -> tuple[float, ...]:
        """Centres of the fittings on an edge from `low` to `high`; mm."""
        return self.fittings.places(low, high) if self.fittings else ()

    def range_at(self, *, fitting: bool) -> Range:
        """Range of the gap at a fitting, or away from them."""
        return self.at_fitting if fitting and self.at_fitting else self.elsewhere


@dataclass(frozen=True, slots=True, kw_only=True)
class RowPane:
    """One pane of the row, before it has a size.

    Attributes
    ----------
    wished
        Width that was asked for, mm; None where it is open.
    given
        Width and height of a boxed pane, mm; None where it is made to measure.
    asked
        Its id in the wishes; two panes share one where they were made of it.
    run
        Straight part of the glass line that it stands in, from 1, from left to right in the room.
    head
        What its top follows.
    rise
        How far its top left and its top right corner are above the one top line, mm.
    on
        What its foot stands on: the curb, or the cap of a step; the lowest of what is below it.
    leg
        Part of its width that stands there, from its left edge, 0 to 1; the rest steps over what is
        higher.
    lift
        How much higher its left and its right edge start than the foot, mm: over a step.
    past
        How far the face seen from outside runs past the middle of the glass at its left and its
        right edge, mm; other than 0 at a mitre. Heights of corners are of that face.

    """

    id: str
    kind: PaneKind
    wished: float | None
    given: tuple[float, float] | None
    hinge_side: Side | None = None
    hung_on: HungOn | None = None
    asked: str = ""
    run: int = 1
    head: Literal["level", "ceiling", "transom"] = "level"
    rise: tuple[float, float] = (0.0, 0.0)
    on: str = "curb"
    leg: tuple[float, float] = WHOLE
    lift: tuple[float, float] = (0.0, 0.0)
    past: tuple[float, float] = (0.0, 0.0)

    @property
    def outside(self) -> float:
        """How much wider it is on the face seen from outside than in its middle, mm."""
        return self.past[0] + self.past[1]


@dataclass(frozen=True, slots=True, kw_only=True)
class Stop:
    """A pane whose edge ends beside the riser of a step, below a pane that stands on its cap.

    Attributes
    ----------
    pane
        Its number, from 0.
    side
        Which edge of the pane.
    step, riser
        Name of the step, and which of its risers as seen in the room.

    """

    pane: int
    side: Side
    step: str
    riser: Side

    def mirrored(self, panes: int) -> Stop:
        """Return the same in the mirror image of a row of so many panes."""
        other: Side = "left" if self.side == "right" else "right"
        return replace(self, pane=panes - 1 - self.pane, side=other)


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """Panes from left to right and their joints.

    Attributes
    ----------
    panes
        n panes, left to right.
    joints
        n + 1 upright joints, left to right; None at a free end.
    below
        n joints with what the panes stand on.
    thickness
        Nominal, mm; it matters where the glass line turns, and is 0 where it does not.
    stops
        Edges that end beside the riser of a step.
    above
        Once tops are cut: n joints with the ceiling, None where a pane does not meet it; else none.

    """

    panes: tuple[RowPane, ...]
    joints: tuple[RowJoint | None, ...]
    below: tuple[RowJoint, ...]
    thickness: float = 0.0
    stops: tuple[Stop, ...] = ()
    above: tuple[RowJoint | None, ...] = ()

    @property
    def entries(self) -> int:
        """Length of the vector of its corners."""
        return entries(len(self.panes), len(self.turns))

    @property
    def turns(self) -> tuple[int, ...]:
        """Upright joints where the glass line turns, by number from 0."""
        return tuple(j for j, joint in enumerate(self.joints) if joint and joint.turn)

    @property
    def runs(self) -> tuple[range, ...]:
        """Panes of each straight part of the glass line, by number from 0, left to right."""
        starts = (0, *self.turns, len(self.panes))
        return tuple(range(low, high) for low, high in pairwise(starts))

    def turn(self, j: int) -> RowTurn:
        """Return how the glass line turns at upright joint `j`."""
        joint = self.joints[j]
        if joint is None or joint.turn is None:
            raise LookupError(j)
        return joint.turn

    def laps(self, j: int) -> Laps:
        """Return which of the two panes at corner joint `j` runs past, in the order of the row."""
        return "before" if self.turn(j).laps == self.panes[j - 1].id else "after"

    def run_of(self, i: int) -> range:
        """Panes of the run that pane `i` stands in."""
        return next(run for run in self.runs if i in run)

    def closed(self, i: int = 0) -> bool:
        """Whether both ends of the run of pane `i` meet something: a wall or a corner."""
        run = self.run_of(i)
        return self.joints[run.start] is not None and self.joints[run.stop] is not None

    @property
    def plain(self) -> bool:
        """Whether it stands in one straight run on the curb with level tops."""
        return not self.turns and all(p.on == "curb" and p.head == "level" for p in self.panes)

    def meets(self, i: int, side: Side) -> str:
        """Return what pane `i` faces on that side: `left wall`, `fixed 1`, `free`."""
        joint = self.joints[i if side == "left" else i + 1]
        if joint is None:
            return "free"
        return next(end for end in joint.between if end != self.panes[i].id)

    def mirrored(self) -> Row:
        """The same row as seen from inside the shower, with every name kept."""
        panes = tuple(
            replace(
                p,
                hinge_side=OTHER[p.hinge_side],
                rise=p.rise[::-1],
                past=p.past[::-1],
                lift=p.lift[::-1],
                leg=(1.0 - p.leg[1], 1.0 - p.leg[0]),
            )
            for p in self.panes[::-1]
        )
        return replace(
            self,
            panes=panes,
            joints=self.joints[::-1],
            below=self.below[::-1],
            above=self.above[::-1],
            stops=tuple(stop.mirrored(len(panes)) for stop in self.stops),
        )
