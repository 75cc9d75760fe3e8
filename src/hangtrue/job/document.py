"""The job document: everything a person states, nothing the program works out."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from hangtrue.job.hardware import Item
from hangtrue.job.instruments import Instrument
from hangtrue.job.quantity import Model, Typed
from hangtrue.job.readings import Reading, Side
from hangtrue.job.room import (
    Above,
    Answer,
    Behind,
    Blocking,
    Inside,
    KeepOut,
    Layer,
    Material,
    Obstacle,
    Projection,
    Step,
    StepKind,
    Swing,
    Threshold,
    TileGrid,
    Wall,
    Walls,
)
from hangtrue.job.way_in import WayIn
from hangtrue.job.wishes import Bar, LiteKind, SafetyMark, Turn, Wanted, WantedLite

__all__ = [
    "FORMAT_VERSION",
    "Above",
    "Answer",
    "Bar",
    "Behind",
    "Blocking",
    "Chosen",
    "Head",
    "Inside",
    "Job",
    "KeepOut",
    "Layer",
    "LiteKind",
    "Material",
    "Obstacle",
    "Projection",
    "SafetyMark",
    "Site",
    "Step",
    "StepKind",
    "Swing",
    "Threshold",
    "TileGrid",
    "Turn",
    "Wall",
    "Walls",
    "Wanted",
    "WantedLite",
    "WayIn",
]
"""The whole document and its parts: room and wishes stand in modules of their own."""

FORMAT_VERSION = 1


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
    corner: str = Field(
        "butt-joint",
        description="Pane to pane where the glass line turns: a joint or a clamp",
        examples=["butt-joint"],
    )
    ceiling: str = Field(
        "channel-deep",
        description="Fixed pane or transom to ceiling: a channel, a clamp or a joint",
        examples=["channel-deep"],
    )
    transom: str = Field(
        "clear-joint", description="Door to the transom above it", examples=["clear-joint"]
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
    steps: tuple[Step, ...] = Field(
        (),
        description="What stands under the glass besides: knee wall, bench, buttress, tub deck",
        examples=[[{"name": "knee wall", "kind": "knee wall", "height": "36 in", "width": "5 in"}]],
    )
    above: Above = Field(
        Above(), description="What is above the glass", examples=[{"kind": "ceiling"}]
    )
    inside: Inside = Field(
        Inside(), description="Inside of the shower", examples=[{"depth": "34 in"}]
    )
    obstacles: tuple[Obstacle, ...] = Field(
        (),
        description="What stands or hangs around the glass, in the room and in the shower",
        examples=[
            [{"name": "toilet", "kind": "toilet", "x": "14 in", "y": "-32 in", "top": "30 in"}]
        ],
    )
    way_in: WayIn | None = Field(
        None,
        description="What the glass must pass between van and room",
        examples=[{"doorways": [{"name": "bathroom door", "width": "28 in", "height": "78 in"}]}],
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
