"""One good job, whole: a door and a fixed pane in an opening that is a little out of plumb.

Tests break one thing of it with `job`, `opening`, `pane` or `gap` and look at what is found.
"""

from __future__ import annotations

import copy
from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import numpy as np

from hangtrue.check.case import Case
from hangtrue.check.finding import Finding, Level
from hangtrue.check.rules import RULES
from hangtrue.estimate import Estimate
from hangtrue.fit.enclosure import (
    Alternative,
    Choice,
    Clash,
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
from hangtrue.job.hardware import BoxedSet
from hangtrue.job.library import items, shipped_instruments, shipped_profiles
from hangtrue.measure.opening import Agreement, Opening

INCH = 25.4
THICK = 9.525
TOP = 78 * INCH
DOOR, FIXED = 26 * INCH, 32 * INCH
GAP, UNDER = 3 / 16 * INCH, 1 / 2 * INCH
PLATES = (10 * INCH, 68 * INCH)

WALL = {
    "layers": [
        {"material": "porcelain tile", "thickness": "10 mm"},
        {"material": "cement board", "thickness": "1/2 in"},
    ],
    "behind": "blocking",
    "blocking": [{"from": "0 in", "to": "80 in", "depth": "1-1/2 in", "each_side": "2-3/4 in"}],
    "solid_bedded": "yes",
}

JOB: dict[str, Any] = {
    "hangtrue": 1,
    "job": {"id": "lodge-gull", "title": "Seaside lodge refit"},
    "unit": "in",
    "site": dict.fromkeys(
        (
            "tile_and_grout_done",
            "pan_clean",
            "valve_and_head_in_place",
            "vanity_and_toilet_in_place",
        ),
        "yes",
    ),
    "walls": {"left": WALL, "right": copy.deepcopy(WALL)},
    "inside": {"depth": "34 in"},
    "obstacles": [
        {"name": "toilet", "kind": "toilet", "x": "48 in", "y": "-30 in",
         "width": "15 in", "depth": "28 in", "top": "26 in"},
        {"name": "shower head", "kind": "head", "x": "3 in", "y": "16 in",
         "bottom": "74 in", "top": "77 in"},
    ],
    "threshold": {"kind": "curb", "height": "4 in", "width": "4-1/2 in", "material": "tile"},
    "wanted": {
        "lites": ["door", {"kind": "fixed", "head_support": "unknown"}],
        "height": "78 in",
        "safety_mark": "16 CFR 1201 category II",
    },
    "readings": [
        {"what": "width", "id": "w1", "at": "1 in", "value": "58-1/2 in"},
        {"what": "width", "id": "w2", "at": "76 in", "value": "58-3/8 in"},
        {"what": "lean", "id": "l1", "wall": "left",
         "from": "0 in", "to": "72 in", "value": "1/16 in"},
        {"what": "lean", "id": "l2", "wall": "left", "plane": "across",
         "from": "0 in", "to": "72 in", "value": "0 in"},
        {"what": "lean", "id": "l3", "wall": "right",
         "from": "0 in", "to": "72 in", "value": "1/16 in"},
        {"what": "lean", "id": "l4", "wall": "right", "plane": "across",
         "from": "0 in", "to": "72 in", "value": "0 in"},
        {"what": "fall", "id": "f1", "value": "0 in"},
        {"what": "pitch", "id": "p1", "value": "1/4 in per ft"},
    ],
}  # fmt: skip


def brief(document: dict[str, Any], profile: str = "inch-shop") -> Brief:
    """Make the brief of a document, with all that is shipped."""
    job = Job.model_validate(document, context={"unit": document["unit"]})
    return Brief(
        job=job,
        profile=shipped_profiles()[profile],
        items=items(job.items),
        instruments=shipped_instruments(),
    )


def agreement(**changes: Any) -> Agreement:
    """Say that the readings agree, but for what is changed."""
    good = Agreement(
        chi_square=5.0,
        degrees_of_freedom=5.0,
        probability=0.42,
        level=0.01,
        alarm=False,
        named=None,
        suspects=(),
        decider=None,
    )
    return replace(good, **changes)


def opening(
    *,
    width: float = 58.5 * INCH,
    lean_left: float = 1.6,
    lean_right: float = 1.6,
    bow_left: float = 0.0,
    bow_right: float = 0.0,
    across_left: float = 0.0,
    across_right: float = 0.0,
    fall: float = 0.0,
    pitch: float = 0.0208,
    ceiling: float = 92 * INCH,
    sd: float = 0.4,
    pitch_sd: float = 0.002,
    lean_sd: float = 0.3,
    agree: Agreement | None = None,
) -> Opening:
    """Make an opening with leans over the height of the glass and bows at the middle of the plates.

    Everything is in mm but the pitch, which is a slope.
    """
    middle = sum(PLATES) / 2
    heights = (0.0, PLATES[0], middle, PLATES[1], TOP)
    names = [f"{side} {h:.1f}" for side in ("left", "right") for h in heights]
    names += ["across left", "across right", "curb left", "curb right", "pitch", "ceiling"]
    left = [lean_left * h / TOP + bow_left * (h == middle) for h in heights]
    right = [width - lean_right * h / TOP - bow_right * (h == middle) for h in heights]
    shape = [*left, *right, across_left / TOP, across_right / TOP, 0.0, -fall, pitch, ceiling]
    sds = [*(sd if h == 0 else lean_sd for _ in "lr" for h in heights)]
    sds += [lean_sd / TOP, lean_sd / TOP, 0.3, 0.3, pitch_sd, 1.0]
    return Opening(
        unknowns=tuple(names),
        walls=("left", "right"),
        heights=heights,
        shape=np.array(shape),
        covariance=np.diag(np.square(sds)),
        residuals=(),
        agreement=agree or agreement(),
        set_aside=(),
        advice=(),
    )


def notch(side: str, width: float, centre: float, name: str = "hinge") -> Notch:
    """Cut-out of a plain hinge in the left or right edge of a pane."""
    into, half = 1.625 * INCH, 1.25 * INCH
    x0, x1 = (0.0, into) if side == "left" else (width - into, width)
    low, high = centre - half, centre + half
    return Notch(
        corners=((x0, low), (x1, low), (x1, high), (x0, high)), radius=0.5 * INCH, fitting=name
    )


def lite(
    name: str,
    width: float,
    *,
    left: str,
    right: str,
    x: float,
    z: float,
    holes: tuple[Hole, ...] = (),
    notches: tuple[Notch, ...] = (),
    rake: float = 1.6,
    **more: Any,
) -> Lite:
    """Make a pane that is square in its outline; its upright edges are said to rake."""
    height = TOP - z
    corners = ((0.0, 0.0), (width, 0.0), (width, height), (0.0, height))
    outline = less(corners, [n.corners for n in notches])
    shape = figure(outline)
    edges = (
        Edge(where="bottom", length=width, rake=0.0, finish="flat polished", meets="curb"),
        Edge(where="right", length=height, rake=rake, finish="flat polished", meets=right),
        Edge(where="top", length=width, rake=0.0, finish="flat polished", meets="free"),
        Edge(where="left", length=height, rake=rake, finish="flat polished", meets=left),
    )
    pane = Lite(
        id=name,
        kind="door" if name == "door" else "fixed",
        corners=corners,
        holes=holes,
        notches=notches,
        thickness=THICK,
        origin=(x, z),
        hinge_side=None,
        hung_on=None,
        hinge_heights=(),
        edges=edges,
        chains=(),
        area=shape.area,
        centroid=shape.centroid,
        mass_kg=shape.area * THICK * 2.5e-6,
        outline=outline,
    )
    return replace(pane, **more)


def gap(at: float, value: float, least: float, most: float, sd: float = 0.4) -> Gap:
    """Make a gap of the middle kind."""
    usual = (least + most) / 2
    return Gap(at=at, predicted=Estimate(value, sd), least=least, usual=usual, most=most)


def enclosure() -> Enclosure:
    """Door hinged on the left wall, fixed pane in a channel at the right wall."""
    holes = tuple(
        Hole(centre=(DOOR - 63.5, 36 * INCH + y), diameter=12.7, fitting="handle")
        for y in (-101.6, 101.6)
    )
    door = lite(
        "door", DOOR, left="left wall", right="fixed 1", x=GAP, z=UNDER, holes=holes,
        notches=tuple(notch("left", DOOR, h - UNDER) for h in PLATES),
        hinge_side="left", hung_on="wall", hinge_heights=tuple(h - UNDER for h in PLATES),
    )  # fmt: skip
    fixed = lite(
        "fixed 1", FIXED, left="door", right="right wall", x=DOOR + 2 * GAP, z=3.2
    )  # fmt: skip
    heights = (20.0, *PLATES, TOP)
    joints = (
        Joint(
            id="door to left wall", kind="hinge", between=("left wall", "door"),
            hardware="plain-wall-hinge", gaps=tuple(gap(h, GAP, 1.6, 9.5) for h in heights),
        ),
        Joint(
            id="door to fixed 1", kind="strike", between=("door", "fixed 1"),
            hardware="strike-seal-round", gaps=tuple(gap(h, GAP, 3.2, 6.35) for h in heights),
        ),
        Joint(
            id="fixed 1 to right wall", kind="channel", between=("fixed 1", "right wall"),
            hardware="channel-deep", gaps=tuple(gap(h, 8.0, 4.8, 17.5) for h in heights),
        ),
        Joint(
            id="door to curb", kind="sweep", between=("door", "curb"),
            hardware="sweep-drip",
            gaps=(gap(GAP, UNDER, 9.5, 15.9), gap(GAP + DOOR, UNDER, 9.5, 15.9)),
        ),
        Joint(
            id="fixed 1 to curb", kind="channel", between=("fixed 1", "curb"),
            hardware="channel-shallow",
            gaps=(gap(DOOR + 2 * GAP, 3.2, 1.6, 6.0), gap(DOOR + 2 * GAP + FIXED, 3.2, 1.6, 6.0)),
        ),
    )  # fmt: skip
    return Enclosure(
        choice=Choice(
            order=("door", "fixed"), hinge_side="left", hung_on="wall", thickness=THICK, cut="raked"
        ),
        lites=(door, fixed),
        joints=joints,
        margin=Margin(sigmas=3.9, mm=1.56, joint="door to fixed 1", at=20.0),
    )


def good() -> Case:
    """Return the good job."""
    return Case(
        brief=brief(JOB), opening=opening(), alternative=Alternative(made=enclosure(), squared=None)
    )


# ------------------------------------------------------------------------------ break one thing


def job(case: Case, path: str, value: Any, profile: str = "inch-shop") -> Case:
    """Change one thing of the job document; `-` as a value takes it out."""
    written = copy.deepcopy(document(case))
    *parents, last = path.split(".")
    place: Any = written
    for key in parents:
        place = place[int(key) if key.isdigit() else key]
    if value == "-":
        del place[int(last) if last.isdigit() else last]
    else:
        place[int(last) if last.isdigit() else last] = value
    changed = replace(case, brief=brief(written, profile))
    DOCUMENTS[id(changed.brief)] = (changed.brief, written)
    return changed


DOCUMENTS: dict[int, tuple[Brief, dict[str, Any]]] = {}
"""The document each broken brief was made of; the brief is kept so that its id stays its own."""


def document(case: Case) -> dict[str, Any]:
    """Return the job document that a case was made of."""
    return DOCUMENTS.get(id(case.brief), (case.brief, JOB))[1]


def under(case: Case, **changes: Any) -> Case:
    """Change the shop's profile: the code it works under, its practice for holes."""
    profile = case.brief.profile.model_copy(update=changes)
    return replace(case, brief=replace(case.brief, profile=profile))


def room(case: Case, **changes: Any) -> Case:
    """Change the opening."""
    return replace(case, opening=opening(**changes))


def made(case: Case, **changes: Any) -> Case:
    """Change the enclosure."""
    assert case.enclosure
    return replace(case, alternative=Alternative(made=replace(case.enclosure, **changes)))


def choice(case: Case, **changes: Any) -> Case:
    """Change what the alternative decides."""
    return made(case, choice=replace(case.choice, **changes))


def pane(case: Case, name: str, **changes: Any) -> Case:
    """Change one pane."""
    lites = tuple(replace(p, **changes) if p.id == name else p for p in case.lites)
    return made(case, lites=lites)


def gaps(case: Case, joint: str, value: float) -> Case:
    """Set every gap of one joint."""
    assert case.enclosure
    joints = tuple(
        replace(j, gaps=tuple(replace(g, predicted=Estimate(value, 0.4)) for g in j.gaps))
        if j.id == joint
        else j
        for j in case.enclosure.joints
    )
    return made(case, joints=joints)


def glass_hung(case: Case, head: str = "unknown") -> Case:
    """Hang the door on the fixed pane, its free edge at the left."""
    hung = choice(case, hinge_side="right", hung_on="glass")
    return job(hung, "wanted.lites", ["door", {"kind": "fixed", "head_support": head}])


def with_hinges(case: Case, *heights: float) -> Case:
    """Hang the door on plates at these heights above the datum."""
    return pane(case, "door", hinge_heights=tuple(h - UNDER for h in heights))


def boxed(case: Case, **changes: Any) -> Case:
    """Ask for a boxed set of the same panes."""
    document = {
        "boxed_set": 1, "id": "wren-set", "title": "Wren set", "unit": "in",
        "panes": [
            {"kind": "door", "width": "26 in", "height": "77-1/2 in", "thickness": "3/8 in"},
            {"kind": "fixed", "width": "32 in", "height": "77-1/2 in", "thickness": "3/8 in"},
        ],
        "opening_least": "58-1/4 in", "opening_most": "58-3/4 in", "out_of_plumb_most": "1/4 in",
        "hinge": "plain-wall-hinge", "wall": "channel-deep", "strike": "strike-seal-round",
        "sweep": "sweep-drip",
    } | changes  # fmt: skip
    box = BoxedSet.model_validate(document, context={"unit": "in"})
    asked = job(case, "wanted.make", "boxed set")
    return replace(asked, brief=replace(asked.brief, boxed_set=box))


def no_fit(case: Case) -> Case:
    """Say that nothing goes in."""
    clash = (
        Clash(requirement="the least strike gap", joint="door to fixed 1", at=20.0),
        Clash(requirement="the narrowest door", joint="door", at=0.0),
    )
    nothing = NoFit(
        choice=case.choice, missing=4.0, clashes=clash, why="The opening is too narrow."
    )
    return replace(case, alternative=Alternative(made=nothing))


def found(case: Case, rule_id: str) -> tuple[Finding, ...]:
    """Apply one rule."""
    return next(rule for rule in RULES if rule.id == rule_id).apply(case)


def worst(case: Case, rule_id: str) -> Finding:
    """Return the worst that one rule finds."""
    return max(found(case, rule_id), key=lambda finding: finding.level)


def levels(case: Case) -> Iterator[tuple[str, Level]]:
    """Worst level of every rule."""
    for rule in RULES:
        yield rule.id, worst(case, rule.id).level
