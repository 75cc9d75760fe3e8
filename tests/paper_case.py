"""Rooms made up by hand for the drawings: every layout, both units, leaning and mirrored."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from hangtrue.estimate import Estimate
from hangtrue.fit.enclosure import (
    Choice,
    Edge,
    Enclosure,
    Gap,
    Hole,
    Joint,
    JointKind,
    Lite,
    Margin,
    NoFit,
    Notch,
)
from hangtrue.geometry import figure, less
from hangtrue.job import library
from hangtrue.job.brief import Brief
from hangtrue.job.document import Job
from hangtrue.job.hardware import Channel, CutOut, GapRange, Handle, Hinge
from hangtrue.job.profile import Plant, Profile
from hangtrue.measure.opening import Agreement, Opening, Residual, Suspect
from hangtrue.units import Length

HEIGHTS = (50.0, 965.0, 1880.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """One made-up room; lengths in mm, leans into the opening positive, over 1830 mm."""

    kinds: tuple[str, ...]
    widths: tuple[float, ...]
    hinge_side: str | None = "left"
    hung_on: str | None = "wall"
    unit: str = "mm"
    units: str = "both"
    height: float = 1980.0
    leans: tuple[float, float] = (2.0, 3.0)
    walls: tuple[str, ...] = ("left", "right")
    fall: float = 1.5
    swing: str = "both"
    suspect: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """What the drawings take."""

    brief: Brief
    opening: Opening
    made: Enclosure | NoFit


HARDWARE = (
    Hinge(
        kind="hinge",
        id="case-hinge",
        title="Hinge of the case, plain",
        mount="wall",
        gap=GapRange(least=Length(3.2), usual=Length(4.8), most=Length(6.4)),
        between=GapRange(least=Length(1.6), usual=Length(4.8), most=Length(9.5)),
        plate_height=Length(90.0),
        plate_width=Length(50.0),
        screws=4,
        cut_outs=(
            CutOut(shape="notch", width=Length(41.0), height=Length(63.0), radius=Length(10.0)),
        ),
        mass_kg=36.0,
        door_width_most=Length(900.0),
    ),
    Handle(
        kind="handle",
        id="case-handle",
        title="Handle of the case",
        holes=tuple(CutOut(shape="hole", width=Length(12.0), along=Length(y)) for y in (-100, 100)),
        from_edge=Length(64.0),
    ),
    Channel(
        kind="channel",
        id="case-channel",
        title="Channel of the case",
        depth=Length(25.0),
        base=Length(1.5),
        bite_least=Length(10.0),
        floor_gap_least=Length(3.0),
    ),
)


ROOMS = {
    "inch": Room(kinds=("door", "fixed"), widths=(711.2, 762.0), unit="in"),
    "mirrored": Room(
        kinds=("fixed", "door"),
        widths=(762.0, 711.2),
        unit="in",
        hinge_side="right",
        leans=(3.0, 2.0),
    ),
    "narrow": Room(kinds=("door",), widths=(600.0,), units="mm", swing="out"),
    "wide": Room(
        kinds=("fixed", "door", "fixed"),
        widths=(880.0, 720.0, 790.0),
        units="mm",
        hinge_side="right",
        hung_on="glass",
        swing="in",
        height=2130.0,
    ),
    "raked": Room(
        kinds=("door", "fixed"),
        widths=(640.0, 500.0),
        unit="in",
        leans=(-11.0, 12.0),
        fall=6.0,
        suspect=True,
    ),
    "screen": Room(
        kinds=("fixed",),
        widths=(900.0,),
        hinge_side=None,
        hung_on=None,
        walls=("left",),
        units="mm",
    ),
    "inches only": Room(kinds=("door", "fixed"), widths=(711.2, 762.0), unit="in", units="in"),
}


def case(name: str) -> Case:
    """Return a room of `ROOMS`, planned by hand."""
    room = ROOMS[name]
    brief = _brief(room)
    opening = _opening(room)
    return Case(brief=brief, opening=opening, made=_enclosure(room, brief))


def no_fit() -> Case:
    """Return a room into which nothing goes."""
    made = case("narrow")
    choice = made.made.choice
    return Case(
        brief=made.brief,
        opening=made.opening,
        made=NoFit(choice=choice, missing=4.2, clashes=(), why="The door is too wide."),
    )


def _readings(room: Room) -> list[dict[str, Any]]:
    rows: list[dict[str, Any]] = []
    if len(room.walls) == 2:
        for i, z in enumerate(HEIGHTS):
            rows.append({"id": f"w{i + 1}", "what": "width", "at": f"{z} mm", "value": "1500 mm"})
        rows.append(
            {
                "id": "d1",
                "what": "diagonal",
                "left_at": "50 mm",
                "right_at": "1880 mm",
                "value": "2400 mm",
            }
        )
    for i, side in enumerate(room.walls):
        lean = {"what": "lean", "wall": side, "from": "50 mm", "to": "1880 mm", "value": "3 mm"}
        bow = {"what": "bow", "wall": side, "from": "50 mm", "to": "1880 mm", "value": "1 mm"}
        rows += [{"id": f"p{i + 1}", **lean}, {"id": f"b{i + 1}", **bow}]
    fall = {"id": "f1", "what": "fall", "value": f"{room.fall} mm"}
    pitch = {"id": "c1", "what": "pitch", "over": "114 mm", "value": "2 mm"}
    return [*rows, fall, pitch]


def _brief(room: Room) -> Brief:
    lites = [{"kind": k, "width": f"{w} mm"} for k, w in zip(room.kinds, room.widths, strict=True)]
    document = {
        "hangtrue": 1,
        "job": {
            "id": "lodge-case",
            "title": "Seaside lodge <refit> & more",
            "room": "Test room",
            "version": 2,
        },
        "unit": room.unit,
        "walls": {s: {"name": f"{s} wall", "behind": "blocking"} for s in room.walls},
        "threshold": {"height": "100 mm", "width": "114 mm"},
        "wanted": {"lites": lites, "height": f"{room.height} mm", "swing": room.swing},
        "readings": _readings(room),
    }
    plant = {
        "grid": "1/16 in",
        "size_tolerance": "1/16 in",
        "hole_tolerance": "1/16 in",
        "notch_tolerance": "1/8 in",
        "rake_most": "1-1/2 in",
        "glass": ("10 mm",),
        "width_least": "6 in",
    }
    context = {"unit": room.unit}
    profile = Profile(
        id="case",
        title="Case",
        paper="letter" if room.unit == "in" else "a4",
        units=room.units,  # type: ignore[arg-type]
        hole_rules="us",
        plant=Plant.model_validate(plant, context=context),
        setting_sd=Length(0.8),
        limits={},
    )
    return Brief(
        job=Job.model_validate(document, context=context),
        profile=profile,
        items={item.id: item for item in HARDWARE},
        instruments=library.shipped_instruments(),
    )


def _width(room: Room) -> float:
    return sum(room.widths) + 5.0 * (len(room.widths) + 1)


def _opening(room: Room) -> Opening:
    shape: list[float] = []
    unknowns: list[str] = []
    for side in room.walls:
        foot, inward = (
            (0.0, 1.0) if side == "left" or room.walls == ("right",) else (_width(room), -1.0)
        )
        lean = room.leans[0 if side == "left" else 1]
        bow = (0.0, 1.2, 0.0)
        shape += [foot + inward * (lean * z / 1830 + b) for z, b in zip(HEIGHTS, bow, strict=True)]
        unknowns += [f"{side} {z:.1f}" for z in HEIGHTS]
    for side in room.walls:
        shape.append(0.001)
        unknowns.append(f"across {side}")
    shape += [0.0, -room.fall, 0.017]
    unknowns += ["curb left", "curb right", "pitch"]
    sd = [0.001 if n.startswith(("across", "pitch")) else 0.6 for n in unknowns]
    residuals = tuple(
        Residual(
            reading=str(r["id"]),
            observed=1500.0,
            adjusted=1500.4,
            sigma=0.8,
            redundancy=0.4,
            normalised=0.5,
            detectable=4.0,
        )
        for r in _readings(room)
    )
    named = Suspect(reading="w2", slip="one inch too long", corrected=1150.0, probability=0.97)
    agreement = Agreement(
        chi_square=3.0,
        degrees_of_freedom=4,
        probability=0.6,
        level=0.01,
        alarm=room.suspect,
        named=named if room.suspect else None,
        suspects=(named,) if room.suspect else (),
        decider=None,
    )
    return Opening(
        unknowns=tuple(unknowns),
        walls=room.walls,  # type: ignore[arg-type]
        heights=HEIGHTS,
        shape=np.array(shape),
        covariance=np.diag(np.square(sd)),
        residuals=residuals,
        agreement=agreement,
        set_aside=("w2",) if room.suspect else (),
        advice=(),
    )


def _ids(kinds: tuple[str, ...]) -> tuple[str, ...]:
    fixed = iter(range(1, 4))
    return tuple("door" if k == "door" else f"fixed {next(fixed)}" for k in kinds)


def _enclosure(room: Room, brief: Brief) -> Enclosure:
    ids = _ids(room.kinds)
    lites = []
    x = 5.0
    for i, (kind, lite_id, wide) in enumerate(zip(room.kinds, ids, room.widths, strict=True)):
        lean_left = room.leans[0] if i == 0 and "left" in room.walls else 0.0
        lean_right = room.leans[1] if i == len(ids) - 1 and "right" in room.walls else 0.0
        lites.append(_lite(room, brief, kind, lite_id, x, wide, (lean_left, -lean_right)))
        x += wide + 5.0
    return Enclosure(
        choice=Choice(
            order=room.kinds,
            hinge_side=room.hinge_side,  # type: ignore[arg-type]
            hung_on=room.hung_on,  # type: ignore[arg-type]
            thickness=9.525,
            cut="raked",
        ),
        lites=tuple(lites),
        joints=_joints(room, ids),
        margin=Margin(sigmas=2.2, mm=1.4, joint="door left", at=50.0),
    )


def _lite(
    room: Room,
    brief: Brief,
    kind: str,
    lite_id: str,
    x: float,
    wide: float,
    rakes: tuple[float, float],
) -> Lite:
    low = 11.0 if kind == "door" else 3.0
    tall = room.height - low
    shift = max(0.0, -rakes[0])
    fall = room.fall / _width(room) * wide if kind == "fixed" else 0.0
    corners = (
        (shift, fall),
        (shift + wide, 0.0),
        (shift + wide + rakes[1], tall + fall),
        (shift + rakes[0], tall + fall),
    )
    door = kind == "door"
    notches, holes = _cuts(room, brief, corners) if door else ((), ())
    outline = less(corners, [n.corners for n in notches])
    whole = figure(outline)
    finish = "flat polished"
    edges = (
        Edge(where="left", length=tall, rake=rakes[0], finish=finish, meets="left wall"),
        Edge(where="right", length=tall + fall, rake=rakes[1], finish=finish, meets="right wall"),
        Edge(
            where="top", length=corners[2][0] - corners[3][0], rake=0.0, finish=finish, meets="free"
        ),
        Edge(where="bottom", length=wide, rake=-fall, finish=finish, meets="curb"),
    )
    return Lite(
        id=lite_id,
        kind=kind,  # type: ignore[arg-type]
        corners=corners,
        holes=holes,
        notches=notches,
        thickness=9.525,
        origin=(x - shift, low - fall),
        hinge_side=room.hinge_side if door else None,  # type: ignore[arg-type]
        hung_on=room.hung_on if door else None,  # type: ignore[arg-type]
        hinge_heights=(243.0, room.height - 265.0) if door else (),
        edges=edges,
        chains=(),
        area=whole.area,
        centroid=whole.centroid,
        mass_kg=whole.area * 9.525 * 2.5e-6,
        outline=outline,
    )


def _cuts(
    room: Room, brief: Brief, corners: tuple[tuple[float, float], ...]
) -> tuple[tuple[Notch, ...], tuple[Hole, ...]]:
    left = room.hinge_side == "left"
    hinge = brief.item("case-hinge", Hinge)
    cut = hinge.cut_outs[0]
    notches = []
    for z in (254.0, room.height - 254.0):
        y = z - 11.0
        half = (cut.height or 0.0) / 2

        def edge(height: float) -> float:
            low, high = (corners[0], corners[3]) if left else (corners[1], corners[2])
            return low[0] + (high[0] - low[0]) * (height - low[1]) / (high[1] - low[1])

        inner = edge(y) + (cut.width if left else -cut.width)
        low, high = (edge(y - half), y - half), (edge(y + half), y + half)
        inside = ((inner, y - half), (inner, y + half))
        ring = (low, *inside, high) if left else (low, high, inside[1], inside[0])
        notches.append(Notch(corners=ring, radius=float(cut.radius or 0.0), fitting="case-hinge"))
    handle = brief.item("case-handle", Handle)
    x = corners[1][0] - handle.from_edge if left else corners[0][0] + handle.from_edge
    holes = tuple(
        Hole(centre=(x, 905.0 + h.along), diameter=h.width, fitting="case-handle")
        for h in handle.holes
    )
    return tuple(notches), holes


def _joints(room: Room, ids: tuple[str, ...]) -> tuple[Joint, ...]:
    ends = ("left wall" if "left" in room.walls else "free", *ids)
    faces = (*ids, "right wall" if "right" in room.walls else "free")
    joints = []
    for a, b in zip(ends, faces, strict=True):
        kind, hardware = _kind(room, a, b)
        joints.append(
            Joint(id=f"{a} - {b}", kind=kind, between=(a, b), hardware=hardware, gaps=_gaps(room))
        )
    for lite in ids:
        below: JointKind = "sweep" if lite == "door" else "channel"
        joints.append(
            Joint(
                id=f"{lite} - curb",
                kind=below,
                between=(lite, "curb"),
                hardware="sweep-drip" if lite == "door" else "case-channel",
                gaps=tuple(
                    Gap(at=x, predicted=Estimate(9 + x / 400, 0.7), least=6, usual=11, most=14)
                    for x in (5.0, 300.0, 650.0)
                ),
            )
        )
    return tuple(j for j in joints if "free" not in j.between)


def _kind(room: Room, a: str, b: str) -> tuple[JointKind, str]:
    pair = {a, b}
    if "door" in pair:
        hinge = (room.hinge_side == "left") == (b == "door")
        return ("hinge", "case-hinge") if hinge else ("strike", "strike-seal-round")
    return ("channel", "case-channel") if "wall" in f"{a}{b}" else ("silicone", "butt-joint")


def _gaps(room: Room) -> tuple[Gap, ...]:
    return tuple(
        Gap(
            at=z,
            predicted=Estimate(4.6 + 0.7 * i, 0.5),
            least=3.2,
            usual=4.8,
            most=7.5,
            at_fitting=z in (254.0, room.height - 254.0),
        )
        for i, z in enumerate((15.0, 254.0, 965.0, room.height - 254.0, room.height - 5))
    )
