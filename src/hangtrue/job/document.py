"""The job document: everything a person states, nothing the program works out."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import Field, model_validator

from hangtrue.job.hardware import Item
from hangtrue.job.instruments import Instrument
from hangtrue.job.quantity import Length, Model, Typed
from hangtrue.job.readings import Reading, Side

FORMAT_VERSION = 1

Answer = Literal["yes", "no", "unknown"]
LiteKind = Literal["door", "fixed"]
Behind = Literal["blocking", "stud", "masonry", "steel stud", "acrylic", "hollow", "unknown"]


class Head(Model):
    """Whose job it is, for the title block."""

    id: str = Field(examples=["lodge-gull"])
    title: str = Field("", examples=["Seaside lodge refit"])
    room: str = Field("", examples=["Gull room, first floor"])
    version: int = Field(
        1, ge=1, description="Raised by one at every change that somebody was sent"
    )
    date: str = Field("", description="Date of this version", examples=["2026-05-04"])
    made_by: str = Field("", examples=["Ines"])
    customer: str = Field("", examples=["The lodge"])


class Layer(Model):
    """One layer of a wall, from the face inward."""

    material: str = Field(examples=["porcelain tile"])
    thickness: Length = Field(examples=["10 mm"])


class Blocking(Model):
    """Solid wood behind the wall, where a screw will hold."""

    from_: Length = Field(alias="from", description="Lower end above the datum", examples=["0 in"])
    to: Length = Field(description="Upper end", examples=["80 in"])
    depth: Length = Field(description="Thickness of the wood", examples=["1-1/2 in"])
    each_side: Length = Field(
        "70 mm",
        validate_default=True,
        description="How far it reaches each side of the glass line",
        examples=["2-3/4 in"],
    )
    species: str = Field("unknown", examples=["spruce-pine-fir"])


class Wall(Model):
    """A wall that the glass meets."""

    name: str = Field("", examples=["head wall"])
    layers: tuple[Layer, ...] = Field(
        (), description="From the face inward, down to what is behind"
    )
    behind: Behind = Field(
        "unknown", description="What the screws would go into along the glass line"
    )
    blocking: tuple[Blocking, ...] = Field(
        (), description="Where the solid wood is, if `behind` is blocking or stud"
    )
    solid_bedded: Answer = Field(
        "unknown", description="Tile sounds solid when tapped where fittings land"
    )
    foot_radius: Length = Field(
        "0 mm",
        validate_default=True,
        description="Radius where the wall meets the curb or pan lip",
        examples=["1/4 in"],
    )


class Walls(Model):
    """The walls at the two ends of the glass line; a missing wall is a free end."""

    left: Wall | None = None
    right: Wall | None = None


class Threshold(Model):
    """What the glass stands on."""

    kind: Literal["curb", "floor", "pan lip"] = "curb"
    height: Length = Field(
        description="Above the bathroom floor, at the glass line", examples=["4 in"]
    )
    width: Length = Field(
        description="Across, of the flat that the glass stands on", examples=["4-1/2 in"]
    )
    material: Literal["tile", "stone", "solid surface", "acrylic", "fibreglass", "unknown"] = (
        "unknown"
    )


class Site(Model):
    """Ready to measure? Anything but yes is asked for."""

    tile_and_grout_done: Answer = "unknown"
    pan_clean: Answer = "unknown"
    valve_and_head_in_place: Answer = "unknown"
    vanity_and_toilet_in_place: Answer = "unknown"


class WantedLite(Model):
    """One pane wanted, with what is already decided of it."""

    kind: LiteKind
    width: Length | None = Field(
        None, description="Fixed width; left free if not written", examples=["28 in"]
    )
    head_support: Answer = Field(
        "unknown", description="Fixed panes: held at the top by a header, bar or ceiling"
    )

    @model_validator(mode="before")
    @classmethod
    def _word(cls, value: Any) -> Any:
        """Take the bare word `door` or `fixed` for a pane with nothing decided."""
        return {"kind": value} if isinstance(value, str) else value


class Wanted(Model):
    """What the customer wants, with everything left open that is open."""

    lites: tuple[WantedLite, ...] = Field(
        min_length=1,
        max_length=3,
        description="Panes from left to right, seen from outside",
        examples=[["door", "fixed"]],
    )
    order: Literal["as written", "free"] = Field(
        "as written", description="May the row be mirrored?"
    )
    hinge_side: Literal["left", "right", "free"] = Field("free", description="As seen from outside")
    swing: Literal["out", "in", "both"] = "out"
    height: Length = Field(
        description="Top of the glass above the datum, one level line", examples=["78 in"]
    )
    thickness: Length | Literal["free"] = Field(
        "free", description="Nominal glass thickness", examples=["3/8 in"]
    )
    make: Literal["made to measure", "boxed set"] = "made to measure"
    boxed_set: str = Field(
        "", description="File of the boxed set, beside the job", examples=["wren-set.yaml"]
    )
    edge: Literal["flat polished", "pencil polished", "seamed"] = "flat polished"
    handle_height: Length = Field(
        "1016 mm", validate_default=True, description="Handle centre above the bathroom floor"
    )
    safety_mark: Literal[
        "16 CFR 1201 category II",
        "16 CFR 1201 category I",
        "ANSI Z97.1 class A",
        "EN 12150",
        "unknown",
    ] = Field("unknown", description="Permanent safety mark the plant puts on the glass")


class Chosen(Model):
    """Which hardware goes where, by id; the shipped family unless the job brings its own items."""

    hinge: str = "plain-wall-hinge"
    glass_hinge: str = "plain-glass-hinge"
    hinges: Annotated[Literal[2, 3, "free"], Typed] = Field(
        "free", description="How many on a door"
    )
    wall: str = Field(
        "channel-deep", description="Fixed pane to wall: a channel, a clamp or a joint"
    )
    curb: str = Field("channel-shallow", description="Fixed pane to curb")
    strike: str = Field(
        "strike-seal-round", description="Door to wall or to pane, at the strike side"
    )
    sweep: str = "sweep-drip"
    between: str = Field("butt-joint", description="Fixed pane to fixed pane")
    handle: str = Field("handle-bow", description="Or `none`")


class Job(Model):
    """One enclosure, as stated by the people who measured and who want it."""

    hangtrue: Annotated[Literal[1], Typed] = Field(description="Version of this format")
    job: Head
    unit: Literal["in", "mm", "cm"] = Field(description="Unit of bare numbers")
    profile: str = Field(
        "inch-shop", description="Shop profile: a shipped one by name, or a file beside the job"
    )
    seed: int = Field(1, ge=0)
    datum: Literal["curb left", "curb right", "mark"] = Field(
        "curb left", description="What height 0 is: the curb's top at one wall, or a levelled mark"
    )
    site: Site = Site()
    walls: Walls
    threshold: Threshold
    wanted: Wanted
    hardware: Chosen = Chosen()
    items: tuple[Item, ...] = Field(
        (), description="Hardware of the job's own, from its maker's data"
    )
    instruments: tuple[Instrument, ...] = Field((), description="Instruments of the shop's own")
    readings: tuple[Reading, ...]

    def wall(self, side: Side) -> Wall | None:
        """Return the wall at that end of the glass line; None where the end is free."""
        return self.walls.left if side == "left" else self.walls.right
