"""Deduction chains: how each size of a pane comes about from the opening, step by step."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from hangtrue.fit.enclosure import Chain, Deduction
from hangtrue.fit.entries import (
    BOTTOM_LEFT,
    BOTTOM_RIGHT,
    CORNERS,
    TOP_LEFT,
    TOP_RIGHT,
    Z_LEFT,
    Z_RIGHT,
)
from hangtrue.fit.scene import Scene
from hangtrue.fit.turning import forms
from hangtrue.fit.wording import gap_of
from hangtrue.job.readings import Side
from hangtrue.measure.opening import Vector
from hangtrue.phrase import phrase

SIDES: tuple[Side, Side] = ("left", "right")
ROUNDING = "rounding to what the plant cuts"


def chains(scene: Scene, i: int) -> Iterator[Chain]:
    """Chains of both widths and both heights; a pane that comes as it is has none."""
    if scene.boxed:
        return
    for top in (False, True):
        yield _width_chain(scene, i, top=top)
    for side in SIDES:
        yield _height_chain(scene, i, side)


def _width_chain(scene: Scene, i: int, *, top: bool) -> Chain:
    """From end to end of the run at the corners: gaps and the other panes as sized, rounding."""
    sized, row = scene.setting.sized, scene.row
    run = row.run_of(i)
    widths = {j: _width(sized, j, top=top) for j in run}
    cut = _width(scene.setting.corners, i, top=top)
    wider = row.panes[i].outside
    last = [Deduction(what=ROUNDING, amount=cut - widths[i])]
    if wider:
        last.append(Deduction(what="mitre: the face seen from outside is wider", amount=wider))
    glass = cut + wider
    z = float(sized[-1] + min(row.panes[i].rise) if top else sized[i * CORNERS + Z_LEFT])
    size = "width at the top" if top else "width at the bottom"
    if not row.closed(i):
        return Chain(size=size, at_height=z, opening=widths[i], deductions=tuple(last), glass=glass)
    low, high = _ends(scene, run, top=top)
    others = [
        Deduction(what=phrase("{pane}, before rounding", pane=row.panes[j].id), amount=-widths[j])
        for j in run
        if j != i
    ]
    return Chain(
        size=size,
        at_height=z,
        opening=high - low,
        deductions=(*_gaps(scene, run, low, high, top=top), *others, *last),
        glass=glass,
    )


def _ends(scene: Scene, run: range, *, top: bool) -> tuple[float, float]:
    """x of both ends of a run: the faces of walls at the height of the glass, marks of corners."""
    row, sized = scene.row, scene.setting.sized

    def end(j: int, i: int, side: Side, z: int) -> float:
        if j in row.turns:
            return scene.room.corner(row.turn(j).number)[0]
        rise = row.panes[i].rise[0 if side == "left" else 1]
        height = sized[-1] + rise if top else sized[i * CORNERS + z]
        return float(scene.room.walls(side, np.array([height]))[0][0])

    return end(run.start, run.start, "left", Z_LEFT), end(run.stop, run.stop - 1, "right", Z_RIGHT)


def _gaps(scene: Scene, run: range, low: float, high: float, *, top: bool) -> Iterator[Deduction]:
    """What stays open between the ends of a run and its panes; at corners with the thickness."""
    row, sized = scene.row, scene.setting.sized
    left, right = (TOP_LEFT, TOP_RIGHT) if top else (BOTTOM_LEFT, BOTTOM_RIGHT)
    faces = [low]
    for j in run:
        faces += [float(sized[j * CORNERS + left]), float(sized[j * CORNERS + right])]
    faces.append(high)
    for k, j in enumerate(range(run.start, run.stop + 1)):
        joint = row.joints[j]
        if joint is None:
            continue
        open_stretch = faces[2 * k + 1] - faces[2 * k]
        if joint.turn is None:
            yield Deduction(what=gap_of(joint.id), amount=-open_stretch)
            continue
        gap = _of_gap(scene, j, after=j == run.start)
        past = phrase(
            "corner {number}, {joint}: {what}",
            number=joint.turn.number,
            joint=joint.turn.joint,
            what=_thickness_words(scene, j, run),
        )
        yield Deduction(what=past, amount=gap - open_stretch)
        if gap:
            yield Deduction(what=gap_of(joint.id), amount=-gap)


def _thickness_words(scene: Scene, j: int, run: range) -> str:
    turn = scene.row.turn(j)
    pane = scene.row.panes[run.start if j == run.start else run.stop - 1].id
    if turn.joint == "butt":
        if turn.laps == pane:
            return "runs past the mark"
        return phrase("thickness of {pane}", pane=turn.laps)
    return "to the mark" if turn.joint == "mitre" else "thickness of both"


def _of_gap(scene: Scene, j: int, *, after: bool) -> float:
    """Part of a cut back at corner joint `j` that is there for the gap, as sized, mm."""
    form, _ = forms(scene.row, scene.room, j)
    sized = scene.setting.sized
    mark, _ = scene.room.corner(scene.row.turn(j).number)
    before = mark - sized[(j - 1) * CORNERS + BOTTOM_RIGHT]
    behind = sized[j * CORNERS + BOTTOM_LEFT] - mark
    gap = form.at((float(before), float(behind)))
    own = form.cut_after if after else form.cut_before
    return gap * own / (form.cut_before**2 + form.cut_after**2)


def _width(corners: Vector, i: int, *, top: bool) -> float:
    left, right = (TOP_LEFT, TOP_RIGHT) if top else (BOTTOM_LEFT, BOTTOM_RIGHT)
    return float(corners[i * CORNERS + right] - corners[i * CORNERS + left])


def _height_chain(scene: Scene, i: int, side: Side) -> Chain:
    """From the top line down to what it stands on at one corner: the gap below, then rounding."""
    sized, cut, pane = scene.setting.sized, scene.setting.corners, scene.row.panes[i]
    z, x = (Z_LEFT, BOTTOM_LEFT) if side == "left" else (Z_RIGHT, BOTTOM_RIGHT)
    rise = pane.rise[0 if side == "left" else 1]
    ground = float(scene.room.base(pane.on, sized[[i * CORNERS + x]], pane.run)[0][0])
    top, foot = float(sized[-1]) + rise, float(sized[i * CORNERS + z])
    glass = float(cut[-1] + rise - cut[i * CORNERS + z])
    return Chain(
        size=f"height at the {side}",
        at_height=top,
        opening=top - ground,
        deductions=(
            Deduction(what=gap_of(scene.row.below[i].id), amount=ground - foot),
            Deduction(what=ROUNDING, amount=glass - (top - foot)),
        ),
        glass=glass,
    )
