"""Made-up rooms: a true shape, readings of it with honest scatter, and the brief that carries them.

A room knows its true geometry and nothing of the program's equations, so what `measure` makes of
its readings can be held against the truth:

    rng = np.random.default_rng(1)
    room = random_room(rng)
    job = brief(read(room, usual_readings("in"), rng, "in"), unit="in")
    opening = measure(job)
    true = room.reading(Width(what="width", at=Length(0), value=Length(0)))

Signs and heights are the job's: x to the right along the developed glass line, z up from the
datum, a lean into the opening is positive. Where the line turns, `cornered_room`, `corner_readings`
and `turned` make the room, the readings and the wishes.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cache
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from hangtrue.job import library
from hangtrue.job.brief import Brief
from hangtrue.job.document import Head, Job, Threshold, Wall, Walls, Wanted, WantedLite
from hangtrue.job.instruments import Instrument
from hangtrue.job.profile import Profile
from hangtrue.job.readings import (
    Bow,
    Corner,
    CornerAngle,
    Diagonal,
    Fall,
    Height,
    Lean,
    Offset,
    Pitch,
    Reading,
    Side,
    Square,
    Station,
    Triangle,
    Width,
)
from hangtrue.job.room import Step
from hangtrue.job.wishes import Turn
from hangtrue.units import Angle, Length, Unit, inches

Vector = NDArray[np.float64]

INCH = 25.4
GLASS = 76 * INCH
"""Top of the glass, mm."""

NODES = tuple(INCH * h for h in (0, 4, 10, 20, 38, 40, 54, 66, 72, 76, 84))
"""Heights at which a made-up wall has a shape of its own, mm; straight between them."""

CURB_WIDTH = 4.5 * INCH
ARM = 300.0
"""Arm of an angle finder, mm."""

Scatter = Literal["none", "normal", "as typed"]
"""No scatter; normal with the reading's standard uncertainty; or as it comes about: anywhere within
the limits of class and seating, then read and typed to the step of the instrument."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """A true shape, mm and rad.

    Attributes
    ----------
    heights
        (n,) of the wall nodes, rising.
    left, right
        (n,) x of the walls' faces.
    across_left, across_right
        (n,) y of the walls' edges at the glass line; + is into the shower.
    curb_left, curb_right, pitch
        Height of the curb at its ends; its slope across, + where it falls into the shower.
    lines
        Position (at height 0) and tilt (rad) of each plumb or laser line.
    corners, angles, corner_curbs
        (k,) x and inside angle (rad) of each corner; height of the curb there.
    ceilings
        (k + 2,) heights of the ceiling at the left end, the corners, the right end; else `ceiling`.
    square
        How far each wall is from square in plan, rad, + where the shower widens inside.

    """

    heights: Vector
    left: Vector
    right: Vector
    across_left: Vector
    across_right: Vector
    curb_left: float = 0.0
    curb_right: float = 0.0
    pitch: float = 0.0
    ceiling: float = 2400.0
    lines: Mapping[str, tuple[float, float]] = field(default_factory=dict)
    corners: tuple[float, ...] = ()
    angles: tuple[float, ...] = ()
    corner_curbs: tuple[float, ...] = ()
    ceilings: tuple[float, ...] = ()
    square: Mapping[str, float] = field(default_factory=dict)

    def x(self, side: Side, height: float) -> float:
        """Face of a wall."""
        return float(np.interp(height, self.heights, self.left if side == "left" else self.right))

    def y(self, side: Side, height: float) -> float:
        """Edge of a wall across the glass."""
        shape = self.across_left if side == "left" else self.across_right
        return float(np.interp(height, self.heights, shape))

    def ends(self, run: int, left_at: float, right_at: float) -> tuple[float, float]:
        """x of the left and the right end of a run, each at a height."""
        left = self.corners[run - 2] if run > 1 else self.x("left", left_at)
        last = run > len(self.corners)
        return left, self.x("right", right_at) if last else self.corners[run - 1]

    def width(self, height: float, run: int = 1) -> float:
        """Clear width of a run."""
        left, right = self.ends(run, height, height)
        return right - left

    @property
    def curbs(self) -> tuple[float, ...]:
        """Height of the curb at the left end, the corners, the right end."""
        return (self.curb_left, *self.corner_curbs, self.curb_right)

    def along(self, heights: Sequence[float], at: Station) -> float:
        """Height at a place, straight from one of these to the next."""
        places = [self.ends(1, 0.0, 0.0)[0], *self.corners, self.x("right", 0.0)]
        middle = (places[0] + places[-1]) / 2
        known = {"left": places[0], "middle": middle, "right": places[-1]}
        known |= {f"corner {k}": x for k, x in enumerate(self.corners, 1)}
        return float(np.interp(known[at], places, heights))

    def third_side(self, reading: Triangle, before: float, after: float) -> float:
        """Distance of two marks in plan: one left of the corner, one beyond the turn."""
        turn = math.pi - self.angles[reading.corner - 1]
        return math.hypot(before + after * math.cos(turn), after * math.sin(turn))

    def lean(self, side: Side, low: float, high: float) -> float:
        """How far a wall leans into the opening."""
        sign = 1.0 if side == "left" else -1.0
        return sign * (self.x(side, high) - self.x(side, low))

    def across(self, side: Side, low: float = 0.0, high: float = GLASS) -> float:
        """Lean across as a slope, between two heights."""
        return (self.y(side, high) - self.y(side, low)) / (high - low)

    def reading(self, reading: Reading) -> float:
        """What a reading would be without any error, signed, mm (corner angles rad)."""
        match reading:
            case Width(at=at, run=run):
                return self.width(at, run)
            case Corner(corner=k):
                return self.angles[k - 1]
            case Triangle(before=before, after=after):
                return self.third_side(reading, before, after)
            case Square(wall=side):
                return math.pi / 2 + self.square[side]
            case Lean(wall=side, plane="in"):
                return self.lean(side, reading.from_, reading.to)
            case Lean(wall=side):
                return self.y(side, reading.to) - self.y(side, reading.from_)
            case Offset():
                return self._offset(reading)
            case Bow():
                return self._bow(reading)
            case Diagonal(left_at=left, right_at=right, run=run):
                start, stop = self.ends(run, left, right)
                return math.hypot(stop - start, right - left)
            case CornerAngle():
                return self._corner(reading)
            case Height(of="ceiling", at=at):
                return self.along(self.ceilings, at) if self.ceilings else self.ceiling
            case _:
                return self._curb(reading)

    def _offset(self, reading: Offset) -> float:
        x, tilt = self.lines[reading.line]
        sign = 1.0 if reading.wall == "left" else -1.0
        return sign * (x + tilt * reading.at - self.x(reading.wall, reading.at))

    def _bow(self, reading: Bow) -> float:
        at = reading.at if reading.at is not None else (reading.from_ + reading.to) / 2
        whole = self.lean(reading.wall, reading.from_, reading.to)
        share = (at - reading.from_) / (reading.to - reading.from_)
        return self.lean(reading.wall, reading.from_, at) - share * whole

    def _corner(self, reading: CornerAngle) -> float:
        rise = math.atan2(self.curb_right - self.curb_left, self.width(0.0))
        away = rise if reading.wall == "left" else -rise
        return math.pi / 2 - math.atan2(self.lean(reading.wall, 0.0, ARM), ARM) - away

    def _curb(self, reading: Reading) -> float:
        match reading:
            case Height(at=at):
                return self.along(self.curbs, at)
            case Fall(over=over, run=run):
                whole = self.width(0.0, run)
                left, right = self.curbs[run - 1 : run + 1]
                return (left - right) * ((over or whole) / whole)
            case Pitch(over=over):
                return math.tan(self.pitch) * (over or CURB_WIDTH)
        raise TypeError(reading)

    def mirrored(self) -> Room:
        """Swap left and right."""
        far = self.x("left", 0.0) + self.x("right", 0.0)
        return Room(
            heights=self.heights,
            left=far - self.right,
            right=far - self.left,
            across_left=self.across_right,
            across_right=self.across_left,
            curb_left=self.curb_right,
            curb_right=self.curb_left,
            pitch=self.pitch,
            ceiling=self.ceiling,
            lines={name: (far - x, -tilt) for name, (x, tilt) in self.lines.items()},
            corners=tuple(far - x for x in self.corners[::-1]),
            angles=self.angles[::-1],
            corner_curbs=self.corner_curbs[::-1],
            ceilings=self.ceilings[::-1],
            square={"left": self.square["right"], "right": self.square["left"]}
            if self.square
            else {},
        )


def square_room(width: float = 1000.0, **shape: float) -> Room:
    """Make plumb, straight walls that far apart; a level curb, but for what `shape` says of it."""
    heights = np.array(NODES)
    zero = np.zeros(len(heights))
    return Room(
        heights=heights,
        left=zero,
        right=zero + width,
        across_left=zero,
        across_right=zero,
        curb_left=shape.get("curb_left", 0.0),
        curb_right=shape.get("curb_right", 0.0),
        pitch=shape.get("pitch", 0.0),
    )


def random_room(
    rng: np.random.Generator,
    *,
    lean_sd: float = 0.003,
    lean_most: float | None = None,
    bow_sd: float = 2.5,
    line_tilt_sd: float = 0.3e-3 / math.sqrt(3.0),
) -> Room:
    """Draw a room as they are found.

    Parameters
    ----------
    lean_sd
        Of each wall, in and across the plane, as a slope; the usual 6 mm in 2 m.
    lean_most
        If given, leans in the plane are anywhere up to this over the glass instead, mm.
    bow_sd
        At mid-height over 2 m, mm; the shop profile's.
    line_tilt_sd
        Of the plumb or laser line, rad; the cross-line laser's 0.3 mm/m.

    """
    heights = np.array(NODES)
    lean = rng.normal(0.0, lean_sd, 4)
    if lean_most is not None:
        lean[:2] = rng.uniform(-lean_most, lean_most, 2) / GLASS
    bows = bow_sd * (_bow_root() @ rng.standard_normal((len(heights) - 2, 4)))
    left, right, across_left, across_right = (lean * heights[:, None] + bows).T
    width = rng.uniform(600.0, 2400.0)
    return Room(
        heights=heights,
        left=left,
        right=width - right,
        across_left=across_left,
        across_right=across_right,
        curb_right=rng.normal(0.0, 2.0),
        pitch=rng.uniform(-0.005, 0.04),
        ceiling=rng.uniform(2300.0, 2700.0),
        lines={"laser": (rng.uniform(0.2, 0.8) * width, rng.normal(0.0, line_tilt_sd))},
    )


@cache
def _bow_root() -> Vector:
    """Root (n, n - 2) of the covariance of a bow of sd 1 at mid-height over 2 m.

    The bow is 0 at height 0 and at the top of the glass.
    An integrated Wiener process, as the kernel q s^2 (3 t - s) / 6 states it, less its chord.
    """
    z = np.array(NODES)
    s, t = np.minimum.outer(z, z), np.maximum.outer(z, z)
    kernel = 48.0 / 2000.0**3 * s**2 * (3.0 * t - s) / 6.0
    top = NODES.index(GLASS)
    chord = np.eye(len(z))
    chord[:, top] -= z / GLASS
    values, vectors = np.linalg.eigh(chord @ kernel @ chord.T)
    return np.asarray((vectors * np.sqrt(np.maximum(values, 0.0)))[:, 2:])


# --------------------------------------------------------------------------------------- readings


def usual_readings(
    unit: Unit, *, mid_leans: bool = True, diagonals: bool = False
) -> tuple[Reading, ...]:
    """List what is usually read: three widths, leans of both walls, fall and pitch; all 0 so far.

    Their ids: `width 0`, `width 38`, `width 76`; `lean left 72`, …, `lean left 38`, …; `fall`,
    `pitch`; `diagonal up`, `diagonal down` (from left to right); heights in inches.
    """
    tape = "tape-hb44" if unit == "in" else "tape"
    tall: list[Reading] = [width(h, tape) for h in (0, 38, 76)]
    tall += [lean(side, 72) for side in ("left", "right")]
    if mid_leans:
        tall += [lean(side, 38) for side in ("left", "right")]
    if diagonals:
        tall += [diagonal("up", 0, 76, tape), diagonal("down", 76, 0, tape)]
    fall = Fall(id="fall", what="fall", with_="level-24", value=Length(0))
    return (*tall, fall, Pitch(id="pitch", what="pitch", with_="level-24", value=Length(0)))


def width(inch: float, tape: str = "tape-hb44", run: int = 1) -> Width:
    """Make a width at a height in inches."""
    name = f"width {inch:g}" + (f" of run {run}" if run > 1 else "")
    return Width(id=name, what="width", run=run, at=up(inch), with_=tape, value=Length(0))


def lean(side: Side, inch: float, plane: Literal["in", "across"] = "in") -> Lean:
    """Make a lean from 0 up to a height in inches."""
    name = f"lean {side} {inch:g}" if plane == "in" else f"across {side} {inch:g}"
    level = "level-72" if inch > 48 else "level-24"
    return Lean(
        id=name,
        what="lean",
        wall=side,
        plane=plane,
        from_=up(0),
        to=up(inch),
        with_=level,
        value=Length(0),
    )


def diagonal(name: str, left: float, right: float, tape: str = "tape-hb44") -> Diagonal:
    """Make a diagonal between heights in inches."""
    return Diagonal(
        id=f"diagonal {name}",
        what="diagonal",
        left_at=up(left),
        right_at=up(right),
        with_=tape,
        value=Length(0),
    )


def offset(side: Side, inch: float) -> Offset:
    """Make an offset from the line `laser` at a height in inches."""
    return Offset(
        id=f"offset {side} {inch:g}",
        what="offset",
        wall=side,
        line="laser",
        at=up(inch),
        with_="laser-line",
        value=Length(0),
    )


def up(inch: float) -> Length:
    """Height in inches, typed so."""
    return Length(inch * INCH, f"{inch:g} in")


def read(
    room: Room,
    readings: Sequence[Reading],
    rng: np.random.Generator,
    unit: Unit,
    scatter: Scatter = "as typed",
) -> tuple[Reading, ...]:
    """Take readings in a room: each value is the true one and its scatter."""
    known = library.shipped_instruments()
    taken = []
    for reading in readings:
        true = room.reading(reading)
        over = _over(reading, room) or true
        instrument = known[reading.with_]
        if isinstance(reading, Triangle) and scatter != "none":
            true = _marked(reading, room, instrument, rng, scatter)
        if scatter == "none":
            taken.append(with_value(reading, true))
        elif scatter == "normal":
            taken.append(
                with_value(reading, true + rng.normal(0.0, _sd(reading, instrument, over)))
            )
        else:
            turned = isinstance(reading, CornerAngle | Corner | Square)
            limit = math.radians(instrument.error_deg)
            limit = limit if turned else _limit(reading, instrument, over)
            seat = instrument.seating / ARM if turned else instrument.seating
            error = rng.uniform(-1.0, 1.0) * limit + rng.uniform(-1.0, 1.0) * seat
            taken.append(typed(reading, true + error, unit, instrument.resolution))
    return tuple(taken)


def with_value(reading: Reading, value: float, text: str = "") -> Reading:
    """Give a reading a value, mm (rad), typed as `text`."""
    turned = isinstance(reading, CornerAngle | Corner | Square)
    known = Angle(value, text) if turned else Length(value, text)
    return reading.model_copy(update={"value": known})


def typed(reading: Reading, value: float, unit: Unit, step: float) -> Reading:
    """Give a reading its value as a person types it: a fraction of an inch, or mm to the step."""
    if isinstance(reading, CornerAngle | Corner | Square):
        degrees = round(math.degrees(value) / step) * step
        return with_value(reading, math.radians(degrees), f"{degrees:.2f}°")
    if unit == "in":
        parts = 16 if step > 1.0 else 32
        return with_value(reading, round(value / INCH * parts) / parts * INCH, inches(value, parts))
    rounded = round(value / step) * step
    return with_value(reading, rounded, f"{rounded:g} mm")


def changed(readings: Sequence[Reading], name: str, by: float, unit: Unit) -> tuple[Reading, ...]:
    """Plant a slip: make one reading longer by so many mm, and type it anew."""
    step = 1.5875 if unit == "in" else 1.0
    return tuple(typed(r, r.value + by, unit, step) if r.id == name else r for r in readings)


def flipped(readings: Sequence[Reading], name: str) -> tuple[Reading, ...]:
    """Plant a slip: turn the sign of one reading."""
    return tuple(with_value(r, -r.value) if r.id == name else r for r in readings)


def _over(reading: Reading, room: Room) -> float:
    match reading:
        case Lean():
            return reading.to - reading.from_
        case Fall(over=over, run=run):
            return over or room.width(0.0, run)
        case Pitch(over=over):
            return over or CURB_WIDTH
        case _:
            return 0.0


def _limit(reading: Reading, instrument: Instrument, over: float) -> float:
    """Class error over a length, half-width; the error of a plumb or laser line is in its tilt."""
    if "level" in instrument.kind:
        return instrument.slope_error * over
    if isinstance(reading, Offset):
        return 0.0
    return instrument.length_error(1.0 if isinstance(reading, Bow) else over)


def _marked(
    reading: Triangle,
    room: Room,
    instrument: Instrument,
    rng: np.random.Generator,
    scatter: Scatter,
) -> float:
    """Third side of a triangle whose legs are marked as well as the instrument allows."""
    legs = []
    for leg in (reading.before, reading.after):
        limit, step = instrument.length_error(leg), instrument.resolution / 2
        parts = np.array([limit, instrument.seating, step])
        if scatter == "normal":
            legs.append(leg + rng.normal(0.0, float(np.hypot.reduce(parts)) / math.sqrt(3.0)))
        else:
            legs.append(leg + float(rng.uniform(-parts, parts).sum()))
    return room.third_side(reading, legs[0], legs[1])


def _sd(reading: Reading, instrument: Instrument, over: float) -> float:
    if isinstance(reading, CornerAngle | Corner | Square):
        step, seat = math.radians(instrument.resolution) / 2, instrument.seating / ARM
        return math.hypot(math.radians(instrument.error_deg), step, seat) / math.sqrt(3.0)
    limits = _limit(reading, instrument, over), instrument.seating, instrument.resolution / 2
    return math.hypot(*limits) / math.sqrt(3.0)


# ---------------------------------------------------------------------------------- cornered rooms


def turned(*degrees: float) -> tuple[WantedLite, ...]:
    """Wish for one pane a run, a door first, with corners of these nominal inside angles."""
    corners = (Turn(angle=Angle(math.radians(d), f"{d:g}°")) for d in degrees)
    return WantedLite(kind="door"), *(WantedLite(kind="fixed", turn=turn) for turn in corners)


def cornered_room(
    rng: np.random.Generator, *degrees: float, angle_sd: float = math.radians(1.5)
) -> Room:
    """Draw a room whose glass line turns at these inside angles, more or less."""
    room = random_room(rng)
    lengths = rng.uniform(600.0, 1500.0, len(degrees) + 1)
    foot = room.x("right", 0.0)
    curbs = np.cumsum(rng.normal(0.0, 2.0, len(lengths)))
    return replace(
        room,
        right=room.right - foot + lengths.sum(),
        corners=tuple(np.cumsum(lengths)[:-1].tolist()),
        angles=tuple(math.radians(d) + rng.normal(0.0, angle_sd) for d in degrees),
        corner_curbs=tuple(curbs[:-1].tolist()),
        curb_right=float(curbs[-1]),
        ceilings=tuple(rng.uniform(2200.0, 2700.0, len(degrees) + 2).tolist()),
        square={side: rng.normal(0.0, math.radians(1.0)) for side in ("left", "right")},
    )


def corner_readings(unit: Unit, corners: int = 1) -> tuple[Reading, ...]:
    """List what is usually read of a line with corners; all 0 so far.

    Ids: `width 0`, `width 38`, `width 76`, and so on of every run, as `width 0 of run 2`; leans as
    usual; `fall 1`, `fall 2`; `corner 1`, `triangle 1`; `ceiling left`, `ceiling corner 1`, … ;
    `square left`, `square right`; `pitch`.
    """
    tape = "tape-hb44" if unit == "in" else "tape"
    runs = range(1, corners + 2)
    read: list[Reading] = [width(h, tape, run) for run in runs for h in (0, 38, 76)]
    read += [lean(side, h) for side in ("left", "right") for h in (38, 72)]
    read += [
        Fall(id=f"fall {run}", what="fall", run=run, with_="level-24", value=Length(0))
        for run in runs
    ]
    for k in range(1, corners + 1):
        read += [finder(k), triangle(k, tape)]
    stations: list[Station] = ["left", *(f"corner {k}" for k in range(1, corners + 1)), "right"]  # type: ignore[list-item]
    read += [ceiling(at, tape) for at in stations]
    read += [square(side) for side in ("left", "right")]
    return (*read, Pitch(id="pitch", what="pitch", with_="level-24", value=Length(0)))


def finder(corner: int) -> Corner:
    """Make a reading of a corner's angle with an angle finder."""
    return Corner(
        id=f"corner {corner}",
        what="corner",
        corner=corner,
        with_="angle-finder",
        value=Angle(0.0),
    )


