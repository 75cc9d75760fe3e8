"""Headers and support bars: where they go, and how long they are cut."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import replace

import numpy as np

from hangtrue.estimate import Estimate
from hangtrue.fit.enclosure import Bar, Chain, Deduction, Lite, Place, Run
from hangtrue.fit.entries import CORNERS, TOP_LEFT, TOP_RIGHT
from hangtrue.fit.folding import folded
from hangtrue.fit.room import Room
from hangtrue.fit.scene import Scene
from hangtrue.geometry import Point
from hangtrue.job import wishes
from hangtrue.job.readings import Side
from hangtrue.phrase import phrase
from hangtrue.tables import table

STEP = 1e-3
"""Change of an entry of the shape over which the slope of a length is taken, mm or rad."""

NEARLY_LEVEL = 0.1
"""A bar that comes nearer to along a wall or pane than this, as a sine, does not meet it."""

Ends = tuple[Place, Place, str]
"""Both ends of a bar before its fittings take their part, and what the far one meets."""


def bars(scene: Scene, panes: tuple[Lite, ...]) -> tuple[Bar, ...]:
    """Place every bar that is wanted and whose pane is there, and cut it to length."""
    wanted = scene.brief.job.wanted
    ids = {pane.id: pane for pane in panes}
    known = {pane.asked: ids[pane.id] for pane in scene.row.panes}
    return tuple(
        _bar(scene, k, wish, known[wish.holds])
        for k, wish in enumerate(wanted.bars, 1)
        if wish.holds in known
    )


def _bar(scene: Scene, number: int, wish: wishes.Bar, pane: Lite) -> Bar:
    def span(room: Room) -> Ends:
        runs = folded(scene.row, room, scene.brief.job.wanted.front)
        return _ends(scene, room, runs, wish, pane)

    start, stop, meets = span(scene.room)
    free = math.dist(start, stop)
    taken = tuple(_taken(pane, wish, meets))
    glass = free + math.fsum(step.amount for step in taken)
    sd = _sd(scene.room, lambda room: math.dist(*span(room)[:2]))
    return Bar(
        id=phrase("bar {number}", number=number),
        kind=wish.kind,
        hardware=wish.fitting,
        run=pane.run,
        holds=pane.id,
        to=meets,
        ends=(start, stop),
        length=Estimate(glass, sd),
        chain=Chain(size="length", at_height=start[2], opening=free, deductions=taken, glass=glass),
    )


def _taken(pane: Lite, wish: wishes.Bar, meets: str) -> Iterator[Deduction]:
    """What the fittings at both ends take of a bar; its maker's drawing overrides it."""
    settings = table("fit")["bars"]
    wall, glass = float(settings["wall_end_takes"]), float(settings["glass_end_takes"])
    near = "left end" if wish.kind == "header" else pane.id
    if wish.kind == "header":
        yield Deduction(what=phrase("flange, {end}", end=near), amount=-wall)
    else:
        yield Deduction(what=phrase("clamp, {end}", end=near), amount=-glass)
    if meets.endswith("wall") or meets == "ceiling":
        yield Deduction(what=phrase("flange, {end}", end=meets), amount=-wall)
    else:
        yield Deduction(what=phrase("clamp, {end}", end=meets), amount=-glass)


def _sd(room: Room, length: Callable[[Room], float]) -> float:
    """Standard deviation of a length from the survey: its slope over every entry of the shape."""
    opening = room.opening
    slopes = np.zeros(len(opening.shape))
    before = length(room)
    for k in np.flatnonzero(np.diag(opening.covariance) > 0):
        shape = opening.shape.copy()
        shape[k] += STEP
        moved = room.of(replace(opening, shape=shape))
        slopes[k] = (length(moved) - before) / STEP
    return math.sqrt(max(float(slopes @ opening.covariance @ slopes), 0.0))


# ---------------------------------------------------------------------- where it goes


def _ends(scene: Scene, room: Room, runs: tuple[Run, ...], wish: wishes.Bar, pane: Lite) -> Ends:
    run = runs[pane.run - 1]
    if wish.kind == "header":
        return _along(room, run, wish, pane)
    x = _held_at(scene, wish, pane)
    z = float(wish.at) if wish.at is not None else _top(pane, x)
    start = (*run.plan(x), z)
    if wish.to == "ceiling":
        ceiling = float(room.ceiling(np.array([x]))[0][0])
        return start, (start[0], start[1], ceiling), "ceiling"
    if wish.to == "across":
        return _across(scene, room, runs, pane, start)
    side: Side = "left" if wish.to == "left wall" else "right"
    return _to_wall(room, runs, pane, x, start, side)


