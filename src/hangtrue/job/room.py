"""The room as the measurer finds it: walls, curb and steps, what is above, what stands around."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from hangtrue.job.quantity import Length, Model

Answer = Literal["yes", "no", "unknown"]
Behind = Literal["blocking", "stud", "masonry", "steel stud", "acrylic", "hollow", "unknown"]
Material = Literal["tile", "stone", "solid surface", "acrylic", "fibreglass", "unknown"]
StepKind = Literal["knee wall", "bench", "buttress", "tub deck", "raised base"]
ObstacleKind = Literal[
    "toilet",
    "vanity",
    "handle",
    "towel bar",
    "radiator",
    "light",
    "door",
    "head",
    "jet",
    "valve",
    "handheld",
    "rail",
    "bench",
    "other",
]

MOST_PANES = 8
"""Panes of one enclosure; it has fewer corners than panes, and no more runs."""


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


class Projection(Model):
    """What stands out of a wall's face at the glass line: pencil tile, border, raised base."""

    name: str = Field(description="What it is", examples=["pencil tile"])
    from_: Length = Field(
        alias="from", description="Lower end, height above the datum", examples=["41 in"]
    )
    to: Length = Field(description="Upper end, height above the datum", examples=["42 in"])
    stands_out: Length = Field(
        description="How far it stands out of the wall's face, into the opening",
        examples=["3/8 in"],
    )
    cut: Literal["glass", "tile", "ask"] = Field(
        "ask",
        description="What is cut to make room: the glass, the tile, or not yet decided",
        examples=["glass"],
    )


class TileGrid(Model):
    """How the tiles of a wall lie at the glass line, so that holes keep off their edges."""

    width: Length = Field(description="Width of a tile", examples=["12 in"])
    height: Length = Field(description="Height of a tile", examples=["24 in"])
    joint: Length = Field(description="Width of the joints", examples=["1/8 in"])
    first_joint_up: Length = Field(
        description="Middle of any level joint, height above the datum", examples=["6-1/4 in"]
    )
    first_joint_across: Length = Field(
        description="Middle of any upright joint from the glass line, + into the shower",
        examples=["-3 in"],
    )
    bond: Literal["stacked", "half"] = Field(
        "stacked",
        description="Upright joints in one line, or every second row offset by half a tile; then "
        "`first_joint_across` is of the row above `first_joint_up`",
        examples=["half"],
    )


