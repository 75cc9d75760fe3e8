"""The floor of the shower of a case: what the rules about its size look at."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from hangtrue.check.case import SIDES, Case
from hangtrue.check.compartment import floor, largest_circle
from hangtrue.check.finding import Finding, Level
from hangtrue.estimate import Estimate
from hangtrue.geometry import Outline, Point, figure
from hangtrue.measure.plan_line import PlanLine, glass_line
from hangtrue.phrase import phrase
from hangtrue.tables import Table, table

SQUARE_INCH = 645.16
RIGHT_ANGLE = math.pi / 2
STANDING = {"knee wall", "buttress"}
"""Steps that take away floor; one may stand on the others."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Floor:
    """The floor and what a code asks of it.

    Attributes
    ----------
    slack
        Standard deviation of how far a boundary may lie from where it is drawn, mm.
    asked
        Row of `data/codes/compartment.toml`.

    """

    outline: Outline
    slack: float
    asked: Table

    @property
    def area(self) -> Estimate:
        """Its area, mm2."""
        shape = figure(self.outline)
        return Estimate(shape.area, self.slack * shape.perimeter / 2.0)

    @property
    def circle(self) -> Estimate:
        """Diameter of the largest circle on it, mm."""
        return Estimate(largest_circle(self.outline), self.slack)

    @property
    def exempt(self) -> bool:
        """The code asks for no size of so large a receptor."""
        row = self.asked.get("exempt")
        if row is None:
            return False
        xs, ys = zip(*self.outline, strict=True)
        short, long = sorted((max(xs) - min(xs), max(ys) - min(ys)))
        return bool(short >= row["short"] and long >= row["long"])


def floor_of(case: Case) -> Floor | Finding:
    """Return the floor of the shower, or the finding that stands for it where there is none."""
    code = case.brief.profile.jurisdiction
    tub = next((s.name for s in case.job.steps if s.kind == "tub deck"), "")
    if tub:
        return _said(
            Level.PASS,
            phrase("The glass stands on a bathtub ({tub}), not round a shower.", tub=tub),
        )
    if code == "none":
        return _said(Level.PASS, "The shop's profile names no code about the size of a shower.")
    outline = inside(case)
    if outline is None:
        return _unknown(case)
    return Floor(outline=outline, slack=_slack(case), asked=table("codes/compartment")[code])


def _unknown(case: Case) -> Finding:
    free = [side for side in SIDES if side not in case.opening.walls]
    if free:
        return _said(
            Level.NOT_CHECKED,
            "The shower is open at one end; its floor ends where nobody said.",
            "Measure the floor of the shower: its area, and the widest circle that it holds.",
        )
    return _said(
        Level.NOT_CHECKED,
        "Nobody said how deep the shower is.",
        "How far is it from the middle of the glass to the finished wall behind it?",
    )


def _said(level: Level, found: str, do: str = "") -> Finding:
    return Finding(level=level, where="shower floor", found=found, do=do)


def inside(case: Case) -> Outline | None:
    """Lay out the floor inside the glass; by the uniform code, inside its middle.

    None where the walls do not close it and nobody said how deep it is.
    """
    opening = case.opening
    if len(opening.walls) < len(SIDES):
        return None
    line = glass_line(opening, case.job.wanted)
    ends = [line.left, *line.corners, opening.estimate(opening.end("right")).value]
    last = len(case.runs)
    places = [line.place(x, run=min(i + 1, last)) for i, x in enumerate(ends)]
    headings = (
        line.headings[0] + RIGHT_ANGLE + _square(case, "left"),
        line.headings[-1] + RIGHT_ANGLE - _square(case, "right"),
    )
    depth = case.job.inside.depth
    return floor(
        places,
        headings,
        None if depth is None else float(depth),
        tuple(_taken(case, line, places)),
    )


def _taken(case: Case, line: PlanLine, places: list[Point]) -> Iterator[tuple[Point, Point, float]]:
    """What stands on the glass line and takes away floor: half the glass, half a knee wall."""
    opening = case.opening
    if case.brief.profile.jurisdiction != "upc":
        half = case.choice.thickness / 2.0
        yield from ((a, b, half) for a, b in pairwise(places))
    wide = {s.name: float(s.width) / 2.0 for s in case.job.steps if s.kind in STANDING}
    for step in opening.standing:
        if step.name in wide:
            low, high = (opening.estimate(x).value for x in (step.left, step.right))
            yield line.place(low, run=step.run), line.place(high, run=step.run), wide[step.name]


def _square(case: Case, side: str) -> float:
    name = f"square {side}"
    opening = case.opening
    return opening.estimate(opening.entry(name)).value if opening.knows(name) else 0.0


def _slack(case: Case) -> float:
    """Standard deviation of how far a boundary of the floor may lie from where it is drawn, mm."""
    opening = case.opening
    lengths = [opening.estimate(opening.stop(r) - opening.start(r)) for r in case.runs]
    turned = [opening.estimate(opening.angle(k)).sd for k in case.runs[:-1]]
    longest = max(length.value for length in lengths)
    return math.hypot(max(length.sd for length in lengths), max(turned, default=0.0) * longest)


def square_inches(case: Case, area: float) -> str:
    """Write an area as the job's unit has it: square inches, or square metres."""
    if case.job.unit == "in":
        return phrase("{area:,.0f} sq in", area=area / SQUARE_INCH)
    return phrase("{area:.2f} m2", area=area / 1e6)
