"""Hinges, clamps, channels and bars on an elevation, at their true size."""

from __future__ import annotations

from collections.abc import Iterator

from hangtrue.fit.enclosure import Bar, Enclosure, Joint, Lite
from hangtrue.geometry import at_height
from hangtrue.job.brief import Brief
from hangtrue.job.hardware import Channel, Clamp, Hinge
from hangtrue.paper.drawings import frame
from hangtrue.paper.drawings.folding import placed_corners
from hangtrue.paper.drawings.reach import Reach
from hangtrue.paper.joint_words import at_riser
from hangtrue.paper.scene import Path, Primitive, View

BAR = 19.0
"""Drawn thickness of a support bar, mm of the object."""


def hardware(brief: Brief, made: Enclosure, reach: Reach, view: View) -> Iterator[Primitive]:
    """Hardware of every joint of the panes that are drawn, and the bars."""
    for joint in made.joints:
        yield from _joint(brief, joint, reach, view)
    for bar in made.bars:
        yield from _bar(bar, made, reach, view)


def _joint(brief: Brief, joint: Joint, reach: Reach, view: View) -> Iterator[Primitive]:
    item = brief.items.get(joint.hardware)
    beside = [p for p in reach.lites if p.id in joint.between]
    if not beside:
        return
    match item:
        case Hinge():
            doors = [p for p in beside if p.hinge_side]
            for door in doors[:1]:
                both = not joint.corner or reach.whole
                for z in hinge_heights(joint, door):
                    yield _hinge(door, item, z, view, both=both)
        case Clamp() if joint.upright:
            for lite in beside[: None if joint.corner else 1]:
                side = "left" if joint.between[1] == lite.id else "right"
                for z in (g.at for g in joint.gaps if g.at_fitting):
                    yield _plate(lite, z, item.plate_height, item.plate_height, view, side)
        case Channel() if not at_riser(joint):
            yield _channel(beside[0], joint, item, view)


def _hinge(door: Lite, item: Hinge, z: float, view: View, *, both: bool) -> Primitive:
    """Plates of one hinge: on the door, and where it hangs on glass on the other pane as well."""
    side = door.hinge_side or "left"
    x, inward = _edge(door, side, z), 1.0 if side == "left" else -1.0
    other = item.plate_width if item.mount == "glass" and both else 0.0
    half = item.plate_height / 2
    a, b = (
        view.at((x - inward * other, z - half)),
        view.at((x + inward * item.plate_width, z + half)),
    )
    box = (min(a[0], b[0]), a[1], max(a[0], b[0]), b[1])
    return frame.oblong(box, "hardware", weight="middle")


def hinge_heights(joint: Joint, door: Lite) -> tuple[float, ...]:
    """Heights above the datum of a door's hinge centres."""
    if door.hinge_heights:
        return tuple(door.origin[1] + y for y in door.hinge_heights)
    return tuple(sorted({g.at for g in joint.gaps if g.at_fitting}))


def _edge(lite: Lite, side: str, z: float) -> float:
    bl, br, tr, tl = placed_corners(lite)
    return at_height(bl, tl, z) if side == "left" else at_height(br, tr, z)


def _plate(lite: Lite, z: float, wide: float, tall: float, view: View, side: str) -> Primitive:
    """Plate of a hinge or a clamp over the edge of a pane."""
    x, inward = _edge(lite, side, z), 1.0 if side == "left" else -1.0
    a, b = view.at((x, z - tall / 2)), view.at((x + inward * wide, z + tall / 2))
    return frame.oblong((min(a[0], b[0]), a[1], max(a[0], b[0]), b[1]), "hardware", weight="middle")


def _channel(lite: Lite, joint: Joint, item: Channel, view: View) -> Primitive:
    """Front lip of a channel along the wall, what is below or what is above."""
    reach = item.base + item.depth
    bl, br, tr, tl = placed_corners(lite)
    if not joint.upright:
        return _level_channel(lite, joint, item, view)
    left = joint.between[1] == lite.id
    low, high = (bl, tl) if left else (br, tr)
    away = -1.0 if left else 1.0
    gap_low, gap_high = joint.gaps[0].predicted.value, joint.gaps[-1].predicted.value
    outer = ((low[0] + away * gap_low, low[1]), (high[0] + away * gap_high, high[1]))
    inner = tuple((x - away * reach, z) for x, z in reversed(outer))
    return Path(points=view.all((*outer, *inner)), layer="hardware")


def _level_channel(lite: Lite, joint: Joint, item: Channel, view: View) -> Primitive:
    """Channel under the foot of a pane, on a step, or along the ceiling."""
    bl, br, tr, tl = placed_corners(lite)
    reach = item.base + item.depth
    gaps = sorted(joint.gaps, key=lambda g: g.at)
    if joint.between[1] == "ceiling":
        tops = ((tl, gaps[0]), (tr, gaps[-1]))
        outer = tuple((x, z + gap.predicted.value + item.base) for (x, z), gap in tops)
        inner = tuple((x, z - reach) for x, z in reversed(outer))
        return Path(points=view.all((*outer, *inner)), layer="hardware")
    if not lite.lower:
        foot = min(bl[1], br[1]) - min(g.predicted.value for g in gaps) - item.base
        a, b = view.at((bl[0], foot)), view.at((br[0], foot + reach))
        return frame.oblong((*a, *b), "hardware")
    low, high = gaps[0].at, gaps[-1].at
    foot = lite.origin[1] + lower_at(lite, (low + high) / 2 - lite.origin[0])
    foot -= min(g.predicted.value for g in gaps) + item.base
    a, b = view.at((low, foot)), view.at((high, foot + reach))
    return frame.oblong((*a, *b), "hardware")


def lower_at(lite: Lite, x: float) -> float:
    """Height of the stepped lower edge of a pane at x, from its datum corner."""
    for a, b in zip(lite.lower, lite.lower[1:], strict=False):
        if a[0] <= x <= b[0] and b[0] > a[0]:
            return a[1] + (b[1] - a[1]) * (x - a[0]) / (b[0] - a[0])
    return 0.0


def _bar(bar: Bar, made: Enclosure, reach: Reach, view: View) -> Iterator[Primitive]:
    """Bar as seen from outside its run: along the glass, or end on with its reach to one side."""
    if bar.holds not in {p.id for p in reach.lites}:
        return
    run = reach.runs[made.lite(bar.holds).run - 1]
    places = [run.across((x, y))[0] for x, y, _ in bar.ends]
    z = bar.ends[0][2], bar.ends[1][2]
    low, high = sorted(places)
    half = BAR / 2
    over = max(0.0, half - (high - low) / 2)
    a = view.at((max(low - over, reach.left), min(z) - half))
    b = view.at((min(high + over, reach.right), max(z) + half))
    yield frame.oblong((*a, *b), "hardware", weight="middle")
