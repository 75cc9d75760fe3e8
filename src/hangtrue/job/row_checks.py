"""The row of panes: doors and their hands, corners, heads and bars against walls and each other."""

from __future__ import annotations

import math
from collections.abc import Iterator

from hangtrue.job.document import Job
from hangtrue.job.glass_line import crossing, folded, run_length
from hangtrue.job.problems import Fault, Path
from hangtrue.job.readings import Height, Side
from hangtrue.job.wishes import Bar, Turn, WantedLite
from hangtrue.phrase import phrase
from hangtrue.units import Angle, Length

LEAST_ANGLE, MOST_ANGLE = math.radians(60), math.radians(180)
"""Inside angles of a corner that are planned: from the first, to less than the second."""
LEAST_STOP, MOST_STOP = math.radians(60), math.radians(180)
"""Openings at which a stop may hold a door, both included."""
PAIR = 2
LITES: Path = ("wanted", "lites")
NEAR_TOP = 100.0
"""mm from the top of the glass within which a bar holds it."""


def row_checks(job: Job) -> Iterator[Fault]:
    """Yield what does not go together in the row of panes."""
    yield from _doors(job)
    yield from _free_ends(job)
    for i, lite in enumerate(job.wanted.lites):
        yield from _pane(lite, (*LITES, i))
        if lite.turn is not None:
            yield from _turn(lite.turn, i, (*LITES, i, "turn"))
    yield from _line(job)
    yield from _top(job)
    for i, bar in enumerate(job.wanted.bars):
        yield from _bar(bar, job, ("wanted", "bars", i))


def _doors(job: Job) -> Iterator[Fault]:
    wanted = job.wanted
    doors = [i for i, lite in enumerate(wanted.lites) if lite.kind == "door"]
    if not doors and wanted.hinge_side != "free":
        wrong = "a hinge side, but no door among the panes"
        do = "leave it out, or add a door to `lites`"
        yield Fault(path=("wanted", "hinge_side"), wrong=wrong, do=do)
    if len(doors) > PAIR:
        wrong = f"{len(doors)} doors: one door or a double door is planned"
        yield Fault(path=LITES, wrong=wrong, do="plan the others as jobs of their own")
    elif len(doors) == PAIR:
        yield from _double(job, doors[0], doors[1])


def _double(job: Job, left: int, right: int) -> Iterator[Fault]:
    """Check that two doors close against each other, and hang at their outer sides."""
    if right - left > 1:
        wrong = "two doors with a fixed pane between them"
        do = "put them side by side as a double door, or plan two jobs"
        yield Fault(path=LITES, wrong=wrong, do=do)
        return
    for i, side, word in ((left, "left", "right"), (right, "right", "left")):
        if job.wanted.lites[i].hinge == word:
            wrong = f"the {side} one of two doors hangs {word}: the hinges clash"
            yield Fault(path=(*LITES, i, "hinge"), wrong=wrong, do=f"write {side}, or leave it out")
    if job.wanted.hinge_side != "free":
        wrong = f"hinge side {job.wanted.hinge_side}, but two doors hang left and right"
        yield Fault(path=("wanted", "hinge_side"), wrong=wrong, do="leave it out")


def _free_ends(job: Job) -> Iterator[Fault]:
    lites = job.wanted.lites
    for side, wall, i in (("left", job.walls.left, 0), ("right", job.walls.right, len(lites) - 1)):
        if wall is not None:
            continue
        if lites[i].kind == "door" and not _hangs_inward(job, i):
            wrong = f"no {side} wall, and a door at that end with nothing to hang on"
            do = f"describe `walls: {side}:`, or hang it at its other side"
            yield Fault(path=(*LITES, i), wrong=wrong, do=do)
        elif lites[i].width is None:
            wrong = f"no {side} wall: this pane ends free, and nobody says how wide it is"
            do = f"write `{{kind: {lites[i].kind}, width: 34 in}}`, or describe `walls: {side}:`"
            yield Fault(path=(*LITES, i), wrong=wrong, do=do)


