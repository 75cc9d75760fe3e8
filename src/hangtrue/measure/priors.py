"""What is known of a room before anything is read, as ordinary rows.

A wall is a straight line of any lean plus a bow, which is an integrated Wiener process: smooth,
random, and its answers do not change when nodes are added. docs/measure.md has the mathematics.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

import numpy as np

from hangtrue.job.document import Job
from hangtrue.job.instruments import Instrument
from hangtrue.job.profile import Profile
from hangtrue.job.readings import Offset, Side
from hangtrue.measure.equations import Layout
from hangtrue.measure.habits import usual
from hangtrue.measure.linear import Array, Row, Terms, whiten
from hangtrue.measure.sigmas import tilt_sd
from hangtrue.source import cites

At = Callable[[float, float], Terms]
"""Unknowns of a node at a height, times a factor."""


def shape_rows(layout: Layout, profile: Profile, times: float = 1.0) -> tuple[Row, ...]:
    """Bow of each wall, in and across the plane of the glass. These count in the tests.

    Walls that bow more than usual have `times` the usual bow.
    """
    sd = profile.limit("prior-bow-sd").value * times
    q = bow_density(sd, usual("prior-reference"))
    rows: list[Row] = []
    for side in layout.walls:
        rows += _bow_rows(side, layout.heights, partial(layout.wall, side), q)
        rows += _bow_rows(f"across {side}", layout.edges[side], partial(layout.edge_node, side), q)
    return tuple(rows)


def broad_rows(
    layout: Layout, job: Job, profile: Profile, instruments: dict[str, Instrument]
) -> tuple[Row, ...]:
    """Everything else, so broad that it decides nothing where something was read."""
    rows = [_lean_row(layout, side, profile) for side in layout.walls]
    across = profile.limit("prior-across-sd").value
    rows += [_row(f"across {side}", layout, across) for side in layout.walls]
    if len(layout.walls) == 2:  # noqa: PLR2004 - both walls
        at = layout.glass[0]
        foot = layout.wall("right", at) + layout.wall("left", at, -1.0)
        sigma = profile.limit("prior-width-sd").value
        rows.append(Row(name="width", terms=foot, observed=usual("usual-width"), sigma=sigma))
    drop = layout.entry("curb left") + layout.entry("curb right", -1.0)
    sigma = profile.limit("prior-curb-sd").value * (layout.free_end or usual("usual-width"))
    rows.append(Row(name="fall", terms=drop, observed=0.0, sigma=sigma))
    if job.datum == "mark":
        height = layout.entry("curb left", 0.5) + layout.entry("curb right", 0.5)
        rows.append(_anywhere("curb", height, 0.0))
    rows.append(_row("pitch", layout, profile.limit("prior-pitch-sd").value))
    if "ceiling" in layout.place:
        rows.append(_anywhere("ceiling", layout.entry("ceiling"), usual("usual-ceiling")))
    return (*rows, *_line_rows(layout, job, instruments))


@cites("own", "bow at mid-height of an integrated Wiener process pinned at both ends")
def bow_density(sd: float, over: float) -> float:
    """Density q of the process, 1/mm, whose bow at the middle of `over` mm has that sd, mm.

    The variance there is q over^3 / 48.
    """
    return 48.0 * sd**2 / over**3


@cites("own", "second divided differences of an integrated Wiener process")
def bow_covariance(steps: Array, q: float) -> Array:
    """Covariance of the changes of slope at the inner nodes, shape (n - 2, n - 2).

    Parameters
    ----------
    steps
        Distances of neighbouring nodes, mm, shape (n - 1,).
    q
        Density of the process, 1/mm.

    """
    beside = steps[1:-1] / 6.0
    inner = np.diag((steps[:-1] + steps[1:]) / 3.0)
    return q * (inner + np.diag(beside, 1) + np.diag(beside, -1))


def _bow_rows(name: str, heights: tuple[float, ...], at: At, q: float) -> tuple[Row, ...]:
    """Bow of one line of nodes; `at` gives a node's unknowns times a factor."""
    if len(heights) < 3:  # noqa: PLR2004 - a bow needs a middle
        return ()
    names = [f"bow {name} {height:.1f}" for height in heights[1:-1]]
    terms = [_bend(heights[i - 1 : i + 2], at) for i in range(1, len(heights) - 1)]
    return whiten(names, terms, [0.0] * len(names), bow_covariance(np.diff(heights), q))


def _bend(heights: tuple[float, ...], at: At) -> Terms:
    """Change of slope at the middle one of three nodes."""
    low, here, high = heights
    below, above = 1.0 / (here - low), 1.0 / (high - here)
    return at(low, below) + at(here, -below - above) + at(high, above)


def _lean_row(layout: Layout, side: Side, profile: Profile) -> Row:
    """Chord from the lowest to the highest node, which no further node between them moves."""
    low, high = layout.heights[0], layout.heights[-1]
    terms = layout.wall(side, high) + layout.wall(side, low, -1.0)
    sigma = profile.limit("prior-lean-sd").value * (high - low)
    return Row(name=f"lean {side}", terms=terms, observed=0.0, sigma=sigma)


def _row(name: str, layout: Layout, sigma: float) -> Row:
    return Row(name=name, terms=layout.entry(name), observed=0.0, sigma=sigma)


def _anywhere(name: str, terms: Terms, about: float) -> Row:
    return Row(name=name, terms=terms, observed=about, sigma=usual("prior-position-sd"))


def _line_rows(layout: Layout, job: Job, instruments: dict[str, Instrument]) -> list[Row]:
    """Each plumb or laser line: anywhere, and as plumb as its instrument allows."""
    rows = []
    lines = {r.line: r.with_ for r in job.readings if isinstance(r, Offset)}
    for line, instrument in sorted(lines.items()):
        sigma = tilt_sd(instruments[instrument])
        rows.append(_anywhere(f"line {line}", layout.entry(f"line {line}"), 0.0))
        tilt = layout.entry(f"tilt {line}")
        rows.append(Row(name=f"tilt {line}", terms=tilt, observed=0.0, sigma=sigma))
    return rows
