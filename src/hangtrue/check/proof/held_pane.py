"""A pane of the enclosure as a plate: its real outline, what holds it, and where it is free."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise

from hangtrue.check.case import Case
from hangtrue.fit.enclosure import Bar, Gap, Joint, Lite, Where
from hangtrue.fit.ways import designation
from hangtrue.geometry import Outline, Point, at_height
from hangtrue.job.hardware import Clamp
from hangtrue.job.readings import Side
from hangtrue.mechanics.glass_strength import least_thickness
from hangtrue.mechanics.plate_model import (
    EdgeSupport,
    PatchSupport,
    Plate,
    PointSupport,
    Support,
)
from hangtrue.tables import table

SIDES: tuple[Where, ...] = ("left", "right", "bottom", "top")
ON_LINE = 0.05
"""mm within which a piece of the outline lies on a side of the blank."""
SHORTEST = 2.0
"""mm; shorter pieces of a held edge do not count."""
LEAST_GRIP = 10.0
"""mm of glass that a hinge plate grips beyond its cut-out, where its data leave less."""
HOLE_CORNERS = 16
SHARP_TURN = math.radians(20)
"""Turn of the glass line from which two panes in silicone hold each other across."""
RISER_ABOVE = 20.0
"""mm by which a joint at a riser may reach beyond the step in the glass: the gap below it."""
CORNERS: dict[Where, tuple[int, int]] = {
    "left": (0, 3),
    "right": (1, 2),
    "bottom": (0, 1),
    "top": (3, 2),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class HeldPane:
    """A pane and what holds it, as plain figures; mm from its datum corner.

    Attributes
    ----------
    gripped
        Pieces of its edge in channels, which may grip it or only guide it.
    guided
        Pieces of its edge in silicone: held across, free to tilt.
    patches
        Clamps, and the hinge plates of a door whose hinges are stopped.
    points
        Where a bar holds it.
    free
        Its upright edges that nothing holds: bottom and top corner.
    notch_radius
        Inside radius of its cut-outs; 0 without any.
    nominal, thickness
        Trade thickness, and the least that its class allows.
    system
        `en` or `e1300`: elastic constants.

    """

    id: str
    outline: Outline
    holes: tuple[Outline, ...]
    gripped: tuple[tuple[Point, Point], ...]
    guided: tuple[tuple[Point, Point], ...]
    patches: tuple[Outline, ...]
    points: tuple[Point, ...]
    free: tuple[tuple[Point, Point], ...]
    notch_radius: float
    nominal: float
    thickness: float
    system: str

    @property
    def held(self) -> bool:
        """Whether anything holds it at all."""
        return bool(self.gripped or self.guided or self.patches or self.points)

    @property
    def brackets(self) -> tuple[str, ...]:
        """Ends of the range of what its channels may do: guide it only, or grip it."""
        return ("guided", "gripped") if self.gripped else ("as it is",)

    def number(self, held: tuple[Point, Point] | Outline | Point) -> int | None:
        """Place of a support among those of the plate; None where nothing such holds it."""
        known: tuple[object, ...] = (*self.gripped, *self.guided, *self.patches, *self.points)
        return known.index(held) if held in known else None

    def plate(self, bracket: str) -> Plate:
        """Return the plate at one end of that range."""
        elastic = table("mechanics/glass")["elastic"][self.system]
        grip = math.inf if bracket == "gripped" else 0.0
        gasket = float(table("mechanics/load_cases")["gasket"]["stiffness_N_per_mm3"])
        supports: tuple[Support, ...] = (
            *(EdgeSupport(start=a, end=b, rotation_N=grip) for a, b in self.gripped),
            *(EdgeSupport(start=a, end=b) for a, b in self.guided),
            *(PatchSupport(outline=p, stiffness_N_per_mm3=gasket) for p in self.patches),
            *(PointSupport(at=at) for at in self.points),
        )
        return Plate(
            outline=self.outline,
            holes=self.holes,
            thickness=self.thickness,
            youngs_modulus_MPa=float(elastic["youngs_modulus_MPa"]),
            poisson=float(elastic["poisson"]),
            supports=supports,
        )

    def thicker(self, nominal: float) -> HeldPane:
        """Return the pane in another trade thickness."""
        return replace(self, nominal=nominal, thickness=least_thickness(nominal))

    def narrowed(self, share: float) -> HeldPane:
        """Return the pane drawn together across to a share of its width, without its holes."""

        def put(point: Point) -> Point:
            return point[0] * share, point[1]

        return replace(
            self,
            outline=tuple(map(put, self.outline)),
            holes=(),
            gripped=tuple((put(a), put(b)) for a, b in self.gripped),
            guided=tuple((put(a), put(b)) for a, b in self.guided),
            patches=tuple(tuple(map(put, patch)) for patch in self.patches),
            points=tuple(map(put, self.points)),
            free=tuple((put(a), put(b)) for a, b in self.free),
        )

    def only_guided(self) -> HeldPane:
        """Return the pane with channels that only guide it: the soft end of the range alone."""
        return replace(self, gripped=(), guided=(*self.guided, *self.gripped))

    def with_bar(self, at: Point) -> HeldPane:
        """Return the pane with a bar to hold it there."""
        return replace(self, points=(*self.points, at))


def held_pane(case: Case, pane: Lite) -> HeldPane:
    """Return a pane with all that its joints, bars and hinges do for it."""
    nominal = designation(pane.thickness)
    joints = tuple(case.joints(pane.id))
    gripped = tuple(_edges(pane, joints, ("channel",)))
    guided = tuple(_edges(pane, tuple(j for j in joints if _guides(j)), ("silicone",)))
    taken = {_side(pane, j) for j in joints if _holds(pane, j) and not _is_riser(pane, j)}
    us = case.brief.profile.strength_rules == "us"
    return HeldPane(
        id=pane.id,
        outline=pane.outline,
        holes=tuple(_ring(hole.centre, hole.diameter) for hole in pane.holes),
        gripped=gripped,
        guided=guided,
        patches=(*_clamps(case, pane, joints), *_hinges(case, pane)),
        points=_bars(case, pane, taken),
        free=tuple(_free(pane, taken)),
        notch_radius=max((notch.radius for notch in pane.notches), default=0.0),
        nominal=nominal,
        thickness=least_thickness(nominal),
        system="e1300" if us else "en",
    )


def pieces_in(pane: Lite, joint: Joint) -> tuple[tuple[Point, Point], ...]:
    """Pieces of a pane's edge that lie in the channel of one joint."""
    return tuple(_edges(pane, (joint,), ("channel",)))


