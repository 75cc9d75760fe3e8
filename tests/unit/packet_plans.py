"""Plans made by hand for the tests of the papers: goes, does not fit, contradicts itself."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np

from hangtrue.check.finding import Finding, Level
from hangtrue.check.verdict import READINGS_RULE, Judged
from hangtrue.estimate import Estimate
from hangtrue.fit.enclosure import (
    Alternative,
    Chain,
    Choice,
    Clash,
    Deduction,
    Edge,
    Enclosure,
    Gap,
    Hole,
    Joint,
    Lite,
    Margin,
    NoFit,
    Notch,
)
from hangtrue.geometry import figure, less
from hangtrue.job.brief import Brief
from hangtrue.job.document import Job
from hangtrue.job.profile import Plant, Profile
from hangtrue.measure.opening import Agreement, NextReading, Opening, Residual, Suspect
from hangtrue.plan import Plan
from hangtrue.units import Length

INCH = 25.4
GLASS = 2.5e-6
"""Density of glass, kg/mm3 (EN 572-1)."""

READINGS: list[dict[str, Any]] = [
    {"id": "w1", "what": "width", "at": "2 in", "value": '58-1/2"', "by": "Ines"},
    {"id": "w2", "what": "width", "at": "74 in", "value": '58-5/16"', "note": "over grout"},
    {
        "id": "p1", "what": "lean", "wall": "left", "from": "2 in", "to": "74 in",
        "toward": "in", "value": "1/16 in", "with": "level-72",
    },
    {
        "id": "p2", "what": "lean", "wall": "right", "from": "2 in", "to": "74 in",
        "toward": "in", "value": "1/8 in", "with": "level-72",
    },
    {"id": "a1", "what": "angle", "wall": "left", "value": "89.9°"},
    {"id": "f1", "what": "fall", "falls": "right", "value": "1/16 in", "with": "level-24"},
]  # fmt: skip


def brief(units: str = "in", paper: str = "letter", **head: Any) -> Brief:
    """Return a brief with a plain profile."""
    job = Job.model_validate(
        {
            "hangtrue": 1,
            "job": {
                "id": "lodge-gull",
                "title": "Seaside lodge refit",
                "room": "Gull room, first floor",
                "version": 2,
                "date": "2026-05-04",
                "made_by": "Ines",
                "customer": "The lodge",
            }
            | head,
            "unit": "mm" if units == "mm" else "in",
            "walls": {
                "left": {"name": "window wall", "behind": "blocking"},
                "right": {"name": "head wall", "behind": "unknown"},
            },
            "threshold": {
                "kind": "curb",
                "height": "4 in",
                "width": "4-1/2 in",
                "material": "stone",
            },
            "wanted": {"lites": ["door", "fixed"], "hinge_side": "left", "height": "76 in"},
            "readings": READINGS,
        },
        context={"unit": "in"},
    )
    return Brief(job=job, profile=profile(units, paper), items={}, instruments={})


def profile(units: str, paper: str) -> Profile:
    """Return a shop's profile with nothing in it that the papers do not read."""
    plant = Plant(
        grid=Length(INCH / 16),
        size_tolerance=Length(INCH / 16),
        hole_tolerance=Length(INCH / 16),
        notch_tolerance=Length(INCH / 8),
        rake_most=Length(INCH / 2),
        glass=(Length(9.525),),
        width_least=Length(200),
    )
    return Profile.model_validate(
        {
            "id": "test",
            "title": "Test",
            "paper": paper,
            "units": units,
            "hole_rules": "us",
            "plant": plant,
            "setting_sd": Length(0.8),
            "limits": {},
        }
    )


