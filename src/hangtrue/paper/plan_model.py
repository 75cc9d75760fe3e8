"""The plan as a public document: what other programs may rely on, whatever the inside becomes."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from hangtrue.paper.odds_model import OddsPart
from hangtrue.paper.opening_model import SIDES, Known, OpeningPart, Part

PLAN_FORMAT: Literal[1] = 1
Pair = tuple[float, float]
Place = tuple[float, float, float]
Ways = Literal["in", "out"]


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
    odds: OddsPart | None = Field(
        description="The chance that the best way has to be made again; null where nothing goes "
        "in, or before it is proved"
    )
    problems: tuple[ProblemPart, ...] = Field(description="What was odd in the job document")
