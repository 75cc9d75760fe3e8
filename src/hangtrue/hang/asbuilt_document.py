"""The document of what was read after hanging: gaps, levels, packing in place, shims at hand."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Annotated, Any, Generic, Literal, TypeVar, get_args

from pydantic import BeforeValidator, Field, ValidationError, ValidationInfo

from hangtrue.fit.enclosure import Enclosure, Joint
from hangtrue.fit.wording import said
from hangtrue.job.blank import DIALECT
from hangtrue.job.problems import Fault, Problem, any_wrong, dotted, suggest
from hangtrue.job.quantity import Length, Model, Typed
from hangtrue.job.text import Text, Value, parse, read_text
from hangtrue.job.wording import faults, trimmed
from hangtrue.units import UNITS, Unit, UnitsError, length

FORMAT_VERSION = 1
MOST_GAP = 100.0
"""A gap over this is not a gap, mm."""

MOST_SHIMS = 12
"""Thicknesses at hand; all piles of a few of them are looked at."""

LISTS = ("gaps", "levels", "packing", "shims")

Place = Literal["bottom", "middle", "top", "left", "right"]
Document = TypeVar("Document", bound=Model)


def _place(value: object, info: ValidationInfo) -> object:
    """Read a word for a place, or a length; of anything else say both that may stand there."""
    words = get_args(Place)
    if not isinstance(value, str) or value in words:
        return value
    try:
        return length(value, (info.context or {}).get("unit"))
    except UnitsError:
        msg = f"{value!r} is no place; write {', '.join(words)}, or a height like 38 in"
        raise UnitsError(msg) from None


class GapReading(Model):
    """One gap, read from glass to what it faces."""

    joint: str = Field(
        description="Which joint, as the plan calls it", examples=["door to left wall"]
    )
    at: Annotated[Place | Length, BeforeValidator(_place)] = Field(
        description="Where: bottom, middle or top of an upright joint, left, middle or right of a "
        "level one; or the height above the datum, or x along the glass line",
        examples=["top"],
    )
    value: Length = Field(description="The gap", examples=["3/16 in"])


class LevelReading(Model):
    """How far an edge of a pane is out of plumb or out of level."""

    pane: str = Field(description="Which pane, as the plan calls it", examples=["fixed 1"])
    edge: Literal["left", "right", "top", "bottom"] = Field(
        description="Edge the level is held against", examples=["top"]
    )
    over: Length = Field(description="Length it was read over", examples=["24 in"])
    toward: Literal["left", "right"] = Field(
        description="Upright edges: the way the upper end leans; level ones: the end that is lower",
        examples=["left"],
    )
    value: Length = Field(description="How far, over that length", examples=["1/16 in"])


class Packed(Model):
    """Packing that is behind a hinge plate now."""

    joint: str = Field(
        description="Joint of the hinges, as the plan calls it", examples=["door to left wall"]
    )
    plate: Literal["lower", "upper"] = Field(description="Which plate", examples=["upper"])
    value: Length = Field(description="All of it together", examples=["1/16 in"])


class AsBuiltDocument(Model):
    """What was read after hanging."""

    asbuilt: Annotated[Literal[1], Typed] = Field(
        description="Version of this format", examples=[FORMAT_VERSION]
    )
    job: str = Field("", description="Short name of the job it is of", examples=["gull-room"])
    unit: Literal["in", "mm", "cm"] = Field(description="Unit of bare numbers", examples=["in"])
    by: str = Field("", description="Who read it", examples=["Ines"])
    on: str = Field("", description="When", examples=["2026-06-02"])
    gaps: tuple[GapReading, ...] = Field(
        (),
        description="Gaps, one by one",
        examples=[[{"joint": "door to left wall", "at": "top", "value": "3/16 in"}]],
    )
    levels: tuple[LevelReading, ...] = Field(
        (),
        description="Edges out of plumb or level",
        examples=[
            [{"pane": "door", "edge": "top", "over": "24 in", "toward": "left", "value": "1/16 in"}]
        ],
    )
    packing: tuple[Packed, ...] = Field(
        (),
        description="Packing in place, where it is not what the plan says",
        examples=[[{"joint": "door to left wall", "plate": "upper", "value": "1/16 in"}]],
    )
    shims: tuple[Length, ...] = Field(
        (),
        max_length=MOST_SHIMS,
        description="Thicknesses of shims at hand; the shop's if not written",
        examples=[["1/32 in", "1/16 in"]],
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Read:
    """A document that was read, with everything that is wrong in it.

    Attributes
    ----------
    document
        What of it can be used; None where nothing can.

    """

    document: AsBuiltDocument | None
    problems: tuple[Problem, ...]


def asbuilt_schema() -> dict[str, Any]:
    """Return the JSON Schema of the document."""
    whole = AsBuiltDocument.model_json_schema(by_alias=True)
    return {"$schema": DIALECT} | whole | {"title": "hangtrue asbuilt"}


def read_asbuilt(path: Path, enclosure: Enclosure, job: str) -> Read:
    """Read the document from a file; it is held against the panes and joints of the plan."""
    text, problems = read_text(path)
    return _read(text, problems, enclosure, job)


def read_asbuilt_text(words: str, enclosure: Enclosure, job: str) -> Read:
    """Read the document from its text."""
    text, problems = parse(words)
    return _read(text, problems, enclosure, job)


def _read(text: Text | None, problems: tuple[Problem, ...], enclosure: Enclosure, job: str) -> Read:
    if text is None:
        return Read(document=None, problems=problems)
    part = validated(AsBuiltDocument, text, LISTS)
    found = part.faults
    if part.document is not None:
        more = [part.in_place(f) for f in _faults(part.document, enclosure, job)]
        # in a wrong unit every size would be odd
        sizes = {"value", "at", "over"} if ("unit",) in {f.path for f in found} else set()
        found += tuple(f for f in more if f.path[-1] not in sizes)
    every = in_order({*problems, *placed(found, text)})
    return Read(document=None if any_wrong(every) else part.document, problems=every)


@dataclass(frozen=True, slots=True, kw_only=True)
class Part(Generic[Document]):
    """What can be read of a document.

    Attributes
    ----------
    document
        All that is right; None where not even the rest stands alone.
    faults
        What is wrong with all that was left out.
    kept
        For each list, which of its entries are still in it.

    """

    document: Document | None
    faults: tuple[Fault, ...]
    kept: dict[str, tuple[int, ...]]

    def in_place(self, fault: Fault) -> Fault:
        """Return a fault of what was kept with its path in the document as typed."""
        key, *rest = fault.path
        if rest and isinstance(rest[0], int) and key in self.kept:
            rest[0] = self.kept[str(key)][rest[0]]
        return replace(fault, path=(key, *rest))


def validated(model: type[Document], text: Text, lists: tuple[str, ...]) -> Part[Document]:
    """Hold a document against its model; entries of its lists that are wrong are left out."""
    values = trimmed(text.values, model)
    document, found = _checked(model, values)
    kept = {key: _right(values, key, found) for key in lists}
    if document is None and isinstance(values, dict):
        rest = _rest(values, found, kept)
        for key, info in model.model_fields.items():
            if info.is_required() and key not in rest:
                rest[key] = (info.examples or [""])[0]
        document, _ = _checked(model, rest)
    return Part(document=document, faults=found, kept=kept)


def _rest(
    values: dict[str, Value], found: tuple[Fault, ...], kept: dict[str, tuple[int, ...]]
) -> dict[str, Any]:
    """Leave out the keys and entries that something is wrong with."""
    wrong = {fault.path for fault in found}
    rest: dict[str, Any] = {}
    for key, value in values.items():
        if (key,) in wrong:
            continue
        if isinstance(value, dict):
            rest[key] = {k: v for k, v in value.items() if (key, k) not in wrong}
        elif isinstance(value, list) and key in kept:
            rest[key] = [value[i] for i in kept[key]]
        else:
            rest[key] = value
    return rest


def _right(values: Value, key: str, found: tuple[Fault, ...]) -> tuple[int, ...]:
    """Positions in a list of what nothing is wrong with."""
    entries = values.get(key) if isinstance(values, dict) else None
    wrong = {fault.path[1] for fault in found if fault.path[:1] == (key,) and len(fault.path) > 1}
    return tuple(i for i in range(len(entries or ())) if i not in wrong)


def _checked(model: type[Document], values: Value) -> tuple[Document | None, tuple[Fault, ...]]:
    unit = values.get("unit") if isinstance(values, dict) else None
    context = {"unit": unit if unit in UNITS else "in"}
    try:
        return model.model_validate(values, context=context), ()
    except ValidationError as error:
        return None, tuple(faults(error, values, model))


def in_order(problems: Iterable[Problem]) -> tuple[Problem, ...]:
    """Sort problems as they stand in the document."""
    return tuple(sorted(problems, key=lambda p: (p.line or 0, p.field, p.wrong)))


def placed(found: tuple[Fault, ...], text: Text) -> Iterator[Problem]:
    """Give every fault its line."""
    for fault in found:
        yield Problem(
            line=text.line(fault.path),
            field=dotted(fault.path),
            wrong=fault.wrong,
            do=fault.do,
            level=fault.level,
        )


def _faults(document: AsBuiltDocument, enclosure: Enclosure, job: str) -> Iterator[Fault]:
    """Hold what was read against the plan it is said to be of."""
    if document.job and document.job != job:
        wrong = f"these readings are of {document.job!r}, and the plan is of {job!r}"
        yield Fault(path=("job",), wrong=wrong, do="take the readings or the job that belongs here")
    if not document.gaps and not document.levels:
        yield Fault(path=("gaps",), wrong="nothing was read", do="write at least one gap")
    joints = {joint.id: joint for joint in enclosure.joints}
    for i, gap in enumerate(document.gaps):
        if gap.joint not in joints:
            yield _no_such(("gaps", i, "joint"), gap.joint, joints)
        else:
            yield from _gap(gap, joints[gap.joint], i, document.unit)
    yield from _levels(document, enclosure)
    for i, packed in enumerate(document.packing):
        if packed.joint not in joints:
            yield _no_such(("packing", i, "joint"), packed.joint, joints)
        elif joints[packed.joint].kind != "hinge":
            wrong = f"{packed.joint} has no hinges to pack"
            yield Fault(path=("packing", i, "joint"), wrong=wrong, do="name a joint with hinges")
        if packed.value < 0:
            yield Fault(
                path=("packing", i, "value"), wrong="less than nothing", do="write 0 or more"
            )
    for i, shim in enumerate(document.shims):
        if shim <= 0:
            yield Fault(
                path=("shims", i), wrong=f"a shim of {shim.typed}", do="write its thickness"
            )


def _no_such(path: tuple[str | int, ...], typed: str, known: dict[str, Joint]) -> Fault:
    wrong = f"the plan has no joint {typed!r}"
    return Fault(path=path, wrong=wrong, do=suggest(typed, known))


def _gap(gap: GapReading, joint: Joint, i: int, unit: Unit) -> Iterator[Fault]:
    words = ("bottom", "middle", "top") if joint.upright else ("left", "middle", "right")
    if isinstance(gap.at, str) and gap.at not in words:
        wrong = f"{joint.id} has no {gap.at}"
        yield Fault(path=("gaps", i, "at"), wrong=wrong, do=f"write {', '.join(words)}")
    elif not isinstance(gap.at, str):
        yield from _off_the_joint(float(gap.at), gap.at.typed, joint, i, unit)
    if gap.value < 0:
        wrong = f"a gap of {gap.value.typed}"
        yield Fault(path=("gaps", i, "value"), wrong=wrong, do="write 0 where it touches")
    elif gap.value > MOST_GAP:
        wrong = f"a gap of {gap.value.typed} is none"
        yield Fault(path=("gaps", i, "value"), wrong=wrong, do="is the unit right?")


def _off_the_joint(at: float, typed: str, joint: Joint, i: int, unit: Unit) -> Iterator[Fault]:
    low, high = ends(joint)
    slack = 0.05 * (high - low)
    if not low - slack <= at <= high + slack:
        wrong = f"{typed} is not on {joint.id}"
        do = f"it runs from {said(low, unit)} to {said(high, unit)}"
        yield Fault(path=("gaps", i, "at"), wrong=wrong, do=do)


def _levels(document: AsBuiltDocument, enclosure: Enclosure) -> Iterator[Fault]:
    panes = [pane.id for pane in enclosure.lites]
    for i, level in enumerate(document.levels):
        if level.pane not in panes:
            wrong = f"the plan has no pane {level.pane!r}"
            yield Fault(path=("levels", i, "pane"), wrong=wrong, do=suggest(level.pane, panes))
        if level.over <= 0:
            wrong = "read over no length"
            yield Fault(path=("levels", i, "over"), wrong=wrong, do="write the length of the level")
        elif abs(level.value) > 0.1 * level.over:
            wrong = f"{level.value.typed} over {level.over.typed} is steeper than one in ten"
            yield Fault(path=("levels", i, "value"), wrong=wrong, do="is the unit right?")


def ends(joint: Joint) -> tuple[float, float]:
    """Return where a joint begins and ends, along itself, mm."""
    places = [gap.at for gap in joint.gaps]
    return min(places), max(places)


def place(gap: GapReading, joint: Joint) -> float:
    """Return where a gap was read, mm along the joint."""
    low, high = ends(joint)
    share = {"bottom": 0.0, "left": 0.0, "middle": 0.5, "top": 1.0, "right": 1.0}
    return low + share[gap.at] * (high - low) if isinstance(gap.at, str) else float(gap.at)