class KeepOut(Model):
    """Where nothing may be drilled: a pipe, a cable, a niche."""

    name: str = Field(description="What is there", examples=["hot pipe"])
    from_: Length = Field(
        alias="from", description="Lower end, height above the datum", examples=["38 in"]
    )
    to: Length = Field(description="Upper end, height above the datum", examples=["44 in"])
    each_side: Length | None = Field(
        None,
        description="How far it reaches each side of the glass line; all across if not written",
        examples=["2 in"],
    )
    deeper_than: Length = Field(
        "0 mm",
        validate_default=True,
        description="Depth from the wall's face at which it begins; shallower holes are free",
        examples=["1-1/2 in"],
    )


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
    edge: Literal["straight", "scribed"] = Field(
        "straight",
        description="Edge of a fixed pane at this wall: one straight cut, or scribed to its bow",
        examples=["scribed"],
    )
    projections: tuple[Projection, ...] = Field(
        (),
        description="What stands out of its face at the glass line",
        examples=[
            [{"name": "pencil tile", "from": "41 in", "to": "42 in", "stands_out": "3/8 in"}]
        ],
    )
    tiles: TileGrid | None = Field(
        None,
        description="How its tiles lie at the glass line, if read",
        examples=[
            {
                "width": "12 in",
                "height": "24 in",
                "joint": "1/8 in",
                "first_joint_up": "6-1/4 in",
                "first_joint_across": "-3 in",
            }
        ],
    )
    keep_out: tuple[KeepOut, ...] = Field(
        (),
        description="Pipes, cables and whatever else nothing may be drilled into",
        examples=[[{"name": "hot pipe", "from": "38 in", "to": "44 in"}]],
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
    layers: tuple[Layer, ...] = Field(
        (),
        description="From its top downward, as far as a screw may go, waterproofing and all",
        examples=[[{"material": "porcelain tile", "thickness": "10 mm"}]],
    )


class Step(Model):
    """What stands under the glass besides the curb, from riser to riser along one run."""

    name: str = Field(description="What people call it", examples=["knee wall"])
    kind: StepKind = Field(description="What it is", examples=["knee wall"])
    run: int = Field(
        1,
        ge=1,
        le=MOST_PANES,
        description="Straight part of the glass line it stands in, counted from the left",
        examples=[2],
    )
    from_: Length | None = Field(
        None,
        alias="from",
        description="Its left riser, from the left end of the run; at that end if not written",
        examples=["20 in"],
    )
    to: Length | None = Field(
        None,
        description="Its right riser, from the left end of the run; at the right end if not "
        "written",
        examples=["32 in"],
    )
    height: Length = Field(
        description="Top of its cap at the left end, above the datum", examples=["36 in"]
    )
    cap_fall: Length = Field(
        "0 mm",
        validate_default=True,
        description="Fall of the cap over its length, + where the right end is lower",
        examples=["1/16 in"],
    )
    width: Length = Field(
        description="Across, of the flat of the cap that the glass stands on", examples=["5 in"]
    )
    overhang: Length = Field(
        "0 mm",
        validate_default=True,
        description="How far the cap stands out beyond its riser, along the glass line",
        examples=["1/2 in"],
    )
    material: Material | None = Field(
        None,
        description="What its cap and risers are made of; as the curb if not written",
        examples=["stone"],
    )
    layers: tuple[Layer, ...] = Field(
        (),
        description="Of cap and risers, from the face inward; as the curb if neither this nor "
        "`material` is written",
        examples=[[{"material": "porcelain tile", "thickness": "10 mm"}]],
    )
    behind: Behind = Field(
        "unknown",
        description="What screws into its risers would go into; held as on the curb if unknown",
        examples=["stud"],
    )
    with_: str = Field(
        "tape",
        alias="with",
        description="Instrument it was measured with, by its id",
        examples=["tape"],
    )


class Above(Model):
    """What is above the glass; heights of a ceiling are readings."""

    kind: Literal["open", "ceiling", "soffit"] = Field(
        "open",
        description="Nothing that the glass meets, the ceiling, or a soffit below the ceiling",
        examples=["ceiling"],
    )
    material: str = Field("", description="What its face is made of", examples=["ceramic tile"])
    layers: tuple[Layer, ...] = Field(
        (),
        description="From its face upward, as far as what is behind",
        examples=[[{"material": "ceramic tile", "thickness": "8 mm"}]],
    )
    behind: Behind = Field(
        "unknown",
        description="What the screws would go into along the glass line",
        examples=["blocking"],
    )


class Inside(Model):
    """The inside of the shower, behind the glass."""

    depth: Length | None = Field(
        None,
        description="From the middle of the glass at the front to the finished wall behind it; "
        "tells how large the floor is",
        examples=["34 in"],
    )


class Swing(Model):
    """How an entrance door of the room swings, which the shower's door may meet."""

    hinge: Literal["left", "right", "near", "far"] = Field(
        description="End of the closed leaf that hangs: left or right as seen from outside the "
        "shower; near the glass or far from it where the door is in a side wall",
        examples=["left"],
    )
    width: Length = Field(description="Width of the leaf", examples=["30 in"])
    opens: Literal["into the room", "out of it"] = Field(
        "into the room", description="Where it goes", examples=["into the room"]
    )


class Obstacle(Model):
    """What stands or hangs around the glass, as a box with its middle at x, y."""

    name: str = Field(description="What people call it", examples=["toilet"])
    kind: ObstacleKind = Field(description="What it is", examples=["toilet"])
    x: Length = Field(
        description="Its middle along the front of the glass, from that run's left end",
        examples=["14 in"],
    )
    y: Length = Field(
        description="Its middle from the front of the glass: + into the shower, - into the room",
        examples=["-32 in"],
    )
    width: Length = Field(
        "0 mm",
        validate_default=True,
        description="Its size along the front of the glass",
        examples=["15 in"],
    )
    depth: Length = Field(
        "0 mm",
        validate_default=True,
        description="Its size across, toward or away from the glass",
        examples=["28 in"],
    )
    bottom: Length | None = Field(
        None,
        description="Its lower end, height above the datum; on the floor if not written",
        examples=["30 in"],
    )
    top: Length = Field(description="Its upper end, height above the datum", examples=["30 in"])
    swing: Swing | None = Field(
        None,
        description="Entrance door of the room: its own swing",
        examples=[{"hinge": "left", "width": "30 in"}],
    )

    @property
    def plan_box(self) -> tuple[float, float, float, float]:
        """Least x, least y, greatest x and greatest y of the box in plan, mm."""
        half, deep = self.width / 2, self.depth / 2
        return self.x - half, self.y - deep, self.x + half, self.y + deep
