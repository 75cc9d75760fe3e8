"""Panes above doors: cut to the room that their neighbours leave, up to the ceiling."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from hangtrue.estimate import Estimate
from hangtrue.fit.blank import clean
from hangtrue.fit.enclosure import Chain, Deduction, Edge, Gap, Joint, Lite, Where
from hangtrue.fit.entries import BOTTOM_LEFT, BOTTOM_RIGHT, CORNERS, TOP_LEFT, TOP_RIGHT
from hangtrue.fit.glass import glass_mass_kg
from hangtrue.fit.layout import above_of, held_by
from hangtrue.fit.rows import RowJoint
from hangtrue.fit.scene import Scene
from hangtrue.fit.wording import gap_of, joint_id
from hangtrue.geometry import figure
from hangtrue.job.readings import Side
from hangtrue.measure.opening import Matrix, Vector


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Transom:
    """A pane above a door, before it is drawn.

    Attributes
    ----------
    door
        Number of the door below it, from 0.
    left, right, foot, head
        Its joints.
    faces
        x of what is left and right of it, mm.
    door_top
        Height of the top of the door, mm.
    x, z
        x of its left and right edge; height of its foot, its top left and its top right, mm.
    ceiling
        Height of the ceiling above both ends, and its (2, m) coefficients.

    """

    id: str
    door: int
    left: RowJoint
    right: RowJoint
    foot: RowJoint
    head: RowJoint
    faces: tuple[float, float]
    door_top: float
    x: tuple[float, float]
    z: tuple[float, float, float]
    ceiling: tuple[Vector, Matrix]


class NoRoomError(ValueError):
    """Door, neighbours and ceiling leave no room for a transom."""

    def __init__(self, pane: str) -> None:
        super().__init__(f"no room for the {pane}")
        self.pane = pane


def transoms(scene: Scene) -> tuple[Transom, ...]:
    """Cut a pane to the room above every door that is under one, from left to right."""
    doors = [i for i, pane in enumerate(scene.row.panes) if pane.head == "transom"]
    names = ["transom"] if len(doors) == 1 else [f"transom {k + 1}" for k in range(len(doors))]
    return tuple(_transom(scene, i, name) for i, name in zip(doors, names, strict=True))


def _transom(scene: Scene, i: int, name: str) -> Transom:
    brief, row, grid = scene.brief, scene.row, float(scene.brief.profile.plant.grid)
    open_, tilting = scene.used.transom, brief.job.wanted.transom == "tilting"
    door_top = float(scene.setting.corners[-1]) + row.panes[i].rise[0]
    foot = held_by(brief, open_, joint_id(row.panes[i].id, name), (row.panes[i].id, name))
    head = above_of(brief, name, open_ if tilting else scene.used.ceiling)
    head = replace(head, kind="open") if tilting else head
    z = door_top + foot.elsewhere.usual
    left, right = (_beside(scene, i, name, side) for side in SIDES)
    x_left, x_right = (_face(scene, i, side, z) for side in SIDES)
    low, high = x_left + left.elsewhere.usual, x_right - right.elsewhere.usual
    width = np.floor((high - low) / grid + 1e-6) * grid
    low += (high - low - width) / 2
    ends = np.array([low, low + width])
    ceiling, rows = scene.room.ceiling(ends)
    rises = [round((float(c) - head.elsewhere.usual - z) / grid) * grid for c in ceiling]
    off = [
        float(c) - z - rise - head.elsewhere.usual for c, rise in zip(ceiling, rises, strict=True)
    ]
    # What rounding leaves is shared by the gaps above and below.
    z += (max(*off, 0.0) + min(*off, 0.0)) / 2
    if min(*rises, width) <= 0:
        raise NoRoomError(name)
    tops = [z + rise for rise in rises]
    return Transom(
        id=name, door=i, left=left, right=right, head=head,
        foot=replace(foot, kind="open", level=True),
        faces=(x_left, x_right), door_top=door_top, x=(float(ends[0]), float(ends[1])),
        z=(z, tops[0], tops[1]), ceiling=(ceiling, rows),
    )  # fmt: skip


SIDES: tuple[Side, Side] = ("left", "right")


def _beside(scene: Scene, i: int, name: str, side: Side) -> RowJoint:
    """Joint with what is beside a transom: open where it tilts, else as fixed panes are held."""
    meets = scene.row.meets(i, side)
    ends = (meets, name) if side == "left" else (name, meets)
    fixed = scene.used.wall if meets.endswith("wall") else scene.used.between
    item = scene.used.transom if scene.brief.job.wanted.transom == "tilting" else fixed
    words = joint_id(*ends) if not meets.endswith("wall") else joint_id(name, meets)
    held = held_by(scene.brief, item, words, ends)
    return replace(held, kind="open") if item == scene.used.transom else held


def _face(scene: Scene, i: int, side: Side, z: float) -> float:
    """x of what is beside a transom: an edge of glass, or a wall at the height of its foot."""
    p, row = scene.setting.corners, scene.row
    joint = i if side == "left" else i + 1
    beside = i - 1 if side == "left" else i + 1
    if 0 <= beside < len(row.panes) and joint not in row.turns:
        entry = TOP_RIGHT if side == "left" else TOP_LEFT
        return float(p[beside * CORNERS + entry])
    if row.joints[joint] is None or joint in row.turns:
        entry = BOTTOM_LEFT if side == "left" else BOTTOM_RIGHT
        return float(p[i * CORNERS + entry])
    return float(scene.room.walls(side, np.array([z]))[0][0])


# ---------------------------------------------------------------------- as panes and joints


def transom_lite(scene: Scene, made: Transom, thickness: float) -> Lite:
    """Draw a transom."""
    (low, high), (foot, left, right) = made.x, made.z
    corners = (
        (0.0, 0.0), (clean(high - low), 0.0),
        (clean(high - low), clean(right - foot)), (0.0, clean(left - foot)),
    )  # fmt: skip
    shape = figure(corners)
    return Lite(
        id=made.id, kind="transom", corners=corners, holes=(), notches=(), thickness=thickness,
        origin=(low, foot), hinge_side=None, hung_on=None, hinge_heights=(),
        edges=tuple(_edges(scene, made)), chains=tuple(_chains(made)),
        area=shape.area, centroid=shape.centroid, mass_kg=glass_mass_kg(shape.area, thickness),
        outline=corners, run=scene.row.panes[made.door].run,
    )  # fmt: skip


def _edges(scene: Scene, made: Transom) -> Iterator[Edge]:
    finish = scene.brief.job.wanted.edge
    (low, high), (foot, left, right) = made.x, made.z
    width, fall = high - low, right - left
    sides: tuple[tuple[Where, float, float, str], ...] = (
        ("left", left - foot, 0.0, scene.row.meets(made.door, "left")),
        ("right", right - foot, 0.0, scene.row.meets(made.door, "right")),
        ("bottom", width, 0.0, scene.row.panes[made.door].id),
        ("top", float(np.hypot(width, fall)), fall, "ceiling"),
    )
    for where, length, rake, meets in sides:
        yield Edge(where=where, length=length, rake=clean(rake), finish=finish, meets=meets)


def _chains(made: Transom) -> Iterator[Chain]:
    (low, high), (foot, left, right) = made.x, made.z
    gaps = (
        Deduction(what=gap_of(made.left.id), amount=made.faces[0] - low),
        Deduction(what=gap_of(made.right.id), amount=high - made.faces[1]),
    )
    for size, z in (("width at the bottom", foot), ("width at the top", min(left, right))):
        yield Chain(
            size=size, at_height=z, opening=made.faces[1] - made.faces[0],
            deductions=gaps, glass=high - low,
        )  # fmt: skip
    below = foot - made.door_top
    for side, ceiling, top in zip(SIDES, made.ceiling[0], (left, right), strict=True):
        yield Chain(
            size=f"height at the {side}", at_height=top,
            opening=float(ceiling) - made.door_top,
            deductions=(
                Deduction(what=gap_of(made.head.id), amount=top - float(ceiling)),
                Deduction(what=gap_of(made.foot.id), amount=-below),
            ),
            glass=top - foot,
        )  # fmt: skip


def transom_joints(scene: Scene, made: Transom) -> Iterator[Joint]:
    """Gaps all round a transom."""
    (low, high), (foot, left, right) = made.x, made.z
    day, row = scene.gaps.day, scene.row
    beside = tuple(scene.gaps.upright(row, j) for j in (made.door, made.door + 1))
    slot, variance = day.slot(row, made.door, beside)
    side = float(day.sigma(slot[None] / 2, np.array([(variance + day.cut) / 4]))[0])
    heights = [[foot, left], [foot, right]]
    yield _joint(made.left, heights[0], [low - made.faces[0]] * 2, [side] * 2)
    yield _joint(made.right, heights[1], [made.faces[1] - high] * 2, [side] * 2)
    still = np.zeros((1, len(slot)))
    level = float(day.sigma(still, np.array([2.0 * day.cut]))[0])
    yield _joint(made.foot, [low, high], [foot - made.door_top] * 2, [level] * 2)
    ceiling, rows = made.ceiling
    sigma = day.sigma(rows + day.foot, np.full(2, 2.0 * day.cut))
    gaps = [float(c) - top for c, top in zip(ceiling, (left, right), strict=True)]
    yield _joint(made.head, [low, high], gaps, [float(s) for s in sigma])


def _joint(joint: RowJoint, at: list[float], gaps: list[float], sigma: list[float]) -> Joint:
    allowed = joint.elsewhere
    return Joint(
        id=joint.id, kind=joint.kind, between=joint.between, hardware=joint.hardware,
        gaps=tuple(
            Gap(
                at=z, predicted=Estimate(gap, sd), least=allowed.least,
                usual=allowed.usual, most=allowed.most,
            )
            for z, gap, sd in zip(at, gaps, sigma, strict=True)
        ),
        level=joint.level,
    )  # fmt: skip