def clamped_at(case: Case, pane: Lite, joint: Joint) -> tuple[Outline, ...]:
    """Squares of glass under the clamps of one joint."""
    return tuple(_clamps(case, pane, (joint,)))


def barred_at(case: Case, pane: Lite, bar: Bar) -> Point:
    """Place on the top edge of a pane where a bar holds it."""
    return _on_top(pane, bar.ends[0], case)


def _holds(pane: Lite, joint: Joint) -> bool:
    """Whether a joint holds this pane: it does not if the pane only carries a door by it."""
    hinged = joint.kind == "hinge" and pane.kind == "door"
    return hinged or joint.kind in {"channel", "clamp"} or _guides(joint)


def _guides(joint: Joint) -> bool:
    """Whether a joint in silicone holds the pane across: at walls, and where the line turns."""
    if joint.kind != "silicone":
        return False
    if joint.corner is not None:
        return abs(joint.corner.turn) >= SHARP_TURN
    return joint.level or any(end.endswith("wall") or end == "curb" for end in joint.between)


def _side(pane: Lite, joint: Joint) -> Where:
    """Side of the pane that a joint is at."""
    other = next(end for end in joint.between if end != pane.id)
    meets = [edge.where for edge in pane.edges if edge.meets == other]
    if joint.level or "curb" in joint.between:
        return "top" if meets == ["top"] or other in {"ceiling", "transom"} else "bottom"
    return "left" if joint.between[1] == pane.id else "right"


