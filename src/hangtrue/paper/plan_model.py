"""The plan as a public document: what other programs may rely on, whatever the inside becomes."""

from __future__ import annotations

from typing import Literal

from pydantic import BaseModel, ConfigDict, Field

PLAN_FORMAT: Literal[1] = 1
Pair = tuple[float, float]
Place = tuple[float, float, float]
Ways = Literal["in", "out"]
SIDES = Literal["left", "right"]


class Part(BaseModel):
    """A part of the plan document: mm, rad and kg, unless a field says otherwise."""

    model_config = ConfigDict(frozen=True, extra="forbid")


class Known(Part):
    """A value and how well it is known."""

    value: float = Field(description="Best value")
    sd: float = Field(ge=0, description="Standard deviation, in the unit of the value")


class HeadPart(Part):
    """Whose job it is."""

    id: str = Field(description="Name of the job")
    title: str = Field(description="Title of the job")
    room: str = Field(description="Room")
    version: int = Field(ge=1, description="Version of the job")
    date: str = Field(description="Date of this version, as written in the job")
    made_by: str = Field(description="Who made it")
    customer: str = Field(description="For whom")


class VerdictPart(Part):
    """What may be done now."""

    code: Literal["GOES", "ASK_FIRST", "CURE_FIRST", "MUST_NOT", "NO_FIT", "READ_AGAIN"] = Field(
        description="Verdict, from the best to the worst"
    )
    sentence: str = Field(description="The verdict as said to a customer")
    may_order: bool = Field(description="False where glass must not be ordered as things stand")


class FindingPart(Part):
    """One rule applied once."""

    rule: str = Field(description="Permanent id of the rule")
    level: Literal["PASS", "NOTE", "NOT_CHECKED", "WARN", "FAIL"] = Field(
        description="How bad, from the best to the worst"
    )
    where: str = Field(description="Place, in words")
    found: str = Field(description="What was found")
    means: str = Field(description="What it means; may be empty")
    do: str = Field(description="What to do; may be empty")
    unit: Literal["mm", "deg", "kg", "mm2", "mm/m", "N", "MPa", "Nm", ""] = Field(
        description="Unit of value, limit and margin; empty for a plain number or none"
    )
    value: Known | None = Field(description="The figure that was judged; null where there is none")
    limit: float | None = Field(description="Its limit; null where there is none")
    at_most: bool = Field(
        description="True where the limit is an upper one, false where it is a lower one"
    )
    margin: float | None = Field(
        description="How far the value is on the good side of the limit; negative where missed"
    )
    probability: float | None = Field(
        ge=0, le=1, description="Probability that the limit is met; null where there is no figure"
    )
    source: str = Field(description="Id of the source of the limit")
    source_text: str = Field(description="The source as it is printed")


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


class ChoicePart(Part):
    """What an alternative decides of what the wishes left open."""

    order: tuple[str, ...] = Field(description="Kinds of panes from left to right")
    hinge_side: SIDES | None = Field(
        description="Hinge side seen from outside; null without a door"
    )
    hung_on: Literal["wall", "glass"] | None = Field(description="What carries the door")
    thickness: float = Field(description="Nominal glass thickness")
    cut: Literal["raked", "square", "boxed"] = Field(description="How the panes are cut")
    mirrored: bool = Field(description="Built left for right of how it was written down")
    second: tuple[SIDES, Literal["wall", "glass"]] | None = Field(
        description="Hinge side of a second door and what carries it; null without one"
    )
    split: tuple[str, ...] = Field(
        description="Steps above whose riser a pane was made into two rather than notched"
    )


class HolePart(Part):
    """A round hole."""

    centre: Pair = Field(description="x and y of the centre from the datum corner")
    diameter: float = Field(description="Diameter")
    fitting: str = Field(description="What it is for")


class NotchPart(Part):
    """A cut-out in an edge."""

    corners: tuple[Pair, ...] = Field(description="Corners from the datum corner, anticlockwise")
    radius: float = Field(description="Radius of its inside corners")
    fitting: str = Field(
        description="What it is for: a fitting, or the name of a step or of a wall's projection"
    )
    of: Literal["fitting", "step", "projection"] = Field(
        description="step: the foot of the pane steps over what stands below"
    )


