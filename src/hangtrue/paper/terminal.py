"""What the terminal says: the verdict, the glass, what to do, and how the readings agree."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path

from hangtrue.check.finding import Finding, Level
from hangtrue.check.rules.odds import UNSETTLED
from hangtrue.check.verdict import Judged, Verdict
from hangtrue.check.wording import percent
from hangtrue.fit.enclosure import Enclosure, Joint
from hangtrue.hang.snags import Snag
from hangtrue.job.brief import Brief
from hangtrue.job.problems import Problem
from hangtrue.measure.opening import Agreement, Opening, Residual
from hangtrue.odds.hand_words import hands_used
from hangtrue.odds.wording import said_chance
from hangtrue.paper import tables
from hangtrue.paper.columns import item, paragraph, table
from hangtrue.paper.joint_words import bar_kind
from hangtrue.paper.lengths import Units, tidy, units_of
from hangtrue.plan import Plan

LIMITS_OF_USE = (
    "An aid, not an authority: local code, the hardware maker's instructions and a licensed "
    "professional decide. Tempered glass cannot be altered once it is made."
)
PROVISIONAL = "Planned without the lines above, and not written: put them right first."


def problems(found: Iterable[Problem]) -> str:
    """List what is wrong in the document, a paragraph each; empty where nothing is."""
    marks = {"wrong": "wrong", "sure?": "sure?"}
    return "".join(item(f"{marks[p.level]}  ", str(p)) + "\n" for p in found)


def summary(plan: Plan) -> str:
    """Say the whole plan on one screen."""
    units = units_of(plan.brief)
    parts = [
        _head(plan.brief),
        plan.verdict.sentence,
        *_glass(plan.best, units),
        *_remake(plan),
        *_findings(plan.best.findings),
        *_others(plan.others),
        _agreement(plan.opening.agreement),
        paragraph(LIMITS_OF_USE),
    ]
    return "\n\n".join(parts)


def provisional(plan: Plan) -> str:
    """Say what could be planned of a document that is partly wrong."""
    return f"{PROVISIONAL}\n\n{summary(plan)}"


def readings(brief: Brief, opening: Opening) -> str:
    """Say how the readings agree: a line each, what disagrees, and what to read next."""
    units = units_of(brief)
    parts = [_head(brief), _agreement(opening.agreement), _residuals(opening.residuals, units)]
    unchecked = [r.reading for r in opening.residuals if r.redundancy < UNCHECKED]
    if unchecked:
        parts.append(paragraph(f"Hardly checked by any other reading: {', '.join(unchecked)}."))
    parts += map(paragraph, hands_used(brief))
    if opening.advice:
        steps = (item("  - ", advice.words) for advice in opening.advice[:3])
        parts.append("To know the opening better\n" + "\n".join(steps))
    return "\n\n".join(parts)


UNCHECKED = 0.1
"""A reading with less redundancy than this is named as hardly checked."""

BLIND = 0.01
"""With less than this no slip that a person makes is found."""


def written(files: Sequence[Path], folder: Path) -> str:
    """Say where to look."""
    sheets = next((f for f in files if f.suffix == ".pdf"), folder)
    return f"Packet: {sheets} ({len(files)} files in {folder})"


def work(
    plan: Plan,
    files: Sequence[Path],
    folder: Path,
    *,
    dated: bool,
    snags: Sequence[Snag] = (),
) -> str:
    """Say where the work packet lies, what it does not hold, and what must be seen to first."""
    sheets = next((f for f in files if f.name.endswith("-work.pdf")), folder)
    parts = [_head(plan.brief), f"Work packet: {sheets} ({len(files)} files in {folder})"]
    if plan.verdict.stops:
        parts.append(
            paragraph(f"{plan.verdict.sentence} Only the sheets from before measuring are there.")
        )
    elif not dated:
        parts.append("No calendar: no day is named for the work (--on 2026-06-01).")
    for title, stops in (("Cannot be done as it stands", True), ("See to this first", False)):
        said = [item("  - ", str(snag)) for snag in snags if snag.stops is stops]
        if said:
            parts.append("\n".join((title, *said)))
    parts.append(paragraph(LIMITS_OF_USE))
    return "\n\n".join(parts)


def _head(brief: Brief) -> str:
    head = brief.job.job
    place = ", ".join(filter(None, (head.title, head.room)))
    return f"{place or head.id} ({head.id}, version {head.version})"


def _glass(best: Judged, units: Units) -> Iterator[str]:
    """Panes and margin of an enclosure; why not, of one that does not fit."""
    made = best.alternative.made
    if not isinstance(made, Enclosure):
        yield paragraph(made.why)
        return
    rows = [
        (
            lite.id,
            units.figure(lite.width_bottom),
            units.figure(lite.width_top),
            units.figure(lite.height_left),
            units.figure(lite.height_right),
            units.mass(lite.mass_kg),
        )
        for lite in made.lites
    ]
    head = ("pane", "bottom", "top", "left", "right", "mass")
    yield f"{_choice(made)}\n{table(head, rows)}\nsizes in {_unit_names(units)}, seen from outside"
    yield from _shape(made, units)
    yield f"Least room: {units.small(made.margin.mm)} at {made.margin.joint}."


def _shape(made: Enclosure, units: Units) -> Iterator[str]:
    """Corners, panes that step over something, and bars, a line each; nothing of a plain row."""
    lines = [
        *(_corner(joint) for joint in made.corners),
        *(f"{lite.id}: {note}" for lite in made.lites for note in tables.pane_notes(lite)),
        *(
            f"{bar.id}, {bar_kind(bar)}, {bar.holds} to {bar.to}: cut to "
            f"{units.size(bar.length.value)}"
            for bar in made.bars
        ),
    ]
    if lines:
        yield "\n".join(item("  - ", line) for line in lines)


def _corner(joint: Joint) -> str:
    """Say a corner: its angle, and how the two panes meet."""
    corner = joint.corner
    if corner is None:
        return joint.id
    laps = f", {corner.laps} runs past" if corner.laps else ""
    angle = tidy(math.degrees(corner.angle), 1)
    turns = "" if corner.way == "in" else ", turns outward"
    panes = " and ".join(joint.between)
    return f"corner {corner.number}, {angle}°{turns}: {panes}, {corner.joint}{laps}"


def _unit_names(units: Units) -> str:
    names = {"in": "inches", "mm": "mm"}
    return f"{names[units.first]} ({names[units.second]})" if units.both else names[units.first]


def _choice(made: Enclosure) -> str:
    """Say what was chosen of what was left open, run by run where the glass line turns."""
    choice = made.choice
    ids = [", ".join(p.id for p in made.lites if p.run == run.number) for run in made.runs]
    row = " | ".join(ids) if len(ids) > 1 else ", ".join(choice.order)
    hung = f"; hinges {choice.hinge_side}, on the {choice.hung_on}" if choice.hinge_side else ""
    if choice.second:
        hung += f", and {choice.second[0]}, on the {choice.second[1]}"
    split = f"; two panes at the {' and the '.join(choice.split)}" if choice.split else ""
    return f"{row}{hung}; {choice.cut}{split}"


def _remake(plan: Plan) -> Iterator[str]:
    """Say how likely the glass has to be made again, where it would fail, and whether to read."""
    odds, advice = plan.odds, plan.advice
    if odds is None:
        return
    if plan.verdict is Verdict.READ_AGAIN:
        yield paragraph(f"Chance that glass must be made again: not said. {UNSETTLED}")
        return
    worst = max(odds.joints, key=lambda joint: joint.fails)
    chance = said_chance(odds.remake.value)
    said = f"Chance that glass cut to this must be made again: {chance}"
    yield paragraph(f"{said}, most likely for {worst.joint}.")
    if advice is not None and advice.matters:
        yield paragraph(f"{advice.sentence} {advice.whether.sentence}")


def _findings(findings: Sequence[Finding]) -> Iterator[str]:
    """Everything that needs somebody, worst first, grouped by what it asks for."""
    for level in (Level.FAIL, Level.WARN, Level.NOT_CHECKED, Level.NOTE):
        of_level = [f for f in findings if f.level is level]
        if of_level:
            lines = (item("  - ", _finding(f)) for f in of_level)
            yield f"{level.words.capitalize()}\n" + "\n".join(lines)
    passed = sum(f.level is Level.PASS for f in findings)
    if passed:
        yield f"Good: {passed} checks."


def _finding(finding: Finding) -> str:
    said = " ".join(filter(None, (finding.found, finding.means, finding.do)))
    return f"{finding.where}: {said}" if finding.where else said


def _others(others: Sequence[Judged]) -> Iterator[str]:
    if others:
        lines = (
            item("  - ", f"{other.alternative.choice}: {other.verdict.sentence}")
            for other in others[:4]
        )
        yield "Other ways\n" + "\n".join(lines)


def _agreement(agreement: Agreement) -> str:
    """Say whether the readings agree, what stands out, and what would decide."""
    if not agreement.alarm:
        chance = percent(agreement.probability)
        return paragraph(
            f"The readings agree (honest scatter alone would be worse in {chance} of cases)."
        )
    said = "The readings disagree."
    if agreement.named:
        said += f" Most likely {agreement.named.reading}: {agreement.named.slip}."
    elif agreement.suspects:
        ids = ", ".join(dict.fromkeys(s.reading for s in agreement.suspects))
        said += f" Which one cannot be told from these: {ids}."
    if agreement.decider:
        said += f" What would decide: {agreement.decider.words}"
    return paragraph(said)


def _residuals(residuals: Sequence[Residual], units: Units) -> str:
    rows = [
        (
            r.reading,
            units.small(r.observed),
            units.exact(r.off),
            f"{r.normalised:+.1f}",
            f"{r.redundancy:.0%}",
            units.small(r.detectable) if r.redundancy >= BLIND else "never",
        )
        for r in residuals
    ]
    head = ("reading", "as read", f"off, {units.first}", "in sd", "checked", "a slip is found from")
    return table(head, rows)
