"""The opening as measured: walls with their lean multiplied, how well known, and what was read."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace

from hangtrue.estimate import NORMAL, Estimate
from hangtrue.geometry import Point
from hangtrue.job.brief import Brief
from hangtrue.job.readings import Bow, CornerAngle, Diagonal, Lean, Offset, Reading, Side, Width
from hangtrue.measure.opening import Opening
from hangtrue.paper import lettering
from hangtrue.paper.dimensions import CLEAR, LINE_FEED
from hangtrue.paper.drawings import frame
from hangtrue.paper.lengths import Units, decimals, units_of
from hangtrue.paper.scene import (
    LETTER,
    Circle,
    Dimension,
    Hatch,
    Line,
    Path,
    Primitive,
    Sheet,
    Text,
    View,
    scale_for,
)
from hangtrue.paper.words import figure, units_line

WALL = 7.0
"""Least thickness of a wall's cut, mm of paper."""
PARAGRAPH = 1.8
"""Between the words about the walls and those about the curb, mm."""
COLUMN = 86.0
"""Width of the words about one wall, mm."""
FACTORS = (100, 50, 20, 10, 5, 2, 1)
"""A lean is drawn this many times as large; the largest that stays within `REACH`."""
DROP = 4.5
"""Greatest drawn deviation of the curb from level, mm of paper."""
REACH = 9.0
"""Greatest drawn deviation from plumb, mm of paper."""
FREE = 900.0
"""Length of curb drawn where one end is free, mm."""
TALLEST = 176.0
"""Leaves room on a page for the table of sizes, mm."""
NINE_IN_TEN = NORMAL.inv_cdf(0.95)
"""Standard deviations each side that hold nine times in ten."""
DOT = 0.7
KEY = ("dots: read there", "hatched: 9 in 10", "±: 2 sd")
STUB = 9.0
"""Drawn length of each end of a diagonal, mm."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stretched:
    """The opening on paper: to scale, but for deviations from plumb and level."""

    opening: Opening
    view: View
    factor: int
    feet: dict[Side, float]
    low: float
    high: float

    def face(self, side: Side, z: float, off: float = 0.0) -> Point:
        """Point of a wall's face on paper; `off` in standard deviations."""
        here = self.opening.estimate(self.opening.wall(side, z))
        moved = here.value + off * here.sd - self.feet[side]
        return self.view.at((self.feet[side] + self.factor * moved, z))

    def curb(self, side: Side, off: float = 0.0) -> Point:
        """Point of the curb at one end."""
        x = (
            self.face(side, 0.0)[0]
            if side in self.opening.walls
            else self.view.at((self.feet[side], 0.0))[0]
        )
        name = f"curb {side}"
        here = (
            self.opening.estimate(self.opening.entry(name))
            if self.opening.knows(name)
            else Estimate(0.0)
        )
        return (x, self.view.at((0.0, self.factor * (here.value + off * here.sd)))[1])

    @property
    def levels(self) -> tuple[float, ...]:
        """Heights at which the faces bend, and the ends of what is drawn."""
        between = (z for z in self.opening.heights if self.low < z < self.high)
        return (self.low, *between, self.high)


def opening(brief: Brief, measured: Opening) -> Sheet:
    """Draw the opening as measured."""
    units = units_of(brief)
    notes = _notes(brief, measured, units)
    deep = -min((t.at[1] for t in notes), default=0.0)
    foot = frame.CAPTION + 2.0 + deep + LINE_FEED
    drawn, height = _stretched(brief, measured, units, foot)
    parts = (
        *(p for side in measured.walls for p in _wall(drawn, side)),
        *_curb(drawn),
        *_widths(brief, drawn, units),
        *_places(brief, drawn),
        *(replace(t, at=(t.at[0], foot - LINE_FEED + 1.0 + t.at[1])) for t in notes),
    )
    factor = f"lean drawn × {drawn.factor}" if drawn.factor > 1 else ""
    words = ("Seen from outside", f"scale {drawn.view.words}", factor, units_line(units), *KEY)
    return Sheet(
        name="opening",
        width=frame.WIDTH,
        height=height,
        title="Opening as measured, seen from outside",
        description=_description(brief, measured, units),
        primitives=(*parts, *frame.caption(words)),
        scale=drawn.view.words,
    )