def triangle(
    corner: int, tape: str = "tape-hb44", before: float = 18, after: float = 24
) -> Triangle:
    """Make a triangle at a corner, legs in inches."""
    return Triangle(
        id=f"triangle {corner}",
        what="triangle",
        corner=corner,
        before=up(before),
        after=up(after),
        with_=tape,
        value=Length(0),
    )


def ceiling(at: Station, tape: str = "tape-hb44") -> Height:
    """Make a height of the ceiling."""
    return Height(
        id=f"ceiling {at}", what="height", of="ceiling", at=at, with_=tape, value=Length(0)
    )


def square(side: Side) -> Square:
    """Make an angle in plan between a wall and the glass line."""
    return Square(
        id=f"square {side}", what="square", wall=side, with_="angle-finder", value=Angle(0.0)
    )


# ------------------------------------------------------------------------------------------ brief


def brief(
    readings: Sequence[Reading],
    *,
    unit: Unit = "in",
    walls: tuple[Side, ...] = ("left", "right"),
    lites: Sequence[Literal["door", "fixed"] | WantedLite] = ("door",),
    steps: Sequence[Step] = (),
    height: float = GLASS,
    datum: Literal["curb left", "curb right", "mark"] = "curb left",
    profile: Profile | None = None,
) -> Brief:
    """Wrap readings into the brief of an otherwise ordinary job."""
    chosen = profile or library.shipped_profiles()["inch-shop"]
    job = Job(
        hangtrue=1,
        job=Head(id="made-up"),
        unit=unit,
        datum=datum,
        walls=Walls(
            left=Wall(behind="masonry") if "left" in walls else None,
            right=Wall(behind="masonry") if "right" in walls else None,
        ),
        threshold=Threshold(height=Length(100), width=Length(CURB_WIDTH)),
        steps=tuple(steps),
        wanted=Wanted(
            lites=tuple(
                lite if isinstance(lite, WantedLite) else WantedLite(kind=lite) for lite in lites
            ),
            height=Length(height),
        ),
        readings=tuple(readings),
    )
    return Brief(
        job=job,
        profile=chosen,
        items=library.shipped_items(),
        instruments=library.shipped_instruments(),
    )
