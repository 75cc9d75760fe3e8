"""The way that the glass takes into the room: doorways and turns on it."""

from __future__ import annotations

from pydantic import Field

from hangtrue.job.quantity import Angle, Length, Model


class Doorway(Model):
    """A doorway, a lift door or a hatch that every pane must pass."""

    name: str = Field("doorway", description="What people call it", examples=["bathroom door"])
    width: Length = Field(description="Clear width", examples=["28 in"])
    height: Length = Field(description="Clear height", examples=["78 in"])


class Bend(Model):
    """A right-angled turn: a landing, a corridor's corner, a lift's cabin."""

    name: str = Field("turn", description="What people call it", examples=["stair landing"])
    before: Length = Field(description="Clear width before the turn", examples=["36 in"])
    after: Length = Field(description="Clear width after the turn", examples=["36 in"])
    headroom: Length = Field(description="Clear height in the turn", examples=["84 in"])


class Flight(Model):
    """A straight flight of stairs with something above it."""

    name: str = Field("stairs", description="What people call it", examples=["main stairs"])
    width: Length = Field(description="Clear width", examples=["34 in"])
    headroom: Length = Field(
        description="Plumb from the edge of a step to what is above", examples=["78 in"]
    )
    slope: Angle = Field(
        "42°",
        validate_default=True,
        description="Rise of the flight from the level",
        examples=["38°"],
    )


class WayIn(Model):
    """What the glass must pass between van and room."""

    doorways: tuple[Doorway, ...] = Field(
        (),
        description="Doorways on the way",
        examples=[[{"name": "bathroom door", "width": "28 in", "height": "78 in"}]],
    )
    turns: tuple[Bend, ...] = Field(
        (),
        description="Right-angled turns on the way",
        examples=[[{"name": "landing", "before": "36 in", "after": "36 in", "headroom": "84 in"}]],
    )
    stairs: tuple[Flight, ...] = Field(
        (),
        description="Straight flights of stairs on the way",
        examples=[[{"name": "main stairs", "width": "34 in", "headroom": "78 in"}]],
    )
    around: Length = Field(
        "25 mm",
        validate_default=True,
        description="Room to leave on every side, for hands, cups and wrapping",
        examples=["1 in"],
    )