def _line(pane: Lite, side: Where) -> tuple[Point, ...]:
    """Return one side of the blank as it is cut: steps below, a scribed edge."""
    if side == "bottom" and pane.lower:
        return pane.lower
    scribed = next((edge.points for edge in pane.edges if edge.where == side), ())
    first, last = CORNERS[side]
    return scribed or (pane.corners[first], pane.corners[last])


def _edges(
    pane: Lite, joints: tuple[Joint, ...], kinds: tuple[str, ...]
) -> Iterator[tuple[Point, Point]]:
    """Pieces of the outline that lie in joints of these kinds."""
    mine = [joint for joint in joints if joint.kind in kinds]
    risers = dict.fromkeys(_side(pane, joint) for joint in mine if _is_riser(pane, joint))
    sides = dict.fromkeys(_side(pane, joint) for joint in mine if not _is_riser(pane, joint))
    ring = tuple(zip(pane.outline, pane.outline[1:] + pane.outline[:1], strict=True))
    for side in risers:
        yield from (piece for piece in ring if _rises(pane, side, *piece))
    for side in sides:
        line = _line(pane, side)
        for start, end in ring:
            level = side in {"bottom", "top"}
            steep = abs(end[0] - start[0]) < abs(end[1] - start[1])
            if math.dist(start, end) >= SHORTEST and steep is not level and _on(line, start, end):
                yield start, end


def _is_riser(pane: Lite, joint: Joint) -> bool:
    """Whether an upright joint is at the riser of a step below the pane, not at its side."""
    if not pane.lower or not joint.upright or not joint.gaps:
        return False
    top = max(y for _, y in pane.lower)
    return max(gap.at for gap in joint.gaps) - pane.origin[1] <= top + RISER_ABOVE


def _rises(pane: Lite, side: Where, start: Point, end: Point) -> bool:
    """Whether a piece of the outline stands upright in the steps below, its air on that side."""
    if math.dist(start, end) < SHORTEST or abs(end[0] - start[0]) >= abs(end[1] - start[1]):
        return False
    return _on(pane.lower, start, end) and (side == "right") is (end[1] > start[1])


def _on(line: tuple[Point, ...], start: Point, end: Point) -> bool:
    return any(max(_away(start, a, b), _away(end, a, b)) <= ON_LINE for a, b in pairwise(line))


def _away(point: Point, a: Point, b: Point) -> float:
    """Distance of a point from a straight piece, mm."""
    length = math.dist(a, b)
    if length == 0:
        return math.dist(point, a)
    run = ((point[0] - a[0]) * (b[0] - a[0]) + (point[1] - a[1]) * (b[1] - a[1])) / length**2
    run = min(max(run, 0.0), 1.0)
    return math.dist(point, (a[0] + run * (b[0] - a[0]), a[1] + run * (b[1] - a[1])))


def _free(pane: Lite, taken: set[Where]) -> Iterator[tuple[Point, Point]]:
    for side in ("left", "right"):
        if side not in taken:
            first, last = CORNERS[side]
            yield pane.corners[first], pane.corners[last]


def _ring(centre: Point, diameter: float) -> Outline:
    """Round hole as a polygon of the same area."""
    turns = [2 * math.pi * n / HOLE_CORNERS for n in range(HOLE_CORNERS)]
    corner = HOLE_CORNERS / (2 * math.pi) * math.sin(2 * math.pi / HOLE_CORNERS)
    radius = diameter / 2 / math.sqrt(corner)
    return tuple(
        (centre[0] + radius * math.cos(t), centre[1] + radius * math.sin(t)) for t in turns
    )


def _clamps(case: Case, pane: Lite, joints: tuple[Joint, ...]) -> Iterator[Outline]:
    """Squares of glass under the clamps of its joints."""
    for joint in joints:
        item = case.brief.items.get(joint.hardware)
        if joint.kind != "clamp" or not isinstance(item, Clamp):
            continue
        size, side = float(item.plate_height), _side(pane, joint)
        for gap in joint.gaps:
            if gap.at_fitting:
                yield _square(pane, side, gap, size)