def _hangs_inward(job: Job, i: int) -> bool:
    """Tell whether a door with a free edge may hang at its other side, on a pane or a wall."""
    lites = job.wanted.lites
    inner: Side = "right" if (i == 0 and len(lites) > 1) or job.walls.left is None else "left"
    beside = i + (1 if inner == "right" else -1)
    if 0 <= beside < len(lites):
        carried = lites[beside].kind == "fixed"
    else:
        carried = job.wall(inner) is not None
    return carried and (lites[i].hinge or job.wanted.hinge_side) in {inner, "free"}


def _pane(lite: WantedLite, path: Path) -> Iterator[Fault]:
    if lite.kind == "fixed" and lite.hinge is not None:
        wrong = f"hinges {lite.hinge}, but this pane is fixed"
        yield Fault(path=(*path, "hinge"), wrong=wrong, do="leave it out, or write `kind: door`")
    if lite.stop is not None:
        yield from _stop(lite, lite.stop, (*path, "stop"))
    if lite.kind == "fixed" and lite.head == "transom":
        wrong = "a transom above a fixed pane"
        do = "write `head: ceiling`; only a door has a transom above it"
        yield Fault(path=(*path, "head"), wrong=wrong, do=do)


def _stop(lite: WantedLite, stop: Angle, path: Path) -> Iterator[Fault]:
    if lite.kind == "fixed":
        wrong = f"a stop at {stop.typed}, but this pane is fixed"
        yield Fault(path=path, wrong=wrong, do="leave it out, or write `kind: door`")
    elif not LEAST_STOP - 1e-9 <= stop <= MOST_STOP + 1e-9:
        wrong = f"a stop at {stop.typed}, but from 60° to 180° is planned"
        do = "write how far the door turns from shut until it is stopped, like 105°"
        yield Fault(path=path, wrong=wrong, do=do)


def _turn(turn: Turn, i: int, path: Path) -> Iterator[Fault]:
    if i == 0:
        wrong = "the glass line cannot turn before its first pane"
        do = "write the turn at the pane that comes after the corner"
        yield Fault(path=path, wrong=wrong, do=do)
        return
    if not LEAST_ANGLE - 1e-9 <= turn.angle < MOST_ANGLE - 1e-9:
        wrong = f"an inside angle of {turn.angle.typed}; from 60° to less than 180° is planned"
        do = (
            "write the angle on the shower's side, or leave the turn out where the line is straight"
        )
        yield Fault(path=(*path, "angle"), wrong=wrong.replace("; ", ", but "), do=do)
    if turn.joint != "butt" and "laps" in turn.model_fields_set:
        wrong = f"`laps` says which pane covers the other, but this is a {turn.joint} joint"
        do = "leave it out, or write `joint: butt`"
        yield Fault(path=(*path, "laps"), wrong=wrong, do=do)


def _line(job: Job) -> Iterator[Fault]:
    """Check the glass line as a whole: it may be mirrored only if straight, and never crosses."""
    wanted = job.wanted
    if wanted.turns and wanted.order == "free":
        wrong = "a row that turns a corner cannot be built left for right"
        yield Fault(path=("wanted", "order"), wrong=wrong, do="write `order: as written`")
    for i, lite in enumerate(wanted.lites):
        if i and lite.turn and lite.turn.joint == "hinge" and not _door_beside(job, i):
            wrong = "a hinge at a corner where no door meets the other pane"
            do = "write butt, mitre or clamp"
            yield Fault(path=(*LITES, i, "turn", "joint"), wrong=wrong, do=do)
    lengths = [run_length(job, run) for run in range(1, len(wanted.runs) + 1)]
    known = [length for length in lengths if length is not None]
    if len(known) < len(lengths):
        return
    crossed = crossing(folded(known, wanted.turns, wanted.front))
    if crossed:
        wrong = f"the glass line crosses itself: run {crossed[1]} meets run {crossed[0]}"
        do = "look at `way: in` or `out` of each turn, and at the widths"
        yield Fault(path=LITES, wrong=wrong, do=do)


def _door_beside(job: Job, i: int) -> bool:
    return "door" in {job.wanted.lites[i - 1].kind, job.wanted.lites[i].kind}


