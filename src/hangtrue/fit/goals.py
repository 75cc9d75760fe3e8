"""What is wanted of the corners: every gap inside its range with the most margin, then the best looks."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from hangtrue.fit.gaps import Gaps, Places
from hangtrue.fit.solve import Program, least_costs, stretch
from hangtrue.measure.opening import Matrix, Vector
from hangtrue.tables import table

HAIR = 1e-6
"""Far below anything that can be cut or measured: what holds to this holds, mm."""

NO_RANGE = 1e-3
"""A range that leaves no choice counts as this wide where gaps are compared, mm."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Freedom:
    """The corners that can be reached: `corners = M v + fixed` for any v."""

    M: Matrix
    fixed: Vector


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Demand:
    """A bound on the corners that is no gap: `low <= a corners + constant <= high`.

    Attributes
    ----------
    least_words, most_words
        What it says, as a person reads it, where its lower or its upper end is in the way.
    joint
        Id of the pane or joint it is about.
    habit
        May be dropped when nothing fits with it.

    """

    a: Vector
    low: float
    high: float
    least_words: str
    most_words: str
    joint: str
    at: float = 0.0
    constant: float = 0.0
    habit: bool = False

    def holds(self, corners: Vector) -> bool:
        """Whether corners keep it, to a millionth of a millimetre."""
        value = float(self.a @ corners) + self.constant
        return self.low - HAIR <= value <= self.high + HAIR


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Wish:
    """What would be nice: `a corners` at `target`; `weight` is its cost for each mm away."""

    a: Vector
    target: float
    weight: float


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Task:
    """One problem to solve: where the corners may go, what must hold and what would be nice."""

    gaps: Gaps
    freedom: Freedom
    demands: tuple[Demand, ...]
    wishes: tuple[Wish, ...]

    def without_habits(self) -> Task:
        """The same with only what must hold."""
        needed = tuple(d for d in self.demands if not d.habit)
        return Task(gaps=self.gaps, freedom=self.freedom, demands=needed, wishes=self.wishes)


def best_corners(task: Task) -> Vector | None:
    """Corners with the most margin, and among those the best looking; None where nothing fits."""
    program, goals = _program(task)
    found = least_costs(program, goals)
    if found is None:
        return None
    corners: Vector = task.freedom.M @ found[: task.freedom.M.shape[1]] + task.freedom.fixed
    return corners


def best_margin(task: Task) -> float:
    """Return the most margin that can be had, in standard deviations; minus infinity where nothing fits."""
    program, goals = _program(task)
    found = least_costs(program, goals[:1])
    return -np.inf if found is None else float(found[task.freedom.M.shape[1]])


def shortfall(task: Task) -> tuple[float, Vector]:
    """Missing millimetres, and the price of every gap and then of every demand (see `stretch`)."""
    A, low, high = _ranges(task)
    free = np.full(A.shape[1], np.inf)
    return stretch(Program(A=A, low=low, high=high, least=-free, most=free))


def margin_sigmas(gaps: Gaps, corners: Vector) -> float:
    """Least margin of all gaps in standard deviations, at most what still counts."""
    most = float(table("fit")["margin"]["most_sigmas"])
    margins = gaps.margins(corners)
    exact = gaps.sigma == 0
    if (margins[exact] < 0).any():
        return -np.inf
    return min(most, float((margins[~exact] / gaps.sigma[~exact]).min(initial=most)))


def _ranges(task: Task) -> tuple[Matrix, Vector, Vector]:
    """Gaps and demands as rows over v."""
    gaps, freedom = task.gaps, task.freedom
    A = np.concatenate([gaps.A, *(d.a[None] for d in task.demands)])
    constant = np.append(gaps.constant, [d.constant for d in task.demands]) + A @ freedom.fixed
    low = np.append(gaps.low, [d.low for d in task.demands]) - constant
    high = np.append(gaps.high, [d.high for d in task.demands]) - constant
    return A @ freedom.M, low, high


