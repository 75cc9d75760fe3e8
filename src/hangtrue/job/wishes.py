"""The wishes: the row of panes, where it turns, how it is hung, and what holds it at the top."""

from __future__ import annotations

from typing import Annotated, Any, Literal, get_args

from pydantic import BeforeValidator, Field, GetJsonSchemaHandler, model_validator
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema

from hangtrue.job.quantity import Angle, Length, Model
from hangtrue.job.room import MOST_PANES, Answer

LiteKind = Literal["door", "fixed"]
SafetyMark = Literal[
    "16 CFR 1201 category II",
    "16 CFR 1201 category I",
    "ANSI Z97.1 class A",
    "EN 12150",
    "unknown",
]
NOT_PLANNED = ("sliding", "bypass", "folding", "curved", "bent")
"""Panes that people ask for and that this program does not plan."""


def _planned(value: Any) -> Any:
    """Say of a sliding or curved pane that it is not planned, rather than not a word."""
    if value in NOT_PLANNED:
        msg = (
            f"a {value} pane: sliding, folding and curved enclosures are not planned by this "
            "program; write door or fixed, or plan it with its maker"
        )
        raise ValueError(msg)
    return value


class Turn(Model):
    """A corner of the glass line: a plumb line where the middles of two panes meet."""

    angle: Angle = Field(
        "90°",
        validate_default=True,
        description="Nominal inside angle, on the shower's side: from 60° to less than 180°",
        examples=["135°"],
    )
    way: Literal["in", "out"] = Field(
        "in",
        description="Going from left to right: toward the shower, or away from it",
        examples=["in"],
    )
    joint: Literal["butt", "mitre", "clamp", "hinge"] = Field(
        "butt",
        description="How the two panes meet: edge against face, both bevelled, held by clamps, or "
        "the door hung here on the other pane",
        examples=["butt"],
    )
    laps: Literal["before", "after"] = Field(
        "before",
        description="Butt joint: the pane, before or after the corner, that covers the edge of "
        "the other",
        examples=["before"],
    )


class WantedLite(Model):
    """One pane wanted, with what is already decided of it."""

    kind: Annotated[LiteKind, BeforeValidator(_planned)] = Field(
        description="A door, or a pane that stands still", examples=["fixed"]
    )
    width: Length | None = Field(
        None, description="Fixed width; left free if not written", examples=["28 in"]
    )
    head_support: Answer = Field(
        "unknown",
        description="Fixed panes: is it held at the top by a header, bar or ceiling?",
        examples=["yes"],
    )
    turn: Turn | None = Field(
        None,
        description="Corner of the glass line before this pane",
        examples=[{"angle": "135°", "way": "in"}],
    )
    hinge: Literal["left", "right", "free"] | None = Field(
        None,
        description="Doors: side that hangs, as seen from outside; the job's if not written",
        examples=["left"],
    )
    stop: Angle | None = Field(
        None,
        description="Doors: opening at which a stop holds it, either way: from 60° to 180°; no "
        "stop if not written",
        examples=["105°"],
    )
    head: Literal["level", "ceiling", "transom"] = Field(
        "level",
        description="Its top: the one level line, along the ceiling, or (doors) under a transom",
        examples=["ceiling"],
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


class Bar(Model):
    """A header along the top, or a support bar from the top of a pane to something firm."""

    kind: Literal["header", "support"] = Field(
        description="Along the glass, or from the glass to something firm", examples=["support"]
    )
    run: int = Field(
        1,
        ge=1,
        le=MOST_PANES,
        description="Straight part of the glass line it belongs to, counted from the left",
        examples=[1],
    )
    holds: str = Field(
        description="The pane it holds: door, fixed 1, fixed 2 … from left to right; door 1 and "
        "door 2 where there are two",
        examples=["fixed 1"],
    )
    to: Literal["left wall", "right wall", "ceiling", "across"] = Field(
        description="Where its other end is fixed; across: to the pane or wall opposite",
        examples=["left wall"],
    )
    at: Length | None = Field(
        None,
        description="Height above the datum; at the top of the glass if not written",
        examples=["78 in"],
    )
    item: str = Field(
        "",
        description="Fitting by its id; the shipped one of its kind if not written",
        examples=["support-bar"],
    )

    @property
    def fitting(self) -> str:
        """Id of its fitting, the shipped one where the job names none."""
        return self.item or {"header": "header", "support": "support-bar"}[self.kind]


class Wanted(Model):
    """What the customer wants, with everything left open that is open."""

    lites: tuple[WantedLite, ...] = Field(
        min_length=1,
        max_length=MOST_PANES,
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
    transom_at: Length | None = Field(
        None,
        description="Top of a door under a transom, above the datum",
        examples=["80 in"],
    )
    transom: Literal["fixed", "tilting"] = Field(
        "fixed",
        description="Pane above the door: fixed, or tilting to let steam out",
        examples=["tilting"],
    )
    bars: tuple[Bar, ...] = Field(
        (),
        description="Headers and support bars",
        examples=[[{"kind": "support", "holds": "fixed 1", "to": "left wall"}]],
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
    texture: Literal["clear", "textured"] = Field(
        "clear",
        description="Faces of the glass: smooth on both sides, or patterned, where vacuum cups do "
        "not hold and the glass bears less",
        examples=["textured"],
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

    @property
    def runs(self) -> tuple[tuple[int, ...], ...]:
        """Positions of the panes in each straight part of the glass line, from left to right."""
        runs: list[tuple[int, ...]] = [()]
        for i, lite in enumerate(self.lites):
            if lite.turn is not None and i:
                runs.append(())
            runs[-1] = (*runs[-1], i)
        return tuple(runs)

    @property
    def turns(self) -> tuple[Turn, ...]:
        """The corners of the glass line, from left to right: turn k ends run k (from 1)."""
        return tuple(lite.turn for lite in self.lites[1:] if lite.turn is not None)

    @property
    def front(self) -> int:
        """Number of the run that is faced (from 1): the one with the first door, else the first."""
        doors = (n for n, run in enumerate(self.runs, 1) if self._has_door(run))
        return next(doors, 1)

    @property
    def pane_ids(self) -> tuple[str, ...]:
        """Name of each pane as people say it: `door`, `fixed 1`, `fixed 2`; two doors numbered."""
        kinds = [lite.kind for lite in self.lites]
        one = kinds.count("door") == 1
        return tuple(
            kind if kind == "door" and one else f"{kind} {kinds[: i + 1].count(kind)}"
            for i, kind in enumerate(kinds)
        )

    def _has_door(self, run: tuple[int, ...]) -> bool:
        return any(self.lites[i].kind == "door" for i in run)
