"""Feet that step over knee walls, benches and decks: what is cut out, and the gaps it leaves."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from hangtrue.estimate import Estimate
from hangtrue.fit.blank import Blank
from hangtrue.fit.enclosure import Gap, Joint, Lite, Notch
from hangtrue.fit.entries import CORNERS, Z_LEFT, Z_RIGHT
from hangtrue.fit.footing import Piece, below, height, lowest
from hangtrue.fit.rows import RowJoint
from hangtrue.fit.scene import Scene
from hangtrue.fit.wording import joint_id, riser_id
from hangtrue.geometry import SAME, Outline, Point, at_height, common
from hangtrue.job.profile import Profile
from hangtrue.job.readings import Side
from hangtrue.measure.length import Linear
from hangtrue.measure.opening import Vector

SIDES: tuple[Side, Side] = ("left", "right")
BEYOND = 50.0
"""How far a cut-out is drawn past the edge that it takes away, before it is cropped, mm."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Cut:
    """What is cut out of the foot of a pane over one step.

    Attributes
    ----------
    piece
        What is below it.
    low, high
        x of its sides along the glass line; past the edge of the pane where it is open there.
    z_low, z_high
        Height of its upper edge at both sides.
    rises_left, rises_right
        Riser that it keeps clear of at each side; None where there is none, or where what is beside
        is higher still.

    """

    piece: Piece
    low: float
    high: float
    z_low: float
    z_high: float
    rises_left: Linear | None
    rises_right: Linear | None


def cuts(scene: Scene, i: int, blank: Blank) -> tuple[Cut, ...]:
    """What is cut out of the foot of pane `i`, from left to right, on the plant's grid."""
    run = scene.row.panes[i].run
    pieces = below(scene.row, scene.room, scene.setting.corners, i)
    main = lowest(scene.room, run, pieces)
    return tuple(
        _cut(scene, i, blank, pieces, k) for k, piece in enumerate(pieces) if piece.on != main.on
    )


def _cut(scene: Scene, i: int, blank: Blank, pieces: tuple[Piece, ...], k: int) -> Cut:
    room, run, piece = scene.room, scene.row.panes[i].run, pieces[k]
    gap = scene.row.below[i].elsewhere.usual
    mine = height(room, run, piece)
    sides: list[tuple[float, Linear | None]] = []
    for riser, beside, end, sign in (
        (piece.left, k - 1, blank.origin[0] - BEYOND, -1.0),
        (piece.right, k + 1, blank.origin[0] + max(p[0] for p in blank.corners) + BEYOND, 1.0),
    ):
        if riser is None:
            sides.append((end, None))
            continue
        rises = height(room, run, pieces[beside]) < mine
        x = room.value(riser) + (sign if rises else -sign) * gap
        x = scene.on_grid(x - blank.origin[0]) + blank.origin[0]
        sides.append((x, riser if rises else None))
    (low, rises_left), (high, rises_right) = sides
    z_low, z_high = _upper_edge(scene, run, piece, blank, gap)
    return Cut(
        piece=piece, low=low, high=high, z_low=z_low, z_high=z_high,
        rises_left=rises_left, rises_right=rises_right,
    )  # fmt: skip


def _upper_edge(
    scene: Scene, run: int, piece: Piece, blank: Blank, gap: float
) -> tuple[float, float]:
    """Heights over both ends of a cap: level, unless it falls more than a level edge hides."""
    ends, _ = scene.room.base(piece.on, np.array([piece.low, piece.high]), run)
    if abs(ends[1] - ends[0]) <= scene.brief.profile.limit("rake-wanted-over").value:
        ends = np.full(2, ends.mean())
    low, high = (scene.on_grid(z + gap - blank.origin[1]) + blank.origin[1] for z in ends)
    return low, high


def notches(scene: Scene, blank: Blank, found: tuple[Cut, ...]) -> Iterator[Notch]:
    """The cut-outs as they are drawn, from the datum corner of the pane."""
    radius = scene.brief.profile.limit("notch-radius-least").value
    x0, z0 = blank.origin
    for cut in found:
        box = (
            (cut.low - x0, -BEYOND),
            (cut.high - x0, -BEYOND),
            (cut.high - x0, z_at(cut, cut.high) - z0),
            (cut.low - x0, z_at(cut, cut.low) - z0),
        )
        corners = common(blank.outline, box)
        if corners:
            yield Notch(corners=corners, radius=radius, fitting=cut.piece.on, of="step")


def z_at(cut: Cut, x: float) -> float:
    """Height of the upper edge of a cut-out at x, straight through both ends of its cap."""
    low, high = cut.piece.low, cut.piece.high
    return cut.z_low + (cut.z_high - cut.z_low) * (x - low) / (high - low)