def _program(task: Task) -> tuple[Program, tuple[Vector, Vector]]:
    """Columns: v, the margin, the worst gap of all, the worst gap of each joint, the miss of each wish."""
    A, low, high = _ranges(task)
    rows, v = A.shape
    joints, wishes = len(task.gaps.places), len(task.wishes)
    columns = v + 2 + joints + wishes
    margin = _margin_rows(task, A, low, high, columns)
    looks = _look_rows(task, A, low, columns)
    missed = _wish_rows(task, columns)
    blocks = [margin, looks, missed]
    free = np.full(v, np.inf)
    most = float(table("fit")["margin"]["most_sigmas"])
    program = Program(
        A=np.concatenate([b[0] for b in blocks]),
        low=np.concatenate([b[1] for b in blocks]),
        high=np.concatenate([b[2] for b in blocks]),
        least=np.concatenate([-free, np.zeros(columns - v)]),
        most=np.concatenate([free, [most], np.full(columns - v - 1, np.inf)]),
    )
    return program, _costs(task, columns, v)


Rows = tuple[Matrix, Vector, Vector]


def _margin_rows(task: Task, A: Matrix, low: Vector, high: Vector, columns: int) -> Rows:
    """`low + sigma t <= A v <= high - sigma t` for gaps; demands as they are."""
    rows, v = A.shape
    k = len(task.gaps.sigma)
    full = np.zeros((rows + k, columns))
    full[:rows, :v] = A
    full[rows:, :v] = A[:k]
    full[:k, v] = -task.gaps.sigma
    full[rows:, v] = task.gaps.sigma
    lower = np.append(low, np.full(k, -np.inf))
    upper = np.concatenate([np.full(k, np.inf), high[k:], high[:k]])
    return full, lower, upper


def _look_rows(task: Task, A: Matrix, low: Vector, columns: int) -> Rows:
    """`|gap - usual| <= range * worst of its joint`, `worst of an upright joint <= worst of all`."""
    gaps, v = task.gaps, A.shape[1]
    shown = [(j, r) for j, (p, rows) in enumerate(gaps.sections) for r in _seen(p, rows)]
    j, r = np.array(shown).T
    usual = gaps.usual[r] - gaps.low[r] + low[r]
    width = np.maximum(gaps.high[r] - gaps.low[r], NO_RANGE)
    upright = np.array([i for i, p in enumerate(gaps.places) if p.joint.between[1] != "curb"])
    n, m = len(r), len(upright)
    full = np.zeros((2 * n + m, columns))
    full[:n, :v] = full[n : 2 * n, :v] = A[r]
    full[np.arange(n), v + 2 + j] = width
    full[np.arange(n, 2 * n), v + 2 + j] = -width
    full[2 * n :, v + 1] = 1.0
    full[np.arange(2 * n, 2 * n + m), v + 2 + upright] = -1.0
    lower = np.concatenate([usual, np.full(n, -np.inf), np.zeros(m)])
    upper = np.concatenate([np.full(n, np.inf), usual, np.full(m, np.inf)])
    return full, lower, upper


def _seen(places: Places, rows: slice) -> list[int]:
    """Rows whose distance from usual counts: where there are hinges, theirs; else all."""
    hinged = places.joint.at_fitting is not None
    numbers = range(rows.start, rows.stop)
    return [r for r, fits in zip(numbers, places.fitting, strict=True) if fits or not hinged]


def _wish_rows(task: Task, columns: int) -> Rows:
    """`|a corners - target| <= miss`."""
    freedom, n = task.freedom, len(task.wishes)
    v = freedom.M.shape[1]
    a = np.array([w.a for w in task.wishes]).reshape(n, len(freedom.fixed))
    target = np.array([w.target for w in task.wishes]) - a @ freedom.fixed
    full = np.zeros((2 * n, columns))
    full[:n, :v] = full[n:, :v] = a @ freedom.M
    full[np.arange(n), columns - n + np.arange(n)] = 1.0
    full[np.arange(n, 2 * n), columns - n + np.arange(n)] = -1.0
    none = np.full(n, np.inf)
    return full, np.append(target, -none), np.append(none, target)


def _costs(task: Task, columns: int, v: int) -> tuple[Vector, Vector]:
    weights = table("fit")["weights"]
    joints = len(task.gaps.places)
    margin, looks = np.zeros(columns), np.zeros(columns)
    margin[v] = -1.0
    looks[v + 1] = weights["worst_gap"]
    looks[v + 2 : v + 2 + joints] = weights["gap"]
    looks[v + 2 + joints :] = [w.weight for w in task.wishes]
    return margin, looks
