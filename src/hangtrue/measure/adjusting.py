"""The adjustment: readings and priors become rows, and rows become the fitted shape."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple

import numpy as np

from hangtrue.estimate import Estimate
from hangtrue.job.brief import Brief
from hangtrue.job.readings import Diagonal, Reading, Width
from hangtrue.measure.equations import equation, observed, span, touches
from hangtrue.measure.habits import usual
from hangtrue.measure.layout import Equation, Layout, lay_out, node, value
from hangtrue.measure.linear import Adjustment, Array, Row, Terms, adjust, approximate
from hangtrue.measure.priors import broad_rows, shape_rows
from hangtrue.measure.sigmas import standard_uncertainty, taken_off

PASSES = 12
"""Linearisations with covariance, at most; mostly one does, after one that finds its place."""

SETTLED = 1e-2
"""Change in one pass, mm, below which the next would change less than 1e-6."""

ARM = 1000.0
"""Length over which the change of a corner's angle is counted in mm."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Seen:
    """One reading on its way into the adjustment.

    `observed` and `sigma` in mm (angles rad); `over` is the length a slope was read over, mm;
    `bias` is what was taken off because the reader is known to read too much, mm.
    """

    reading: Reading
    observed: float
    sigma: float
    over: float
    bias: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Network:
    """All that goes into the adjustment of one job."""

    brief: Brief
    layout: Layout
    shape_rows: tuple[Row, ...]
    broad_rows: tuple[Row, ...]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Fit:
    """The shape fitted to some of the readings.

    Attributes
    ----------
    seen
        The readings that took part; they are the first rows of the adjustment, in this order.
    equations
        Of those readings, linearised at the fitted shape.

    """

    network: Network
    seen: tuple[Seen, ...]
    equations: tuple[Equation, ...]
    adjustment: Adjustment

    def predict(self, terms: Terms, constant: float = 0.0) -> Estimate:
        """Value and standard deviation of a linear length."""
        mean = constant + value(terms, self.adjustment.x)
        _, variance = self.pull(terms)
        return Estimate(mean, max(variance, 0.0) ** 0.5)

    def pull(self, terms: Terms) -> tuple[Array, float]:
        """Covariance of a linear length with every unknown (n,), and its own variance."""
        index = [i for i, _ in terms]
        weight = np.array([a for _, a in terms])
        covariance = self.adjustment.covariance[:, index] @ weight
        return covariance, float(weight @ covariance[index])


class Line(NamedTuple):
    """One reading as seen, as an equation, and as a row."""

    seen: Seen
    equation: Equation
    row: Row


def network(brief: Brief) -> Network:
    """Set up the unknowns and the priors of a job."""
    layout = lay_out(brief.job)
    return Network(
        brief=brief,
        layout=layout,
        shape_rows=shape_rows(layout, brief.profile),
        broad_rows=broad_rows(layout, brief.job, brief.profile, brief.instruments),
    )


def bowed(net: Network, times: float) -> Network:
    """Return the same job with walls that bow so many times the usual."""
    return replace(net, shape_rows=shape_rows(net.layout, net.brief.profile, times))


def fit(net: Network, without: frozenset[str] = frozenset()) -> Fit:
    """Adjust all readings but those `without`, by Gauss-Newton: until nothing moves."""
    walls, runs = net.layout.walls, net.layout.runs
    readings = [
        r for r in net.brief.job.readings if r.id not in without and touches(r, walls, runs)
    ]
    x = start(net, readings)
    result, lines = settle(net, x, [line_of(see(r, net, x), net, x) for r in readings])
    return Fit(
        network=net,
        seen=tuple(line.seen for line in lines),
        equations=tuple(line.equation for line in lines),
        adjustment=result,
    )


def settle(net: Network, x: Array, lines: list[Line]) -> tuple[Adjustment, list[Line]]:
    """Adjust lines that were linearised at x, and linearise again until nothing moves."""
    if not _straight(lines):
        x = approximate(_rows(net, lines), len(x))
        lines = _bent_anew(net, lines, x)
    for _ in range(PASSES):
        result = adjust(_rows(net, lines), len(x))
        moved, x = _moved(net, result.x - x), result.x
        if moved < SETTLED or _straight(lines):
            break
        lines = _bent_anew(net, lines, x)
    return result, lines


def line_of(seen: Seen, net: Network, x: Array) -> Line:
    """Linearise one reading at x."""
    made = equation(seen.reading, net.layout, x)
    observed = seen.observed - made.constant
    row = Row(name=seen.reading.id, terms=made.terms, observed=observed, sigma=seen.sigma)
    return Line(seen, made, row)


def see(reading: Reading, net: Network, x: Array) -> Seen:
    """Value and standard uncertainty of one reading; a slope's length may depend on the shape."""
    over = span(reading, net.layout, x)
    instrument = net.brief.instruments[reading.with_]
    hand = net.brief.profile.hand(reading.by, reading.with_)
    bias = taken_off(reading, hand)
    return Seen(
        reading=reading,
        observed=observed(reading, over) - bias,
        sigma=standard_uncertainty(reading, instrument, over, hand),
        over=over,
        bias=bias,
    )


def start(net: Network, readings: Sequence[Reading]) -> Array:
    """Plumb walls and corners as far apart as the first width, or diagonal, of each run says.

    Corners at the angles they are wanted at; all else 0.
    """
    layout = net.layout
    x = np.zeros(len(layout.place))

    def put(name: str, at: float) -> None:
        if (i := layout.place.get(name)) is not None:
            x[i] = at

    lengths = [
        next(_widths(readings, run), usual("usual-width")) for run in range(1, layout.runs + 1)
    ]
    marks = [math.fsum(lengths[:k]) for k in range(len(lengths) + 1)]
    origin = 0.0 if "left" in layout.walls else marks[-1] if layout.walls else marks[1]
    for k, angle in enumerate(layout.angles, 1):
        put(f"corner {k}", marks[k] - origin)
        put(f"angle {k}", angle)
    for height in layout.heights:
        put(node("right", height), marks[-1] - origin)
    return x


def _widths(readings: Sequence[Reading], run: int) -> Iterator[float]:
    yield from (float(r.value) for r in readings if isinstance(r, Width) and r.run == run)
    for r in readings:
        if not isinstance(r, Diagonal) or r.run != run:
            continue
        if r.value > (rise := abs(r.right_at - r.left_at)):
            yield math.sqrt(r.value**2 - rise**2)


def _moved(net: Network, change: Array) -> float:
    """Largest change of the unknowns, mm; that of a corner's angle counts over an arm."""
    layout = net.layout
    turned = (ARM * abs(float(change[layout.place[f"angle {k}"]])) for k in range(1, layout.runs))
    return max(float(np.abs(change).max()), *turned, 0.0)


def _straight(lines: Sequence[Line]) -> bool:
    return all(line.equation.straight for line in lines)


def _rows(net: Network, lines: Sequence[Line]) -> list[Row]:
    return [*(line.row for line in lines), *net.shape_rows, *net.broad_rows]


def _bent_anew(net: Network, lines: Sequence[Line], x: Array) -> list[Line]:
    """Linearise again, at x, what is not straight."""
    return [line if line.equation.straight else line_of(line.seen, net, x) for line in lines]
