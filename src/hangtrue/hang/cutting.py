"""Pieces out of stock lengths, at the least cost: column generation, with the bound it proves."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator, Sequence

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp

from hangtrue.hang.cut_records import CutBar, CutPiece, CuttingPlan, StockLength, StockPlan
from hangtrue.hang.layers import Say, in_mm
from hangtrue.hang.patterns import Array, Order, Pattern, columns, greedy
from hangtrue.hang.shop import Shop
from hangtrue.hang.snags import Snag
from hangtrue.phrase import phrase

CLOSE = 1e-6
"""mm; lengths that differ by less are one."""
TENTH = 10
"""Lengths are counted in tenths of a mm: nobody cuts finer."""


def cut(
    pieces: Sequence[tuple[str, float]],
    stock: Sequence[StockLength],
    *,
    kerf: float,
    offcut_least: float,
    seconds: float = 1.0,
    say: Say = in_mm,
) -> CuttingPlan:
    """Cut pieces from stock lengths at the least cost in new stock.

    Parameters
    ----------
    pieces
        (name, length in mm); names need not differ.
    stock
        Lengths to cut from, new and from the shelf.
    kerf
        Width of a saw cut, mm; the last piece of a bar needs none where nothing is left.
    offcut_least
        A rest this long is kept, mm.
    seconds
        Time for the whole-number search; the best plan so far is given then, with its bound.
    say
        Writes a length, for a piece that is too long.

    Returns
    -------
    The plan, with a snag for each piece that is longer than every stock length.

    """
    longest = max((s.length for s in stock), default=0.0)
    possible = [(name, length) for name, length in pieces if length <= longest + 1e-6]
    snags = tuple(
        _too_long(n, say(length), say(longest)) for n, length in pieces if length > longest + 1e-6
    )
    if not possible:
        return CuttingPlan(bars=(), cost=0.0, bound=0.0, snags=snags)
    order = _order([length for _, length in possible], stock, kerf)
    patterns, relaxed = columns(order)
    uses = _whole(order, patterns, seconds)
    if uses is None:
        short = Snag(where="stock", wrong="the lengths at hand do not reach", do="buy", stops=True)
        return CuttingPlan(bars=(), cost=0.0, bound=0.0, snags=(*snags, short))
    bars = tuple(_bars(order, uses, possible, stock, kerf, offcut_least))
    cost = math.fsum(b.stock.cost for b in bars)
    return CuttingPlan(bars=bars, cost=cost, bound=min(cost, _raised(relaxed, order)), snags=snags)


def _too_long(name: str, length: str, longest: str) -> Snag:
    wrong = phrase("{length}, and the longest stock is {longest}", length=length, longest=longest)
    do = "order a longer length, or join two pieces where nobody sees it"
    return Snag(where=name, wrong=wrong, do=do, stops=True)


def _order(lengths: Sequence[float], stock: Sequence[StockLength], kerf: float) -> Order:
    wanted = Counter(_up(length + kerf) for length in lengths)
    rows = sorted(wanted, reverse=True)
    return Order(
        lengths=tuple(rows),
        wanted=tuple(wanted[r] for r in rows),
        stock=tuple(math.floor((s.length + kerf) * TENTH + 1e-6) for s in stock),
        costs=tuple(s.cost for s in stock),
        counts=tuple(math.inf if s.count is None else float(s.count) for s in stock),
    )


def _up(mm: float) -> int:
    return math.ceil(mm * TENTH - 1e-6)


# ---------------------------------------------------------------------------- in whole bars


def _whole(order: Order, patterns: list[Pattern], seconds: float) -> list[Pattern] | None:
    """Whole bars: the best of a greedy hand, a rounded plan, and a search over the patterns."""
    plans = [plan for plan in _simple_plans(order, patterns) if plan is not None]
    searched = _searched(order, patterns, seconds)
    if searched is not None:
        plans.append(searched)
    return min(plans, key=lambda plan: _cost(order, plan), default=None)


def _cost(order: Order, plan: Sequence[Pattern]) -> float:
    return math.fsum(order.costs[p.stock] for p in plan)


def _simple_plans(order: Order, patterns: Sequence[Pattern]) -> Iterator[list[Pattern] | None]:
    stocks = list(range(len(order.stock)))
    yield _complete(order, [], stocks)
    cost, uses = _fractions(order, patterns)
    if math.isfinite(cost):
        whole = [p for p, x in zip(patterns, uses, strict=True) for _ in range(int(x + 1e-6))]
        yield _complete(order, whole, stocks)


def _fractions(order: Order, patterns: Sequence[Pattern]) -> tuple[float, Array]:
    """Fractions of bars in the relaxed plan."""
    limits, costs = _rows(order, patterns)
    answer = milp(costs, constraints=limits, bounds=Bounds(0, np.inf))
    if answer.x is None:
        return math.inf, np.zeros(len(patterns))
    return float(answer.fun), np.asarray(answer.x)


def _searched(order: Order, patterns: Sequence[Pattern], seconds: float) -> list[Pattern] | None:
    """Best whole numbers of the patterns found, within the time."""
    limits, costs = _rows(order, patterns)
    answer = milp(
        costs,
        constraints=limits,
        bounds=Bounds(0, np.inf),
        integrality=np.ones(len(patterns)),
        options={"time_limit": seconds},
    )
    if answer.x is None:
        return None
    return [p for p, x in zip(patterns, answer.x, strict=True) for _ in range(round(x))]


def _rows(order: Order, patterns: Sequence[Pattern]) -> tuple[list[LinearConstraint], list[float]]:
    """All pieces are cut, and no more stock is used than there is."""
    pieces = np.array([p.counts for p in patterns], dtype=float).T
    rows = [LinearConstraint(pieces, lb=np.array(order.wanted, dtype=float))]
    for k, count in enumerate(order.counts):
        if math.isfinite(count):
            used = np.array([[float(p.stock == k) for p in patterns]])
            rows.append(LinearConstraint(used, ub=count))
    return rows, [order.costs[p.stock] for p in patterns]


def _complete(order: Order, bars: list[Pattern], stocks: Sequence[int]) -> list[Pattern] | None:
    """Cut what some bars leave over as a greedy hand would; None where stock runs out."""
    made = np.sum([p.counts for p in bars], axis=0) if bars else np.zeros(len(order.wanted))
    left = [max(0, w - int(m)) for w, m in zip(order.wanted, made, strict=True)]
    used = Counter(p.stock for p in bars)
    rest = list(greedy(order, left, stocks, used))
    made = np.sum([p.counts for p in (*bars, *rest)], axis=0)
    done = all(m >= w for m, w in zip(made, order.wanted, strict=True))
    return [*bars, *rest] if done else None


def _raised(bound: float, order: Order) -> float:
    """Raise a bound to the next cost that whole bars can have, where costs are whole mm."""
    tenths = [round(c * TENTH) for c in order.costs]
    if any(abs(t / TENTH - c) > CLOSE for t, c in zip(tenths, order.costs, strict=True)):
        return bound
    step = math.gcd(*tenths)
    if not step:
        return bound
    steps = bound * TENTH / step
    return math.ceil(steps - 1e-6 * max(1.0, steps)) * step / TENTH


# ------------------------------------------------------------------------------ back to names


def _bars(
    order: Order,
    uses: Sequence[Pattern],
    pieces: Sequence[tuple[str, float]],
    stock: Sequence[StockLength],
    kerf: float,
    offcut_least: float,
) -> Iterator[CutBar]:
    """Give each place in a bar a piece of its length; a place too many stays uncut."""
    queues = {length: [] for length in order.lengths}  # type: dict[int, list[tuple[str, float]]]
    for name, length in sorted(pieces, reverse=True):
        queues[_up(length + kerf)].append((name, length))
    for pattern in sorted(uses, key=lambda p: (p.stock, p.counts), reverse=True):
        got = [
            queues[length].pop()
            for length, count in zip(order.lengths, pattern.counts, strict=True)
            for _ in range(min(count, len(queues[length])))
        ]
        if not got:
            continue
        taken = stock[pattern.stock]
        rest = max(taken.length - math.fsum(mm + kerf for _, mm in got), 0.0)
        yield CutBar(stock=taken, pieces=tuple(got), rest=rest, kept=rest >= offcut_least)


# ------------------------------------------------------------------------------- several jobs


Shelf = dict[tuple[str, str], tuple[float, ...]]
"""Offcuts at hand by (sort, item), mm."""


def cutting(
    pieces: Sequence[CutPiece],
    shop: Shop,
    shelf: Shelf | None = None,
    say: Say = in_mm,
) -> tuple[tuple[StockPlan, ...], tuple[Snag, ...]]:
    """Cut the pieces of one job or of several at once, one plan for each fitting's stock.

    Parameters
    ----------
    shelf
        Offcuts at hand by (sort, item), mm.
    say
        Writes a length in the job's unit.

    """
    shelf = shelf or {}
    alone = len({p.job for p in pieces}) == 1
    plans, snags = [], []
    for key in sorted({(p.sort, p.item) for p in pieces}):
        sort, item = key
        own = [p for p in pieces if (p.sort, p.item) == key]
        bought = shop.stock.get(sort, ())
        if not bought and key not in shelf:
            wrong = phrase("nobody says in which lengths {sort} is bought", sort=sort)
            snags.append(
                Snag(
                    where=phrase("{sort} {item}", sort=sort, item=item),
                    wrong=wrong,
                    do="write them",
                    stops=True,
                )
            )
            continue
        share = shop.shares["cutting.shelf_share"]
        stock = [StockLength(length=s, cost=s) for s in bought] + [
            StockLength(length=s, cost=share * s, count=n, shelf=True)
            for s, n in sorted(Counter(shelf.get(key, ())).items())
        ]
        plan = cut(
            [(_named(p, alone=alone), p.length.value) for p in own],
            stock,
            kerf=shop.mm["cutting.kerf"],
            offcut_least=shop.mm["cutting.offcut_least"],
            seconds=shop.shares["cutting.seconds"],
            say=say,
        )
        snags.extend(plan.snags)
        plans.append(StockPlan(sort=sort, item=item, plan=plan))
    return tuple(plans), tuple(snags)


def _named(piece: CutPiece, *, alone: bool) -> str:
    """Name a piece, with its job where there are several."""
    return piece.id if alone else phrase("{job} {piece}", job=piece.job, piece=piece.id)


def shelf_after(plans: Sequence[StockPlan], shelf: Shelf | None = None) -> Shelf:
    """Offcuts at hand when the plans have been cut: what was used is gone, what is kept is there.

    Parameters
    ----------
    shelf
        Before the first cut.

    """
    left = {key: Counter(lengths) for key, lengths in (shelf or {}).items()}
    for plan in plans:
        own = left.setdefault((plan.sort, plan.item), Counter())
        own.subtract(bar.stock.length for bar in plan.plan.bars if bar.stock.shelf)
        own.update(plan.plan.offcuts)
    found = {key: tuple(sorted(own.elements(), reverse=True)) for key, own in left.items()}
    return {key: lengths for key, lengths in found.items() if lengths}