def opening(*, alarm: bool = False, named: bool = False) -> Opening:
    """Return an opening that leans in a little on both sides."""
    heights = (50.8, 990.6, 1879.6)
    left = (0.0, 0.8, 1.6)
    right = (1485.9, 1484.3, 1482.7)
    names = tuple(f"{s} {h:.1f}" for s in ("left", "right") for h in heights)
    shape = np.array([*left, *right, 0.0, -1.6])
    suspect = Suspect(
        reading="w2", slip="one inch too long", corrected=57.3125 * INCH, probability=0.93
    )
    tie = Suspect(reading="p2", slip="sign flipped", corrected=-3.175, probability=0.05)
    decider = NextReading(
        words="Read the diagonal from left 2 in to right 74 in.", why="decides", gain=6.2
    )
    agreement = Agreement(
        chi_square=41.2 if alarm else 1.9,
        degrees_of_freedom=2.0,
        probability=1e-6 if alarm else 0.39,
        level=0.001,
        alarm=alarm,
        named=suspect if named else None,
        suspects=(suspect, tie) if alarm else (),
        decider=decider if alarm and not named else None,
    )
    return Opening(
        unknowns=(*names, "curb left", "curb right"),
        walls=("left", "right"),
        heights=heights,
        shape=shape,
        covariance=np.diag([0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.0, 0.2]),
        residuals=residuals(),
        agreement=agreement,
        set_aside=("w2",) if named else (),
        advice=(NextReading(words="Read the width at 38 in.", why="narrows", gain=0.31),),
    )


def residuals() -> tuple[Residual, ...]:
    """Return one residual for each reading; nothing checks the fall."""
    observed = (58.5 * INCH, 58.3125 * INCH, 1.5875, 3.175, 1.5690509975429023, 1.5875)
    redundancy = (0.5, 0.4, 0.3, 0.3, 0.2, 0.0)
    return tuple(
        Residual(
            reading=reading["id"],
            observed=value,
            adjusted=value + (0.2 if value > 1.58 else 0.0005),
            sigma=0.8 if value > 1.58 else 0.002,
            redundancy=share,
            normalised=0.4 if share else 0.0,
            detectable=5.1 if share else float("inf"),
        )
        for reading, value, share in zip(READINGS, observed, redundancy, strict=True)
    )


def lite(lite_id: str, kind: Any, x: float, width: float, rake: float) -> Lite:
    """Return a pane 1920 mm high; a door has two hinge notches and two holes for a handle."""
    high, thick = 1920.875, 9.525
    corners = ((0.0, 0.0), (width, 0.0), (width - rake, high), (0.0, high))
    notches = tuple(
        Notch(
            corners=((0.0, y), (41.0, y), (41.0, y + 63.0), (0.0, y + 63.0)),
            radius=10.0,
            fitting="hinge",
        )
        for y in (230.0, 1620.0)
    )
    holes = tuple(
        Hole(centre=(width - 60.0, y), diameter=12.0, fitting="handle") for y in (800.0, 1000.0)
    )
    if kind == "fixed":
        notches, holes = (), ()
    outline = less(corners, (n.corners for n in notches))
    area = figure(outline)
    return Lite(
        id=lite_id,
        kind=kind,
        corners=corners,
        holes=holes,
        notches=notches,
        thickness=thick,
        origin=(x, 11.1125),
        hinge_side="left" if kind == "door" else None,
        hung_on="wall" if kind == "door" else None,
        hinge_heights=(272.6, 1662.6) if kind == "door" else (),
        edges=(
            Edge(where="left", length=high, rake=0.0, finish="flat polished", meets="left wall"),
            Edge(
                where="right", length=high, rake=-rake, finish="flat polished", meets="right wall"
            ),
            Edge(where="top", length=width - rake, rake=0.0, finish="flat polished", meets="free"),
            Edge(where="bottom", length=width, rake=0.0, finish="flat polished", meets="curb"),
        ),
        chains=(chain("width bottom", width, 50.8), chain("width top", width - rake, 1879.6)),
        area=area.area,
        centroid=area.centroid,
        mass_kg=area.area * thick * GLASS,
        outline=outline,
    )


def chain(size: str, glass: float, at: float) -> Chain:
    """Return a deduction chain that adds up."""
    steps = (
        Deduction(what="gap at the hinge side", amount=-4.7625),
        Deduction(what="gap at the strike side", amount=-6.35),
        Deduction(what="rounded down to the plant's step", amount=-0.5),
    )
    return Chain(size=size, at_height=at, opening=glass + 11.6125, deductions=steps, glass=glass)


