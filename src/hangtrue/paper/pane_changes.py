"""What changed between two plans in the glass and the gaps around it, in words."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from shapely import Polygon, unary_union
from shapely.geometry.base import BaseGeometry

from hangtrue.fit.enclosure import Enclosure, Joint, Lite, NoFit
from hangtrue.geometry import Point
from hangtrue.paper.document_changes import Said, among, to
from hangtrue.paper.lengths import Units

SAME = 0.05
"""Lengths that differ by less are one, mm: it is the last figure on paper."""
SLIVER = 1.0
"""A rest of an outline smaller than this is rounding, mm2."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Feature:
    """Something taken out of a pane: what and for which fitting, middle and size in mm."""

    what: str
    middle: Point
    size: tuple[float, float]


def pane_changes(old: Enclosure | NoFit, new: Enclosure | NoFit, units: Units) -> Iterator[Said]:
    """Compare the panes one by one, by their ids."""
    if isinstance(old, NoFit) and isinstance(new, NoFit):
        if old.why != new.why:
            yield "", f"still nothing goes in: {new.why}"
        return
    if isinstance(new, NoFit):
        yield "", f"the panes went in, and now nothing does: {new.why}"
        return
    if isinstance(old, NoFit):
        yield "", "nothing went in, and now there are panes"
        return
    if old.choice.cut != new.choice.cut:
        yield "all panes", f"cut {to(old.choice.cut, new.choice.cut)}"
    was, now = ({lite.id: lite for lite in made.lites} for made in (old, new))
    for name in among(was, now):
        before, after = was.get(name), now.get(name)
        number = (new if after else old).lites.index(after or was[name]) + 1
        where = f"pane {number}, {name}"
        if before is not None and after is not None:
            yield from ((where, words) for words in _pane(before, after, units))
        else:
            yield where, "new" if after else "gone"


def _pane(old: Lite, new: Lite, units: Units) -> Iterator[str]:
    for key, before, after in (
        ("kind", old.kind, new.kind),
        ("hinge side", old.hinge_side or "none", new.hinge_side or "none"),
        ("hung on", old.hung_on or "nothing", new.hung_on or "nothing"),
    ):
        if before != after:
            yield f"{key} {to(before, after)}"
    for key, mm, other in (
        ("thickness", old.thickness, new.thickness),
        ("width at the bottom", old.width_bottom, new.width_bottom),
        ("width at the top", old.width_top, new.width_top),
        ("height at the left", old.height_left, new.height_left),
        ("height at the right", old.height_right, new.height_right),
    ):
        if abs(mm - other) >= SAME:
            yield f"{key} {arrow(mm, other, units)}"
    yield from _edges(old, new, units)
    yield from _features(features(old), features(new), units)


def _edges(old: Lite, new: Lite, units: Units) -> Iterator[str]:
    was = {edge.where: edge for edge in old.edges}
    for edge in new.edges:
        before = was.get(edge.where)
        if before is None:
            continue
        if abs(before.rake - edge.rake) >= SAME:
            by = arrow(before.rake, edge.rake, units, fine=True)
            yield f"{edge.where} edge, out of square {by}"
        if before.finish != edge.finish:
            yield f"{edge.where} edge, {to(before.finish, edge.finish)}"
        if before.meets != edge.meets:
            yield f"{edge.where} edge meets {to(before.meets, edge.meets)}"


def features(lite: Lite) -> tuple[Feature, ...]:
    """Return everything that is taken out of a pane: holes, notches, and steps in its outline."""
    holes = (
        Feature(what=f"hole for the {h.fitting}", middle=h.centre, size=(h.diameter, h.diameter))
        for h in lite.holes
    )
    notches = (_cut(f"notch for the {n.fitting}", Polygon(n.corners)) for n in lite.notches)
    blank, cut = Polygon(lite.corners), Polygon(lite.outline)
    taken = unary_union([cut, *(Polygon(n.corners) for n in lite.notches)])
    rest = blank.difference(_grown(taken))
    parts = (_grown(p).intersection(blank) for p in getattr(rest, "geoms", [rest]))
    steps = (_cut("notch over a step", part) for part in parts if part.area > SLIVER)
    return (*holes, *notches, *steps)


def _grown(figure: BaseGeometry) -> BaseGeometry:
    """Return a figure a hair's breadth larger, so that rounding leaves no sliver beside it."""
    return figure.buffer(SAME, join_style="mitre")


