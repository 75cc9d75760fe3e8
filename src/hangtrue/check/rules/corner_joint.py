"""The joint at a corner must suit its angle, its glass and its fitting."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

from hangtrue.check import decide
from hangtrue.check.case import Case
from hangtrue.check.decide import Missed
from hangtrue.check.finding import Finding, Level
from hangtrue.check.rule import rule
from hangtrue.check.wording import a_fitting
from hangtrue.estimate import Estimate
from hangtrue.fit.enclosure import Corner, Joint
from hangtrue.job.hardware import Clamp, Hinge
from hangtrue.phrase import phrase

RIGHT_ANGLE = math.pi / 2
FIXED_PLAY = 1.0
"""Degrees that a clamp made for one angle still grips on its gaskets; common practice."""


@rule(
    id="corner-joint",
    title="The joints at the corners suit angle, glass and fitting",
    why="A square edge against a face that is not square to it leaves a wedge; a steep mitre "
    "chips; a hinge or clamp is made for one angle.",
    needs="glass",
)
def corner_joint(case: Case) -> Iterable[Finding]:
    """Judge each joint where the glass line turns, by the way it is made."""
    joints = case.enclosure.corners if case.enclosure else ()
    if not joints:
        yield Finding(
            level=Level.PASS, where="enclosure", found="The glass stands in one straight line."
        )
    for joint in joints:
        if joint.corner is not None:
            yield from _joint(case, joint, joint.corner)


def _joint(case: Case, joint: Joint, corner: Corner) -> Iterator[Finding]:
    if joint.kind == "strike":
        yield _strike(corner)
    elif corner.joint == "butt":
        yield _butt(case, joint, corner)
    elif corner.joint == "mitre":
        yield _mitre(case, corner)
    else:
        yield _fitting(case, joint, corner)


def _where(corner: Corner) -> str:
    return phrase("corner {corner}", corner=corner.number)


def _strike(corner: Corner) -> Finding:
    angle = math.degrees(corner.angle)
    return Finding(
        level=Level.NOTE,
        where=_where(corner),
        found=phrase(
            "The door closes at corner {corner}, {angle:.0f}°.", corner=corner.number, angle=angle
        ),
        means="A strike seal for glass in one line does not close there.",
        do=phrase("Order the strike seal for {angle:.0f}°.", angle=angle),
    )


def _butt(case: Case, joint: Joint, corner: Corner) -> Finding:
    """Judge the wedge between a square edge and the face it meets, with the gap itself."""
    thick = case.choice.thickness
    known = case.opening.estimate(case.opening.angle(corner.number)).sd
    wedge = Estimate(abs(RIGHT_ANGLE - corner.angle), known)
    gap = max(joint.gaps, key=lambda g: g.predicted.value)
    wide = Estimate(
        gap.predicted.value + thick * math.tan(wedge.value),
        thick * wedge.sd / math.cos(wedge.value) ** 2,
    )
    half = math.degrees(math.pi - corner.angle) / 2
    return decide.finding(
        decide.at_most(wide, gap.most, case.confidence),
        where=_where(corner),
        found=phrase(
            "At {angle:.1f}° the butt joint of corner {corner} is {wide} wide at its wider face; "
            "it works up to {most}.",
            angle=math.degrees(corner.angle),
            corner=corner.number,
            wide=case.say(wide.value),
            most=case.say(gap.most),
        ),
        missed=Missed(
            level=Level.WARN,
            means="A wedge of silicone as wide as that shows, and tears.",
            do=phrase(
                "Have both edges mitred, {half:.1f}° each, or set clamps made for this angle.",
                half=half,
            ),
        ),
        ask="Read the angle of the corner once more, by 3-4-5.",
    )


def _mitre(case: Case, corner: Corner) -> Finding:
    limit = case.limit("mitre-most")
    bevel = math.degrees(abs(corner.turn)) / 2
    good = bevel <= limit.value
    return Finding(
        level=Level.PASS if good else Level.WARN,
        where=_where(corner),
        found=phrase(
            "Both edges of corner {corner} are bevelled {bevel:.1f}°; edges are ground to "
            "{most:.0f}°.",
            corner=corner.number,
            bevel=bevel,
            most=limit.value,
        ),
        means="" if good else "The thin edge chips before it is hung.",
        do="" if good else "Take a butt joint or clamps there.",
        value=Estimate(bevel),
        limit=limit.value,
        unit="deg",
        source=limit.source,
    )


def _fitting(case: Case, joint: Joint, corner: Corner) -> Finding:
    """Judge a clamp or a hinge: that it is one, and for which angle it is made."""
    item, angle = case.brief.items[joint.hardware], math.degrees(corner.angle)
    wanted = Clamp if corner.joint == "clamp" else Hinge
    if not isinstance(item, Clamp | Hinge) or not isinstance(item, wanted):
        return Finding(
            level=Level.FAIL,
            where=_where(corner),
            found=phrase(
                "Corner {corner} is to be held by {wanted}; the fitting chosen for it is {chosen}.",
                corner=corner.number,
                wanted=a_fitting(corner.joint),
                chosen=a_fitting(item.kind),
            ),
            means="Nothing would hold the panes together there.",
            do=phrase(
                "Choose {fitting} made for {angle:.0f}°.",
                fitting=a_fitting(corner.joint),
                angle=angle,
            ),
        )
    made, play = math.degrees(item.angle), getattr(item, "closing_adjust_deg", 0.0)
    most = max(float(play), FIXED_PLAY)
    off = abs(made - angle)
    good = off <= most
    return Finding(
        level=Level.PASS if good else Level.FAIL,
        where=_where(corner),
        found=_made_for(item, number=corner.number, angle=angle, made=made, most=most),
        means="" if good else "It would not close, or would bend the glass.",
        do=""
        if good
        else phrase(
            "Take {fitting} made for {angle:.0f}°, from its maker's list.",
            fitting=a_fitting(item.kind),
            angle=angle,
        ),
        value=Estimate(off),
        limit=most,
        unit="deg",
        source="maker",
    )


def _made_for(item: Clamp | Hinge, **figures: float) -> str:
    if isinstance(item, Hinge):
        return phrase(
            "Corner {number} has {angle:.1f}°; its hinge is made for {made:.0f}° and can be set "
            "{most:.0f}° either way.",
            **figures,
        )
    return phrase(
        "Corner {number} has {angle:.1f}°; its clamp is made for {made:.0f}° and can be set "
        "{most:.0f}° either way.",
        **figures,
    )
