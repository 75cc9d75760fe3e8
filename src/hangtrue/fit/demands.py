"""What sizes must keep to, what gives way first, and what would be nice."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise

import numpy as np

from hangtrue.fit.entries import (
    BOTTOM_LEFT,
    BOTTOM_RIGHT,
    CORNERS,
    TOP_LEFT,
    TOP_RIGHT,
    Z_LEFT,
    Z_RIGHT,
)
from hangtrue.fit.goals import Demand, Wish
from hangtrue.fit.rows import Row, RowPane
from hangtrue.fit.wording import said
from hangtrue.job.brief import Brief
from hangtrue.job.hardware import Hinge
from hangtrue.measure.opening import Vector
from hangtrue.phrase import phrase
from hangtrue.tables import table

SOME = 2
"""Open widths from which on one can give what another takes."""

ENDS = {
    "left": (BOTTOM_LEFT, TOP_LEFT),
    "right": (BOTTOM_RIGHT, TOP_RIGHT),
    "bottom": (Z_LEFT, Z_RIGHT),
}
"""The two corner entries that an edge runs between; equal where it is not raked."""

MUST, LIMITS, USUAL = 0, 1, 2
"""What gives way where nothing fits: usual sizes first, then the shop's limits."""

Edge = tuple[int, str]
"""A pane's number and which of its edges: `left`, `right`, `bottom`."""


def _entries(row: Row, i: int, plus: int, minus: int) -> Vector:
    a = np.zeros(row.entries)
    a[i * CORNERS + plus], a[i * CORNERS + minus] = 1.0, -1.0
    return a


def demands(brief: Brief, row: Row, raked: tuple[Edge, ...]) -> Iterator[Demand]:
    """Bounds on sizes and rakes: as wished, the plant's, the shop's, the usual."""
    for i, pane in enumerate(row.panes):
        for plus, minus, at in ((BOTTOM_RIGHT, BOTTOM_LEFT, "foot"), (TOP_RIGHT, TOP_LEFT, "top")):
            a = _entries(row, i, plus, minus)
            if pane.wished is not None and at == "foot":
                yield _as_wished(brief, pane, a)
            elif pane.wished is None:
                yield from _widths(brief, pane, a)
    yield from _usual_sizes(brief, row)
    most = grid_down(float(brief.profile.plant.rake_most), float(brief.profile.plant.grid))
    for i, name in raked:
        low, high = ENDS[name]
        words = phrase(
            "{pane}: {edge} raked at most {most} (plant)",
            pane=row.panes[i].id, edge=f"{name} edge", most=said(most, brief.job.unit),
        )  # fmt: skip
        yield Demand(
            a=_entries(row, i, high, low), low=-most, high=most,
            least_words=words, most_words=words, joint=row.panes[i].id,
        )  # fmt: skip


def _as_wished(brief: Brief, pane: RowPane, a: Vector) -> Demand:
    width = grid_down(pane.wished or 0.0, float(brief.profile.plant.grid))
    words = phrase(
        "{pane}: {width} wide (as wished)", pane=pane.id, width=said(width, brief.job.unit)
    )
    return Demand(
        a=a, constant=pane.outside, low=width, high=width,
        least_words=words, most_words=words, joint=pane.id,
    )  # fmt: skip


def _widths(brief: Brief, pane: RowPane, a: Vector) -> Iterator[Demand]:
    """Bounds of a width that nobody fixed: the plant's, the shop's, the hinge's rating."""
    profile, grid, unit = brief.profile, float(brief.profile.plant.grid), brief.job.unit

    def bound(least: float, most: float, whose: str, *, habit: int) -> Demand:
        low, high = grid_up(least, grid), grid_down(most, grid) if most < math.inf else most
        return Demand(
            a=a, constant=pane.outside, low=low, high=high, joint=pane.id, habit=habit,
            least_words=phrase(
                "{pane}: at least {least} wide ({whose})",
                pane=pane.id, least=said(low, unit), whose=whose,
            ),
            most_words=phrase(
                "{pane}: at most {most} wide ({whose})",
                pane=pane.id, most=said(high, unit), whose=whose,
            ) if high < math.inf else "",
        )  # fmt: skip

    yield bound(float(profile.plant.width_least), math.inf, "plant", habit=MUST)
    if pane.kind == "fixed":
        yield bound(profile.limit("fixed-width-least").value, math.inf, "shop", habit=LIMITS)
        return
    least, most = (profile.limit(f"door-width-{end}").value for end in ("least", "most"))
    yield bound(least, most, "shop", habit=LIMITS)
    if pane.hung_on:
        hinge = hinge_of(brief, pane)
        yield bound(0.0, float(hinge.door_width_most), hinge.id, habit=LIMITS)