def _description(brief: Brief, measured: Opening, units: Units) -> str:
    """Say the opening to somebody who cannot see it."""
    return " ".join(
        f"{side.capitalize()} wall {line}."
        for side in measured.walls
        for line in _said(brief, measured, side, units)
    )


def _stretched(
    brief: Brief, measured: Opening, units: Units, foot: float
) -> tuple[Stretched, float]:
    """Choose scale and factor above the notes at `foot`; return also the height of the sheet."""
    low, high = 0.0, max(float(brief.job.wanted.height), measured.heights[-1])
    at = {s: measured.estimate(measured.wall(s, 0.0)).value for s in measured.walls}
    feet: dict[Side, float] = {
        "left": at.get("left", at.get("right", FREE) - FREE),
        "right": at.get("right", at.get("left", 0.0) + FREE),
    }
    below = foot + 3.0 + DROP
    room = (frame.WIDTH - 2 * (WALL + REACH), TALLEST - below - 6.0)
    one_to = scale_for((feet["right"] - feet["left"], high - low), room, frame.scales(units))
    factor = _factor(measured, feet, one_to)
    x = (frame.WIDTH - (feet["right"] - feet["left"]) / one_to) / 2 - feet["left"] / one_to
    view = View(one_to=one_to, origin=(x, below))
    drawn = Stretched(opening=measured, view=view, factor=factor, feet=feet, low=low, high=high)
    return drawn, below + (high - low) / one_to + 6.0


def _factor(measured: Opening, feet: dict[Side, float], one_to: float) -> int:
    """Return the largest factor that keeps every deviation, and its band, within reach."""
    most = 1e-9
    for side in measured.walls:
        for z in measured.heights:
            here = measured.estimate(measured.wall(side, z))
            most = max(most, abs(here.value - feet[side]) + 2 * here.sd)
    for name in ("curb left", "curb right"):
        if measured.knows(name):
            here = measured.estimate(measured.entry(name))
            most = max(most, (abs(here.value) + 2 * here.sd) * REACH / DROP)
    return next((f for f in FACTORS if f * most / one_to <= REACH), 1)


def _wall(drawn: Stretched, side: Side) -> Iterable[Primitive]:
    """Face with its band, the cut behind it, and a plumb line from its foot."""
    face = [drawn.face(side, z) for z in drawn.levels]
    outward = -1.0 if side == "left" else 1.0
    back = drawn.view.at((drawn.feet[side], 0.0))[0] + outward * (WALL + REACH)
    yield Hatch(outline=(*face, (back, face[-1][1]), (back, face[0][1])), layer="wall", spacing=1.8)
    yield Path(points=tuple(face), closed=False, layer="wall", weight="middle")
    lows = [drawn.face(side, z, -NINE_IN_TEN) for z in drawn.levels]
    highs = [drawn.face(side, z, NINE_IN_TEN) for z in drawn.levels]
    yield Hatch(
        outline=(*lows, *reversed(highs)),
        layer="uncertainty",
        slant_deg=135.0,
        spacing=1.0,
        tone="cool",
    )
    foot, top = (drawn.view.at((drawn.feet[side], z)) for z in (drawn.low, drawn.high))
    yield Line(start=foot, end=(top[0], top[1] + 3.0), layer="centre", stroke="long-dash-dot")


def _curb(drawn: Stretched) -> Iterable[Primitive]:
    """Top of the curb with its fall multiplied, its band, and the level line of the datum."""
    left, right = drawn.curb("left"), drawn.curb("right")
    yield Line(start=left, end=right, layer="curb", weight="middle")
    band = (
        drawn.curb("left", -NINE_IN_TEN),
        drawn.curb("right", -NINE_IN_TEN),
        drawn.curb("right", NINE_IN_TEN),
        drawn.curb("left", NINE_IN_TEN),
    )
    yield Hatch(outline=band, layer="uncertainty", slant_deg=135.0, spacing=1.0, tone="cool")
    y = drawn.view.origin[1]
    yield Line(start=(left[0], y), end=(right[0], y), layer="centre", stroke="long-dash-dot")


