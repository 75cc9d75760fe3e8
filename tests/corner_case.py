"""The good job with a corner, a step, a bar or two doors: what the straight one does not have.

Each helper takes a case and returns another; a return of a second fixed pane stands at the right.
"""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import numpy as np

from hangtrue.check.case import Case
from hangtrue.estimate import Estimate
from hangtrue.fit.enclosure import Bar, Chain, Corner, CornerJoint, Gap, Joint, JointKind, Notch
from hangtrue.geometry import less
from tests import good_job as g

INCH = 25.4
ALONG = 58.5 * INCH
"""x of the corner along the glass line, mm."""
RETURN = 34.0 * INCH
"""Length of the run after it, mm."""


def known(case: Case, **entries: tuple[float, float]) -> Case:
    """Add entries to the opening, value and standard deviation; `square_left` is `square left`."""
    opening = case.opening
    names = tuple(name.replace("_", " ") for name in entries)
    values, sds = zip(*entries.values(), strict=True)
    old = len(opening.unknowns)
    covariance = np.zeros((old + len(names), old + len(names)))
    covariance[:old, :old] = opening.covariance
    covariance[old:, old:] = np.diag(np.square(sds))
    return replace(
        case,
        opening=replace(
            opening,
            unknowns=(*opening.unknowns, *names),
            shape=np.concatenate([opening.shape, values]),
            covariance=covariance,
        ),
    )


def turned(
    case: Case,
    angle: float = 90.3,
    *,
    sd: float = 0.2,
    joint: CornerJoint = "butt",
    kind: JointKind = "silicone",
    hardware: str = "butt-joint",
    read: bool = True,
) -> Case:
    """Turn the glass line toward the shower at the right wall, and go on with a return, degrees."""
    wanted = {"angle": f"{round(angle)}°", "way": "in", "joint": joint}
    lites = ["door", {"kind": "fixed"}, {"kind": "fixed", "turn": wanted}]
    asked = g.job(case, "wanted.lites", lites)
    if read:
        rows = [*g.document(asked)["readings"]]
        rows.append({"what": "corner", "id": "a1", "corner": 1, "value": f"{angle}°"})
        asked = g.job(asked, "readings", rows)
    wide = g.room(asked, width=ALONG + RETURN)
    radians = math.radians
    wide = known(
        wide,
        corner_1=(ALONG, 0.4),
        angle_1=(radians(angle), radians(sd)),
        curb_corner_1=(0.0, 0.3),
    )
    assert case.enclosure
    corner = Corner(number=1, angle=radians(angle), way="in", joint=joint, laps="fixed 1")
    glass = g.lite(
        "fixed 2", RETURN - 20.0, left="fixed 1", right="right wall", x=ALONG + 10, z=3.2
    )
    joints = tuple(
        replace(j, id="fixed 1 to fixed 2", kind=kind, between=("fixed 1", "fixed 2"),
                hardware=hardware, corner=corner, gaps=(g.gap(20.0, 2.4, 1.6, 3.2),))
        if j.id == "fixed 1 to right wall" else j
        for j in case.enclosure.joints
    )  # fmt: skip
    more = tuple(
        replace(j, id=j.id.replace("fixed 1", "fixed 2"),
                between=("fixed 2", j.between[1] if j.between[0] == "fixed 1" else j.between[0]))
        for j in case.enclosure.joints
        if j.id in {"fixed 1 to right wall", "fixed 1 to curb"}
    )  # fmt: skip
    built = g.made(
        wide, lites=(*case.enclosure.lites, replace(glass, run=2)), joints=(*joints, *more)
    )
    return g.choice(built, order=("door", "fixed", "fixed"))