class EdgePart(Part):
    """One edge of a pane."""

    where: Literal["left", "right", "top", "bottom"] = Field(description="Which edge, from outside")
    length: float = Field(description="Finished length")
    rake: float = Field(
        description="Out of square; + where the upper end lies right, or the right end higher"
    )
    finish: str = Field(description="Edge work")
    meets: str = Field(description="What it faces")
    bevel: float = Field(
        description="Grind from square in plan, rad; + where the outside face is the longer one"
    )
    points: tuple[Pair, ...] = Field(
        description="A scribed edge from its lower end up; empty where it is one straight cut"
    )


class StepPart(Part):
    """One step from the opening to the glass."""

    what: str = Field(description="What is taken off or added")
    amount: float = Field(description="Amount; negative where it is taken off")


class ChainPart(Part):
    """Deduction chain of one size: opening plus all steps is the glass."""

    size: str = Field(description="Which size")
    at_height: float = Field(description="Height above the datum at which it holds")
    opening: float = Field(description="The opening there")
    steps: tuple[StepPart, ...] = Field(description="Steps in order")
    glass: float = Field(description="The size of the glass")


class PanePart(Part):
    """One pane, seen from outside; x right and y up from its datum corner at the bottom left."""

    id: str = Field(description="Name of the pane")
    kind: Literal["door", "fixed", "transom"] = Field(
        description="Door, fixed pane, or the pane over a door"
    )
    run: int = Field(description="Straight part of the glass line that it stands in, from 1")
    thickness: float = Field(description="Nominal thickness")
    corners: tuple[Pair, Pair, Pair, Pair] = Field(
        description="Corners of the blank: bottom left, bottom right, top right, top left"
    )
    width_bottom: float = Field(description="Width along the bottom")
    width_top: float = Field(description="Width along the top")
    height_left: float = Field(description="Height of the left edge, upright")
    height_right: float = Field(description="Height of the right edge, upright")
    inside_corners: tuple[Pair, Pair, Pair, Pair] = Field(
        description="Corners of the face toward the shower; other than `corners` at a mitre"
    )
    outline: tuple[Pair, ...] = Field(description="Outline with its cut-outs, anticlockwise")
    lower: tuple[Pair, ...] = Field(
        description="Lower edge from left to right where the foot steps; empty where it is straight"
    )
    holes: tuple[HolePart, ...] = Field(description="Round holes")
    notches: tuple[NotchPart, ...] = Field(description="Cut-outs in the edges")
    edges: tuple[EdgePart, ...] = Field(description="The four edges")
    chains: tuple[ChainPart, ...] = Field(description="Deduction chain of every size")
    origin: Pair = Field(
        description="Where the datum corner stands in the room: x, and z above the datum"
    )
    shifts: Pair = Field(
        description="How far it stands off its glass line at its left and right edge, + inward"
    )
    hinge_side: SIDES | None = Field(description="Hinge side of a door, from outside")
    hung_on: Literal["wall", "glass"] | None = Field(description="What carries a door")
    hinge_heights: tuple[float, ...] = Field(description="Heights of the hinge centres")
    area: float = Field(description="Area of glass, mm2")
    centroid: Pair = Field(description="Centre of mass from the datum corner")
    mass_kg: float = Field(description="Mass by nominal thickness, kg")


class GapPart(Part):
    """The gap of a joint at one place."""

    at: float = Field(description="Height above the datum, or x for a level joint")
    mean: float = Field(description="Predicted gap when set as planned")
    sd: float = Field(ge=0, description="Its standard deviation: survey, plant and setting")
    least: float = Field(description="Least gap that works")
    usual: float = Field(description="Best gap")
    most: float = Field(description="Greatest gap that works")
    margin: float = Field(
        description="Distance to the nearer end of the range; negative where outside"
    )
    at_fitting: bool = Field(description="A hinge, plate or clamp sits here")


class CornerPart(Part):
    """Where the glass line turns, and how the two panes meet there."""

    number: int = Field(description="From 1, from left to right")
    angle: float = Field(description="Inside angle, rad")
    way: Ways = Field(description="Going left to right: toward the shower, or away from it")
    joint: Literal["butt", "mitre", "clamp", "hinge"] = Field(description="How the panes meet")
    laps: str | None = Field(description="Butt: pane that covers the other's edge; else null")