def _along(room: Room, run: Run, wish: wishes.Bar, pane: Lite) -> Ends:
    """A header lies on the glass line of its run from end to end."""
    z = float(wish.at) if wish.at is not None else pane.origin[1] + max(y for _, y in pane.corners)
    first, last = run.number == 1, run.number == len(room.marks) - 1
    low, high = run.start, run.end
    if first and "left" in room.opening.walls:
        low = float(room.walls("left", np.array([z]))[0][0])
    if last and "right" in room.opening.walls:
        high = float(room.walls("right", np.array([z]))[0][0])
    meets = "right wall" if last and "right" in room.opening.walls else "right end"
    return (*run.plan(low), z), (*run.plan(high), z), meets


def _held_at(scene: Scene, wish: wishes.Bar, pane: Lite) -> float:
    """x along the glass line where a bar holds its pane: in from its free end, else its middle."""
    row = scene.row
    i = next(k for k, p in enumerate(row.panes) if p.id == pane.id)
    inset = float(table("fit")["bars"]["from_free_edge"])
    (left, _), (right, _) = pane.corners[3], pane.corners[2]
    held = {"left": _holds(scene, i), "right": _holds(scene, i + 1)}
    if held["left"] and not held["right"]:
        return pane.origin[0] + right - inset
    if held["right"] and not held["left"]:
        return pane.origin[0] + left + inset
    if wish.to in ("left wall", "right wall") and not any(held.values()):
        return pane.origin[0] + (right - inset if wish.to == "left wall" else left + inset)
    return pane.origin[0] + (left + right) / 2


def _holds(scene: Scene, j: int) -> bool:
    """Whether upright joint `j` holds its panes: neither free, nor a door's, nor open."""
    joint = scene.row.joints[j]
    return joint is not None and joint.kind in ("channel", "clamp", "silicone")


def _top(pane: Lite, x: float) -> float:
    (x0, y0), (x1, y1) = pane.corners[3], pane.corners[2]
    share = (x - pane.origin[0] - x0) / (x1 - x0)
    return pane.origin[1] + y0 + share * (y1 - y0)


def _to_wall(
    room: Room, runs: tuple[Run, ...], pane: Lite, x: float, start: Place, side: Side
) -> Ends:
    """Square to a wall; but as a brace at 45 degrees where the pane itself ends at that wall."""
    run = runs[0] if side == "left" else runs[-1]
    face = float(room.walls(side, np.array([start[2]]))[0][0])
    if run.number == pane.run:
        return start, (*run.plan(face, abs(x - face)), start[2]), f"{side} wall"
    foot = run.plan(face)
    cos, sin = math.cos(run.heading), math.sin(run.heading)
    away = (start[0] - foot[0]) * cos + (start[1] - foot[1]) * sin
    stop = (start[0] - away * cos, start[1] - away * sin, start[2])
    return start, stop, f"{side} wall"


def _across(scene: Scene, room: Room, runs: tuple[Run, ...], pane: Lite, start: Place) -> Ends:
    """Square to the glass into the shower, to the first pane or wall that it meets."""
    run = runs[pane.run - 1]
    ahead = (-math.sin(run.heading), math.cos(run.heading))
    hits = [*_walls_ahead(room, runs, start, ahead), *_panes_ahead(scene, runs, pane, start, ahead)]
    away, meets = min(hits, default=(0.0, "nothing"))
    stop = (start[0] + away * ahead[0], start[1] + away * ahead[1], start[2])
    return start, stop, meets


def _walls_ahead(
    room: Room, runs: tuple[Run, ...], start: Place, ahead: Point
) -> Iterator[tuple[float, str]]:
    """Distances to the walls at the ends of the line, as planes square to their runs."""
    for side in room.opening.walls:
        run = runs[0] if side == "left" else runs[-1]
        face = run.plan(float(room.walls(side, np.array([start[2]]))[0][0]))
        along = (math.cos(run.heading), math.sin(run.heading))
        speed = ahead[0] * along[0] + ahead[1] * along[1]
        if abs(speed) > NEARLY_LEVEL:
            away = ((face[0] - start[0]) * along[0] + (face[1] - start[1]) * along[1]) / speed
            if away > 0:
                yield away, f"{side} wall"


def _panes_ahead(
    scene: Scene, runs: tuple[Run, ...], pane: Lite, start: Place, ahead: Point
) -> Iterator[tuple[float, str]]:
    """Distances to the panes of other runs."""
    for i, other in enumerate(scene.row.panes):
        run = runs[other.run - 1]
        if other.run == pane.run:
            continue
        corners = scene.setting.corners[i * CORNERS : (i + 1) * CORNERS]
        a, b = run.plan(float(corners[TOP_LEFT])), run.plan(float(corners[TOP_RIGHT]))
        u = (b[0] - a[0], b[1] - a[1])
        turn = ahead[0] * u[1] - ahead[1] * u[0]
        if abs(turn) <= NEARLY_LEVEL * math.hypot(*u):
            continue
        w = (a[0] - start[0], a[1] - start[1])
        away = (w[0] * u[1] - w[1] * u[0]) / turn
        share = (w[0] * ahead[1] - w[1] * ahead[0]) / turn
        if away > 0 and 0.0 <= share <= 1.0:
            yield away, other.id