def stepped(
    case: Case,
    width: float,
    height: float,
    *,
    radius: float = 12.7,
    gaps: tuple[float, float] = (8.0, 8.0),
    left: bool = False,
) -> Case:
    """Notch the fixed pane over a knee wall at its right (or left) lower corner, mm."""
    pane = case.fixed[0]
    low, high = (0.0, width) if left else (g.FIXED - width, g.FIXED)
    cut = ((low, 0.0), (high, 0.0), (high, height), (low, height))
    notch = Notch(corners=cut, radius=radius, fitting="knee wall", of="step")
    outline = less(pane.corners, [cut])
    beside, above = gaps
    between = ("fixed 1", "knee wall")

    def at(value: float) -> tuple[Gap, ...]:
        return (g.gap(20.0, value, 1.6, 9.5),)

    assert case.enclosure
    joints = (
        *case.enclosure.joints,
        Joint(id="riser", kind="open", between=between, hardware="clear-joint", gaps=at(beside)),
        Joint(id="cap", kind="channel", between=between, hardware="channel-shallow",
              gaps=at(above), level=True),
    )  # fmt: skip
    return g.made(g.pane(case, "fixed 1", notches=(notch,), outline=outline), joints=joints)


def barred(
    case: Case, length: float = 900.0, *, to: str = "right wall", at: float = 1900.0
) -> Case:
    """Hold the fixed pane with a support bar."""
    wanted = g.job(case, "wanted.bars", [{"kind": "support", "holds": "fixed 1", "to": to}])
    chain = Chain(size="length", at_height=at, opening=length, deductions=(), glass=length)
    bar = Bar(
        id="bar 1", kind="support", hardware="support-bar", run=1, holds="fixed 1", to=to,
        ends=((700.0, 0.0, at), (1486.0, 0.0, at)), length=Estimate(length, 0.5), chain=chain,
    )  # fmt: skip
    return g.made(wanted, bars=(bar,))


def flap(case: Case) -> Case:
    """Let the door end free, as a flap on the fixed pane at its right."""
    door = case.door
    edges = tuple(replace(e, meets="free") if e.where == "left" else e for e in door.edges)
    return g.glass_hung(g.pane(case, "door", edges=edges, hinge_side="right"), "yes")


def pair(case: Case) -> Case:
    """Make two doors that close on each other of door and fixed pane, each on its wall."""
    one, other = case.lites
    first = replace(one, id="door 1", edges=_meeting(one.edges, "right", "door 2"))
    second = replace(
        other, id="door 2", kind="door", hinge_side="right", hung_on="wall",
        hinge_heights=one.hinge_heights, edges=_meeting(other.edges, "left", "door 1"),
    )  # fmt: skip
    assert case.enclosure
    names = {"door": "door 1", "fixed 1": "door 2"}
    joints = tuple(
        replace(
            j,
            between=(names.get(j.between[0], j.between[0]), names.get(j.between[1], j.between[1])),
        )
        for j in case.enclosure.joints
    )
    asked = g.job(case, "wanted.lites", ["door", "door"])
    built = g.made(asked, lites=(first, second), joints=joints)
    return g.choice(built, order=("door", "door"), second=("right", "wall"))


def _meeting(edges: Any, where: str, what: str) -> Any:
    return tuple(replace(e, meets=what) if e.where == where else e for e in edges)


def thing(case: Case, **box: Any) -> Case:
    """Put one thing around the glass, and nothing else but the shower head."""
    head = g.document(case)["obstacles"][1]
    return g.job(case, "obstacles", [{"name": "stool", "kind": "other", **box}, head])


def steam(case: Case, *, door: str = "transom", transom: str = "tilting", **above: str) -> Case:
    """Take the glass up to the ceiling, over the door too."""
    row = [{"kind": "door", "head": door}, {"kind": "fixed", "head": "ceiling"}]
    asked = g.job(case, "wanted.lites", row)
    asked = g.job(asked, "wanted.transom_at", "76 in")
    asked = g.job(asked, "wanted.transom", transom)
    return g.job(asked, "above", {"kind": "ceiling", "behind": "blocking"} | above)
