"""Hardware as data: hinges, channels, clamps, seals, handles, joints of silicone, and boxed sets.

Every gap is from the edge of the glass to the face it meets (wall, curb, or the next pane), in mm.
The shipped family is generic; the maker's own data must be entered before glass is ordered.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Discriminator, Field

from hangtrue.job.quantity import Angle, Length, Model, Typed

GAP = {"least": "1/8 in", "usual": "3/16 in", "most": "1/4 in"}
NOTCH = {"shape": "notch", "width": "41 mm", "height": "63 mm", "radius": "10 mm"}
HOLE = {"shape": "hole", "width": "12 mm", "from_edge": "60 mm"}


class GapRange(Model):
    """Working range of a gap: it may be anywhere from least to most, and is best at usual."""

    least: Length = Field(description="Smallest gap that works", examples=["1/8 in"])
    usual: Length = Field(description="Gap that looks and works best", examples=["3/16 in"])
    most: Length = Field(description="Largest gap that works", examples=["1/4 in"])


class CutOut(Model):
    """What a fitting needs taken out of the glass, at its edge or as a hole."""

    shape: Literal["notch", "hole"] = Field(
        description="Open to the edge, or round within the glass", examples=["notch"]
    )
    width: Length = Field(
        description="Into the glass from the edge, or the hole's diameter", examples=["41 mm"]
    )
    height: Length | None = Field(
        None, description="Along the edge; holes have none", examples=["63 mm"]
    )
    radius: Length | None = Field(
        None, description="Inside corner radius of a notch", examples=["10 mm"]
    )
    from_edge: Length | None = Field(
        None, description="Centre of a hole from the edge of the glass", examples=["60 mm"]
    )
    along: Length = Field(
        "0 mm",
        validate_default=True,
        description="Offset of its centre along the edge from the fitting's centre, + up or right",
        examples=["100 mm"],
    )


class _Item(Model):
    """What every fitting carries."""

    id: str = Field(description="Name by which a job chooses it", examples=["our-hinge"])
    title: str = Field(description="What it is, in words", examples=["Wall hinge, full back plate"])
    glass_least: Length = Field(
        "8 mm", validate_default=True, description="Thinnest glass it takes", examples=["10 mm"]
    )
    glass_most: Length = Field(
        "12 mm", validate_default=True, description="Thickest glass it takes", examples=["12 mm"]
    )
    source: str = Field(
        "own",
        description="Where the data are from; the shipped family is invented",
        examples=["maker's drawing of 2025"],
    )


class HingeScrew(Model):
    """The screw that goes through a hinge plate into the wall."""

    kind: Literal["wood-screw", "lag-screw"] = Field(
        "wood-screw", description="What sort of screw", examples=["wood-screw"]
    )
    size: str = Field("10", description="Its number, or a lag screw's diameter", examples=["12"])
    length: Length | None = Field(
        None,
        description="Length below the plate; the shortest that will do if not written",
        examples=["2-1/4 in"],
    )


class Hinge(_Item):
    """A hinge that clamps the glass in a cut-out, screwed to a wall or clamped to another pane."""

    kind: Literal["hinge"] = Field(description="What sort of fitting", examples=["hinge"])
    mount: Literal["wall", "glass"] = Field(
        description="Screwed to a wall, or clamped to a fixed pane", examples=["wall"]
    )
    angle: Angle = Field(
        "180°",
        validate_default=True,
        description="Glass to glass: inside angle of the two panes that it is made for",
        examples=["135°"],
    )
    gap: GapRange = Field(
        description="Glass edge to wall (or to the other pane) at the plates, without shims",
        examples=[GAP],
    )
    shim_most: Length = Field(
        "0 mm",
        validate_default=True,
        description="Most packing allowed behind a plate",
        examples=["1/8 in"],
    )
    between: GapRange = Field(
        description="Gap that may be left, or sealed, between the plates", examples=[GAP]
    )
    plate_height: Length = Field(description="Height of the plate", examples=["3-1/2 in"])
    plate_width: Length = Field(description="Width of the plate", examples=["2 in"])
    screws: int = Field(ge=0, description="Screws per plate", examples=[4])
    screw_rows: Length = Field(
        "0 mm",
        validate_default=True,
        description="Distance of upper and lower screw rows",
        examples=["2-1/2 in"],
    )
    cut_outs: tuple[CutOut, ...] = Field(
        description="In the door's glass, at each hinge", examples=[[NOTCH]]
    )
    other_cut_outs: tuple[CutOut, ...] = Field(
        (), description="In the pane that carries a glass hinge, at each hinge", examples=[[NOTCH]]
    )
    mass_kg: float = Field(
        gt=0, description="Greatest door mass for two hinges, kg", examples=[36.0]
    )
    mass_third_kg: float | None = Field(
        None, gt=0, description="Greatest door mass for three hinges, kg", examples=[54.0]
    )
    door_width_most: Length = Field(description="Greatest door width", examples=["28 in"])
    screw_columns: Length | None = Field(
        None,
        description="Distance of left and right screw columns; half the plate if not written",
        examples=["1 in"],
    )
    plate_offset: Length | None = Field(
        None,
        description="Middle of its plate from the glass line, + into the shower; on it if not "
        "written",
        examples=["5/16 in"],
    )
    screw: HingeScrew = Field(
        HingeScrew(), description="Screw through its plate", examples=[{"size": "12"}]
    )
    pivot: Length | None = Field(
        None,
        description="Pivot from the face of the wall; anywhere in the cut-out if not written",
        examples=["30 mm"],
    )
    holding_torque: float | None = Field(
        None,
        ge=0,
        description="Torque that the hinges together hold the door against, N m",
        examples=[1.5],
    )
    closing_adjust_deg: float = Field(
        0.0,
        ge=0,
        description="Range of the closing position, each way, degrees",
        examples=[5.0],
    )
    swing: Literal["both", "one way"] = Field(
        "both", description="Whether it opens both ways", examples=["both"]
    )


class Channel(_Item):
    """A U-channel that takes the edge of a fixed pane."""

    kind: Literal["channel"] = Field(description="What sort of fitting", examples=["channel"])
    depth: Length = Field(description="Inside depth, from its floor to its lips", examples=["1 in"])
    base: Length = Field(
        description="Thickness between the wall and its floor", examples=["1/16 in"]
    )
    bite_least: Length = Field(description="Least glass inside the lips", examples=["3/8 in"])
    floor_gap_least: Length = Field(
        description="Least gap between the glass and the floor", examples=["1/8 in"]
    )


class Clamp(_Item):
    """A clamp that holds a fixed pane to a wall or a curb, with an open or sealed joint."""

    kind: Literal["clamp"] = Field(description="What sort of fitting", examples=["clamp"])
    angle: Angle = Field(
        "180°",
        validate_default=True,
        description="Glass to glass: inside angle of the two panes that it is made for",
        examples=["135°"],
    )
    gap: GapRange = Field(description="Glass edge to wall or curb", examples=[GAP])
    plate_height: Length = Field(description="Height of the clamp", examples=["1-3/4 in"])
    cut_outs: tuple[CutOut, ...] = Field(
        (), description="In the pane's glass, at each clamp", examples=[[HOLE]]
    )
    count: int = Field(2, ge=1, description="How many hold one edge", examples=[2])
    screws: int = Field(1, ge=0, description="Screws per clamp", examples=[1])
    screw_columns: Length | None = Field(
        None,
        description="Distance of its outer screws across the glass; half its height if not written",
        examples=["1 in"],
    )
    plate_offset: Length | None = Field(
        None,
        description="Middle of its screws from the glass line, + into the shower; on it if not "
        "written",
        examples=["1/4 in"],
    )


class Seal(_Item):
    """A strip on the edge of a door: strike seal or sweep."""

    kind: Literal["seal"] = Field(description="What sort of fitting", examples=["seal"])
    use: Literal["strike", "sweep"] = Field(
        description="At the strike side, or under the door", examples=["sweep"]
    )
    gap: GapRange = Field(description="Gap that it closes", examples=[GAP])


class Joint(_Item):
    """A joint that is left open or filled with silicone, with no fitting in it."""

    kind: Literal["joint"] = Field(description="What sort of fitting", examples=["joint"])
    gap: GapRange = Field(description="Width of the joint", examples=[GAP])


class Handle(_Item):
    """A handle through the glass."""

    kind: Literal["handle"] = Field(description="What sort of fitting", examples=["handle"])
    holes: tuple[CutOut, ...] = Field(
        description="`along` is up from the handle's centre", examples=[[HOLE]]
    )
    from_edge: Length = Field(
        description="Handle's centre line from the strike edge", examples=["2-1/2 in"]
    )


class HeadBar(_Item):
    """A header or a support bar that holds the top of a fixed pane."""

    kind: Literal["head bar"] = Field(description="What sort of fitting", examples=["head bar"])
    reach_most: Length = Field(description="Greatest free length it can hold", examples=["48 in"])
    flange_screws: int | None = Field(
        None,
        ge=1,
        le=8,
        description="Screws of a flange at a wall; as the shop's habit if not written",
        examples=[2],
    )
    flange_rows: Length | None = Field(
        None,
        description="Distance of the outer screws of a flange, upright; as the shop's habit if not "
        "written",
        examples=["1-1/4 in"],
    )


Item = Annotated[Hinge | Channel | Clamp | Seal | Joint | Handle | HeadBar, Discriminator("kind")]


class BoxedPane(Model):
    """One pane of a boxed set, as it comes."""

    kind: Literal["door", "fixed"] = Field(
        description="A door, or a pane that stands still", examples=["door"]
    )
    width: Length = Field(description="Width of the glass", examples=["620 mm"])
    height: Length = Field(description="Height of the glass", examples=["1950 mm"])
    thickness: Length = Field(description="Thickness of the glass", examples=["8 mm"])
    mass_kg: float | None = Field(
        None,
        gt=0,
        description="By the maker, kg; computed from the glass if not written",
        examples=[24.5],
    )


class BoxedSet(Model):
    """A boxed set: panes that cannot be changed, and how much the set can take up."""

    boxed_set: Annotated[Literal[1], Typed] = Field(
        description="Version of this format", examples=[1]
    )
    id: str = Field(description="Short name of the set", examples=["wren"])
    title: str = Field(description="What it is", examples=["Wren, door and fixed pane"])
    unit: Literal["in", "mm", "cm"] = Field(
        "mm", description="Unit of bare numbers", examples=["mm"]
    )
    panes: tuple[BoxedPane, ...] = Field(
        min_length=1,
        max_length=3,
        description="From left to right, as seen from outside, hinge side as drawn",
        examples=[[{"kind": "door", "width": 620, "height": 1950, "thickness": 8}]],
    )
    reversible: bool = Field(True, description="May it be built left for right?", examples=[True])
    opening_least: Length = Field(
        description="Narrowest opening by the maker", examples=["1180 mm"]
    )
    opening_most: Length = Field(description="Widest opening by the maker", examples=["1193 mm"])
    out_of_plumb_most: Length = Field(
        description="Most a wall may be out of plumb over the height", examples=["10 mm"]
    )
    hinge: str = Field(
        description="Its hinge, by id: shipped or among the job's items",
        examples=["plain-wall-hinge"],
    )
    wall: str = Field(description="Its fixed pane to wall, by id", examples=["channel-deep"])
    strike: str = Field(
        description="Its door at the strike side, by id", examples=["strike-seal-round"]
    )
    sweep: str = Field(description="What is under its door, by id", examples=["sweep-drip"])
    source: str = Field(
        "own", description="Where the data are from", examples=["leaflet in the box"]
    )
