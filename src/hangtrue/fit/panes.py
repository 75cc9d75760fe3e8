"""Panes as the plant cuts them: corners, holes, cut-outs, edges, mass."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from hangtrue.fit.blank import Blank, clean
from hangtrue.fit.chains import chains
from hangtrue.fit.demands import grid_up
from hangtrue.fit.enclosure import Edge, Hole, Lite, Notch, Where
from hangtrue.fit.entries import (
    BOTTOM_LEFT,
    BOTTOM_RIGHT,
    CORNERS,
    shift,
)
from hangtrue.fit.glass import glass_mass_kg
from hangtrue.fit.rows import RowJoint
from hangtrue.fit.scene import Scene
from hangtrue.fit.steps import BEYOND, Cut, cuts, lower, notches
from hangtrue.fit.transoms import transom_lite, transoms
from hangtrue.fit.turning import bevels
from hangtrue.geometry import Outline, Point, at_height, common, figure, less
from hangtrue.job.hardware import Clamp, CutOut, Handle, Hinge
from hangtrue.job.readings import Side

CIRCLE = 32
"""Corners that a hole counts as in the area of a pane."""

SIDES: tuple[Side, Side] = ("left", "right")


class CutInTwoError(ValueError):
    """What has to be cut out of a pane leaves it in pieces, or leaves nothing of it."""

    def __init__(self, pane: str) -> None:
        super().__init__(f"{pane} is cut in two")
        self.pane = pane


def lites(scene: Scene, thickness: float) -> tuple[Lite, ...]:
    """Draw every pane of a row, left to right, then its transoms."""
    row = (_lite(scene, i, thickness) for i in range(len(scene.row.panes)))
    return (*row, *(transom_lite(scene, made, thickness) for made in transoms(scene)))


def _lite(scene: Scene, i: int, thickness: float) -> Lite:
    pane = scene.row.panes[i]
    blank = Blank.of(scene, i)
    steps = cuts(scene, i, blank)
    notched, holes = _cut_outs(scene, i, blank, steps)
    try:
        outline = less(blank.outline, (n.corners for n in notched)) if notched else blank.outline
    except ValueError as error:
        raise CutInTwoError(pane.id) from error
    shape = figure(outline, (_circle(h) for h in holes))
    edges = tuple(_edges(scene, i, blank))
    return Lite(
        id=pane.id,
        kind=pane.kind,
        corners=blank.corners,
        holes=holes,
        notches=notched,
        thickness=thickness,
        origin=blank.origin,
        hinge_side=pane.hinge_side,
        hung_on=pane.hung_on,
        hinge_heights=tuple(z - blank.origin[1] for z in _hinge_heights(scene, i)),
        edges=edges,
        chains=tuple(chains(scene, i)),
        area=shape.area,
        centroid=shape.centroid,
        mass_kg=glass_mass_kg(shape.area - _ground_off(blank, edges, thickness), thickness),
        outline=outline,
        run=pane.run,
        shifts=_shifts(scene, i),
        lower=lower(blank, outline, notched),
    )


def _ground_off(blank: Blank, edges: tuple[Edge, ...], thickness: float) -> float:
    """Area by which the middle of the glass is less than its outside face: its mitres, mm2."""
    return sum(
        thickness / 2 * math.tan(edge.bevel) * abs(high[1] - low[1])
        for edge in edges
        if edge.bevel
        for low, high in [blank.edge(edge.where)]
    )


def _shifts(scene: Scene, i: int) -> tuple[float, float]:
    """How far the pane stands off its line at its left and its right edge, mm."""
    row = scene.row

    def of(j: int, *, after: bool) -> float:
        if j not in row.turns:
            return 0.0
        entry = shift(len(row.panes), row.turns.index(j), after=after)
        return clean(scene.setting.corners[entry])

    return of(i, after=True), of(i + 1, after=False)


# ---------------------------------------------------------------------- holes and cut-outs


def _cut_outs(
    scene: Scene, i: int, blank: Blank, steps: tuple[Cut, ...]
) -> tuple[tuple[Notch, ...], tuple[Hole, ...]]:
    every = [
        *notches(scene, blank, steps),
        *_projections(scene, i, blank),
        *_at_joints(scene, i, blank),
        *_handle(scene, i, blank),
    ]
    return (
        tuple(c for c in every if isinstance(c, Notch)),
        tuple(c for c in every if isinstance(c, Hole)),
    )


def _projections(scene: Scene, i: int, blank: Blank) -> Iterator[Notch]:
    """Cut-outs where something stands out of a wall and the glass is what is cut."""
    grid = float(scene.brief.profile.plant.grid)
    for side, j in zip(SIDES, (i, i + 1), strict=True):
        joint, wall = scene.row.joints[j], scene.brief.job.wall(side)
        if joint is None or wall is None or f"{side} wall" not in joint.between:
            continue
        for thing in wall.projections:
            clear = joint.elsewhere.least
            low = scene.on_grid(thing.from_ - clear - blank.origin[1])
            high = scene.on_grid(thing.to + clear - blank.origin[1])
            deep = grid_up(float(thing.stands_out), grid)
            if thing.cut == "glass":
                yield from _into(scene, blank, side, (low, high, deep), thing.name)


def _into(
    scene: Scene, blank: Blank, side: Side, cut: tuple[float, float, float], name: str
) -> Iterator[Notch]:
    """A cut-out so deep into an upright edge between two heights, if the pane is as tall."""
    low, high, deep = cut
    ends = blank.edge(side)
    sign = 1.0 if side == "left" else -1.0
    inner = [(at_height(*ends, y) + sign * deep, y) for y in (low, high)]
    outer = [(x - sign * (deep + BEYOND), y) for x, y in inner]
    corners = common(blank.outline, (inner[0], inner[1], outer[1], outer[0]))
    if corners:
        radius = scene.brief.profile.limit("notch-radius-least").value
        yield Notch(
            corners=corners, radius=min(radius, deep, (high - low) / 2),
            fitting=name, of="projection",
        )  # fmt: skip


def _at_joints(scene: Scene, i: int, blank: Blank) -> Iterator[Notch | Hole]:
    """Cut-outs of hinges and clamps: at their places along the edge that they hold."""
    for piece in scene.gaps.places:
        where = _edge_at(scene, i, piece.joint)
        if where is None:
            continue
        cuts = _cuts(scene, i, piece.joint)
        axis = 0 if where in ("bottom", "top") else 1
        for place in piece.fittings:
            for cut in cuts:
                along = place - blank.origin[axis] + float(cut.along)
                yield _cut(blank, where, along, cut, piece.joint.hardware)


def _edge_at(scene: Scene, i: int, joint: RowJoint) -> Where | None:
    pane = scene.row.panes[i].id
    if pane not in joint.between:
        return None
    if not joint.upright:
        return "top" if joint.between[1] == "ceiling" else "bottom"
    return "right" if joint.between[0] == pane else "left"


def _cuts(scene: Scene, i: int, joint: RowJoint) -> tuple[CutOut, ...]:
    item = scene.brief.items.get(joint.hardware)
    if isinstance(item, Hinge):
        return item.cut_outs if scene.row.panes[i].kind == "door" else item.other_cut_outs
    return item.cut_outs if isinstance(item, Clamp) else ()


def _cut(blank: Blank, where: Where, along: float, cut: CutOut, fitting: str) -> Notch | Hole:
    """Place a cut-out at its centre along an edge; notches follow an edge that rakes."""
    low, high = blank.edge(where)
    if where in ("left", "right"):
        centre = (at_height(low, high, along), along)
    else:
        centre = (along, at_height(low[::-1], high[::-1], along))
    nx, ny = blank.inward(where)
    if cut.shape == "hole":
        deep = float(cut.from_edge or 0.0)
        return Hole(
            centre=(centre[0] + nx * deep, centre[1] + ny * deep),
            diameter=float(cut.width),
            fitting=fitting,
        )
    half, deep = float(cut.height or cut.width) / 2, float(cut.width)
    corners = [
        (centre[0] + nx * d - ny * a, centre[1] + ny * d + nx * a)
        for d, a in ((0.0, -half), (0.0, half), (deep, half), (deep, -half))
    ]
    return Notch(corners=_anticlockwise(corners), radius=float(cut.radius or 0.0), fitting=fitting)


def _anticlockwise(corners: list[Point]) -> Outline:
    (x0, y0), (x1, y1), (x2, y2) = corners[:3]
    turn = (x1 - x0) * (y2 - y1) - (y1 - y0) * (x2 - x1)
    return tuple(corners if turn > 0 else corners[::-1])


def _handle(scene: Scene, i: int, blank: Blank) -> Iterator[Hole]:
    """Holes of the handle, from the strike edge, at its height above the floor."""
    pane = scene.row.panes[i]
    if pane.kind != "door" or pane.hinge_side is None or scene.used.handle == "none":
        return
    handle = scene.brief.item(scene.used.handle, Handle)
    strike: Where = "right" if pane.hinge_side == "left" else "left"
    low, high = blank.edge(strike)
    into = 1.0 if strike == "left" else -1.0
    centre = _handle_height(scene, i) - blank.origin[1]
    for hole in handle.holes:
        y = centre + float(hole.along)
        deep = float(handle.from_edge if hole.from_edge is None else hole.from_edge)
        x = at_height(low, high, y) + into * deep
        yield Hole(centre=(x, y), diameter=float(hole.width), fitting=handle.id)


def _handle_height(scene: Scene, i: int) -> float:
    """Height of the handle's centre above the datum; the floor lies below the curb."""
    p = scene.setting.corners[i * CORNERS : (i + 1) * CORNERS]
    middle = np.array([(p[BOTTOM_LEFT] + p[BOTTOM_RIGHT]) / 2])
    curb, _ = scene.room.curb(middle, scene.row.panes[i].run)
    job = scene.brief.job
    return float(curb[0]) - float(job.threshold.height) + float(job.wanted.handle_height)


