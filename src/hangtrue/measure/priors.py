"""What is known of a room before anything is read, as ordinary rows.

A wall is a straight line of any lean plus a bow, which is an integrated Wiener process: smooth,
random, and its answers do not change when nodes are added. docs/measure.md has the mathematics.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import partial
from itertools import pairwise

import numpy as np

from hangtrue.job.document import Job
from hangtrue.job.instruments import Instrument, OwnHand
from hangtrue.job.profile import Profile
from hangtrue.job.readings import Fall, Height, Offset, Side, Width
from hangtrue.job.room import Step
from hangtrue.measure.equations import between
from hangtrue.measure.habits import usual
from hangtrue.measure.layout import Layout
from hangtrue.measure.linear import Array, Row, Terms, whiten
from hangtrue.measure.sigmas import standard_uncertainty, tilt_sd
from hangtrue.source import cites
from hangtrue.units import Length

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
    rows += [row for run in range(1, layout.runs + 1) for row in _run_rows(layout, run, profile)]
    if job.datum == "mark":
        height = layout.entry("curb left", 0.5) + layout.entry("curb right", 0.5)
        rows.append(_anywhere("curb", height, 0.0))
    pitch = profile.limit("prior-pitch-sd").value
    rows += [_row(name, layout, pitch) for name in layout.place if name.startswith("pitch")]
    rows += [*_ceiling_rows(layout), *_angle_rows(layout)]
    for key, step in layout.steps:
        hand = profile.hand("", step.with_)
        rows += _step_rows(layout, key, step, instruments[step.with_], hand)
    return (*rows, *_line_rows(layout, job, instruments))


def _run_rows(layout: Layout, run: int, profile: Profile) -> Iterator[Row]:
    """Width of a run, where it does not end free; fall of the curb under it."""
    of_run = f" of run {run}" if layout.runs > 1 else ""
    length = usual("usual-width")
    if layout.bounded(run):
        foot = between(layout, run, layout.glass[0], layout.glass[0])
        sigma = profile.limit("prior-width-sd").value
        yield Row(name=f"width{of_run}", terms=foot, observed=length, sigma=sigma)
    start, stop = layout.ends(run)
    drop = layout.entry(f"curb {start}") + layout.entry(f"curb {stop}", -1.0)
    sigma = profile.limit("prior-curb-sd").value * (layout.stated[run - 1] or length)
    yield Row(name=f"fall{of_run}", terms=drop, observed=0.0, sigma=sigma)


def _ceiling_rows(layout: Layout) -> Iterator[Row]:
    """Anywhere; where it was read in several places, sloping as ceilings under a roof do."""
    if "ceiling" in layout.place:
        yield _anywhere("ceiling", layout.entry("ceiling"), usual("usual-ceiling"))
    elif "ceiling left" in layout.place:
        names = [f"ceiling {station}" for station in layout.stations]
        share = 1.0 / len(names)
        mean = tuple(term for name in names for term in layout.entry(name, share))
        yield _anywhere("ceiling", mean, usual("usual-ceiling"))
        sigma = usual("prior-ceiling-slope") * usual("usual-width")
        for low, high in pairwise(names):
            rise = layout.entry(high) + layout.entry(low, -1.0)
            yield Row(name=high, terms=rise, observed=0.0, sigma=sigma)


def _angle_rows(layout: Layout) -> Iterator[Row]:
    """Corners about as they are wanted; walls about square to the glass line."""
    sigma = usual("prior-angle-sd")
    for k, angle in enumerate(layout.angles, 1):
        name = f"angle {k}"
        yield Row(name=name, terms=layout.entry(name), observed=angle, sigma=sigma)
    for name in (f"square {side}" for side in layout.walls):
        if name in layout.place:
            yield _row(name, layout, sigma)


def _step_rows(
    layout: Layout, key: str, step: Step, used: Instrument, hand: OwnHand | None
) -> Iterator[Row]:
    """Risers from the left end of the run, height and fall of the cap, each as it was measured.

    A step carries its own measures, which nothing else checks; so they are no readings.
    """
    foot = layout.glass[0]
    begin = layout.station(layout.ends(step.run)[0], foot)
    back = tuple((i, -a) for i, a in begin.terms)
    for end, along in (("left", step.from_), ("right", step.to)):
        if along is not None:
            name = f"step {key} {end}"
            taped = Width(what="width", at=Length(foot), value=along)
            sigma = standard_uncertainty(taped, used, 1.0, hand)
            at = along + begin.constant
            yield Row(name=name, terms=layout.entry(name) + back, observed=at, sigma=sigma)
    left, right = (f"step {key} top {end}" for end in ("left", "right"))
    height = Height(what="height", of="curb", value=step.height)
    sigma = standard_uncertainty(height, used, 1.0, hand)
    yield Row(name=left, terms=layout.entry(left), observed=float(step.height), sigma=sigma)
    fall = Fall(what="fall", value=step.cap_fall)
    over = (step.to or usual("usual-width")) - (step.from_ or 0.0)
    sigma = standard_uncertainty(fall, used, over, hand)
    drop = layout.entry(left) + layout.entry(right, -1.0)
    yield Row(name=right, terms=drop, observed=float(step.cap_fall), sigma=sigma)


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
