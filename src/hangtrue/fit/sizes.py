"""Made to measure: sizes and positions chosen together, then rounded to the grid and set again."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import chain, combinations

import numpy as np

from hangtrue.fit.demands import (
    ENDS,
    LIMITS,
    MUST,
    USUAL,
    Edge,
    demands,
    steps_in,
    usual_width,
    wishes,
)
from hangtrue.fit.entries import (
    BOTTOM_LEFT,
    BOTTOM_RIGHT,
    CORNERS,
    TOP_LEFT,
    TOP_RIGHT,
    Z_LEFT,
    Z_RIGHT,
    panes_of,
)
from hangtrue.fit.flush import setting_demands, setting_wishes, sizing_demands, sizing_wishes
from hangtrue.fit.gaps import Gaps, gaps
from hangtrue.fit.goals import Demand, Freedom, Task, Wish, best_corners, best_margin, margin_sigmas
from hangtrue.fit.heads import level_line, topped
from hangtrue.fit.room import Room
from hangtrue.fit.rows import Row
from hangtrue.fit.wording import said
from hangtrue.job.brief import Brief
from hangtrue.measure.opening import Vector
from hangtrue.phrase import phrase
from hangtrue.tables import table


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Setting:
    """Where the corners of the panes are when set as planned.

    Attributes
    ----------
    sized
        (p,) corners before rounding; the same as `corners` for panes that come as they are.
    corners
        (p,) corners of the panes as cut.
    sized_sigmas, sigmas
        Least margin of all gaps before and after rounding, in standard deviations.
    row
        The row with its tops as they are cut.

    """

    sized: Vector
    corners: Vector
    sized_sigmas: float
    sigmas: float
    row: Row


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Stuck:
    """A problem that has no answer; what it was, to say why."""

    task: Task


Answer = Setting | Stuck


def raking_edges(row: Row) -> tuple[Edge, ...]:
    """Edges that may be cut out of square: at walls without hinges, and the foot of fixed panes."""
    edges: list[Edge] = []
    for i, pane in enumerate(row.panes):
        edges += [
            (i, side)
            for side in ("left", "right")
            if row.meets(i, side).endswith("wall") and pane.hinge_side != side
        ]
        if pane.kind == "fixed":
            edges.append((i, "bottom"))
    return tuple(edges)


def size(brief: Brief, row: Row, room: Room, raked: tuple[Edge, ...], near: Gaps) -> Answer:
    """Choose sizes and positions with the most margin, round the sizes, and set the panes again.

    Parameters
    ----------
    raked
        Edges that may be out of square.
    near
        The gaps near `first_corners`; they are the same whatever is raked.

    """
    task = sizing_task(brief, row, raked, near)
    sized = best_corners(task)
    for habits in (LIMITS, MUST):
        if sized is None and any(d.habit > habits for d in task.demands):
            task = task.without_habits(habits)
            sized = best_corners(task)
    if sized is None:
        return Stuck(task=task)
    return _rounded(brief, row, room, Sized(task=task, corners=sized, raked=raked))


def sizing_task(brief: Brief, row: Row, raked: tuple[Edge, ...], near: Gaps) -> Task:
    """Everything that sizes have to do, where these edges may be out of square."""
    return Task(
        gaps=near,
        freedom=sizing_freedom(row, raked, float(brief.job.wanted.height)),
        demands=(*demands(brief, row, raked), *sizing_demands(near, brief.job.unit)),
        wishes=(*wishes(brief, row, raked), *sizing_wishes(near)),
        enough=enough(brief),
    )


def enough(brief: Brief) -> float:
    """Margin in standard deviations that the shop asks for."""
    return brief.profile.limit("margin-sigmas-wanted").value


def worth_raking(
    brief: Brief, row: Row, raked: tuple[Edge, ...], near: Gaps, without: Answer
) -> bool:
    """Whether a margin that is short gains enough by cutting more edges out of square."""
    if isinstance(without, Stuck):
        return True
    if without.sigmas >= enough(brief):
        return False
    gain = best_margin(sizing_task(brief, row, raked, near)) - without.sized_sigmas
    return gain > float(table("fit")["rounding"]["worth_sigmas"])


def first_corners(brief: Brief, row: Row, room: Room) -> Vector:
    """Corners to start from: the opening shared out, every foot at its usual gap."""
    near = np.zeros(row.entries)
    near[-1] = float(brief.job.wanted.height)
    panes = panes_of(near, len(row.panes))
    for run in row.runs:
        number = row.panes[run.start].run
        x = _shared_out(brief, row, room, run)
        for i, low, high in zip(run, x, x[1:], strict=False):
            on = row.panes[i].on
            ground, _ = room.base(on, np.array([low, high]), number)
            foot = max(ground) + row.below[i].elsewhere.usual
            panes[i] = (low, high, high, low, foot, foot)
    return near


def _shared_out(brief: Brief, row: Row, room: Room, run: range) -> Vector:
    """Where the panes of a run may meet: evenly in a plain row, else as they are wished."""
    if row.plain and not room.opening.standing:
        return np.linspace(*room.ends, len(run) + 1)
    low, high = room.run(row.panes[run.start].run)
    widths = {i: row.panes[i].wished for i in run}
    for i in run:
        if widths[i] is None and (row.panes[i].kind == "door" or not row.closed(i)):
            widths[i] = usual_width(brief, row.panes[i])
    open_ones = sum(w is None for w in widths.values())
    rest = high - low - math.fsum(w for w in widths.values() if w is not None)
    least = float(brief.profile.plant.width_least)
    share = max(rest / open_ones, least) if open_ones else 0.0
    ends = np.cumsum([low, *(share if w is None else w for w in widths.values())])
    # What was wished may be longer or shorter than the run: in proportion, then.
    fitting: Vector = low + (ends - low) * (high - low) / (ends[-1] - low)
    for stop in row.stops:
        if stop.pane in run:
            edge = stop.pane - run.start + (stop.side == "right")
            fitting[edge], _ = room.riser(stop.step, stop.riser)
    return fitting


# ---------------------------------------------------------------------- what is free to move


def sizing_freedom(row: Row, raked: tuple[Edge, ...], top: float) -> Freedom:
    """Every corner is free, but an edge that is not raked is plumb or level."""
    columns: list[tuple[int, ...]] = []
    for i in range(len(row.panes)):
        for name, ends in ENDS.items():
            entries = tuple(i * CORNERS + end for end in ends)
            columns += [(e,) for e in entries] if (i, name) in raked else [entries]
    M = np.zeros((row.entries, len(columns)))
    for column, entries in enumerate(columns):
        M[list(entries), column] = 1.0
    fixed = np.zeros(len(M))
    fixed[-1] = top
    return Freedom(M=M, fixed=fixed)


def setting_freedom(cut: Vector, n: int) -> Freedom:
    """Panes that are cut may be shifted along the line, and all of them up and down together.

    At a corner they may also step aside across their lines.
    """
    aside = range(n * CORNERS, len(cut) - 1)
    M, fixed = np.zeros((len(cut), n + 1 + len(aside))), cut.copy()
    for i in range(n):
        x = slice(i * CORNERS, i * CORNERS + Z_LEFT)
        z = slice(i * CORNERS + Z_LEFT, (i + 1) * CORNERS)
        M[x, i] = M[z, n] = 1.0
        fixed[x] -= cut[i * CORNERS + BOTTOM_LEFT]
        fixed[z] -= cut[-1]
    M[-1, n], fixed[-1] = 1.0, 0.0
    M[aside, range(n + 1, M.shape[1])] = 1.0
    fixed[list(aside)] = 0.0
    return Freedom(M=M, fixed=fixed)


# ---------------------------------------------------------------------- to the grid


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Sized:
    """Corners as chosen, before rounding."""

    task: Task
    corners: Vector
    raked: tuple[Edge, ...]

    @property
    def sigmas(self) -> float:
        """Least margin of all gaps, in standard deviations."""
        return margin_sigmas(self.task.gaps, self.corners)


Steps = tuple[tuple[int, int, int, int], ...]
"""For each pane widths at foot and top, heights left and right, in steps of the grid."""


def _rounded(brief: Brief, row: Row, room: Room, sized: Sized) -> Answer:
    """Round every size down; where that costs a margin that is short, try some of them up."""
    plan = _Rounding(brief=brief, row=row, room=room, sized=sized)
    down = plan.down()
    task = plan.task(down)
    answer = plan.set(task)
    worth = float(table("fit")["rounding"]["worth_sigmas"])
    reached = answer.sigmas if isinstance(answer, Setting) else -math.inf
    if min(enough(brief), sized.sigmas) - reached <= worth:
        return answer
    nearest = plan.nearest(down)
    if nearest == down:
        return answer
    other = plan.task(nearest)
    return plan.set(other) if best_margin(other) > reached + worth else answer


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Rounding:
    """Sizes on the grid near those that were chosen, and how well they go in."""

    brief: Brief
    row: Row
    room: Room
    sized: Sized

    @property
    def grid(self) -> float:
        return float(self.brief.profile.plant.grid)

    def down(self) -> Steps:
        """Every size rounded down."""
        panes = panes_of(self.sized.corners, len(self.row.panes))
        top = self.sized.corners[-1]
        return tuple(
            (
                steps_in(p[BOTTOM_RIGHT] - p[BOTTOM_LEFT] + self.outside[i], self.grid),
                steps_in(p[TOP_RIGHT] - p[TOP_LEFT] + self.outside[i], self.grid),
                steps_in(top + pane.rise[0] - p[Z_LEFT], self.grid),
                steps_in(top + pane.rise[1] - p[Z_RIGHT], self.grid),
            )
            for i, (p, pane) in enumerate(zip(panes, self.row.panes, strict=True))
        )

    @property
    def outside(self) -> tuple[float, ...]:
        """How much wider each pane is on its outside face than in its middle, mm."""
        return tuple(pane.outside for pane in self.row.panes)

    def nearest(self, down: Steps) -> Steps:
        """Widths rounded down or up so that each run comes nearest to what was chosen."""
        steps = down
        for run in self.row.runs:
            steps = self._nearest_in(run, steps)
        return steps

    def _nearest_in(self, run: range, down: Steps) -> Steps:
        """The same for one run: only the sum of its widths counts, its joints share the rest."""
        sized = panes_of(self.sized.corners, len(self.row.panes))
        outside = np.array([pane.outside for pane in self.row.panes])
        foot = (sized[:, BOTTOM_RIGHT] - sized[:, BOTTOM_LEFT] + outside)[run].sum()
        top = (sized[:, TOP_RIGHT] - sized[:, TOP_LEFT] + outside)[run].sum()
        chosen = float(foot) / self.grid, float(top) / self.grid

        def off(steps: Steps) -> float:
            return max(abs(sum(steps[i][k] for i in run) - chosen[k]) for k in (0, 1))

        best_first = sorted((down, *self._some_up(run, down)), key=off)
        return next((steps for steps in best_first if self._allowed(steps)), down)

    def _some_up(self, run: range, down: Steps) -> Iterator[Steps]:
        """Every choice of widths to round up, fewest first; what is not raked stays square."""
        groups = [group for i in run for group in self._groups(i)]
        for count in range(1, len(groups) + 1):
            for chosen in combinations(groups, count):
                ups = set(chain.from_iterable(chosen))
                yield tuple(
                    (foot + ((i, 0) in ups), top + ((i, 1) in ups), left, right)
                    for i, (foot, top, left, right) in enumerate(down)
                )

    def _groups(self, i: int) -> tuple[tuple[tuple[int, int], ...], ...]:
        """Sizes of pane `i` that go up together: foot and top, unless an upright edge may rake."""
        if {(i, "left"), (i, "right")} & set(self.sized.raked):
            return ((i, 0),), ((i, 1),)
        return (((i, 0), (i, 1)),)

    def _allowed(self, steps: Steps) -> bool:
        cut = self.cut(steps)
        return all(d.holds(cut) for d in self.sized.task.demands if d.habit < USUAL)

    def cut(self, steps: Steps) -> Vector:
        """Corners of panes of that size, each where it was before it was rounded."""
        cut = self.sized.corners.copy()
        raked = set(self.sized.raked)
        for i, pane in enumerate(steps):
            base = i * CORNERS
            foot, top, left, right = (s * self.grid for s in pane)
            foot, top = foot - self.outside[i], top - self.outside[i]
            rise = self.row.panes[i].rise
            x = cut[base + BOTTOM_LEFT]
            rake = cut[base + TOP_LEFT] - x
            if (i, "right") not in raked:
                rake = foot - top
            elif (i, "left") in raked:
                rake = round(rake / self.grid) * self.grid
            cut[base : base + Z_LEFT] = (x, x + foot, x + rake + top, x + rake)
            if self.row.panes[i].head == "ceiling":
                # Its top goes to the grid instead, once the foot stands; the foot falls by steps.
                fall = cut[base + Z_RIGHT] - cut[base + Z_LEFT]
                cut[base + Z_RIGHT] = cut[base + Z_LEFT] + round(fall / self.grid) * self.grid
                continue
            cut[base + Z_LEFT] = cut[-1] + rise[0] - left
            cut[base + Z_RIGHT] = cut[-1] + rise[1] - right
        return cut

    def task(self, steps: Steps) -> Task:
        """Return the problem of setting panes of that size."""
        cut = self.cut(steps)
        line = np.zeros(len(cut))
        line[-1] = 1.0
        height = said(cut[-1], self.brief.job.unit)
        words = phrase("top line at {height} (as wished)", height=height)
        seen = level_line(self.row)
        above = 0.0 if seen else self.grid
        held = Demand(
            a=line, low=cut[-1] - self.grid, high=cut[-1] + above, joint="top line", at=cut[-1],
            least_words=words, most_words=words,
        )  # fmt: skip
        weight = table("fit")["weights"]["top_line" if seen else "aside"]
        level = Wish(a=line, target=cut[-1], weight=weight)
        row = topped(self.brief, self.row, self.room, cut)
        near = gaps(row, self.room, cut, self.brief.profile)
        return Task(
            gaps=near,
            freedom=setting_freedom(cut, len(self.row.panes)),
            demands=(held, *setting_demands(near, self.brief.job.unit, self.grid)),
            wishes=(level, *setting_wishes(near)),
            enough=enough(self.brief),
        )

    def set(self, task: Task) -> Answer:
        """Set panes that are cut where they have the most margin."""
        corners = best_corners(task)
        if corners is None:
            return Stuck(task=task)
        return Setting(
            sized=self.sized.corners,
            corners=corners,
            sized_sigmas=self.sized.sigmas,
            sigmas=margin_sigmas(task.gaps, corners),
            row=task.gaps.row,
        )
