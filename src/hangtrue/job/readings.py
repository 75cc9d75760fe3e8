"""Readings: one measurement each, with what was read, where, with what, by whom and when.

Heights are above the datum of the job. Signs: a lean or a bow *into* the opening is positive; words
(`toward`, `falls`) may carry the sign instead, and then the value is written without one.
"""

from __future__ import annotations

import math
from typing import Annotated, Literal

from pydantic import Discriminator, Field

from hangtrue.job.quantity import Angle, Length, LengthOrSlope, Model
from hangtrue.job.room import MOST_PANES

Side = Literal["left", "right"]
Station = Literal[
    "left",
    "middle",
    "right",
    "corner 1",
    "corner 2",
    "corner 3",
    "corner 4",
    "corner 5",
    "corner 6",
    "corner 7",
]
"""Places along the glass line; corners counted from the left."""
Toward = Literal["in", "out"]


class _Reading(Model):
    """What every reading carries."""

    id: str = Field(
        "",
        description="Short name; given by the program as r1, r2 … where none is written",
        examples=["w1"],
    )
    with_: str = Field(
        "tape",
        alias="with",
        description="Instrument, by its id; the usual one for the reading where none is written",
        examples=["tape"],
    )
    by: str = Field("", description="Who read it", examples=["Ines"])
    on: str = Field("", description="When it was read", examples=["2026-05-04 10:20"])
    note: str = Field("", description="Anything worth keeping", examples=["over the raised grout"])


class Width(_Reading):
    """Clear width of a run, level, along the glass line: from wall to wall, or to a corner.

    A corner is a plumb line over its mark on the curb.
    """

    what: Literal["width"] = Field(description="What was read", examples=["width"])
    run: int = Field(
        1,
        ge=1,
        le=MOST_PANES,
        description="Straight part of the glass line, counted from the left",
        examples=[2],
    )
    at: Length = Field(description="Height above the datum", examples=["4 in"])
    value: Length = Field(
        description="Wall to wall, or to the corner's plumb line", examples=['58-1/2"']
    )


class Lean(_Reading):
    """How far a wall is out of plumb from one height to another."""

    what: Literal["lean"] = Field(description="What was read", examples=["lean"])
    wall: Side = Field(description="Which wall, seen from outside", examples=["left"])
    plane: Literal["in", "across"] = Field(
        "in",
        description="`in` the plane of the glass (+ into the opening), or `across` it "
        "(+ top into the shower)",
        examples=["in"],
    )
    from_: Length = Field(alias="from", description="Lower height", examples=["0 in"])
    to: Length = Field(description="Upper height", examples=["72 in"])
    toward: Toward | None = Field(
        None,
        description="Top leans `in` or `out`; then the value has no sign",
        examples=["in"],
    )
    value: LengthOrSlope = Field(
        description="Out of plumb over from–to, or a slope", examples=["1/4 in"]
    )


class Offset(_Reading):
    """Level distance from a plumb line or an upright laser line to a wall, along the glass."""

    what: Literal["offset"] = Field(description="What was read", examples=["offset"])
    wall: Side = Field(description="Which wall, seen from outside", examples=["left"])
    line: str = Field(
        description="Name of the line: offsets from one line belong together",
        examples=["laser 1"],
    )
    at: Length = Field(description="Height above the datum", examples=["36 in"])
    value: Length = Field(description="Line to wall", examples=["6-1/8 in"])


class Bow(_Reading):
    """Gap between a straightedge from one height to another and the wall."""

    what: Literal["bow"] = Field(description="What was read", examples=["bow"])
    wall: Side = Field(description="Which wall, seen from outside", examples=["left"])
    from_: Length = Field(
        alias="from", description="Lower end of the straightedge", examples=["4 in"]
    )
    to: Length = Field(description="Upper end", examples=["76 in"])
    at: Length | None = Field(
        None,
        description="Height of the gap; the middle if not written",
        examples=["40 in"],
    )
    toward: Toward | None = Field(
        None,
        description="Wall bellies `in` or `out`; then the value has no sign",
        examples=["in"],
    )
    value: Length = Field(
        description="Gap, + where the wall bellies into the opening", examples=["1/16 in"]
    )


class Diagonal(_Reading):
    """Straight distance between a point at the left end of a run and a point at its right end."""

    what: Literal["diagonal"] = Field(description="What was read", examples=["diagonal"])
    run: int = Field(
        1,
        ge=1,
        le=MOST_PANES,
        description="Straight part of the glass line, counted from the left",
        examples=[2],
    )
    left_at: Length = Field(description="Height of the left end", examples=["0 in"])
    right_at: Length = Field(description="Height of the right end", examples=["72 in"])
    value: Length = Field(description="Point to point", examples=['92-3/4"'])


