"""The job document: everything a person states, nothing the program works out."""

from __future__ import annotations

from typing import Annotated, Any, Literal, get_args

from pydantic import Field, GetJsonSchemaHandler, model_validator
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema

from hangtrue.job.hardware import Item
from hangtrue.job.instruments import Instrument
from hangtrue.job.quantity import Length, Model, Typed
from hangtrue.job.readings import Reading, Side

FORMAT_VERSION = 1

Answer = Literal["yes", "no", "unknown"]
LiteKind = Literal["door", "fixed"]
Behind = Literal["blocking", "stud", "masonry", "steel stud", "acrylic", "hollow", "unknown"]
Material = Literal["tile", "stone", "solid surface", "acrylic", "fibreglass", "unknown"]
SafetyMark = Literal[
    "16 CFR 1201 category II",
    "16 CFR 1201 category I",
    "ANSI Z97.1 class A",
    "EN 12150",
    "unknown",
]


class Head(Model):
    """Whose job it is, for the title block."""

    id: str = Field(description="Short name of the job, on every sheet", examples=["gull-room"])
    title: str = Field("", description="The whole piece of work", examples=["Seaside lodge refit"])
    room: str = Field("", description="Where it is", examples=["Gull room, first floor"])
    version: int = Field(
        1,
        ge=1,
        description="Raised by one at every change that somebody was sent",
        examples=[1],
    )
    date: str = Field("", description="Date of this version", examples=["2026-05-04"])
    made_by: str = Field("", description="Who answers for it", examples=["Ines"])
    customer: str = Field("", description="Who it is for", examples=["The lodge"])


class Layer(Model):
    """One layer of a wall, from the face inward."""

    material: str = Field(description="What it is made of", examples=["porcelain tile"])
    thickness: Length = Field(description="How thick it is", examples=["10 mm"])


class Blocking(Model):
    """Solid wood behind the wall, where a screw will hold."""

    from_: Length = Field(
        alias="from", description="Lower end, height above the datum", examples=["0 in"]
    )
    to: Length = Field(description="Upper end, height above the datum", examples=["80 in"])
    depth: Length = Field(
        description="Thickness of the wood behind the wall's layers", examples=["1-1/2 in"]
    )
    each_side: Length = Field(
        "70 mm",
        validate_default=True,
        description="How far it reaches each side of the glass line",
        examples=["2-3/4 in"],
    )
    species: str = Field("unknown", description="Kind of wood", examples=["spruce-pine-fir"])


class Wall(Model):
    """A wall that the glass meets."""

    name: str = Field("", description="What people call it", examples=["head wall"])
    layers: tuple[Layer, ...] = Field(
        (),
        description="From the face inward, down to what is behind",
        examples=[[{"material": "porcelain tile", "thickness": "10 mm"}]],
    )
    behind: Behind = Field(
        "unknown",
        description="What the screws would go into along the glass line",
        examples=["blocking"],
    )
    blocking: tuple[Blocking, ...] = Field(
        (),
        description="Where the solid wood is, if `behind` is blocking or stud",
        examples=[[{"from": "0 in", "to": "80 in", "depth": "1-1/2 in"}]],
    )
    solid_bedded: Answer = Field(
        "unknown",
        description="Does the tile sound solid when tapped where fittings land?",
        examples=["yes"],
    )
    foot_radius: Length = Field(
        "0 mm",
        validate_default=True,
        description="Radius where the wall meets the curb or pan lip",
        examples=["1/4 in"],
    )


class Walls(Model):
    """The walls at the two ends of the glass line; a missing wall is a free end."""

    left: Wall | None = Field(
        None, description="Wall at the left end, seen from outside", examples=[{"behind": "stud"}]
    )
    right: Wall | None = Field(
        None, description="Wall at the right end, seen from outside", examples=[{"behind": "stud"}]
    )


class Threshold(Model):
    """What the glass stands on."""

    kind: Literal["curb", "floor", "pan lip"] = Field(
        "curb", description="What it is", examples=["curb"]
    )
    height: Length = Field(
        description="Above the bathroom floor, at the glass line", examples=["4 in"]
    )
    width: Length = Field(
        description="Across, of the flat that the glass stands on", examples=["4-1/2 in"]
    )
    material: Material = Field("unknown", description="What its top is made of", examples=["tile"])


class Site(Model):
    """Ready to measure? Anything but yes is asked for."""

    tile_and_grout_done: Answer = Field(
        "unknown", description="Are tile and grout finished?", examples=["yes"]
    )
    pan_clean: Answer = Field(
        "unknown", description="Is the pan clean and its edge bare?", examples=["yes"]
    )
    valve_and_head_in_place: Answer = Field(
        "unknown", description="Are valve and shower head in place?", examples=["yes"]
    )
    vanity_and_toilet_in_place: Answer = Field(
        "unknown", description="Are vanity and toilet in place?", examples=["yes"]
    )


