"""What the steps are about: every pane, joint and bar of a layout, and how they belong together."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from hangtrue.check.hung import stop_of
from hangtrue.check.wording import article, between
from hangtrue.fit.enclosure import Bar, Enclosure, Joint, Lite
from hangtrue.hang.cure_time import is_sealed
from hangtrue.hang.records import DrillPlan
from hangtrue.hang.rigid import foot
from hangtrue.job.brief import Brief
from hangtrue.job.hardware import Handle
from hangtrue.phrase import phrase
from hangtrue.tables import table

GLASS_TO_GLASS = 2
"""Panes of a joint that has no wall, curb or ceiling in it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Subject:
    """Something that is worked on.

    Attributes
    ----------
    id
        Of the pane, joint or bar; `job` for the whole.
    words
        As it is called in a sentence.
    roles
        What it is: the words that `of` of a step may be.
    panes
        Ids of the panes that it is, is of, or holds.
    count
        Fittings, screws or metres to handle.
    mass_kg
        Of the pane that is moved with it; 0 if none is.

    """

    id: str
    words: str
    roles: frozenset[str]
    panes: frozenset[str] = frozenset()
    count: float = 1.0
    screws: float = 0.0
    mass_kg: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """The subjects of an enclosure and who carries or closes on whom.

    Attributes
    ----------
    carried
        (pane, door) where the door hangs on the pane.
    closes
        (door, pane) where a door hung on a wall closes on a fixed pane.
    kinds
        Kinds of pane there are.

    """

    subjects: tuple[Subject, ...]
    carried: frozenset[tuple[str, str]]
    closes: frozenset[tuple[str, str]]
    kinds: frozenset[str]

    def related(self, where: str, first: Subject, then: Subject) -> bool:
        """Whether a rule for things so related holds for these two."""
        pairs = {(a, b) for a in first.panes for b in then.panes}
        match where:
            case "any":
                return True
            case "same":
                return first.id == then.id
            case "pane":
                return bool(first.panes & then.panes)
            case "carries":
                return bool(pairs & self.carried)
            case "closes on":
                return bool(pairs & self.closes)
            case _:
                msg = f"no rule is for things related by {where!r}"
                raise ValueError(msg)


def layout(brief: Brief, enclosure: Enclosure, drilling: DrillPlan) -> Layout:
    """Look at an enclosure as work: of any shape, only panes, joints, bars and holes count."""
    on_glass = {p.id for p in enclosure.doors if p.hung_on == "glass"}
    still = {p.id for p in enclosure.lites if p.kind != "door"}
    carried, closes = set(), set()
    for joint in enclosure.joints:
        for door, other in (joint.between, joint.between[::-1]):
            if door in still or other not in still:
                continue
            if joint.kind == "hinge":
                carried.add((other, door))
            elif joint.kind == "strike" and door not in on_glass:
                closes.add((door, other))
    subjects = (
        Subject(id="job", words="the job", roles=frozenset({"job"})),
        *(_pane(brief, enclosure, p) for p in enclosure.lites),
        *(_joint(enclosure, j, len(drilling.of(j.id))) for j in enclosure.joints),
        *(_bar(b, len(drilling.of(b.id))) for b in enclosure.bars),
    )
    return Layout(
        subjects=subjects,
        carried=frozenset(carried),
        closes=frozenset(closes),
        kinds=frozenset(p.kind for p in enclosure.lites),
    )


def _pane(brief: Brief, enclosure: Enclosure, pane: Lite) -> Subject:
    hinges = [j for j in enclosure.joints if j.kind == "hinge" and pane.id in j.between]
    return Subject(
        id=pane.id,
        words=article(pane.id),
        roles=frozenset(_pane_roles(brief, enclosure, pane)),
        panes=frozenset({pane.id}),
        count=sum(_fittings(j) for j in hinges) or 1.0,
        mass_kg=pane.mass_kg,
    )


def _pane_roles(brief: Brief, enclosure: Enclosure, pane: Lite) -> Iterator[str]:
    yield "pane"
    yield pane.kind
    if pane.kind != "door":
        yield "still"
        if pane.kind == "fixed" and foot(enclosure, pane.id):
            yield "standing"
        return
    if pane.hung_on == "glass":
        yield "carried door"
    if any(isinstance(brief.items.get(hole.fitting), Handle) for hole in pane.holes):
        yield "handled"
    if stop_of(enclosure, brief.job.wanted.lites, pane) is not None:
        yield "stopped"


def _joint(enclosure: Enclosure, joint: Joint, holes: int) -> Subject:
    panes = frozenset(joint.between) & {p.id for p in enclosure.lites}
    return Subject(
        id=joint.id,
        words=phrase(
            "{fittings} {place}",
            fittings=table("hang/steps")["called"][joint.kind],
            place=_place(joint, panes),
        ),
        roles=frozenset(_joint_roles(enclosure, joint, panes, holes)),
        panes=panes,
        count=_fittings(joint) or _length(joint) / 1000.0,
        screws=float(holes),
        mass_kg=max(enclosure.lite(p).mass_kg for p in panes),
    )


def _place(joint: Joint, panes: frozenset[str]) -> str:
    """Say where a joint is; one at the riser of a step is another than that on its cap."""
    others = [end for end in joint.between if end not in panes]
    if not joint.id.endswith(" riser") or len(others) != 1:
        return between(joint)
    (pane,) = panes
    return phrase(
        "at the riser of {step}, beside {pane}", step=article(others[0]), pane=article(pane)
    )


def _joint_roles(
    enclosure: Enclosure, joint: Joint, panes: frozenset[str], holes: int
) -> Iterator[str]:
    glass = len(panes) == GLASS_TO_GLASS
    if joint.kind == "clamp":
        yield "glass clamp" if glass else "clamp"
    else:
        yield joint.kind
    if holes:
        yield "drilled"
    if joint.kind == "channel":
        yield "screwed channel" if holes else "bedded channel"
    if joint.kind == "strike" and any(enclosure.lite(p).kind == "fixed" for p in panes):
        yield "glass strike"
    if is_sealed(enclosure, joint):
        yield "sealed"


def _bar(bar: Bar, holes: int) -> Subject:
    return Subject(
        id=bar.id,
        words=phrase(
            "{bar} of {pane}",
            bar=table("hang/steps")["called"][bar.kind],
            pane=article(bar.holds),
        ),
        roles=frozenset({"bar", "drilled"} if holes else {"bar"}),
        panes=frozenset({bar.holds}),
        screws=float(holes),
    )


def _fittings(joint: Joint) -> float:
    return float(sum(gap.at_fitting for gap in joint.gaps))


def _length(joint: Joint) -> float:
    places = [gap.at for gap in joint.gaps]
    return max(places) - min(places)