def _widths(brief: Brief, drawn: Stretched, units: Units) -> Iterable[Primitive]:
    """Estimated width with its plus-minus at every height where a width was read."""
    if len(drawn.opening.walls) < 2:  # noqa: PLR2004 - a width needs both walls
        return
    for z in sorted({float(r.at) for r in brief.job.readings if isinstance(r, Width)}):
        wide = drawn.opening.estimate(
            drawn.opening.wall("right", z) - drawn.opening.wall("left", z)
        )
        yield from _width(drawn, z, [w for w in _known(wide, units) if w])


def _width(drawn: Stretched, z: float, figures: list[str]) -> Iterable[Primitive]:
    """Dimension from face to face; its figures stand clear of faces and plumb lines.

    Where it is narrow the units stand over each other.
    """
    left, right = drawn.face("left", z), drawn.face("right", z)
    yield Dimension(start=left, end=right, line=left[1], words="")
    plumb = [drawn.view.at((x, 0.0))[0] for x in (drawn.feet["left"], drawn.feet["right"])]
    low, high = max(left[0], plumb[0]), min(right[0], plumb[1])
    whole = " ".join(figures)
    fits = lettering.width(whole, LETTER) < high - low - 2.0
    for i, words in enumerate([whole] if fits else reversed(figures)):
        at = ((low + high) / 2, left[1] + CLEAR + i * LINE_FEED)
        yield Text(at=at, words=words, anchor="middle", layer="dimension")


def _known(length: Estimate, units: Units, *, fine: bool = False) -> tuple[str, str]:
    """Figures with their plus-minus, in the first unit and in brackets in the other."""
    value = figure(units, length.value, fine=fine)
    words = f"{value.words}\u00a0±\u00a0{units.spread(length.sd)}"
    if not value.second:
        return words, ""
    return (
        words,
        f"[{value.second.strip('[]')}\u00a0±\u00a0{decimals(2 * length.sd, units.second)}]",
    )


def _places(brief: Brief, drawn: Stretched) -> Iterable[Primitive]:
    """Dots where something was read; a ring where the reading is doubted."""
    doubted = {s.reading for s in drawn.opening.agreement.suspects} | set(drawn.opening.set_aside)
    dots: dict[tuple[Side, float], bool] = {}
    for reading in brief.job.readings:
        for side, z in _where(reading, drawn.opening):
            dots[side, z] = dots.get((side, z), False) or reading.id in doubted
        if isinstance(reading, Diagonal) and len(drawn.opening.walls) > 1:
            yield from _stubs(drawn, float(reading.left_at), float(reading.right_at))
    for (side, z), doubt in dots.items():
        at = drawn.face(side, z)
        yield Circle(centre=at, radius=DOT, layer="dimension", fill="solid")
        if doubt:
            yield Circle(centre=at, radius=3 * DOT, layer="dimension", weight="middle", tone="warm")


def _where(reading: Reading, measured: Opening) -> Iterable[tuple[Side, float]]:
    """Places on the walls that a reading touches."""
    match reading:
        case Width():
            yield from ((side, float(reading.at)) for side in measured.walls)
        case Lean():
            yield from ((reading.wall, float(z)) for z in (reading.from_, reading.to))
        case Bow():
            middle = (reading.from_ + reading.to) / 2 if reading.at is None else reading.at
            yield from ((reading.wall, float(z)) for z in (reading.from_, middle, reading.to))
        case Offset():
            yield (reading.wall, float(reading.at))
        case Diagonal() if len(measured.walls) > 1:
            yield from (("left", float(reading.left_at)), ("right", float(reading.right_at)))
        case CornerAngle():
            yield (reading.wall, 0.0)


def _stubs(drawn: Stretched, left_at: float, right_at: float) -> Iterable[Primitive]:
    """Both ends of a diagonal; its middle would only cross the figures."""
    a, b = drawn.face("left", left_at), drawn.face("right", right_at)
    share = STUB / math.dist(a, b)
    step = ((b[0] - a[0]) * share, (b[1] - a[1]) * share)
    for start, sign in ((a, 1), (b, -1)):
        end = (start[0] + sign * step[0], start[1] + sign * step[1])
        yield Line(start=start, end=end, layer="dimension", stroke="dashed")


