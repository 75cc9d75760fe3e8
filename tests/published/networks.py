"""Levelling and distance networks as rows: what the published survey examples have in common."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from typing import NamedTuple

import numpy as np

from hangtrue.measure.linear import Adjustment, Row, adjust

Point = tuple[float, float]


class Line(NamedTuple):
    """A measured height difference or distance from one point to another."""

    start: str
    end: str
    value: float
    sigma: float


class Network(NamedTuple):
    """Adjusted points, and the adjustment of the last linearisation."""

    points: dict[str, Point]
    adjustment: Adjustment


def level(lines: Iterable[Line], fixed: Mapping[str, float], free: list[str]) -> Adjustment:
    """Adjust heights: a line says `H_end - H_start = value`; unknowns in the order of `free`."""
    rows = []
    for line in lines:
        ends = ((line.end, 1.0), (line.start, -1.0))
        known = sum(sign * fixed[point] for point, sign in ends if point in fixed)
        terms = tuple((free.index(point), sign) for point, sign in ends if point not in fixed)
        name = f"{line.start}-{line.end}"
        rows.append(Row(name=name, terms=terms, observed=line.value - known, sigma=line.sigma))
    return adjust(rows, len(free))


def trilaterate(
    lines: list[Line],
    fixed: Mapping[str, Point],
    free: Mapping[str, Point],
    *,
    inner: bool = False,
) -> Network:
    """Adjust a distance network from approximate coordinates, linearising until nothing moves.

    With `inner` the datum is free: three rows of negligible sigma hold the mean and the mean
    rotation of all the points (inner constraints). They get redundancy 0 and change no residual.
    """
    points = dict(free)
    for _ in range(20):
        rows = [_distance_row(line, {**fixed, **points}, list(points)) for line in lines]
        if inner:
            rows += _inner_rows(list(points.values()))
        adjustment = adjust(rows, 2 * len(points))
        steps = adjustment.x.reshape(-1, 2)
        points = {
            name: (east + float(step[0]), north + float(step[1]))
            for (name, (east, north)), step in zip(points.items(), steps, strict=True)
        }
        if np.abs(steps).max() < 1e-7:
            return Network(points, adjustment)
    raise AssertionError("the linearisation does not settle")


def _distance_row(line: Line, at: Mapping[str, Point], free: list[str]) -> Row:
    east, north = (b - a for a, b in zip(at[line.start], at[line.end], strict=True))
    length = math.hypot(east, north)
    terms = []
    for point, sign in ((line.end, 1.0), (line.start, -1.0)):
        if point in free:
            place = 2 * free.index(point)
            terms += [(place, sign * east / length), (place + 1, sign * north / length)]
    name = f"{line.start}-{line.end}"
    return Row(name=name, terms=tuple(terms), observed=line.value - length, sigma=line.sigma)


def _inner_rows(points: list[Point]) -> list[Row]:
    centre = np.mean(points, axis=0)
    size = float(np.abs(points - centre).max())
    east, north, turn = [], [], []
    for k, (e, n) in enumerate((points - centre) / size):
        east.append((2 * k, 1.0))
        north.append((2 * k + 1, 1.0))
        turn += [(2 * k, -float(n)), (2 * k + 1, float(e))]
    named = {"mean east": east, "mean north": north, "mean turn": turn}
    return [
        Row(name=name, terms=tuple(terms), observed=0.0, sigma=1e-6)
        for name, terms in named.items()
    ]