def _top(job: Job) -> Iterator[Fault]:
    """Check the tops of the panes against what is above them."""
    wanted, shut = job.wanted, job.above.kind != "open"
    heads = {lite.head for lite in wanted.lites}
    for i, lite in enumerate(wanted.lites):
        if lite.head != "level" and not shut:
            what = "a transom" if lite.head == "transom" else "glass to the ceiling"
            wrong = f"{what}, but nothing is said to be above the glass"
            do = "write `above: {kind: ceiling}`, or `head: level`"
            yield Fault(path=(*LITES, i, "head"), wrong=wrong, do=do)
    if "transom" in heads and wanted.transom_at is None:
        wrong = "a transom above the door, and nobody says where the door ends"
        yield Fault(path=LITES, wrong=wrong, do="write `transom_at:`, like 80 in")
    if "transom" not in heads and wanted.transom_at is not None:
        wrong = "the height of a transom, but no door with `head: transom`"
        do = "leave it out, or write the door as `{kind: door, head: transom}`"
        yield Fault(path=("wanted", "transom_at"), wrong=wrong, do=do)
    ceilings = [r for r in job.readings if isinstance(r, Height) and r.of == "ceiling"]
    if shut and heads != {"level"} and not ceilings:
        wrong = "glass up to the ceiling, and nobody read the ceiling's height"
        do = "add readings `{what: height, of: ceiling, at: left, value: …}`, one for each end"
        yield Fault(path=("above",), wrong=wrong, do=do, level="sure?")
    yield from _ceiling_below(job)


def _ceiling_below(job: Job) -> Iterator[Fault]:
    """Check that no ceiling is below the top of a pane that does not follow it."""
    tops: list[tuple[str, Length]] = []
    if any(lite.head == "level" for lite in job.wanted.lites):
        tops.append(("the top of the glass", job.wanted.height))
    if job.wanted.transom_at is not None:
        tops.append(("the top of the door under the transom", job.wanted.transom_at))
    for i, reading in enumerate(job.readings):
        if not isinstance(reading, Height) or reading.of != "ceiling":
            continue
        for what, top in tops:
            if reading.value <= top:
                wrong = f"the ceiling at {reading.value.typed} is below {what} at {top.typed}"
                do = "read it again, lower the glass, or let the pane follow it: `head: ceiling`"
                yield Fault(path=("readings", i, "value"), wrong=wrong, do=do)


def _bar_height(bar: Bar, job: Job, path: Path) -> Iterator[Fault]:
    """Check that a bar is where the glass that it holds ends; on sloped heads fit says where."""
    wanted = job.wanted
    if bar.at is None or wanted.lites[wanted.pane_ids.index(bar.holds)].head != "level":
        return
    words = {"at": bar.at.typed, "top": wanted.height.typed}
    if bar.at > wanted.height + NEAR_TOP:
        wrong = phrase("a bar at {at}, and the glass ends at {top}: it touches nothing", **words)
        yield Fault(path=path, wrong=wrong, do="write its height where it meets the glass")
    elif bar.at < wanted.height - NEAR_TOP:
        wrong = phrase("a bar at {at} does not hold the top of the glass, at {top}", **words)
        yield Fault(path=path, wrong=wrong, do="leave `at` out, or write where the glass ends")


def _bar(bar: Bar, job: Job, path: Path) -> Iterator[Fault]:
    wanted = job.wanted
    ids = wanted.pane_ids
    if bar.run > len(wanted.runs):
        wrong = f"there is no run {bar.run}: the glass line has {len(wanted.runs)}"
        yield Fault(path=(*path, "run"), wrong=wrong, do="count the straight parts from the left")
    if bar.holds not in ids:
        wrong = f"it holds {bar.holds!r}, and there is no such pane"
        yield Fault(path=(*path, "holds"), wrong=wrong, do=f"write {', '.join(ids)}")
    elif bar.run <= len(wanted.runs) and ids.index(bar.holds) not in wanted.runs[bar.run - 1]:
        wrong = f"it belongs to run {bar.run}, and {bar.holds} does not stand there"
        yield Fault(path=(*path, "holds"), wrong=wrong, do="correct `run` or `holds`")
    else:
        yield from _bar_height(bar, job, (*path, "at"))
    side = bar.to.removesuffix(" wall")
    if (side == "left" and job.walls.left is None) or (side == "right" and job.walls.right is None):
        wrong = f"there is no {side} wall"
        yield Fault(path=(*path, "to"), wrong=wrong, do=f"describe `walls: {side}:`, or correct it")
