"""Hardware as data: hinges, channels, clamps, seals, handles, joints of silicone, and boxed sets.

Every gap is from the edge of the glass to the face it meets (wall, curb, or the next pane), in mm.
The shipped family is generic; the maker's own data must be entered before glass is ordered.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Discriminator, Field

from hangtrue.job.quantity import Length, Model, Typed


class GapRange(Model):
    """Working range of a gap: it may be anywhere from least to most, and is best at usual."""

    least: Length = Field(examples=["1/8 in"])
    usual: Length = Field(examples=["3/16 in"])
    most: Length = Field(examples=["1/4 in"])


class CutOut(Model):
    """What a fitting needs taken out of the glass, at its edge or as a hole."""

    shape: Literal["notch", "hole"]
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
        description="Offset of its centre along the edge from the fitting's centre",
    )


class _Item(Model):
    id: str = Field(examples=["plain-wall-hinge"])
    title: str = Field(examples=["Plain wall hinge, full back plate"])
    glass_least: Length = Field(
        "8 mm", validate_default=True, description="Thinnest glass it takes"
    )
    glass_most: Length = Field(
        "12 mm", validate_default=True, description="Thickest glass it takes"
    )
    source: str = Field(
        "own", description="Where the data are from; the shipped family is invented"
    )


class Hinge(_Item):
    """A hinge that clamps the glass in a cut-out, screwed to a wall or clamped to another pane."""

    kind: Literal["hinge"]
    mount: Literal["wall", "glass"]
    gap: GapRange = Field(
        description="Glass edge to wall (or to the other pane) at the plates, without shims"
    )
    shim_most: Length = Field(
        "0 mm", validate_default=True, description="Most packing allowed behind a plate"
    )
    between: GapRange = Field(description="Gap that may be left, or sealed, between the plates")
    plate_height: Length
    plate_width: Length
    screws: int = Field(ge=0, description="Screws per plate")
    screw_rows: Length = Field(
        "0 mm", validate_default=True, description="Distance of upper and lower screw rows"
    )
    cut_outs: tuple[CutOut, ...] = Field(description="In the door's glass, at each hinge")
    other_cut_outs: tuple[CutOut, ...] = Field(
        (), description="In the pane that carries a glass hinge, at each hinge"
    )
    mass_kg: float = Field(gt=0, description="Greatest door mass for two hinges")
    mass_third_kg: float | None = Field(
        None, gt=0, description="Greatest door mass for three hinges"
    )
    door_width_most: Length = Field(description="Greatest door width")
    closing_adjust_deg: float = Field(
        0.0, ge=0, description="Range of the closing position, each way, degrees"
    )
    swing: Literal["both", "one way"] = "both"


class Channel(_Item):
    """A U-channel that takes the edge of a fixed pane."""

    kind: Literal["channel"]
    depth: Length = Field(description="Inside depth, from its floor to its lips")
    base: Length = Field(description="Thickness between the wall and its floor")
    bite_least: Length = Field(description="Least glass inside the lips")
    floor_gap_least: Length = Field(description="Least gap between the glass and the floor")


class Clamp(_Item):
    """A clamp that holds a fixed pane to a wall or a curb, with an open or sealed joint."""

    kind: Literal["clamp"]
    gap: GapRange
    plate_height: Length
    cut_outs: tuple[CutOut, ...] = ()
    count: int = Field(2, ge=1, description="How many hold one edge")
    screws: int = Field(1, ge=0)


class Seal(_Item):
    """A strip on the edge of a door: strike seal, hinge-side seal or sweep."""

    kind: Literal["seal"]
    use: Literal["strike", "sweep"]
    gap: GapRange


class Joint(_Item):
    """A joint that is left open or filled with silicone, with no fitting in it."""

    kind: Literal["joint"]
    gap: GapRange


class Handle(_Item):
    """A handle through the glass."""

    kind: Literal["handle"]
    holes: tuple[CutOut, ...] = Field(description="`along` is up from the handle's centre")
    from_edge: Length = Field(description="Handle's centre line from the strike edge")


class HeadBar(_Item):
    """A header or a support bar that holds the top of a fixed pane."""

    kind: Literal["head bar"]
    reach_most: Length = Field(description="Greatest free length it can hold")


Item = Annotated[Hinge | Channel | Clamp | Seal | Joint | Handle | HeadBar, Discriminator("kind")]


class BoxedPane(Model):
    """One pane of a boxed set, as it comes."""

    kind: Literal["door", "fixed"]
    width: Length
    height: Length
    thickness: Length
    mass_kg: float | None = Field(
        None, gt=0, description="By the maker; computed from the glass if not written"
    )


class BoxedSet(Model):
    """A boxed set: panes that cannot be changed, and how much the set can take up."""

    boxed_set: Annotated[Literal[1], Typed] = Field(description="Version of this format")
    id: str
    title: str
    unit: Literal["in", "mm", "cm"] = "mm"
    panes: tuple[BoxedPane, ...] = Field(
        description="From left to right, as seen from outside, hinge side as drawn"
    )
    reversible: bool = Field(True, description="May be built left for right")
    opening_least: Length = Field(description="Narrowest opening by the maker")
    opening_most: Length = Field(description="Widest opening by the maker")
    out_of_plumb_most: Length = Field(description="Most a wall may be out of plumb over the height")
    hinge: str
    wall: str
    strike: str
    sweep: str
    source: str = "own"
