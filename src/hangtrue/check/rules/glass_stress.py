"""A pane must bear whoever leans on it."""

from __future__ import annotations

from collections.abc import Iterable

from hangtrue.check.case import Case
from hangtrue.check.finding import Finding, Level
from hangtrue.check.proof import bending_sheet
from hangtrue.check.proof.allowable import Allowable, allowable
from hangtrue.check.proof.bending import BEYOND_LINEAR, Answer, Bent
from hangtrue.check.proof.covered import covered
from hangtrue.check.proof.glass_cures import Cure, cures
from hangtrue.check.proof.held_pane import HeldPane
from hangtrue.check.proof.leaning import bent, floor, rules
from hangtrue.check.proof.leaning import cases as loads
from hangtrue.check.proof.saying import force, glass_name
from hangtrue.check.rule import rule
from hangtrue.check.sheet import CalculationSheet
from hangtrue.check.wording import article, listed, sentence
from hangtrue.estimate import Estimate
from hangtrue.fit.enclosure import Lite
from hangtrue.phrase import join, phrase


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
        of = (limit, allowed[worst].source)
        return _door(case, pane, one, of, _sheet(held, answer, allowed, codes.factor, door=True))
    return Finding(
        level=level,
        where=pane.id,
        found=phrase(
            "{pane} takes {stress} at most when {who}; tempered glass bears {limit:.0f} MPa.",
            pane=sentence(article(pane.id)),
            stress=_range(answer, one),
            who=_who(one),
            limit=limit,
        ),
        means=_means(answer, one, level),
        do=_do(case, pane, held, answer, level),
        value=Estimate(one.stress_MPa),
        limit=limit,
        unit="MPa",
        source=allowed[worst].source,
        sheet=_sheet(held, answer, allowed, codes.factor),
    )