def _hinge_heights(scene: Scene, i: int) -> tuple[float, ...]:
    """Heights of the hinge centres on a pane that has them, above the datum."""
    return tuple(
        z
        for piece in scene.gaps.places
        if piece.joint.kind == "hinge" and scene.row.panes[i].id in piece.joint.between
        for z in piece.fittings
    )


def _circle(hole: Hole) -> Outline:
    """Corners on a circle of the hole's own area."""
    turn = 2 * math.pi / CIRCLE
    radius = hole.diameter / 2 * math.sqrt(turn / math.sin(turn))
    x, y = hole.centre
    return tuple(
        (x + radius * math.cos(k * turn), y + radius * math.sin(k * turn)) for k in range(CIRCLE)
    )


# ---------------------------------------------------------------------- edges and chains


def _edges(scene: Scene, i: int, blank: Blank) -> Iterator[Edge]:
    finish, pane = scene.brief.job.wanted.edge, scene.row.panes[i]
    meets: dict[Where, str] = {
        "left": scene.row.meets(i, "left"),
        "right": scene.row.meets(i, "right"),
        "bottom": pane.on,
        "top": {"level": "free", "ceiling": "ceiling", "transom": "transom"}[pane.head],
    }
    left, right = bevels(scene.row, scene.room, i)
    ground = {"left": left, "right": right}
    scribed: dict[Where, Outline] = {
        where: (blank.edge(where)[0], *points, blank.edge(where)[1])
        for where, points in zip(SIDES, (blank.left, blank.right), strict=True)
        if points
    }
    for where, faces in meets.items():
        (x0, y0), (x1, y1) = blank.edge(where)
        rake = x1 - x0 if where in ("left", "right") else y1 - y0
        length = math.hypot(x1 - x0, y1 - y0)
        yield Edge(
            where=where, length=length, rake=clean(rake), finish=finish, meets=faces,
            bevel=ground.get(where, 0.0),
            points=scribed.get(where, ()),
        )  # fmt: skip
