"""Rooms with corners, steps and slopes, planned by hand over the lodge's readings."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from functools import cache
from itertools import pairwise
from pathlib import Path

from hangtrue.estimate import Estimate
from hangtrue.fit.enclosure import (
    Bar,
    Chain,
    Choice,
    Corner,
    Deduction,
    Edge,
    Enclosure,
    Gap,
    Hole,
    Joint,
    JointKind,
    Lite,
    Margin,
    Notch,
    Run,
    Where,
)
from hangtrue.geometry import Outline, Point, figure, less
from hangtrue.job.brief import Brief
from hangtrue.job.read import read_job, read_job_text
from hangtrue.job.readings import Side
from hangtrue.measure import measure
from hangtrue.measure.opening import Opening
from hangtrue.measure.plan_line import PlanLine, glass_line

LODGE = Path(__file__).parents[1] / "examples" / "lodge"
GAP, FOOT, HEAD = 5.0, 8.0, 12.0
RADIUS = 12.0
"""Of inside corners of steps, mm."""
Spot = tuple[float, float, str]
"""x and height of the foot there, and the step that it stands on."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Folded:
    """What the drawings take."""

    brief: Brief
    opening: Opening
    made: Enclosure


MANY = """
hangtrue: 1
job: {id: lodge-many, title: Seaside lodge refit, room: Test room, version: 4}
unit: mm
walls:
  left: {name: left wall, edge: scribed, behind: blocking}
  right: {name: right wall, behind: blocking}
threshold: {kind: curb, height: 90, width: 110}
wanted:
  lites:
    - {kind: fixed}
    - {kind: fixed, turn: {angle: 135°, way: out, joint: clamp}}
    - {kind: fixed, turn: {angle: 120°, way: in, joint: mitre}}
    - {kind: door, hinge: left}
    - {kind: door, hinge: right}
    - {kind: fixed}
    - {kind: fixed, turn: {angle: 90°, way: in, joint: butt, laps: after}}
    - {kind: fixed}
  swing: both
  height: 2050
  thickness: 10
readings:
  - {what: width, run: 1, at: 30, value: 420}
  - {what: width, run: 2, at: 30, value: 510}
  - {what: width, run: 3, at: 30, value: 2100}
  - {what: width, run: 4, at: 30, value: 1100}
  - {what: lean, wall: left, from: 30, to: 1860, toward: in, value: 6}
  - {what: bow, wall: left, from: 30, to: 1860, at: 900, toward: in, value: 4}
  - {what: lean, wall: right, from: 30, to: 1860, toward: out, value: 3}
  - {what: fall, run: 3, falls: right, value: 3}
"""


@cache
def folded(name: str) -> Folded:
    """Return `petrel`, `curlew`, `dunlin` or `sandpiper` of the lodge, or `many` with corners."""
    brief, problems = read_job_text(MANY) if name == "many" else read_job(LODGE / f"{name}.yaml")
    assert brief, problems
    return made_of(brief)


def made_of(brief: Brief) -> Folded:
    """Measure a job and set its panes side by side."""
    opening = measure(brief)
    return Folded(brief=brief, opening=opening, made=_Maker(brief, opening).enclosure())


FOLDED = ("petrel", "curlew", "dunlin", "sandpiper", "many")


