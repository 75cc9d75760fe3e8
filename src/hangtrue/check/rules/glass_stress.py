"""A pane must bear whoever leans on it."""

from __future__ import annotations

from collections.abc import Iterable

from hangtrue.check.case import Case
from hangtrue.check.finding import Finding, Level
from hangtrue.check.proof import bending_sheet
from hangtrue.check.proof.allowable import Allowable, allowable
from hangtrue.check.proof.bending import BEYOND_LINEAR, Answer, Bent
from hangtrue.check.proof.covered import covered
from hangtrue.check.proof.held_pane import HeldPane
from hangtrue.check.proof.leaning import bent, rules
from hangtrue.check.proof.saying import force, glass_name, next_thicker
from hangtrue.check.rule import rule
from hangtrue.check.sheet import CalculationSheet
from hangtrue.check.wording import article, listed, sentence
from hangtrue.estimate import Estimate
from hangtrue.fit.enclosure import Lite

ENGINEER = "Have an engineer prove this pane"


@rule(
    id="glass-stress",
    title="The glass bears whoever leans on it",
    why="People lean on glass and hold on to doors. At cut-outs, hinges and the ends of channels "
    "the stress is highest, and tempered glass that is overstressed goes to pieces at once.",
    source="ncsea-glass",
    needs="glass",
)
@covered
def glass_stress(case: Case) -> Iterable[Finding]:
    """Bend every pane on its real outline and compare its stress with what tempered glass bears."""
    for pane in case.lites:
        yield _pane(case, pane)


def _pane(case: Case, pane: Lite) -> Finding:
    held, answer = bent(case, pane)
    if not answer.bent:
        return _unsolved(held, pane, answer)
    codes = rules(case)
    rough = case.job.wanted.texture == "textured"
    allowed = tuple(allowable(codes.glass, b.case.seconds, textured=rough) for b in answer.bent)
    uses = [_use(b, a, codes.factor) for b, a in zip(answer.bent, allowed, strict=True)]
    worst = max(range(len(uses)), key=uses.__getitem__)
    one, limit = answer.bent[worst], allowed[worst].stress_MPa / codes.factor
    level = _level(answer, uses)
    if pane.kind == "door":
        return _door(case, pane, one, limit, _sheet(held, answer, allowed, codes.factor))
    return Finding(
        level=level,
        where=pane.id,
        found=f"{sentence(article(pane.id))} takes {one.stress_MPa:.0f} MPa at most when "
        f"{_who(one)}{_how(one)}; tempered glass bears {limit:.0f} MPa.",
        means=_means(answer, one, level),
        do=_do(case, held, answer, level),
        value=Estimate(one.stress_MPa),
        limit=limit,
        unit="MPa",
        source=allowed[worst].source,
        sheet=_sheet(held, answer, allowed, codes.factor),
    )


def _use(one: Bent, allowed: Allowable, factor: float) -> float:
    """Stress over what is trusted: less of it where the linear theory is beyond its range."""
    trusted = allowed.stress_MPa if one.linear else BEYOND_LINEAR * allowed.stress_MPa
    return factor * one.stress_MPa / trusted


def _level(answer: Answer, uses: list[float]) -> Level:
    """Met at both ends of the range, missed at both within the theory, or not decided."""
    if answer.faults:
        return Level.NOT_CHECKED
    if max(uses) <= 1.0:
        return Level.PASS
    ends = dict.fromkeys(one.bracket for one in answer.bent)
    least = min(
        max(u for u, one in zip(uses, answer.bent, strict=True) if one.bracket == end)
        for end in ends
    )
    linear = all(one.linear for u, one in zip(uses, answer.bent, strict=True) if u > 1.0)
    return Level.FAIL if least > 1.0 and linear else Level.NOT_CHECKED


def _door(case: Case, pane: Lite, one: Bent, limit: float, sheet: CalculationSheet) -> Finding:
    """Judge a door held at its stop: what bends it does not depend on how far it goes.

    A hinge lets the door give way; only at its stop does a hand at the free edge bend the glass.
    """
    good = one.stress_MPa <= limit
    most = one.case.force_N * limit / one.stress_MPa
    return Finding(
        level=Level.PASS if good else Level.NOTE,
        where=pane.id,
        found=f"Pushed at its free edge while its hinges are at their stop, {article(pane.id)} "
        f"takes {one.stress_MPa:.0f} MPa at its cut-outs when {_who(one)}; tempered glass bears "
        f"{limit:.0f} MPa, which is {force(case, most)} at the free edge.",
        means="" if good else "It must never be stopped by its hinges.",
        do="" if good else "Fit a stop that meets the glass or the handle near the free edge.",
        value=Estimate(one.stress_MPa),
        limit=limit,
        unit="MPa",
        sheet=sheet,
    )


def _who(one: Bent) -> str:
    return one.case.what.split(":")[0]


def _how(one: Bent) -> str:
    return "" if one.bracket == "as it is" else f", its channels taken to {_taken(one.bracket)}"


def _taken(bracket: str) -> str:
    return "guide it only" if bracket == "guided" else "grip it"


def _means(answer: Answer, one: Bent, level: Level) -> str:
    words = []
    if answer.faults:
        words.append(f"Part of it could not be solved: {listed(answer.faults)}.")
    if not one.linear:
        words.append(
            f"It would move {one.over_thickness:.1f} times its thickness; the linear theory is "
            f"then an estimate, and only {BEYOND_LINEAR:.0%} of what the glass bears is trusted."
        )
    if level is Level.FAIL:
        words.append("It would break.")
    return " ".join(words)


def _do(case: Case, held: HeldPane, answer: Answer, level: Level) -> str:
    if level <= Level.NOTE:
        return ""
    if answer.faults:
        return f"{ENGINEER}, or hold its top by a bar."
    thicker = next_thicker(held.nominal)
    cures = [ENGINEER, "hold it by a bar at its free top corner"]
    if thicker:
        cures.append(f"take {glass_name(case, thicker)} glass")
    return f"{listed(cures, last='or')}."


def _unsolved(held: HeldPane, pane: Lite, answer: Answer) -> Finding:
    if not held.held:
        return Finding(
            level=Level.NOT_CHECKED,
            where=pane.id,
            found=f"Nothing that is written down holds {article(pane.id)}.",
            means="All its joints are open ones.",
            do="What holds it: clamps, a channel, a head bar? Enter it and plan again.",
        )
    why = listed(answer.faults) or "nothing leans on it"
    return Finding(
        level=Level.NOT_CHECKED,
        where=pane.id,
        found=f"The stress in {article(pane.id)} could not be computed: {why}.",
        means="It is not known what it bears.",
        do=f"{ENGINEER}, or correct what keeps it from being solved.",
    )


def _sheet(
    held: HeldPane, answer: Answer, allowed: tuple[Allowable, ...], factor: float
) -> CalculationSheet:
    worst = max(answer.bent, key=lambda one: one.stress_MPa)
    result = (
        f"Largest tension {worst.stress_MPa:.1f} MPa × {factor:g} under {worst.case.id}, "
        f"against {allowed[answer.bent.index(worst)].stress_MPa:.1f} MPa."
    )
    return bending_sheet.sheet(held, answer, allowed, factor, result)