def _range(answer: Answer, one: Bent) -> str:
    """Stress of the worst load at both ends of the range of what its channels do."""
    both = {bent.bracket: bent.stress_MPa for bent in answer.of(one.case.id)}
    if "guided" not in both or "gripped" not in both:
        return phrase("{stress:.0f} MPa", stress=one.stress_MPa)
    return phrase(
        "{guided:.0f} MPa (channels that guide it only) or {gripped:.0f} MPa (channels that grip "
        "it)",
        guided=both["guided"],
        gripped=both["gripped"],
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


def _door(
    case: Case, pane: Lite, one: Bent, of: tuple[float, str], sheet: CalculationSheet
) -> Finding:
    """Judge a door held at its stop: what bends it does not depend on how far it goes.

    A hinge lets the door give way; only at its stop does a hand at the free edge bend the glass.
    """
    limit, source = of
    good = one.stress_MPa <= limit
    return Finding(
        level=Level.PASS if good else Level.NOTE,
        where=pane.id,
        found=phrase(
            "Pushed at its free edge while its hinges are at their stop, {pane} takes {stress:.0f} "
            "MPa at its cut-outs when {who}; tempered glass bears {limit:.0f} MPa, which is {push} "
            "at the free edge.",
            pane=article(pane.id),
            stress=one.stress_MPa,
            who=_who(one),
            limit=limit,
            push=force(case, one.case.force_N * limit / one.stress_MPa),
        ),
        means="" if good else "It must never be stopped by its hinges.",
        do="" if good else "Fit a stop that meets the glass or the handle near the free edge.",
        value=Estimate(one.stress_MPa),
        limit=limit,
        unit="MPa",
        source=source,
        sheet=sheet,
    )


def _who(one: Bent) -> str:
    return one.case.what.split(":")[0]


def _means(answer: Answer, one: Bent, level: Level) -> str:
    words: list[str] = []
    if answer.faults:
        words.append(
            phrase("Part of it could not be solved: {faults}.", faults=listed(answer.faults))
        )
    if not one.linear:
        words.append(
            phrase(
                "It would move {times:.1f} times its thickness; the linear theory is then an "
                "estimate, and only {share:.0%} of what the glass bears is trusted.",
                times=one.over_thickness,
                share=BEYOND_LINEAR,
            )
        )
    if level is Level.FAIL:
        words.append("It would break.")
    return join(" ", words)


def _do(case: Case, pane: Lite, held: HeldPane, answer: Answer, level: Level) -> str:
    if level <= Level.NOTE:
        return ""
    if answer.faults:
        return "Have an engineer prove this pane, or hold its top by a bar."
    found = [_said(case, cure) for cure in cures(held, loads(case, pane), floor(case, pane),
                                                 lambda a: _most_used(case, a))]  # fmt: skip
    if not found:
        return "Have an engineer prove this pane; no bar and no glass of the shops is enough."
    return phrase(
        "{cures}; or have an engineer prove this pane.", cures=sentence(listed(found, "or"))
    )


def _most_used(case: Case, answer: Answer) -> float:
    """Largest share of what is trusted that any load uses."""
    codes, rough = rules(case), case.job.wanted.texture == "textured"
    return max(
        _use(one, allowable(codes.glass, one.case.seconds, textured=rough), codes.factor)
        for one in answer.bent
    )


def _said(case: Case, cure: Cure) -> str:
    words = {"used": 100 * cure.use}
    if cure.kind == "bar":
        return phrase(
            "hold it by a bar at its free top corner or up to {off} from it ({used:.0f} % used)",
            off=case.size(cure.at), **words,
        ) if cure.at else phrase(
            "hold it by a bar at its free top corner ({used:.0f} % used)", **words
        )  # fmt: skip
    if cure.kind == "glass":
        return phrase(
            "take {glass} glass ({used:.0f} % used)", glass=glass_name(case, cure.at), **words
        )
    if cure.kind == "clamps":
        return phrase(
            "set its clamps {off} from the ends ({used:.0f} % used)",
            off=case.size(cure.at), **words,
        )  # fmt: skip
    return phrase("make it at most {wide} wide ({used:.0f} % used)", wide=case.size(cure.at),
                  **words)  # fmt: skip


def _unsolved(held: HeldPane, pane: Lite, answer: Answer) -> Finding:
    if not held.held:
        return Finding(
            level=Level.NOT_CHECKED,
            where=pane.id,
            found=phrase("Nothing that is written down holds {pane}.", pane=article(pane.id)),
            means="All its joints are open ones.",
            do="What holds it: clamps, a channel, a head bar? Enter it and plan again.",
        )
    return Finding(
        level=Level.NOT_CHECKED,
        where=pane.id,
        found=phrase(
            "The stress in {pane} could not be computed: {why}.",
            pane=article(pane.id),
            why=listed(answer.faults) or "nothing leans on it",
        ),
        means="It is not known what it bears.",
        do="Have an engineer prove this pane, or correct what keeps it from being solved.",
    )


def _sheet(
    held: HeldPane,
    answer: Answer,
    allowed: tuple[Allowable, ...],
    factor: float,
    *,
    door: bool = False,
) -> CalculationSheet:
    """Write down the load that uses most of what is trusted."""
    uses = [_use(b, a, factor) for b, a in zip(answer.bent, allowed, strict=True)]
    at = max(range(len(uses)), key=uses.__getitem__)
    worst = answer.bent[at]
    words = {
        "stress": worst.stress_MPa,
        "factor": factor,
        "load": worst.case.id,
        "limit": allowed[at].stress_MPa,
    }
    result = (
        phrase(
            "Largest tension {stress:.1f} MPa × {factor:g} under {load}, against {limit:.1f} MPa.",
            **words,
        )
        if worst.linear or door
        else phrase(
            "Largest tension {stress:.1f} MPa × {factor:g} under {load}, against {limit:.1f} MPa, "
            "of which {share:g} is trusted.",
            share=BEYOND_LINEAR,
            **words,
        )
    )
    return bending_sheet.sheet(held, answer, allowed, factor, result, door=door)
