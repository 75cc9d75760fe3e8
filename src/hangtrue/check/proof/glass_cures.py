"""What would make a pane bear or move less: a bar and where, glass, clamps, width; each solved."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Literal

from hangtrue.check.proof.bending import Answer, bend
from hangtrue.check.proof.cases import PaneCase
from hangtrue.check.proof.held_pane import HeldPane
from hangtrue.check.proof.saying import next_thicker
from hangtrue.geometry import Outline, Point, at_height

Kind = Literal["bar", "glass", "clamps", "width"]
Use = Callable[[Answer], float]
"""How much of what is allowed an answer uses; up to 1 is enough."""
INWARD = (0.0, 0.25, 0.5)
"""Where a bar is tried, as shares of the width from the free corner."""
CLAMPS = (0.08, 0.12, 0.16, 0.2, 0.25)
"""Where clamps are tried, as shares of the height from both ends."""
NARROWER = tuple(n / 10 for n in range(9, 3, -1))
ON_EDGE = 2.0
"""mm from an upright edge within which a clamp is on it."""
PAIR = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Cure:
    """One change that was solved.

    Attributes
    ----------
    at
        A bar: farthest from the free corner that is enough, mm. Glass: nominal thickness. Clamps:
        from both ends, mm. Width: mm.
    use
        Of what is allowed, with it.

    """

    kind: Kind
    at: float
    use: float


def cures(held: HeldPane, loads: tuple[PaneCase, ...], ground: float, use: Use) -> Iterator[Cure]:
    """Changes that are enough by themselves, each with what it is then.

    Parameters
    ----------
    ground
        Height of the floor above the pane's datum corner, mm.

    """
    for found in (_bar, _glass, _clamps, _width):
        one = found(held, loads, ground, use)
        if one is not None and one.use <= 1.0:
            yield one


def solved(held: HeldPane, loads: tuple[PaneCase, ...], ground: float, use: Use) -> float:
    """How much is used by a pane; infinite where it cannot be solved."""
    answer = bend(held, loads, ground)
    return float("inf") if answer.faults or not answer.bent else use(answer)


def free_corner(held: HeldPane) -> Point | None:
    """Free top corner of a pane; None without a free edge, or with a bar there."""
    if not held.free or held.points:
        return None
    return held.free[0][1]


def _bar(held: HeldPane, loads: tuple[PaneCase, ...], ground: float, use: Use) -> Cure | None:
    """A bar at the free top corner, and how far from there it may be."""
    corner = free_corner(held)
    if corner is None:
        return None
    best: Cure | None = None
    wide = _wide(held)
    inward = 1.0 if corner[0] <= min(x for x, _ in held.outline) + wide / 2 else -1.0
    for share in INWARD:
        at = corner[0] + inward * share * wide
        used = solved(held.with_bar((at, _top(held, at))), loads, ground, use)
        if used > 1.0:
            break
        best = Cure(kind="bar", at=share * wide, use=used)
    return best


def _top(held: HeldPane, x: float) -> float:
    """Height of the top edge at an x: the highest of the outline there, mm."""
    ring = held.outline
    crossed = []
    for a, b in zip(ring, (*ring[1:], ring[0]), strict=True):
        if a[0] != b[0] and min(a[0], b[0]) - 1e-9 <= x <= max(a[0], b[0]) + 1e-9:
            crossed.append(at_height((a[1], a[0]), (b[1], b[0]), x))
    return max(crossed)


def _glass(held: HeldPane, loads: tuple[PaneCase, ...], ground: float, use: Use) -> Cure | None:
    nominal = next_thicker(held.nominal)
    if nominal is None:
        return None
    used = solved(held.thicker(nominal), loads, ground, use)
    return Cure(kind="glass", at=nominal, use=used)


def _clamps(held: HeldPane, loads: tuple[PaneCase, ...], ground: float, use: Use) -> Cure | None:
    """Two clamps of an upright edge, moved alike from both ends: the best of some places."""
    pair = _on_edge(held)
    if pair is None:
        return None
    tall = max(y for _, y in held.outline) - min(y for _, y in held.outline)
    tried = (
        Cure(
            kind="clamps",
            at=share * tall,
            use=solved(_moved(held, pair, share * tall), loads, ground, use),
        )
        for share in CLAMPS
    )
    return min(tried, key=lambda one: one.use)


def _on_edge(held: HeldPane) -> tuple[Outline, Outline] | None:
    left, right = (f(x for x, _ in held.outline) for f in (min, max))
    for edge, end in ((left, min), (right, max)):
        near = [p for p in held.patches if abs(end(x for x, _ in p) - edge) <= ON_EDGE]
        if len(near) == PAIR:
            low, high = sorted(near, key=lambda patch: patch[0][1])
            return low, high
    return None


def _moved(held: HeldPane, pair: tuple[Outline, Outline], off: float) -> HeldPane:
    """Return the pane with both clamps, and the holes under them, that far from its ends."""
    low, high = (f(y for _, y in held.outline) for f in (min, max))
    patches, holes = list(held.patches), list(held.holes)
    for patch, to in zip(pair, (low + off, high - off), strict=True):
        rise = to - _middle(patch)
        patches[patches.index(patch)] = _lifted(patch, rise)
        holes = [_lifted(h, rise) if _under(h, patch) else h for h in holes]
    return replace(held, patches=tuple(patches), holes=tuple(holes))


def _middle(ring: Outline) -> float:
    ys = [y for _, y in ring]
    return (min(ys) + max(ys)) / 2


def _lifted(ring: Outline, rise: float) -> Outline:
    return tuple((x, y + rise) for x, y in ring)


def _under(hole: Outline, patch: Outline) -> bool:
    """Whether a hole belongs to a clamp: its middle is as high as the clamp."""
    ys = [y for _, y in patch]
    return min(ys) <= _middle(hole) <= max(ys)


def _width(held: HeldPane, loads: tuple[PaneCase, ...], ground: float, use: Use) -> Cure | None:
    """Greatest width, in tenths of what it is, with channels that only guide it."""
    for share in NARROWER:
        used = solved(held.narrowed(share).only_guided(), loads, ground, use)
        if used <= 1.0:
            return Cure(kind="width", at=share * _wide(held), use=used)
    return None


@lru_cache(maxsize=64)
def _wide(held: HeldPane) -> float:
    xs = [x for x, _ in held.outline]
    return max(xs) - min(xs)