class RunPart(Part):
    """A straight part of the glass line and where it lies in plan."""

    number: int = Field(description="From 1, from left to right")
    start: float = Field(description="Its left end along the developed glass line")
    end: float = Field(description="Its right end along the developed glass line")
    origin: Pair = Field(
        description="Its left end in plan: x along the front run, y into the shower"
    )
    heading: float = Field(description="Its direction in plan, rad from x toward y")


class JointPart(Part):
    """Where a pane meets something."""

    id: str = Field(description="Name of the joint")
    kind: Literal["hinge", "channel", "clamp", "strike", "sweep", "silicone", "open"] = Field(
        description="Kind of joint"
    )
    between: tuple[str, str] = Field(description="What meets what")
    hardware: str = Field(description="Id of the hardware in it")
    gaps: tuple[GapPart, ...] = Field(description="Gaps along it")
    level: bool = Field(description="Along an edge that is level or nearly")
    corner: CornerPart | None = Field(
        description="The corner of the glass line it lies in; null in a straight run"
    )


class MarginPart(Part):
    """The least margin of all gaps."""

    sigmas: float | None = Field(
        description="In standard deviations of that gap; null where it is exact"
    )
    mm: float = Field(description="In mm; negative where it does not fit")
    joint: str = Field(description="Which joint")
    at: float = Field(description="Where on it")


class BarPart(Part):
    """A header or a support bar."""

    id: str = Field(description="Name of the bar")
    kind: Literal["header", "support"] = Field(description="Along the glass, or from it")
    hardware: str = Field(description="Id of the fitting")
    run: int = Field(description="Straight part of the glass line it belongs to")
    holds: str = Field(description="The pane that it holds")
    to: str = Field(description="What its other end is fixed to")
    ends: tuple[Place, Place] = Field(
        description="x along the front run, y into the shower, z above the datum, of both ends"
    )
    length: Known = Field(description="What is cut")
    chain: ChainPart = Field(description="How the length comes about")


class EnclosurePart(Part):
    """Panes and joints that go in."""

    fits: Literal[True] = Field(True, description="It goes in")
    choice: ChoicePart = Field(description="What was decided")
    panes: tuple[PanePart, ...] = Field(description="Panes from left to right, then transoms")
    joints: tuple[JointPart, ...] = Field(description="All joints")
    runs: tuple[RunPart, ...] = Field(description="The glass line folded into plan")
    bars: tuple[BarPart, ...] = Field(description="Headers and support bars")
    margin: MarginPart = Field(description="The least margin of all gaps")


class ClashPart(Part):
    """One of the requirements that cannot all be met."""

    requirement: str = Field(description="The requirement in words")
    joint: str = Field(description="At which joint")
    at: float = Field(description="Where on it")


class NoFitPart(Part):
    """Nothing goes in this way."""

    fits: Literal[False] = Field(False, description="It does not go in")
    choice: ChoicePart = Field(description="What was decided")
    missing: float = Field(description="mm that the worst requirement lacks")
    clashes: tuple[ClashPart, ...] = Field(description="Requirements that contradict each other")
    why: str = Field(description="Why, in a sentence")


Made = EnclosurePart | NoFitPart


class AlternativePart(Part):
    """One way to build what was asked for, with what the rules found."""

    verdict: VerdictPart = Field(description="Verdict on this way")
    made: Made = Field(description="Panes and joints, or why nothing fits")
    squared: Made | None = Field(
        description="The same cut square; null where it is square or boxed"
    )
    findings: tuple[FindingPart, ...] = Field(description="Everything the rules found, worst first")


class ProblemPart(Part):
    """Something odd in the job document."""

    line: int | None = Field(
        description="Line of the document, from 1; null for the whole document"
    )
    field: str = Field(description="Where it stands")
    wrong: str = Field(description="What is odd")
    do: str = Field(description="What to do")
    level: Literal["wrong", "sure?"] = Field(description="Wrong, or only asked about")


class PlanDocument(Part):
    """A whole plan: what was read, what was made of it, and whether it may be built."""

    hangtrue_plan: Literal[1] = Field(description="Version of this format")
    program: str = Field(description="Version of the program that made it")
    job: HeadPart = Field(description="Whose job it is")
    verdict: VerdictPart = Field(description="Verdict on the best way")
    opening: OpeningPart = Field(description="The opening as adjusted from the readings")
    best: AlternativePart = Field(description="The way to build it")
    others: tuple[AlternativePart, ...] = Field(description="Every other way, best first")
    problems: tuple[ProblemPart, ...] = Field(description="What was odd in the job document")
