"""The room: steps, projections and obstacles against the walls and the runs of the glass line."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import combinations

from hangtrue.job.document import Job
from hangtrue.job.glass_line import run_length
from hangtrue.job.problems import Fault, Path
from hangtrue.job.room import KeepOut, Obstacle, Projection, Step, TileGrid, Wall
from hangtrue.job.slips import within
from hangtrue.phrase import phrase
from hangtrue.units import Length


def room_checks(job: Job) -> Iterator[Fault]:
    """Yield what does not go together in the room."""
    if job.walls.left is None and job.walls.right is None:
        wrong = "no wall at either end"
        yield Fault(path=("walls",), wrong=wrong, do="describe the wall that carries the glass")
    for side, wall in (("left", job.walls.left), ("right", job.walls.right)):
        for i, projection in enumerate(wall.projections if wall else ()):
            yield from _projection(projection, ("walls", side, "projections", i))
        if wall is not None:
            yield from _drilled(wall, job, ("walls", side))
    for i, step in enumerate(job.steps):
        yield from _step(step, job, ("steps", i))
    yield from _overlaps(job)
    for i, obstacle in enumerate(job.obstacles):
        yield from _obstacle(obstacle, ("obstacles", i))
        yield from _in_wall(obstacle, job, ("obstacles", i))


def _projection(projection: Projection, path: Path) -> Iterator[Fault]:
    if projection.from_ >= projection.to:
        wrong = f"it runs from {projection.from_.typed} up to {projection.to.typed}"
        yield Fault(path=(*path, "from"), wrong=wrong, do="write the lower height as `from`")
    if projection.stands_out <= 0:
        wrong = f"it stands out by {projection.stands_out.typed}"
        do = "write how far it stands into the opening, more than 0"
        yield Fault(path=(*path, "stands_out"), wrong=wrong, do=do)


def _drilled(wall: Wall, job: Job, path: Path) -> Iterator[Fault]:
    """Check what holes of a wall keep away from."""
    for i, zone in enumerate(wall.keep_out):
        yield from _keep_out(zone, (*path, "keep_out", i))
    if wall.tiles is None:
        return
    yield from _tiles(wall.tiles, job, (*path, "tiles"))
    if wall.layers and not any(TILED.search(layer.material) for layer in wall.layers):
        wrong = f"tiles, but the layers of the wall are {_named(wall)}"
        do = "write the tile as its first layer, or leave `tiles` out"
        yield Fault(path=(*path, "tiles"), wrong=wrong, do=do)


TILED = re.compile("tile|mosaic|stone|porcelain|ceramic|marble|slate|granite", re.IGNORECASE)
"""Layers that lie in a grid of joints."""


def _named(wall: Wall) -> str:
    return " and ".join(layer.material for layer in wall.layers)


def _keep_out(zone: KeepOut, path: Path) -> Iterator[Fault]:
    if zone.from_ >= zone.to:
        wrong = f"it runs from {zone.from_.typed} up to {zone.to.typed}"
        yield Fault(path=(*path, "from"), wrong=wrong, do="write the lower height as `from`")
    for key in ("each_side", "deeper_than"):
        length: Length | None = getattr(zone, key)
        if length is not None and length < 0:
            wrong = f"a distance of {length.typed}"
            yield Fault(path=(*path, key), wrong=wrong, do="write it without a sign")


def _tiles(tiles: TileGrid, job: Job, path: Path) -> Iterator[Fault]:
    """Check that tiles can be tiles, and that the joint that was read is on the wall."""
    for key in ("width", "height"):
        size: Length = getattr(tiles, key)
        if size <= 2 * tiles.joint or tiles.joint < 0:
            wrong = f"tiles of {size.typed} with joints of {tiles.joint.typed}"
            do = "write the size of a tile, then the width of the joint"
            yield Fault(path=(*path, key), wrong=wrong, do=do)
    if not -tiles.height <= tiles.first_joint_up <= job.wanted.height + tiles.height:
        wrong = f"a level joint at {tiles.first_joint_up.typed}, more than a tile off the glass"
        do = "write the height of a joint beside the glass, above the datum"
        yield Fault(path=(*path, "first_joint_up"), wrong=wrong, do=do)
    if abs(tiles.first_joint_across) > tiles.width + tiles.joint:
        wrong = f"an upright joint {tiles.first_joint_across.typed} from the glass line"
        do = "write the one nearest to the glass line; it is no further than a tile"
        yield Fault(path=(*path, "first_joint_across"), wrong=wrong, do=do)


def _step(step: Step, job: Job, path: Path) -> Iterator[Fault]:
    """Check a step against its run and the panes over it."""
    runs = job.wanted.runs
    if step.run > len(runs):
        wrong = f"there is no run {step.run}: the glass line has {len(runs)}"
        yield Fault(path=(*path, "run"), wrong=wrong, do="count the straight parts from the left")
        return
    low, high = _span(step, job)
    if low < 0 or high <= low:
        wrong = f"it runs from {_typed(step.from_, low)} to {_typed(step.to, high)} along its run"
        do = "write the left riser as `from` and the right one as `to`, from the run's left end"
        yield Fault(path=(*path, "to"), wrong=wrong, do=do)
        return
    length = run_length(job, step.run)
    if length is not None and max(low, high) > length + within("same-place"):
        far = _typed(step.to, high) if step.to is not None else _typed(step.from_, low)
        wrong = f"it reaches to {far}, and its run is only {length:.0f} mm long"
        yield Fault(path=(*path, "to"), wrong=wrong, do="measure from the left end of the run")
    else:
        yield from _past_pane(step, job, path)
    if step.height >= job.wanted.height:
        wrong = f"its top at {step.height.typed} is not below the glass top"
        do = "write heights above the datum"
        yield Fault(path=(*path, "height"), wrong=wrong, do=do)


def _span(step: Step, job: Job) -> tuple[float, float]:
    """Risers of a step along its run, mm; an end of unknown place is taken far away."""
    length = run_length(job, step.run)
    low = 0.0 if step.from_ is None else float(step.from_)
    end = float("inf") if length is None else max(length, low + 1)
    return low, end if step.to is None else float(step.to)


def _past_pane(step: Step, job: Job, path: Path) -> Iterator[Fault]:
    """Check that a step ends under the pane at its end of the run, where a door stands beyond."""
    wanted = job.wanted
    panes = wanted.runs[step.run - 1]
    low, high = _span(step, job)
    length = run_length(job, step.run)
    first, last = wanted.lites[panes[0]], wanted.lites[panes[-1]]
    slack = within("same-place")
    too_wide = ""
    if low <= slack and first.width is not None and high > first.width + slack:
        if len(panes) == 1 or wanted.lites[panes[1]].kind == "door":
            too_wide = f"{wanted.pane_ids[panes[0]]}, which is {first.width.typed} wide"
    elif length and last.width is not None and high >= length - slack and len(panes) > 1:
        beyond = wanted.lites[panes[-2]].kind == "door"
        if beyond and length - low > last.width + slack:
            too_wide = f"{wanted.pane_ids[panes[-1]]}, which is {last.width.typed} wide"
    if too_wide:
        wrong = f"the step is wider than its pane: it reaches past {too_wide}"
        do = "correct the step, or the width of the pane"
        yield Fault(path=path, wrong=wrong, do=do)


def _overlaps(job: Job) -> Iterator[Fault]:
    """Check that no two steps stand in the same place."""
    for (a, one), (b, other) in combinations(enumerate(job.steps), 2):
        if one.run != other.run or one.run > len(job.wanted.runs):
            continue
        (low, high), (start, end) = _span(one, job), _span(other, job)
        if min(high, end) - max(low, start) > within("same-place"):
            wrong = f"{other.name} overlaps step {a + 1}, {one.name}"
            do = "let one end where the other begins"
            yield Fault(path=("steps", b), wrong=wrong, do=do)


def _typed(length: Length | None, mm: float) -> str:
    return f"{mm:.0f} mm" if length is None else length.typed


def _obstacle(obstacle: Obstacle, path: Path) -> Iterator[Fault]:
    if obstacle.bottom is not None and obstacle.bottom > obstacle.top:
        wrong = f"its lower end at {obstacle.bottom.typed} is above its upper end"
        yield Fault(path=(*path, "bottom"), wrong=wrong, do="exchange `bottom` and `top`")
    if obstacle.width < 0 or obstacle.depth < 0:
        key = "width" if obstacle.width < 0 else "depth"
        wrong = "a size below nothing"
        yield Fault(path=(*path, key), wrong=wrong, do="write it without a sign")
    if obstacle.swing is not None and obstacle.kind != "door":
        wrong = f"a {obstacle.kind} that swings"
        do = "write `kind: door`, or leave the swing out"
        yield Fault(path=(*path, "swing"), wrong=wrong, do=do)


def _in_wall(obstacle: Obstacle, job: Job, path: Path) -> Iterator[Fault]:
    """Check an obstacle against the walls; outside the shower the room may be wider."""
    wanted = job.wanted
    left, _, right, inner = obstacle.plan_box
    length = run_length(job, wanted.front)
    slack = within("into-wall")
    side = ""
    if wanted.front == 1 and job.walls.left is not None and left < -slack:
        side = "left"
    elif wanted.front == len(wanted.runs) and job.walls.right is not None and length is not None:
        side = "right" if right > length + slack else ""
    if not side:
        return
    wrong = phrase("{what} reaches into {wall}", what=obstacle.name, wall=f"the {side} wall")
    if inner > 0:
        do = "measure x to its middle, from the left end of the front of the glass"
        yield Fault(path=(*path, "x"), wrong=wrong, do=do)
    else:
        do = "is the room wider there than the shower? then it is right as written"
        yield Fault(path=(*path, "x"), wrong=wrong, do=do, level="sure?")