def _usual_sizes(brief: Brief, row: Row) -> Iterator[Demand]:
    """Where more than one width would do: the usual door, fixed panes alike, the usual free pane.

    Else a curb that falls would make panes narrow for a hair more margin at their feet.
    """
    for run in row.runs:
        yield from _usual_in(brief, row, run)


def _usual_in(brief: Brief, row: Row, run: range) -> Iterator[Demand]:
    """Usual sizes of the panes of one straight part of the glass line."""
    free = [i for i in run if row.panes[i].wished is None]
    closed = row.closed(run.start)
    if closed and len(free) < SOME:
        return
    widths = {i: _entries(row, i, BOTTOM_RIGHT, BOTTOM_LEFT) for i in free}
    kinds = {kind: [i for i in free if row.panes[i].kind == kind] for kind in ("door", "fixed")}
    for i in free:
        # Two doors that fill a run share what there is: none of them can be told how wide to be.
        given = closed and len(kinds["door"]) == len(free)
        if not given and (row.panes[i].kind == "door" or not closed):
            usual = grid_down(usual_width(brief, row.panes[i]), float(brief.profile.plant.grid))
            words = phrase("{pane}: usual width", pane=row.panes[i].id)
            yield _exactly(widths[i], usual, row.panes[i], words)
    for alike in kinds.values():
        for i, j in pairwise(alike):
            words = phrase("{one} and {other} alike", one=row.panes[i].id, other=row.panes[j].id)
            yield _exactly(widths[i] - widths[j], 0.0, row.panes[i], words)


def _exactly(a: Vector, value: float, pane: RowPane, words: str) -> Demand:
    return Demand(
        a=a, low=value, high=value, joint=pane.id, habit=USUAL, least_words=words, most_words=words
    )


def usual_width(brief: Brief, pane: RowPane) -> float:
    """Width of a pane that nobody wrote down: the usual door, the widest pane without a bar."""
    limit = brief.profile.limit
    if pane.kind == "fixed":
        return limit("free-edge-width-most").value
    usual = limit("door-width-usual").value
    return min(usual, float(hinge_of(brief, pane).door_width_most)) if pane.hung_on else usual


def hinge_of(brief: Brief, pane: RowPane) -> Hinge:
    """Return the hinge that a made-to-measure door hangs on."""
    chosen = brief.job.hardware
    return brief.item(chosen.glass_hinge if pane.hung_on == "glass" else chosen.hinge, Hinge)


def wishes(brief: Brief, row: Row, raked: tuple[Edge, ...]) -> Iterator[Wish]:
    """Square edges, the usual door, fixed panes alike."""
    weights = table("fit")["weights"]
    for i, name in raked:
        low, high = ENDS[name]
        yield Wish(a=_entries(row, i, high, low), target=0.0, weight=weights["rake"])
    for run in row.runs:
        yield from _wishes_in(brief, row, run)


def _wishes_in(brief: Brief, row: Row, run: range) -> Iterator[Wish]:
    """The usual door and fixed panes alike, in one straight part of the glass line."""
    weights = table("fit")["weights"]
    open_width = [
        (row.panes[i], _entries(row, i, BOTTOM_RIGHT, BOTTOM_LEFT))
        for i in run
        if row.panes[i].wished is None
    ]
    alike = {kind: [a for pane, a in open_width if pane.kind == kind] for kind in ("door", "fixed")}
    for pane, a in open_width:
        usual = usual_width(brief, pane)
        if pane.kind == "door":
            yield Wish(a=a, target=usual, weight=weights["door_width"])
        elif not row.closed(run.start):
            yield Wish(a=a, target=usual, weight=weights["fixed_width"])
    for same in alike.values():
        for a, b in pairwise(same):
            yield Wish(a=a - b, target=0.0, weight=weights["fixed_alike"])


def steps_in(size: float, grid: float) -> int:
    """Steps of the grid in a size; one that is short of a step by next to nothing is on it."""
    return math.floor(size / grid + float(table("fit")["rounding"]["on_grid_share"]))


def grid_down(size: float, grid: float) -> float:
    """Round a size down to the grid."""
    return steps_in(size, grid) * grid


def grid_up(size: float, grid: float) -> float:
    """Round a size up to the grid."""
    return -grid_down(-size, grid)