def lower(blank: Blank, outline: Outline, notched: tuple[Notch, ...]) -> Outline:
    """Lower edge of an outline from left to right, where the foot steps; else nothing."""
    steps = [notch.corners for notch in notched if notch.of == "step"]
    if not steps:
        return ()
    left, right = blank.corners[0], blank.corners[1]
    for corners in steps:
        if left in corners:
            left = min(corners, key=lambda p: p[0] - p[1])
        if right in corners:
            right = max(corners, key=lambda p: p[0] + p[1])
    at, end = _nearest(outline, left), _nearest(outline, right)
    turned = (*outline[at:], *outline[:at])
    return turned[: (end - at) % len(outline) + 1]


def _nearest(outline: Outline, point: Point) -> int:
    return min(range(len(outline)), key=lambda k: math.dist(outline[k], point))


# ---------------------------------------------------------------------- the gaps that it leaves


def step_joints(scene: Scene, i: int) -> Iterator[Joint]:
    """Gaps over the caps and beside the risers that the foot of pane `i` steps over."""
    blank = Blank.of(scene, i)
    for cut in cuts(scene, i, blank):
        yield _over_cap(scene, i, cut, blank)
        for side, riser, x in (
            ("left", cut.rises_left, cut.low),
            ("right", cut.rises_right, cut.high),
        ):
            if riser is not None:
                yield _beside_riser(scene, i, cut, side, riser, x)


def _over_cap(scene: Scene, i: int, cut: Cut, blank: Blank) -> Joint:
    pane, joint, day = scene.row.panes[i], scene.row.below[i], scene.gaps.day
    x0, z0 = blank.origin
    edges = [
        x0 + at_height(*blank.edge(side), z_at(cut, x) - z0)
        for side, x in zip(SIDES, (cut.piece.low, cut.piece.high), strict=True)
    ]
    at = np.array([max(cut.piece.low, edges[0]), min(cut.piece.high, edges[1])])
    ground, rows = scene.room.base(cut.piece.on, at, pane.run)
    gaps = np.array([z_at(cut, x) for x in at]) - ground
    n = len(scene.row.panes)
    variance = (2.0 - 1.0 / n) * day.cut
    sigma = day.sigma(-rows - day.foot, np.full(2, variance))
    return _joint(joint, joint_id(pane.id, cut.piece.on), (pane.id, cut.piece.on), at, gaps, sigma)


def _beside_riser(scene: Scene, i: int, cut: Cut, side: str, riser: Linear, x: float) -> Joint:
    pane, joint, day = scene.row.panes[i], scene.row.below[i], scene.gaps.day
    sign = 1.0 if side == "left" else -1.0
    gap = sign * (scene.room.value(riser) - x)
    place, variance = day.pane(scene.row, i)
    row = sign * (riser.coefficients - place)
    sigma = day.sigma(row[None], np.array([variance + day.cut]))
    ends = (pane.id, cut.piece.on) if side == "left" else (cut.piece.on, pane.id)
    foot = scene.setting.corners[i * CORNERS + (Z_RIGHT if side == "left" else Z_LEFT)]
    at = np.array([float(foot), z_at(cut, x)])
    return replace(
        _joint(
            joint, riser_id(pane.id, cut.piece.on, side), ends,
            at, np.full(2, gap), np.repeat(sigma, 2),
        ),
        level=False,
    )  # fmt: skip


def _joint(
    like: RowJoint, name: str, ends: tuple[str, str], at: Vector, gaps: Vector, sigma: Vector
) -> Joint:
    allowed = like.elsewhere
    return Joint(
        id=name,
        kind=like.kind,
        between=ends,
        hardware=like.hardware,
        gaps=tuple(
            Gap(
                at=float(z),
                predicted=Estimate(float(gap), float(sd)),
                least=allowed.least,
                usual=allowed.usual,
                most=allowed.most,
            )
            for z, gap, sd in zip(at, gaps, sigma, strict=True)
        ),
        level=True,
    )


# ---------------------------------------------------------------------- what a plant makes


def depth_share(lite: Lite, notch: Notch) -> float:
    """Greater part of a pane's width or height that a cut-out over a step takes away, 0 to 1."""
    (low, high), (foot, top) = _extent(notch)
    across = min(lite.width_bottom, lite.width_top)
    up = min(lite.height_left, lite.height_right)
    return max((high - low) / across, (top - foot) / up)


def least_leg(lite: Lite) -> float:
    """Narrowest glass that is left beside or above a cut-out over a step, mm."""
    bl, br, tr, tl = lite.corners
    left = []
    for notch in lite.steps:
        (low, high), (_, top) = _extent(notch)
        left += [low - max(bl[0], tl[0]), min(br[0], tr[0]) - high, min(tl[1], tr[1]) - top]
    return min((leg for leg in left if leg > SAME), default=lite.width_bottom)


def _extent(notch: Notch) -> tuple[tuple[float, float], tuple[float, float]]:
    x, y = zip(*notch.corners, strict=True)
    return (min(x), max(x)), (min(y), max(y))


def made_in_one(lite: Lite, profile: Profile) -> bool:
    """Whether a plant makes a pane with such steps in one piece."""
    most = profile.limit("notch-depth-share-most").value
    return all(depth_share(lite, notch) <= most for notch in lite.steps) and (
        not lite.steps or least_leg(lite) >= profile.limit("notch-leg-least").value
    )