class _Maker:
    """Panes set side by side with the same gap everywhere."""

    def __init__(self, brief: Brief, opening: Opening) -> None:
        self.brief, self.opening, self.wanted = brief, opening, brief.job.wanted
        self.ids = self.wanted.pane_ids
        self.thickness = 10.0 if self.wanted.thickness == "free" else float(self.wanted.thickness)
        self.line: PlanLine = glass_line(opening, self.wanted)

    def enclosure(self) -> Enclosure:
        panes = [self.lite(i, lo, hi) for i, lo, hi in self.spans()]
        above = [self.transom(p) for i, p in enumerate(panes) if self.head(i) == "transom"]
        lites = tuple(panes + above)
        hinge = next((self.hinge(i) for i, k in enumerate(self.kinds) if k == "door"), None)
        return Enclosure(
            choice=Choice(
                order=self.kinds,
                hinge_side=hinge,
                hung_on="glass" if hinge else None,
                thickness=self.thickness,
                cut="raked",
                second=("right", "glass") if self.kinds.count("door") > 1 else None,
            ),
            lites=lites,
            joints=tuple(self.joints(tuple(panes), tuple(above))),
            margin=Margin(sigmas=2.0, mm=1.2, joint="door left", at=50.0),
            runs=tuple(self.runs()),
            bars=tuple(self.bars(lites)),
        )

    @property
    def kinds(self) -> tuple[str, ...]:
        return tuple(w.kind for w in self.wanted.lites)

    def head(self, i: int) -> str:
        return self.wanted.lites[i].head

    def hinge(self, i: int) -> Side:
        own = self.wanted.lites[i].hinge or self.wanted.hinge_side
        return "right" if own == "right" else "left"

    def value(self, length: object) -> float:
        return self.opening.estimate(length).value  # type: ignore[arg-type]

    def runs(self) -> Iterator[Run]:
        for k in range(1, self.opening.corners + 2):
            start = self.value(self.opening.start(k))
            yield Run(
                number=k,
                start=start,
                end=self.value(self.opening.stop(k)),
                origin=self.line.starts[k - 1],
                heading=self.line.headings[k - 1],
            )

    def spans(self) -> Iterator[tuple[int, float, float]]:
        """Panes of each run in equal shares of what the wished widths leave."""
        for k, run in enumerate(self.wanted.runs, 1):
            low, high = self.ends(k)
            free = high - low - GAP * (len(run) - 1)
            wished = [self.wanted.lites[i].width for i in run]
            open_ = sum(w is None for w in wished)
            rest = (free - sum(float(w) for w in wished if w is not None)) / max(open_, 1)
            x = low
            for i, w in zip(run, wished, strict=True):
                wide = rest if w is None else float(w)
                yield i, x, x + wide
                x += wide + GAP

    def ends(self, k: int) -> tuple[float, float]:
        """x of the first pane's left edge and the last pane's right edge of a run."""
        low, high = self.value(self.opening.start(k)), self.value(self.opening.stop(k))
        left = low + (self.reach(k - 1, before=False) if k > 1 else GAP)
        right = high - (self.reach(k, before=True) if k <= self.opening.corners else GAP)
        return left, right

    def reach(self, corner: int, *, before: bool) -> float:
        """How far short of the corner mark the pane before or after it ends, outside face."""
        turn, half = self.wanted.turns[corner - 1], self.thickness / 2
        bend = math.pi - self.value(self.opening.angle(corner))
        sign = 1.0 if turn.way == "in" else -1.0
        if turn.joint == "mitre":
            return GAP / 2 - sign * half * math.tan(bend / 2)
        if turn.joint == "butt":
            return -half if (turn.laps == "before") == before else half + GAP
        return half * math.tan(bend / 2) + GAP / 2

    def bevel(self, i: int, where: str) -> float:
        """Bevel of a pane's edge at a mitre."""
        for k, run in enumerate(self.wanted.runs, 1):
            corner = k if where == "right" else k - 1
            at_end = i == (run[-1] if where == "right" else run[0])
            if at_end and 1 <= corner <= self.opening.corners:
                turn = self.wanted.turns[corner - 1]
                half = (math.pi - self.value(self.opening.angle(corner))) / 2
                return (half if turn.way == "in" else -half) if turn.joint == "mitre" else 0.0
        return 0.0

    def top(self, i: int, x: float) -> float:
        match self.head(i):
            case "ceiling":
                return self.value(self.opening.ceiling(x)) - HEAD
            case "transom":
                return float(self.wanted.transom_at or 0.0)
            case _:
                return float(self.wanted.height)

    def run_of(self, i: int) -> int:
        return next(k for k, run in enumerate(self.wanted.runs, 1) if i in run)

    def lite(self, i: int, low: float, high: float) -> Lite:
        door = self.kinds[i] == "door"
        foot = FOOT + (3.0 if door else 0.0)
        segments = self.opening.base(low, high)
        places = [(self.value(s.left), self.value(s.left_height) + foot, s.step) for s in segments]
        ends = [(self.value(s.right), self.value(s.right_height) + foot, s.step) for s in segments]
        ground = min(p[1] for p in (*places, *ends))
        lean = self.lean(i)
        left_most = min(0.0, lean[0])
        origin = (low + left_most, ground)

        def own(x: float, z: float) -> Point:
            return (x - origin[0], z - origin[1])

        first, last = places[0], ends[-1]
        bare = all(s.step for s in segments) or not any(s.step for s in segments)
        bl = own(low, first[1] if bare or not segments[0].step else ground)
        br = own(high, last[1] if bare or not segments[-1].step else ground)
        tr, tl = own(high + lean[1], self.top(i, high)), own(low + lean[0], self.top(i, low))
        corners = (bl, br, tr, tl)
        notches = () if bare else tuple(self.steps(places, ends, own))
        lower = self.lower(places, ends, own) if notches else ()
        fittings, holes = self.cuts(i, corners)
        every = (*notches, *fittings)
        return self.cut(
            Lite(
                id=self.ids[i],
                kind="door" if door else "fixed",
                corners=corners,
                holes=holes,
                notches=every,
                thickness=self.thickness,
                origin=origin,
                hinge_side=self.hinge(i) if door else None,
                hung_on="glass" if door else None,
                hinge_heights=(240.0, corners[3][1] - 240.0) if door else (),
                edges=self.edges(i, corners),
                chains=self.chains(low, high),
                area=0.0,
                centroid=(0.0, 0.0),
                mass_kg=0.0,
                outline=corners,
                run=self.run_of(i),
                lower=lower,
            )
        )

    def chains(self, low: float, high: float) -> tuple[Chain, ...]:
        return (
            Chain(
                size="width at the bottom",
                at_height=10.0,
                opening=high - low + 10.0,
                deductions=(Deduction(what="gap at the left", amount=-10.0),),
                glass=high - low,
            ),
        )

    def cut(self, lite: Lite) -> Lite:
        """Outline, area, centroid and mass of what is cut."""
        left = lite.edge("left")
        blank: Outline = lite.corners
        if left.points:
            blank = (lite.corners[1], lite.corners[2], *reversed(left.points))
        outline = less(blank, [n.corners for n in lite.notches])
        whole = figure(outline)
        return replace(
            lite,
            outline=outline,
            area=whole.area,
            centroid=whole.centroid,
            mass_kg=whole.area * lite.thickness * 2.5e-6,
        )

    def lean(self, i: int) -> tuple[float, float]:
        """How far the top of the left and of the right edge lies right of its bottom."""
        high = float(self.wanted.height)
        left = right = 0.0
        if i == 0 and "left" in self.opening.walls:
            left = self.value(self.opening.lean("left", 0.0, high))
        if i == len(self.kinds) - 1 and "right" in self.opening.walls:
            right = -self.value(self.opening.lean("right", 0.0, high))
        return left, right

    def steps(
        self, places: list[Spot], ends: list[Spot], own: Callable[[float, float], Point]
    ) -> Iterator[Notch]:
        for (x0, z0, step), (x1, z1, _) in zip(places, ends, strict=True):
            if step:
                a, b = own(x0 - (GAP if x0 > places[0][0] else 0), z0), own(x1, z1)
                if x1 < ends[-1][0]:
                    b = (b[0] + GAP, b[1])
                yield Notch(
                    corners=((a[0], 0.0), (b[0], 0.0), b, a),
                    radius=RADIUS,
                    fitting=step,
                    of="step",
                )

    def lower(
        self, places: list[Spot], ends: list[Spot], own: Callable[[float, float], Point]
    ) -> Outline:
        return tuple(own(x, z) for a, b in zip(places, ends, strict=True) for x, z, _ in (a, b))

    def cuts(self, i: int, corners: Outline) -> tuple[tuple[Notch, ...], tuple[Hole, ...]]:
        if self.kinds[i] != "door":
            return (), ()
        left = self.hinge(i) == "left"
        edge, into = (0.0, 1.0) if left else (corners[1][0], -1.0)
        notches = tuple(
            Notch(
                corners=_box(sorted((edge, edge + into * 41.0)), (y - 32.0, y + 32.0)),
                radius=10.0,
                fitting="plain-wall-hinge",
            )
            for y in (240.0, corners[3][1] - 240.0)
        )
        x = corners[1][0] - 64.0 if left else 64.0
        holes = tuple(
            Hole(centre=(x, y), diameter=12.0, fitting="handle-bow") for y in (850.0, 1050.0)
        )
        return notches, holes

    def edges(self, i: int, corners: Outline) -> tuple[Edge, ...]:
        bl, br, tr, tl = corners
        points: dict[str, Outline] = {}
        wall = self.brief.job.wall("left")
        if i == 0 and wall and wall.edge == "scribed":
            points["left"] = tuple(
                (
                    bl[0]
                    + (tl[0] - bl[0]) * k / 8
                    + 4.0 * (math.sin(math.pi * k / 8) if 0 < k < 8 else 0),
                    bl[1] + (tl[1] - bl[1]) * k / 8,
                )
                for k in range(9)
            )
        rakes: dict[Where, tuple[float, float]] = {
            "left": (tl[1] - bl[1], tl[0] - bl[0]),
            "right": (tr[1] - br[1], tr[0] - br[0]),
            "top": (tr[0] - tl[0], tr[1] - tl[1]),
            "bottom": (br[0] - bl[0], br[1] - bl[1]),
        }
        return tuple(
            Edge(
                where=where,
                length=length,
                rake=rake,
                finish="flat polished",
                meets="free",
                bevel=self.bevel(i, where),
                points=points.get(where, ()),
            )
            for where, (length, rake) in rakes.items()
        )

    def transom(self, door: Lite) -> Lite:
        low, high = door.origin[0], door.origin[0] + door.width_bottom
        z = float(self.wanted.transom_at or 0.0) + GAP
        top = [self.value(self.opening.ceiling(x)) - HEAD for x in (low, high)]
        corners = ((0.0, 0.0), (high - low, 0.0), (high - low, top[1] - z), (0.0, top[0] - z))
        return self.cut(
            replace(
                door,
                id="transom",
                kind="transom",
                corners=corners,
                holes=(),
                notches=(),
                lower=(),
                origin=(low, z),
                hinge_side=None,
                hung_on=None,
                hinge_heights=(),
                edges=self.edges(99, corners),
                chains=(),
            )
        )

    def joints(self, panes: tuple[Lite, ...], above: tuple[Lite, ...]) -> Iterator[Joint]:
        walls = [s if f"{s}" in self.opening.walls else "free" for s in ("left", "right")]
        names = [f"{w} wall" if w != "free" else w for w in walls]
        for a, b in pairwise((names[0], *(p.id for p in panes), names[1])):
            if "free" not in (a, b):
                yield self.upright(a, b, panes)
        for p in panes:
            yield from self.below(p)
        for t in above:
            yield self.level("door", t.id, t, "open", "clear-joint")
        for p in (*panes, *above):
            if p.kind == "transom" or self.head(self.ids.index(p.id)) == "ceiling":
                yield self.level(p.id, "ceiling", p, "channel", "channel-deep")

    def upright(self, a: str, b: str, panes: tuple[Lite, ...]) -> Joint:
        numbers = {p.id: n for n, p in enumerate(panes)}
        corner = None
        if a in numbers and b in numbers:
            one, two = panes[numbers[a]], panes[numbers[b]]
            corner = self.corner(one, two) if two.run > one.run else None
        kind: JointKind = "silicone"
        hardware = "butt-joint"
        if a.startswith("door") or b.startswith("door"):
            door = next(p for p in panes if p.id in (a, b) and p.kind == "door")
            at_hinge = (door.hinge_side == "left") == (b == door.id)
            kind, hardware = (
                ("hinge", "plain-glass-hinge") if at_hinge else ("strike", "strike-seal-round")
            )
        elif "wall" in a or "wall" in b:
            kind, hardware = "channel", "channel-shallow"
        return Joint(
            id=f"{a} - {b}",
            kind=kind,
            between=(a, b),
            hardware=hardware,
            gaps=_gaps((20.0, 240.0, 950.0, 1700.0, 1900.0)),
            corner=corner,
        )

    def corner(self, one: Lite, two: Lite) -> Corner:
        number = one.run
        turn = self.wanted.turns[number - 1]
        laps = {"before": one.id, "after": two.id}[turn.laps] if turn.joint == "butt" else None
        return Corner(
            number=number,
            angle=self.value(self.opening.angle(number)),
            way=turn.way,
            joint=turn.joint,
            laps=laps,
        )

    def below(self, pane: Lite) -> Iterator[Joint]:
        low, high = pane.origin[0], pane.origin[0] + pane.width_bottom
        for segment in self.opening.base(low, high):
            name = segment.step or "curb"
            sweep = pane.kind == "door"
            yield Joint(
                id=f"{pane.id} - {name}",
                kind="sweep" if sweep else "channel",
                between=(pane.id, name),
                hardware="sweep-drip" if sweep else "channel-shallow",
                gaps=_gaps((self.value(segment.left), self.value(segment.right))),
                level=True,
            )

    def level(self, a: str, b: str, pane: Lite, kind: JointKind, hardware: str) -> Joint:
        x = pane.origin[0]
        return Joint(
            id=f"{a} - {b}",
            kind=kind,
            between=(a, b),
            hardware=hardware,
            gaps=_gaps((x, x + pane.width_top)),
            level=True,
        )

    def bars(self, lites: tuple[Lite, ...]) -> Iterator[Bar]:
        runs = {r.number: r for r in self.runs()}
        for n, bar in enumerate(self.wanted.bars, 1):
            pane = next(p for p in lites if p.id == bar.holds)
            run = runs[pane.run]
            z = pane.origin[1] + pane.height_left - 20.0
            x = pane.origin[0] + pane.width_bottom * (0.7 if bar.to == "across" else 1.0)
            start = run.plan(x, 8.0)
            end = start
            if bar.to == "left wall":
                end = run.plan(run.start, 450.0)
            elif bar.to == "across":
                other = runs[max(runs)]
                end = other.plan(other.end - (x - run.start), 8.0)
            long = math.dist(start, end)
            yield Bar(
                id=f"bar {n}",
                kind=bar.kind,
                hardware=bar.fitting,
                run=bar.run,
                holds=bar.holds,
                to=bar.to if bar.to != "across" else self.ids[-1],
                ends=((*start, z), (*end, z)),
                length=Estimate(long - 30.0, 1.5),
                chain=Chain(
                    size="bar 1",
                    at_height=z,
                    opening=long,
                    deductions=(Deduction(what="end fittings", amount=-30.0),),
                    glass=long - 30.0,
                ),
            )


def _box(xs: list[float], ys: tuple[float, float]) -> Outline:
    return ((xs[0], ys[0]), (xs[1], ys[0]), (xs[1], ys[1]), (xs[0], ys[1]))


def _gaps(places: tuple[float, ...]) -> tuple[Gap, ...]:
    return tuple(
        Gap(
            at=z,
            predicted=Estimate(4.6 + 0.5 * i, 0.5),
            least=3.2,
            usual=4.8,
            most=7.5,
        )
        for i, z in enumerate(places)
    )
