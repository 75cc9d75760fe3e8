"""Enclosures put together by hand from a row of panes: for what works on panes and joints alone.

    hung("door left wall", "fixed", "door right glass")

A pane is `fixed`, or `door`, its hinge side and what it hangs on. Whatever stands at an end meets a
wall. The row may turn a corner before a pane, and have a transom over its first door.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Literal

from hangtrue.estimate import Estimate
from hangtrue.fit.enclosure import (
    Bar,
    Chain,
    Choice,
    Corner,
    Edge,
    Enclosure,
    Gap,
    Hole,
    Joint,
    JointKind,
    Lite,
    Margin,
)
from hangtrue.hang.records import DrillHole, DrillPlan
from hangtrue.job.readings import Side
from tests.openings import brief

HEIGHT, WIDTH, FOOT, THICK = 1900.0, 700.0, 10.0, 10.0
GAP = 5.0
PLATES = (260.0, 1640.0)
DENSITY = 2.5e-6
HARDWARE: dict[str, str] = {
    "hinge": "plain-wall-hinge",
    "glass hinge": "plain-glass-hinge",
    "channel": "channel-deep",
    "strike": "strike-seal-round",
    "sweep": "sweep-drip",
    "silicone": "butt-joint",
    "clamp": "clamp-wall-square",
    "open": "clear-joint",
}
BRIEF = brief("door", "fixed")
"""A brief with the shipped hardware and the metric shop."""

Held = Literal["channel", "clamp", "silicone"]


def hung(
    *panes: str,
    held: Held = "channel",
    between: Held = "silicone",
    turns: Sequence[int] = (),
    transom: bool = False,
    bars: bool = False,
    sd: float = 0.5,
) -> Enclosure:
    """Put an enclosure together.

    Parameters
    ----------
    panes
        From left to right: `fixed` or `door <side> <wall|glass>`.
    held, between
        How fixed glass is held to walls and curb, and to other fixed glass.
    turns
        Positions of the panes that the glass line turns before.
    sd
        Standard deviation of every gap, mm.

    """
    lites = tuple(_lite(panes, i, turns) for i in range(len(panes)))
    joints = [
        *_upright(lites, held, between, turns, sd),
        *(_below(lite, held, sd) for lite in lites),
    ]
    doors = [lite for lite in lites if lite.kind == "door"]
    if transom and doors:
        lites = (*lites, _transom(doors[0]))
        joints.append(_joint("open", (doors[0].id, "transom"), _level(doors[0], sd), level=True))
    held_by = tuple(_bar(lite) for lite in lites if bars and lite.kind == "fixed")
    first = doors[0] if doors else None
    second = doors[1] if len(doors) > 1 else None
    return Enclosure(
        choice=Choice(
            order=tuple(lite.kind for lite in lites),
            hinge_side=first.hinge_side if first else None,
            hung_on=first.hung_on if first else None,
            thickness=THICK,
            cut="raked",
            second=(second.hinge_side, second.hung_on)
            if second and second.hinge_side and second.hung_on
            else None,
        ),
        lites=lites,
        joints=tuple(joints),
        margin=Margin(sigmas=3.0, mm=2.0, joint=joints[0].id, at=0.0),
        bars=held_by,
    )


def mirror_words(panes: Sequence[str]) -> tuple[str, ...]:
    """Write a row as its mirror image."""
    swap = {"left": "right", "right": "left"}
    return tuple(" ".join(swap.get(w, w) for w in p.split()) for p in reversed(panes))


def name(panes: Sequence[str], i: int) -> str:
    """Id of a pane, as people say it."""
    kinds = [p.split()[0] for p in panes]
    one = kinds.count("door") == 1 and kinds[i] == "door"
    return kinds[i] if one else f"{kinds[i]} {kinds[: i + 1].count(kinds[i])}"


def _lite(panes: Sequence[str], i: int, turns: Sequence[int]) -> Lite:
    kind, *hinge = panes[i].split()
    side: Side | None = None
    if hinge:
        side = "left" if hinge[0] == "left" else "right"
    x = GAP + i * (WIDTH + GAP)
    return _pane(
        name(panes, i),
        "door" if kind == "door" else "fixed",
        (x, FOOT),
        HEIGHT,
        side,
        "glass" if hinge and hinge[1] == "glass" else "wall",
        1 + sum(t <= i for t in turns if t),
    )


def _pane(
    lite_id: str,
    kind: Literal["door", "fixed", "transom"],
    origin: tuple[float, float],
    height: float,
    side: Side | None,
    on: Literal["wall", "glass"],
    run: int,
) -> Lite:
    corners = ((0.0, 0.0), (WIDTH, 0.0), (WIDTH, height), (0.0, height))
    door = kind == "door"
    hole = Hole(centre=(60.0, 1000.0), diameter=12.0, fitting="handle-bow")
    edges = tuple(
        Edge(where=w, length=0.0, rake=0.0, finish="flat polished", meets="")
        for w in ("left", "right", "top", "bottom")
    )
    return Lite(
        id=lite_id, kind=kind, corners=corners, holes=(hole,) if door else (), notches=(),
        thickness=THICK, origin=origin, hinge_side=side, hung_on=on if door else None,
        hinge_heights=(), edges=edges,
        chains=(Chain(size="width", at_height=0.0, opening=0.0, deductions=(), glass=WIDTH),),
        area=WIDTH * height, centroid=(WIDTH / 2, height / 2),
        mass_kg=WIDTH * height * THICK * DENSITY, outline=corners, run=run,
    )  # fmt: skip


def _transom(door: Lite) -> Lite:
    x, z = door.origin
    return _pane("transom", "transom", (x, z + HEIGHT + GAP), 300.0, None, "wall", door.run)


def _upright(
    lites: Sequence[Lite], held: Held, between: Held, turns: Sequence[int], sd: float
) -> list[Joint]:
    first, last = lites[0], lites[-1]
    joints = [_at_wall(first, "left", held, sd)]
    for i, (a, b) in enumerate(pairwise(lites), 1):
        corner = Corner(number=1, angle=1.5708, way="in", joint="butt", laps=a.id)
        joints.append(_glass(a, b, between, corner if i in turns else None, sd))
    return [*joints, _at_wall(last, "right", held, sd)]


def _at_wall(lite: Lite, side: Side, held: Held, sd: float) -> Joint:
    wall = f"{side} wall"
    ends = (wall, lite.id) if side == "left" else (lite.id, wall)
    if lite.kind == "fixed":
        return _joint(held, ends, _up(sd, hinge=False))
    hinged = lite.hinge_side == side
    kind: JointKind = "hinge" if hinged else "strike"
    return _joint(kind, ends, _up(sd, hinge=hinged))


def _glass(a: Lite, b: Lite, between: Held, corner: Corner | None, sd: float) -> Joint:
    hinged = a.hinge_side == "right" or b.hinge_side == "left"
    if hinged:
        gaps = _up(sd, hinge=True)
        return _joint("hinge", (a.id, b.id), gaps, corner=corner, hardware="glass hinge")
    if "door" in {a.kind, b.kind}:
        return _joint("strike", (a.id, b.id), _up(sd, hinge=False), corner=corner)
    return _joint(between, (a.id, b.id), _up(sd, hinge=False), corner=corner)


def _below(lite: Lite, held: Held, sd: float) -> Joint:
    kind: JointKind = "sweep" if lite.kind == "door" else held
    return _joint(kind, (lite.id, "curb"), _level(lite, sd), level=True)


def _joint(
    kind: JointKind,
    between: tuple[str, str],
    gaps: tuple[Gap, ...],
    *,
    level: bool = False,
    corner: Corner | None = None,
    hardware: str = "",
) -> Joint:
    pane, other = between if "wall" not in between[0] else between[::-1]
    return Joint(
        id=f"{pane} to {other}",
        kind=kind,
        between=between,
        hardware=HARDWARE[hardware or kind],
        gaps=gaps,
        corner=corner,
        level=level,
    )


def _up(sd: float, *, hinge: bool) -> tuple[Gap, ...]:
    places = {FOOT: False, FOOT + HEIGHT / 2: False, FOOT + HEIGHT: False}
    if hinge:
        places |= dict.fromkeys(PLATES, True)
    return tuple(_gap(at, sd, fitting=fits) for at, fits in sorted(places.items()))


def _level(lite: Lite, sd: float) -> tuple[Gap, ...]:
    x = lite.origin[0]
    return (_gap(x, sd, fitting=False), _gap(x + WIDTH, sd, fitting=False))


def _gap(at: float, sd: float, *, fitting: bool) -> Gap:
    return Gap(
        at=at, predicted=Estimate(GAP, sd), least=3.0, usual=GAP, most=7.0, at_fitting=fitting
    )


def _bar(lite: Lite) -> Bar:
    x, top = lite.origin[0], FOOT + HEIGHT
    return Bar(
        id=f"bar of {lite.id}", kind="support", hardware="support-bar", run=1, holds=lite.id,
        to="left wall", ends=((x, 0.0, top), (0.0, 300.0, top)), length=Estimate(400.0, 1.0),
        chain=Chain(size="length", at_height=top, opening=0.0, deductions=(), glass=0.0),
    )  # fmt: skip


def drilled(enclosure: Enclosure, bedded: Sequence[str] = ()) -> DrillPlan:
    """Two holes for everything that is screwed to a wall or what the glass stands on.

    Parameters
    ----------
    bedded
        Ids of joints without a hole.

    """
    panes = {pane.id for pane in enclosure.lites}
    joints = [
        joint.id
        for joint in enclosure.joints
        if joint.kind in {"hinge", "channel", "clamp"} and not set(joint.between) <= panes
    ]
    bars = [bar.id for bar in enclosure.bars if bar.to.endswith(" wall")]
    made = (_hole(i) for i in (*joints, *bars) if i not in bedded for _ in range(2))
    return DrillPlan(holes=tuple(made), moved=(), bedded=tuple(bedded))


def _hole(joint: str) -> DrillHole:
    return DrillHole(
        id="W1",
        fitting="",
        part="",
        joint=joint,
        surface="left wall",
        height=Estimate(0.0),
        above_datum=0.0,
        along=0.0,
        off=0.0,
        passes=(),
        depth=0.0,
        screw="",
        screw_length=0.0,
        fixing="",
        torque="",
        behind="",
    )