def joint(joint_id: str, kind: Any, between: tuple[str, str], mean: float) -> Joint:
    """Return a joint with a gap at three heights."""
    return Joint(
        id=joint_id,
        kind=kind,
        between=between,
        hardware="plain",
        gaps=tuple(
            Gap(
                at=at,
                predicted=Estimate(mean + off, 0.9),
                least=3.175,
                usual=4.7625,
                most=6.35,
                at_fitting=off != 0.0,
            )
            for at, off in ((272.6, 0.2), (990.6, 0.0), (1662.6, -0.3))
        ),
    )


CHOICE = Choice(
    order=("door", "fixed"), hinge_side="left", hung_on="wall", thickness=9.525, cut="raked"
)


def enclosure(choice: Choice = CHOICE, worse: float = 0.0) -> Enclosure:
    """Return a door and a fixed pane with their joints."""
    return Enclosure(
        choice=choice,
        lites=(
            lite("door", "door", 4.8, 720.725, 0.0),
            lite("fixed 1", "fixed", 731.8, 742.95, 3.175),
        ),
        joints=(
            joint("hinge", "hinge", ("left wall", "door"), 4.8),
            joint("strike", "strike", ("door", "fixed 1"), 4.8 + worse),
            joint("channel", "channel", ("fixed 1", "right wall"), 4.9 + worse),
        ),
        margin=Margin(sigmas=1.6 - worse / 2, mm=1.4 - worse, joint="strike", at=1662.6),
    )


NO_FIT = NoFit(
    choice=replace(CHOICE, hinge_side="right"),
    missing=6.4,
    clashes=(
        Clash(requirement="gap at the upper hinge at least 1/8 in", joint="hinge", at=1662.6),
    ),
    why="The right wall leans in more than the hinges can take up.",
)

GOOD = Finding(
    rule="hinge-wall-plumb", level=Level.PASS, where="left wall",
    found="The hinge wall leans in 1/16 in.",
    value=Estimate(1.6, 0.4), limit=6.35, unit="mm", probability=0.9999, source="practice",
)  # fmt: skip
QUESTION = Finding(
    rule="backing-known", level=Level.NOT_CHECKED, where="right wall",
    found="Nobody has said what is behind the tile.",
    means="Screws may find nothing to hold on to.",
    do="Find out what is behind the tile along the glass line.", source="practice",
)  # fmt: skip
HEAVY = Finding(
    rule="door-mass", level=Level.WARN, where="door", found="The door weighs 72 lb.",
    means="Two hinges carry 66 lb by the data entered.", do="Take three hinges.",
    value=Estimate(32.6, 0.1), limit=30.0, unit="kg", probability=0.0, source="practice",
)  # fmt: skip
HOLLOW = Finding(
    rule="solid-wood", level=Level.FAIL, where="left wall",
    found="The wall is hollow where the hinges land.",
    means="Hinge screws hold in solid wood only.",
    do="Set blocking from 6 to 71 in at the left wall.",
    source="practice",
)  # fmt: skip
DISAGREE = Finding(
    rule=READINGS_RULE, level=Level.FAIL, where="readings",
    found="The readings contradict each other.",
    do="Read w2 again.", source="practice",
)  # fmt: skip


def plan(
    *findings: Finding,
    made: Enclosure | NoFit | None = None,
    units: str = "in",
    paper: str = "letter",
    alarm: bool = False,
    named: bool = False,
    **head: Any,
) -> Plan:
    """Return a plan with the given findings; by default a door and a fixed pane."""
    way = made or enclosure()
    square = replace(CHOICE, cut="square")
    squared = enclosure(square, worse=1.2) if isinstance(way, Enclosure) else None
    best = Judged(alternative=Alternative(made=way, squared=squared), findings=findings)
    other = Judged(alternative=Alternative(made=NO_FIT), findings=(QUESTION,))
    return Plan(
        brief=brief(units, paper, **head),
        opening=opening(alarm=alarm, named=named),
        best=best,
        others=(other,),
    )
