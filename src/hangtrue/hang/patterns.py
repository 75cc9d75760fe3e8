"""Ways to cut stock: column generation, the knapsack within it, and the bound that they prove."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import linprog

Array = NDArray[np.float64]
Counts = tuple[int, ...]

IMPROVES = 1e-7
"""A pattern joins when its pieces are worth more than its stock by this share."""
MOST_ROUNDS = 400


@dataclass(frozen=True, slots=True)
class Pattern:
    """One way to cut one stock length: how many of each length, and which stock."""

    stock: int
    counts: Counts


@dataclass(frozen=True, slots=True, kw_only=True)
class Order:
    """What is asked for, in whole tenths of a mm, the kerf added to pieces and to stock.

    Attributes
    ----------
    lengths, wanted
        (n,) different lengths and how many of each.
    stock, costs, counts
        (m,) stock lengths, their costs in mm, and how many there are.

    """

    lengths: tuple[int, ...]
    wanted: tuple[int, ...]
    stock: tuple[int, ...]
    costs: tuple[float, ...]
    counts: tuple[float, ...]


def columns(order: Order) -> tuple[list[Pattern], float]:
    """Patterns that the relaxed problem needs, and its cost: no plan can cost less.

    Gilmore and Gomory: solve for the patterns known, take the worth of each length from the
    solution, and look for a pattern worth more than its stock.
    """
    patterns = list(dict.fromkeys(_first(order)))
    bound = 0.0
    for _ in range(MOST_ROUNDS):
        cost, worth, scarce = _relaxed(order, patterns)
        found, short = _better(order, worth, scarce)
        bound = max(bound, _proven(order, worth, scarce, short))
        new = [p for p in found if p not in patterns]
        if not new:
            return patterns, max(bound, cost) if not found else bound
        patterns.extend(new)
    return patterns, bound


def _first(order: Order) -> Iterator[Pattern]:
    """Patterns to start from: each length alone on each stock, and what a greedy hand would cut."""
    for k, stock in enumerate(order.stock):
        for i, length in enumerate(order.lengths):
            most = min(stock // length, order.wanted[i])
            if most:
                yield Pattern(k, tuple(most if j == i else 0 for j in range(len(order.lengths))))
    for k in range(len(order.stock)):
        yield from greedy(order, order.wanted, [k])


def _relaxed(order: Order, patterns: Sequence[Pattern]) -> tuple[float, Array, Array]:
    """Solve the relaxed problem for the patterns known.

    Returns
    -------
    Its cost; worth of each length (n,); what one more of each stock would save (m,).

    """
    cut_rows = np.array([p.counts for p in patterns], dtype=float).T
    use_rows = np.array([[float(p.stock == k) for p in patterns] for k in range(len(order.stock))])
    limited = [k for k, n in enumerate(order.counts) if math.isfinite(n)]
    rows = np.vstack([-cut_rows, use_rows[limited]]) if limited else -cut_rows
    most = [-float(w) for w in order.wanted] + [order.counts[k] for k in limited]
    costs = [order.costs[p.stock] for p in patterns]
    # What no pattern yields yet, as in the first rounds of scarce stock, is bought at a high price.
    dear = 10.0 * (max(order.costs) + 1.0)
    n = len(order.wanted)
    slack = np.vstack([-np.eye(n), np.zeros((len(limited), n))])
    answer = linprog(
        np.concatenate([costs, np.full(n, dear)]), A_ub=np.hstack([rows, slack]), b_ub=most
    )
    duals = -np.asarray(answer.ineqlin.marginals)
    scarce = np.zeros(len(order.stock))
    scarce[limited] = duals[n:]
    return float(answer.fun), duals[:n], scarce


def _better(order: Order, worth: Array, scarce: Array) -> tuple[list[Pattern], Array]:
    """Patterns worth more than their stock, and how much the best of each stock is worth."""
    found, best = [], np.zeros(len(order.stock))
    for k, stock in enumerate(order.stock):
        value, counts = knapsack(order.lengths, order.wanted, worth, stock)
        best[k] = value
        if value > (order.costs[k] + scarce[k]) * (1.0 + IMPROVES) + IMPROVES:
            found.append(Pattern(k, counts))
    return found, best


def _proven(order: Order, worth: Array, scarce: Array, best: Array) -> float:
    """Farley's bound: scale the worth until no pattern beats its stock; then it is a true bound."""
    full = np.array(order.costs) + scarce
    over = [float(b / f) for b, f in zip(best, full, strict=True) if f > 0.0 and b > 0.0]
    if not over or any(f <= 0.0 < b for b, f in zip(best, full, strict=True)):
        return 0.0
    scale = max([1.0, *over])
    counts = np.array([c if math.isfinite(c) else 0.0 for c in order.counts])
    return float(worth @ np.array(order.wanted, dtype=float) / scale - scarce @ counts)


def knapsack(
    lengths: Sequence[int], most: Sequence[int], worth: Array, room: int
) -> tuple[float, Counts]:
    """Pick the pieces that are worth most in a room: exact, by dynamic programming.

    Parameters
    ----------
    lengths, room
        In whole units.
    most
        How many of each may be taken.

    Returns
    -------
    The worth, and how many of each.

    """
    unit = math.gcd(room, *lengths)
    lots = list(_lots(lengths, most, worth, room))
    room //= unit
    best = np.zeros(room + 1)
    taken = np.zeros((len(lots), room + 1), dtype=bool)
    for row, (i, count) in enumerate(lots):
        size = lengths[i] * count // unit
        more = best[: room + 1 - size] + worth[i] * count
        better = more > best[size:] + 1e-12
        taken[row, size:] = better
        best[size:] = np.where(better, more, best[size:])
    counts, at = [0] * len(lengths), room
    for row in range(len(lots) - 1, -1, -1):
        if taken[row, at]:
            i, count = lots[row]
            counts[i] += count
            at -= lengths[i] * count // unit
    return float(best[room]), tuple(counts)


def _lots(
    lengths: Sequence[int], most: Sequence[int], worth: Array, room: int
) -> Iterator[tuple[int, int]]:
    """Lots of 1, 2, 4 and so on of each length that together make any number up to the most."""
    for i, length in enumerate(lengths):
        left = min(most[i], room // length) if worth[i] > 0.0 else 0
        lot = 1
        while left > 0:
            yield i, min(lot, left)
            left -= lot
            lot *= 2


def greedy(
    order: Order, wanted: Sequence[int], stocks: Sequence[int], used: Counter[int] | None = None
) -> Iterator[Pattern]:
    """Fill bar after bar, longest piece first, each time on the stock that costs least a length."""
    left, used = list(wanted), used or Counter()
    while any(left):
        ways = [
            (order.costs[k] / _filled(order, counts), k, counts)
            for k in stocks
            if used[k] < order.counts[k]
            for counts in [_fill(order, left, order.stock[k])]
            if any(counts)
        ]
        if not ways:
            return
        _, k, counts = min(ways)
        used[k] += 1
        left = [n - c for n, c in zip(left, counts, strict=True)]
        yield Pattern(k, counts)


def _filled(order: Order, counts: Counts) -> float:
    return float(sum(c * length for c, length in zip(counts, order.lengths, strict=True)))


def _fill(order: Order, left: Sequence[int], room: int) -> Counts:
    counts = []
    for n, length in zip(left, order.lengths, strict=True):
        take = min(n, room // length)
        counts.append(take)
        room -= take * length
    return tuple(counts)