def _said(brief: Brief, measured: Opening, side: Side, units: Units) -> tuple[str, ...]:
    """What a wall does, in words with figures."""
    low, high = measured.heights[0], measured.heights[-1]
    middle = (low + high) / 2
    over = figure(units, high - low)
    lean = measured.estimate(measured.lean(side, low, high))
    bow = measured.estimate(measured.bow(side, low, middle, high))
    lines = [
        f"leans {_way(lean, 'in', 'out')} {_both(lean.size(), units)} over {over}",
        f"bellies {_way(bow, 'in', 'out')} {_both(bow.size(), units)}",
    ]
    if not _read_across(brief, side):
        lines.append("across the glass: not read")
    elif measured.knows(f"across {side}"):
        across = measured.estimate(measured.entry(f"across {side}")).scaled(high - low)
        toward = _way(across, "into the shower", "out of the shower")
        lines.append(f"top leans {toward} {_both(across.size(), units)}")
    return tuple(lines)


def _read_across(brief: Brief, side: Side) -> bool:
    return any(
        isinstance(r, Lean) and r.wall == side and r.plane == "across" for r in brief.job.readings
    )


def _way(length: Estimate, positive: str, negative: str) -> str:
    return positive if length.value >= 0 else negative


def _both(length: Estimate, units: Units) -> str:
    return " ".join(w for w in _known(length, units, fine=True) if w)


def _notes(brief: Brief, measured: Opening, units: Units) -> tuple[Text, ...]:
    """Words under the drawing, from 0 down: the walls side by side, the curb, any doubts."""
    walls = [t for side in measured.walls for t in _column(brief, measured, side, units)]
    y = min((t.at[1] for t in walls), default=0.0) - LINE_FEED - PARAGRAPH
    curb = tuple(_curb_said(brief, measured, units))
    doubts = _suspicions(measured)
    below = [
        Text(at=(0.0, y - i * LINE_FEED), words=words, tone="warm" if words in doubts else "ink")
        for i, words in enumerate((*curb, *doubts))
    ]
    return (*walls, *below)


def _column(brief: Brief, measured: Opening, side: Side, units: Units) -> Iterable[Text]:
    """Name of a wall and what it does, on its own side of the sheet."""
    x = frame.WIDTH - COLUMN if side == "right" else 0.0
    wall = brief.job.wall(side)
    name = f"{side} wall" + (f": {wall.name}" if wall and wall.name else "")
    y = 0.0
    for i, line in enumerate((name.capitalize(), *_said(brief, measured, side, units))):
        lines = frame.paragraph(line, (x, y), COLUMN, bold=i == 0)
        yield from lines
        y -= LINE_FEED * len(lines)


def _curb_said(brief: Brief, measured: Opening, units: Units) -> Iterable[str]:
    if measured.knows("curb left") and measured.knows("curb right"):
        fall = measured.estimate(measured.entry("curb left") - measured.entry("curb right"))
        yield f"Curb: {_way(fall, 'right', 'left')} end lower by {_both(fall.size(), units)}"
    if measured.knows("pitch"):
        width = float(brief.job.threshold.width)
        pitch = measured.estimate(measured.entry("pitch")).scaled(width)
        way = _way(pitch, "into the shower", "out of the shower")
        over = f"over its width of {figure(units, width)}"
        yield f"Curb: falls {way} {_both(pitch.size(), units)} {over}"
    if measured.knows("ceiling"):
        yield f"Ceiling: {' '.join(_known(measured.estimate(measured.entry('ceiling')), units))}"


def _suspicions(measured: Opening) -> tuple[str, ...]:
    """What was doubted of the readings, one line each, the most probable first."""
    named = measured.agreement.named
    if named is not None:
        return (
            f"Ringed: reading {named.reading} was set aside, it looks like a slip: {named.slip}",
        )
    if not measured.agreement.alarm:
        return ()
    return tuple(
        f"Ringed: reading {s.reading}, perhaps {s.slip}" for s in measured.agreement.suspects[:3]
    )