class Fall(_Reading):
    """How far the curb is out of level along the glass line."""

    what: Literal["fall"] = Field(description="What was read", examples=["fall"])
    run: int = Field(
        1,
        ge=1,
        le=MOST_PANES,
        description="Straight part of the glass line, counted from the left",
        examples=[2],
    )
    falls: Side | None = Field(
        None, description="The lower end; then the value has no sign", examples=["right"]
    )
    over: Length | None = Field(
        None,
        description="Length it was read over; the whole curb if not written",
        examples=["24 in"],
    )
    value: LengthOrSlope = Field(
        description="Fall over that length, + where the right end is lower", examples=["1/16 in"]
    )


class Pitch(_Reading):
    """How the top of the curb slopes across, at the glass line."""

    what: Literal["pitch"] = Field(description="What was read", examples=["pitch"])
    run: int = Field(
        1,
        ge=1,
        le=MOST_PANES,
        description="Straight part of the glass line, counted from the left",
        examples=[2],
    )
    falls: Toward | None = Field(
        None,
        description="`in` to the shower or `out` of it; then the value has no sign",
        examples=["in"],
    )
    over: Length | None = Field(
        None,
        description="Width it was read over; the curb's width if not written",
        examples=["4 in"],
    )
    value: LengthOrSlope = Field(
        description="Fall over that width, + into the shower", examples=["1/4 in per ft"]
    )


class Height(_Reading):
    """Height of the curb or the ceiling above the datum."""

    what: Literal["height"] = Field(description="What was read", examples=["height"])
    of: Literal["curb", "ceiling"] = Field(description="Height of what", examples=["ceiling"])
    at: Station = Field("left", description="Where along the glass line", examples=["middle"])
    value: Length = Field(description="Above the datum", examples=["94 in"])


class CornerAngle(_Reading):
    """Inside angle between the curb and a wall, in the plane of the glass, at the wall's foot."""

    what: Literal["angle"] = Field(description="What was read", examples=["angle"])
    wall: Side = Field(description="Which wall, seen from outside", examples=["left"])
    value: Angle = Field(
        description="90° where square; less where the wall leans in", examples=["89.6°"]
    )


class Corner(_Reading):
    """Inside angle in plan between two runs of the glass line, at the marks on the curb."""

    what: Literal["corner"] = Field(description="What was read", examples=["corner"])
    corner: int = Field(
        1, ge=1, lt=MOST_PANES, description="Which corner, counted from the left", examples=[1]
    )
    value: Angle = Field(description="On the shower's side", examples=["90.4°"])


class Triangle(_Reading):
    """Straight distance between two points on the two glass lines of a corner: 3-4-5."""

    what: Literal["triangle"] = Field(description="What was read", examples=["triangle"])
    corner: int = Field(
        1, ge=1, lt=MOST_PANES, description="Which corner, counted from the left", examples=[1]
    )
    before: Length = Field(
        description="Leg from the corner to the left, along the glass line", examples=["36 in"]
    )
    after: Length = Field(
        description="Leg from the corner to the right, along the glass line", examples=["48 in"]
    )
    value: Length = Field(description="From end to end of the legs", examples=["60-1/8 in"])

    @property
    def angle(self) -> float:
        """Inside angle by the law of cosines, rad; not a number where no triangle has such sides.

        cos angle = (before² + after² − value²) / (2 before after)
        """
        both = 2 * self.before * self.after
        cosine = (self.before**2 + self.after**2 - self.value**2) / both if both else math.nan
        return math.acos(cosine) if abs(cosine) <= 1 else math.nan


class Square(_Reading):
    """Inside angle in plan between a wall's face and the glass line, at the curb."""

    what: Literal["square"] = Field(description="What was read", examples=["square"])
    wall: Side = Field(description="Which wall, seen from outside", examples=["left"])
    value: Angle = Field(
        description="On the shower's side: 90° where square, more where it widens inside",
        examples=["90.5°"],
    )


Reading = Annotated[
    Width
    | Lean
    | Offset
    | Bow
    | Diagonal
    | Fall
    | Pitch
    | Height
    | CornerAngle
    | Corner
    | Triangle
    | Square,
    Discriminator("what"),
]
