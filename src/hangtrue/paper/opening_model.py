"""The opening as a public document: its shape, how well it is known, how the readings agree."""

from __future__ import annotations

from typing import Literal

from pydantic import BaseModel, ConfigDict, Field

SIDES = Literal["left", "right"]


class Part(BaseModel):
    """A part of the plan document: mm, rad and kg, unless a field says otherwise."""

    model_config = ConfigDict(frozen=True, extra="forbid")


class Known(Part):
    """A value and how well it is known."""

    value: float = Field(description="Best value")
    sd: float = Field(ge=0, description="Standard deviation, in the unit of the value")


class ResidualPart(Part):
    """How one reading agrees with all others. Lengths in mm; corner angles in rad."""

    reading: str = Field(description="Id of the reading")
    what: str = Field(description="Kind of the reading")
    typed: str = Field(description="The value as it was written in the job")
    observed: float = Field(description="Value as read, with its sign")
    adjusted: float = Field(description="Value in the adjusted opening")
    sigma: float = Field(ge=0, description="Standard uncertainty of the reading")
    redundancy: float = Field(
        description="Share of a slip that would show: 0 unchecked, 1 wholly checked"
    )
    normalised: float = Field(
        description="Residual over its standard deviation; 0 where nothing checks it"
    )
    detectable: float | None = Field(
        description="Least slip that would be noticed; null where nothing checks the reading"
    )
    set_aside: bool = Field(
        description="True where the reading was left out because its slip was named"
    )


class SuspectPart(Part):
    """One explanation of a disagreement."""

    reading: str = Field(description="Id of the suspected reading")
    slip: str = Field(description="The slip in words")
    corrected: float = Field(description="Value without the slip, mm or rad")
    probability: float = Field(
        ge=0, le=1, description="Probability among all explanations considered"
    )


class NextReadingPart(Part):
    """A reading worth taking."""

    words: str = Field(description="What to do")
    why: Literal["decides", "narrows"] = Field(
        description="Decides between suspects, or narrows the opening"
    )
    gain: float = Field(
        description="decides: separation of the suspects in standard deviations; "
        "narrows: share of the variance of the width that it takes away"
    )


class AgreementPart(Part):
    """Whether the readings agree with each other."""

    chi_square: float = Field(description="Sum of squared weighted residuals")
    degrees_of_freedom: float = Field(description="Degrees of freedom of the test")
    probability: float = Field(
        description="Chance of as bad a disagreement from honest scatter alone"
    )
    level: float = Field(description="Level of the test")
    alarm: bool = Field(description="True where the readings disagree")
    named: SuspectPart | None = Field(
        description="The one explanation that stands out; null for none"
    )
    suspects: tuple[SuspectPart, ...] = Field(description="Explanations, most probable first")
    decider: NextReadingPart | None = Field(
        description="The reading that would decide between suspects; null for none"
    )


class CornerMarkPart(Part):
    """A corner of the glass line as measured: a plumb mark on the curb."""

    number: int = Field(description="From 1, from left to right")
    x: Known = Field(description="Place along the developed glass line")
    angle: Known = Field(description="Inside angle, rad")


class StandingPart(Part):
    """A step under the glass as measured: knee wall, bench, buttress, tub deck, raised base."""

    name: str = Field(description="What people call it")
    run: int = Field(description="Straight part of the glass line that it stands in")
    left: Known = Field(description="Left riser along the developed glass line, or the run's end")
    right: Known = Field(description="Right riser, or the run's end")
    top_left: Known = Field(description="Height of its cap at the left")
    top_right: Known = Field(description="Height of its cap at the right")
    overhang_left: float = Field(description="How far the cap stands out beyond its left riser")
    overhang_right: float = Field(description="How far beyond its right riser")


class OpeningPart(Part):
    """The adjusted opening. x to the right along the glass line, z up, seen from outside.

    Where the line turns, x runs along its runs laid flat, one after the other.
    """

    unknowns: tuple[str, ...] = Field(
        description="Name of each entry of the shape: `left Z` and `right Z` are the walls' faces "
        "at height Z, `across SIDE` leans across (rad), `curb …` heights, `corner K`, `angle K` "
        "(rad), `square SIDE` (rad from square), `pitch` (rad), `ceiling …`, `step NAME …`"
    )
    walls: tuple[SIDES, ...] = Field(description="Walls that are there")
    heights: tuple[float, ...] = Field(
        description="Heights of the wall nodes above the datum, rising"
    )
    shape: tuple[float, ...] = Field(description="Value of each unknown")
    covariance: tuple[tuple[float, ...], ...] = Field(
        description="Covariance of the unknowns, row by row, in the order of `unknowns`"
    )
    residuals: tuple[ResidualPart, ...] = Field(
        description="One for each reading, in the order of the job"
    )
    agreement: AgreementPart = Field(description="Whether the readings agree")
    advice: tuple[NextReadingPart, ...] = Field(
        description="Readings that would narrow the opening most"
    )
    corners: tuple[CornerMarkPart, ...] = Field(description="Corners, from left to right")
    steps: tuple[StandingPart, ...] = Field(description="Steps under the glass")