def _square(pane: Lite, side: Where, gap: Gap, size: float) -> Outline:
    low, high = pane.corners[CORNERS[side][0]], pane.corners[CORNERS[side][1]]
    if side in {"left", "right"}:
        y = gap.at - pane.origin[1]
        share = (y - low[1]) / (high[1] - low[1])
        edge = low[0] + share * (high[0] - low[0])
        inner = edge + size if side == "left" else edge - size
        return _box(min(edge, inner), y - size / 2, max(edge, inner), y + size / 2)
    x = gap.at - pane.origin[0]
    share = (x - low[0]) / (high[0] - low[0])
    edge = low[1] + share * (high[1] - low[1])
    inner = edge + size if side == "bottom" else edge - size
    return _box(x - size / 2, min(edge, inner), x + size / 2, max(edge, inner))


def _box(left: float, low: float, right: float, high: float) -> Outline:
    inset = 0.5  # mm, so that a raking edge does not cut a corner of it off
    return (
        (left + inset, low + inset), (right - inset, low + inset),
        (right - inset, high - inset), (left + inset, high - inset),
    )  # fmt: skip


def _hinges(case: Case, pane: Lite) -> Iterator[Outline]:
    """Glass that a door's hinge plates grip around their cut-outs: beyond, above and below each."""
    hung = next((door for door in case.hung if door.id == pane.id), None)
    if hung is None:
        return
    cuts = [cut for cut in hung.hinge.cut_outs if cut.shape == "notch"]
    deep = max((float(cut.width) for cut in cuts), default=0.0)
    tall = max((float(cut.height or 0.0) for cut in cuts), default=0.0)
    wide, high = float(hung.hinge.plate_width), float(hung.hinge.plate_height)
    for height in pane.hinge_heights:
        for near, far, low, top in (
            (deep, max(wide, deep + LEAST_GRIP), -high / 2, high / 2),
            (0.0, deep, tall / 2, high / 2),
            (0.0, deep, -high / 2, -tall / 2),
        ):
            if far - near > SHORTEST and top - low > SHORTEST:
                yield _beside(pane, hung.side, (near, far), (height + low, height + top))


def _beside(
    pane: Lite, side: Side, across: tuple[float, float], up: tuple[float, float]
) -> Outline:
    """Box of glass beside an upright edge: from and to, into the pane and up."""
    low, high = pane.corners[CORNERS[side][0]], pane.corners[CORNERS[side][1]]
    edge = at_height(low, high, sum(up) / 2)
    way = 1.0 if side == "left" else -1.0
    left, right = sorted(edge + way * x for x in across)
    return _box(left, up[0], right, up[1])


def _bars(case: Case, pane: Lite, taken: set[Where]) -> tuple[Point, ...]:
    """Where bars hold a pane; at its free top corner if one was only said to be there."""
    enclosure = case.enclosure
    bars = enclosure.bars if enclosure else ()
    low, high = pane.corners[3], pane.corners[2]
    at = tuple(_on_top(pane, bar.ends[0], case) for bar in bars if bar.holds == pane.id)
    said = pane.kind == "fixed" and case.wanted(pane).head_support == "yes"
    if at or not said or "top" in taken:
        return at
    return (low,) if "left" not in taken and "right" in taken else (high,)


def _on_top(pane: Lite, place: tuple[float, float, float], case: Case) -> Point:
    """Return the place on the top edge of a pane that is nearest to the end of a bar, mm."""
    low, high = pane.corners[3], pane.corners[2]
    enclosure = case.enclosure
    share = 0.5
    if enclosure is not None and enclosure.runs:
        run = enclosure.run(pane.run)
        ends = [run.plan(pane.origin[0] + corner[0]) for corner in (low, high)]
        away = [math.dist(end, place[:2]) for end in ends]
        share = min(max(away[0] / (away[0] + away[1]), 0.0), 1.0)
    return low[0] + share * (high[0] - low[0]), low[1] + share * (high[1] - low[1])