class WantedLite(Model):
    """One pane wanted, with what is already decided of it."""

    kind: LiteKind = Field(description="A door, or a pane that stands still", examples=["fixed"])
    width: Length | None = Field(
        None, description="Fixed width; left free if not written", examples=["28 in"]
    )
    head_support: Answer = Field(
        "unknown",
        description="Fixed panes: is it held at the top by a header, bar or ceiling?",
        examples=["yes"],
    )

    @model_validator(mode="before")
    @classmethod
    def _word(cls, value: Any) -> Any:
        """Take the bare word `door` or `fixed` for a pane with nothing decided."""
        return {"kind": value} if isinstance(value, str) else value

    @classmethod
    def __get_pydantic_json_schema__(
        cls, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> JsonSchemaValue:
        """Publish the bare word too."""
        whole = handler.resolve_ref_schema(handler(schema))
        return {"anyOf": [{"enum": list(get_args(LiteKind))}, whole]}


class Wanted(Model):
    """What the customer wants, with everything left open that is open."""

    lites: tuple[WantedLite, ...] = Field(
        min_length=1,
        max_length=3,
        description="Panes from left to right, seen from outside",
        examples=[["door", "fixed"]],
    )
    order: Literal["as written", "free"] = Field(
        "as written", description="May the row be mirrored?", examples=["as written"]
    )
    hinge_side: Literal["left", "right", "free"] = Field(
        "free", description="Side of the door that hangs, as seen from outside", examples=["left"]
    )
    swing: Literal["out", "in", "both"] = Field(
        "out", description="Where the door goes: out of the shower, in, both", examples=["out"]
    )
    height: Length = Field(
        description="Top of the glass above the datum, one level line", examples=["78 in"]
    )
    thickness: Length | Literal["free"] = Field(
        "free", description="Nominal glass thickness", examples=["3/8 in"]
    )
    make: Literal["made to measure", "boxed set"] = Field(
        "made to measure", description="How the glass is had", examples=["made to measure"]
    )
    boxed_set: str = Field(
        "", description="File of the boxed set, beside the job", examples=["wren-set.yaml"]
    )
    edge: Literal["flat polished", "pencil polished", "seamed"] = Field(
        "flat polished", description="Edge work of the glass", examples=["flat polished"]
    )
    handle_height: Length = Field(
        "1016 mm",
        validate_default=True,
        description="Handle centre above the bathroom floor",
        examples=["40 in"],
    )
    safety_mark: SafetyMark = Field(
        "unknown",
        description="Permanent safety mark the plant puts on the glass",
        examples=["16 CFR 1201 category II"],
    )


class Chosen(Model):
    """Which hardware goes where, by id; the shipped family unless the job brings its own items."""

    hinge: str = Field(
        "plain-wall-hinge", description="Door to wall", examples=["plain-wall-hinge"]
    )
    glass_hinge: str = Field(
        "plain-glass-hinge", description="Door to a fixed pane", examples=["plain-glass-hinge"]
    )
    hinges: Annotated[Literal[2, 3, "free"], Typed] = Field(
        "free", description="How many on a door", examples=[2]
    )
    wall: str = Field(
        "channel-deep",
        description="Fixed pane to wall: a channel, a clamp or a joint",
        examples=["channel-deep"],
    )
    curb: str = Field(
        "channel-shallow",
        description="Fixed pane to curb: a channel, a clamp or a joint",
        examples=["channel-shallow"],
    )
    strike: str = Field(
        "strike-seal-round",
        description="Door to wall or to pane, at the strike side",
        examples=["strike-seal-round"],
    )
    sweep: str = Field("sweep-drip", description="Under the door", examples=["sweep-drip"])
    between: str = Field(
        "butt-joint", description="Fixed pane to fixed pane", examples=["butt-joint"]
    )
    handle: str = Field(
        "handle-bow", description="Handle of the door, or `none`", examples=["handle-bow"]
    )


class Job(Model):
    """One enclosure, as stated by the people who measured and who want it."""

    hangtrue: Annotated[Literal[1], Typed] = Field(
        description="Version of this format", examples=[FORMAT_VERSION]
    )
    job: Head = Field(description="Whose job it is", examples=[{"id": "gull-room"}])
    unit: Literal["in", "mm", "cm"] = Field(description="Unit of bare numbers", examples=["in"])
    profile: str = Field(
        "inch-shop",
        description="Shop profile: a shipped one by name, or a TOML file beside the job",
        examples=["inch-shop"],
    )
    seed: int = Field(
        1,
        ge=0,
        description="Where made-up cases start, so that the same job gives the same papers",
        examples=[1],
    )
    datum: Literal["curb left", "curb right", "mark"] = Field(
        "curb left",
        description="What height 0 is: the curb's top at one wall, or a levelled mark",
        examples=["curb left"],
    )
    site: Site = Field(
        Site(), description="Is the room ready?", examples=[{"tile_and_grout_done": "yes"}]
    )
    walls: Walls = Field(
        description="The walls at the ends of the glass line",
        examples=[{"left": {"behind": "stud"}, "right": {"behind": "unknown"}}],
    )
    threshold: Threshold = Field(
        description="What the glass stands on", examples=[{"height": "4 in", "width": "4-1/2 in"}]
    )
    wanted: Wanted = Field(
        description="What the customer wants",
        examples=[{"lites": ["door", "fixed"], "height": "78 in"}],
    )
    hardware: Chosen = Field(
        Chosen(), description="Which fitting goes where", examples=[{"handle": "knob"}]
    )
    items: tuple[Item, ...] = Field(
        (),
        description="Hardware of the job's own, from its maker's data",
        examples=[
            [
                {
                    "id": "our-sweep",
                    "title": "Sweep, tall",
                    "kind": "seal",
                    "use": "sweep",
                    "gap": {"least": "3/8 in", "usual": "1/2 in", "most": "3/4 in"},
                }
            ]
        ],
    )
    instruments: tuple[Instrument, ...] = Field(
        (),
        description="Instruments of the shop's own",
        examples=[[{"id": "our-level", "title": "Level, 6 ft", "kind": "level", "error": 0.3}]],
    )
    readings: tuple[Reading, ...] = Field(
        description="Every measurement, one by one; a repeat is a reading of its own",
        examples=[[{"what": "width", "at": "4 in", "value": '58-1/2"'}]],
    )

    def wall(self, side: Side) -> Wall | None:
        """Return the wall at that end of the glass line; None where the end is free."""
        return self.walls.left if side == "left" else self.walls.right
