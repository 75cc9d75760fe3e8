"""The adjustment: readings and priors become rows, and rows become the fitted shape."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from hangtrue.estimate import Estimate
from hangtrue.job.brief import Brief
from hangtrue.job.readings import Diagonal, Lean, Reading, Width
from hangtrue.measure.equations import (
    Equation,
    Layout,
    equation,
    glass_heights,
    lay_out,
    node,
    observed,
    span,
    touches,
    value,
)
from hangtrue.measure.habits import usual
from hangtrue.measure.linear import Adjustment, Array, Row, Terms, adjust
from hangtrue.measure.priors import broad_rows, part_chord_sd, shape_rows
from hangtrue.measure.sigmas import standard_uncertainty

PASSES = 12
"""Linearisations at most; two or three do."""

SETTLED = 1e-5
"""Change in one pass, mm, below which the next would change less than 1e-8."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Seen:
    """One reading on its way into the adjustment.

    `observed` and `sigma` in mm (angles rad); `over` is the length a slope was read over, mm.
    """

    reading: Reading
    observed: float
    sigma: float
    over: float


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


def network(brief: Brief) -> Network:
    """Set up the unknowns and the priors of a job."""
    layout = lay_out(brief.job)
    return Network(
        brief=brief,
        layout=layout,
        shape_rows=shape_rows(layout, brief.profile),
        broad_rows=broad_rows(layout, brief.job, brief.profile, brief.instruments),
    )


def fit(net: Network, without: frozenset[str] = frozenset()) -> Fit:
    """Adjust all readings but those `without`, by Gauss-Newton: until nothing moves."""
    layout = net.layout
    readings = [
        r for r in net.brief.job.readings if r.id not in without and touches(r, layout.walls)
    ]
    x = start(net, readings)
    for _ in range(PASSES):
        seen = tuple(see(r, net, x) for r in readings)
        equations = tuple(equation(s.reading, layout, x) for s in seen)
        rows = [_row(s, e) for s, e in zip(seen, equations, strict=True)]
        result = adjust([*rows, *net.shape_rows, *net.broad_rows], len(layout.place))
        moved = float(np.abs(result.x - x).max())
        x = result.x
        if moved < SETTLED or all(e.straight for e in equations):
            break
    return Fit(network=net, seen=seen, equations=equations, adjustment=result)


def see(reading: Reading, net: Network, x: Array) -> Seen:
    """Value and standard uncertainty of one reading; a slope's length may depend on the shape."""
    over = span(reading, net.layout, x)
    instrument = net.brief.instruments[reading.with_]
    sigma = standard_uncertainty(reading, instrument, over)
    if isinstance(reading, Lean) and reading.plane == "across":
        part = (float(reading.from_), float(reading.to))
        bow = part_chord_sd(net.brief.profile, part, glass_heights(net.brief.job))
        sigma = math.hypot(sigma, bow)
    return Seen(reading=reading, observed=observed(reading, over), sigma=sigma, over=over)


def start(net: Network, readings: Sequence[Reading]) -> Array:
    """Plumb walls as far apart as the first width, or diagonal, says; all else 0."""
    layout = net.layout
    x = np.zeros(len(layout.place))
    width = next(_widths(readings), usual("usual-width"))
    for i in (layout.place.get(node("right", height)) for height in layout.heights):
        if i is not None:
            x[i] = width
    return x


def _widths(readings: Sequence[Reading]) -> Iterator[float]:
    yield from (float(r.value) for r in readings if isinstance(r, Width))
    for r in readings:
        if isinstance(r, Diagonal) and r.value > (rise := abs(r.right_at - r.left_at)):
            yield math.sqrt(r.value**2 - rise**2)


def _row(seen: Seen, equation: Equation) -> Row:
    return Row(
        name=seen.reading.id,
        terms=equation.terms,
        observed=seen.observed - equation.constant,
        sigma=seen.sigma,
    )