def _cut(what: str, part: BaseGeometry) -> Feature:
    left, low, right, high = part.bounds
    middle = ((left + right) / 2, (low + high) / 2)
    return Feature(what=what, middle=middle, size=(right - left, high - low))


def _features(old: tuple[Feature, ...], new: tuple[Feature, ...], units: Units) -> Iterator[str]:
    """Compare like with like, each with the nearest of its kind."""
    for what in dict.fromkeys(f.what for f in (*old, *new)):
        was, now = ([f for f in both if f.what == what] for both in (old, new))
        if len(now) < len(was):
            yield f"lost {_count(len(was), len(now), what)}"
        elif len(now) > len(was):
            yield f"gained {_count(len(now), len(was), what)}"
        for before, after in _pairs(was, now):
            yield from _feature(before, after, units)


def _count(more: int, fewer: int, what: str) -> str:
    """Say how many of a kind came or went: `its notch for the hinge`, `1 of 2 notches …`."""
    kind, _, rest = what.partition(" ")
    several = f"{kind}es" if kind.endswith("ch") else f"{kind}s"
    if fewer == 0:
        return f"its {kind if more == 1 else several} {rest}"
    return f"{more - fewer} of {more} {several} {rest}"


def _pairs(old: list[Feature], new: list[Feature]) -> Iterator[tuple[Feature, Feature]]:
    left = list(new)
    for before in old:
        if left:
            after = min(left, key=lambda f: _apart(f, before))
            left.remove(after)
            yield before, after


def _apart(one: Feature, other: Feature) -> float:
    return sum(abs(a - b) for a, b in zip(one.middle, other.middle, strict=True))


def _feature(old: Feature, new: Feature, units: Units) -> Iterator[str]:
    for key, i in (("width", 0), ("height", 1)):
        if abs(old.size[i] - new.size[i]) >= SAME:
            yield f"{new.what}, {key} {arrow(old.size[i], new.size[i], units)}"
    for key, i in (("from the left", 0), ("from the bottom", 1)):
        if abs(old.middle[i] - new.middle[i]) >= SAME:
            yield f"{new.what}, middle {key} {arrow(old.middle[i], new.middle[i], units)}"


def gap_changes(old: Enclosure | NoFit, new: Enclosure | NoFit, units: Units) -> Iterator[Said]:
    """Compare the joints by what they lie between: hardware and gaps."""
    if isinstance(old, NoFit) or isinstance(new, NoFit):
        return
    was, now = ({_between(joint): joint for joint in made.joints} for made in (old, new))
    for name in among(was, now):
        before, after = was.get(name), now.get(name)
        if before is None or after is None:
            yield name, "new joint" if after else "gone"
            continue
        if before.kind != after.kind:
            yield name, to(before.kind, after.kind)
        if before.hardware != after.hardware:
            yield name, f"hardware {to(before.hardware, after.hardware)}"
        yield from ((name, words) for words in _gaps(before, after, units))


def _between(joint: Joint) -> str:
    return " to ".join(joint.between)


def _gaps(old: Joint, new: Joint, units: Units) -> Iterator[str]:
    """Say the narrowest and the widest gap, and the working range, where they differ."""
    if not old.gaps or not new.gaps:
        return
    was, now = ([gap.predicted.value for gap in joint.gaps] for joint in (old, new))
    ranges = [(min(g.least for g in j.gaps), max(g.most for g in j.gaps)) for j in (old, new)]
    for key, mm, other in (
        ("narrowest", min(was), min(now)),
        ("widest", max(was), max(now)),
        ("least allowed", ranges[0][0], ranges[1][0]),
        ("most allowed", ranges[0][1], ranges[1][1]),
    ):
        if abs(mm - other) >= SAME:
            yield f"{key} {arrow(mm, other, units, fine=True)}"


def arrow(old: float, new: float, units: Units, *, fine: bool = False) -> str:
    """Say two lengths, mm, as finely as it takes to tell them apart."""
    before, after = (units.small(mm) if fine else units.size(mm) for mm in (old, new))
    if before == after and not fine:
        before, after = units.small(old), units.small(new)
    if before == after:
        before, after = (f"{units.exact(mm)} {units.first}" for mm in (old, new))
    return to(before, after)
