"""The sheets of lists: findings, how the sizes come about, readings, cautions."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from hangtrue.check.finding import Level
from hangtrue.check.verdict import Verdict
from hangtrue.check.wording import percent
from hangtrue.fit.enclosure import Enclosure, NoFit
from hangtrue.job.problems import Problem
from hangtrue.measure.opening import Agreement, NextReading
from hangtrue.odds.hand_words import hands_used
from hangtrue.paper import finding_tables, reading_tables, tables
from hangtrue.paper.blocks import Abreast, Block, Caution, Heading, Page, Steps, Text
from hangtrue.paper.cautions import LIMITS
from hangtrue.paper.cautions import Caution as Applied
from hangtrue.paper.cautions import at as cautions_at
from hangtrue.paper.lengths import Units, tidy
from hangtrue.phrase import join, phrase
from hangtrue.plan import Plan

FINDINGS_NOTE = (
    "“Met with” is the probability that the limit is met, given how well the value is known. "
    "± is two standard deviations. A margin below zero is missed."
)
GAPS_NOTE = (
    "± is two standard deviations: survey, plant and setting together. Upright joints: height "
    "above the datum; level joints: along the glass line from the left. A joint is shown at its "
    "ends, at its fittings and where it is tightest; the plan file holds every height."
)
READINGS_NOTE = (
    "“Off by” is the adjusted value less the reading. “Checked by others” is the share of a slip "
    "that would show up. “Least slip seen” is the smallest slip that would have been noticed."
)


def findings(plan: Plan, units: Units) -> Page:
    """Everything the rules found, worst first, then what is good."""
    found = plan.best.findings
    worse = tuple(f for f in found if f.level is not Level.PASS)
    good = finding_tables.passed(found, units)
    nothing = Text(text="Nothing that was looked at asks for anything.")
    blocks: tuple[Block, ...] = (finding_tables.findings(worse, units) if worse else nothing,)
    if good.rows:
        blocks = (*blocks, Heading(text="Looked at and good"), good)
    blocks = (*blocks, Text(text=FINDINGS_NOTE, small=True))
    return Page(title="Findings, worst first", blocks=blocks, flows=True)


def sizes(plan: Plan, units: Units) -> tuple[Page, ...]:
    """How the sizes come about: gaps, a square cut beside them, deductions, and the other ways.

    Where nothing fits: which requirements contradict each other.
    """
    made = plan.best.alternative.made
    others = _other_ways(plan, units)
    if isinstance(made, NoFit):
        why = Text(text=tables.no_fit_words(made, units))
        clashes = (tables.clashes(made, units),) if made.clashes else ()
        return (
            Page(
                title="Why it does not fit", blocks=(why, *clashes, *others), sizes=True, flows=True
            ),
        )
    blocks = (*_gaps(plan, units), *_bars(made, units), *_chains(plan, units), *others)
    return (Page(title="How the sizes come about", blocks=blocks, sizes=True, flows=True),)


def _bars(made: Enclosure, units: Units) -> tuple[Block, ...]:
    """Bars to cut, and how each length comes about."""
    if not made.bars:
        return ()
    chains = tuple(table for bar in made.bars for table in tables.bar_chains(bar, units))
    return (
        Heading(text="Bars, cut to length"),
        tables.bars(made.bars, units),
        Abreast(tables=chains),
    )


def _gaps(plan: Plan, units: Units) -> tuple[Block, ...]:
    """Gaps of the way taken, beside those of the same panes cut square."""
    way = plan.best.alternative
    if not isinstance(way.made, Enclosure):
        return ()
    squared = way.squared.joints if isinstance(way.squared, Enclosure) else ()
    words = tables.squared_words(way, units)
    return (
        Heading(text="Gaps, cut to the walls and cut square" if words else "Gaps as drawn"),
        *((Text(text=words),) if words else ()),
        tables.gaps(way.made.joints, squared, units),
        Text(text=GAPS_NOTE, small=True),
    )


def _other_ways(plan: Plan, units: Units) -> tuple[Block, ...]:
    if not plan.others:
        return ()
    return (Heading(text="Other ways"), tables.others(plan.best, plan.others, units))


def _chains(plan: Plan, units: Units) -> tuple[Block, ...]:
    """From the opening to the glass, size by size; nothing while the readings contradict."""
    made = plan.best.alternative.made
    if not isinstance(made, Enclosure) or plan.verdict is Verdict.READ_AGAIN:
        return ()
    return tuple(
        block
        for lite in made.lites
        if lite.chains
        for block in (
            Heading(
                text=phrase("{pane}: from the opening to the glass", pane=tables.capital(lite.id))
            ),
            Abreast(tables=tables.chains(lite, units)),
        )
    )


def readings(plan: Plan, units: Units, problems: Iterable[Problem]) -> Page:
    """Every reading, how it agrees with the others, and what to read next."""
    opening = plan.opening
    unchecked = [r.reading for r in opening.residuals if r.redundancy < reading_tables.UNCHECKED]
    blocks: tuple[Block, ...] = (
        Text(text=agreement_words(opening.agreement, unchecked)),
        *_suspects(plan, units),
        reading_tables.readings(plan.brief.job, opening, units),
        Text(text=READINGS_NOTE, small=True),
        *(Text(text=said, small=True) for said in hands_used(plan.brief)),
    )
    if opening.advice:
        blocks = (
            *blocks,
            Heading(text="Worth reading next"),
            reading_tables.advice(opening.advice),
        )
    odd = tables.problems(problems)
    if odd.rows:
        blocks = (*blocks, Heading(text="Odd in the job document"), odd)
    return Page(title="Readings, and how they agree", blocks=blocks, flows=True)


def agreement_words(test: Agreement, unchecked: Sequence[str]) -> str:
    """Say whether the readings agree, and which of them nothing checks."""
    if test.degrees_of_freedom <= 0:
        return "No reading is checked by any other: a slip in any of them would not be noticed."
    agree = "The readings contradict each other" if test.alarm else "The readings agree"
    said = phrase(
        "{agree}: honest scatter alone would do as badly in {share} of rooms (chi-square "
        "{chi_square} on {freedom} degrees of freedom).",
        agree=agree,
        share=percent(test.probability),
        chi_square=tidy(test.chi_square, 1),
        freedom=tidy(test.degrees_of_freedom, 1),
    )
    if not unchecked:
        return said
    nothing = phrase("Nothing checks {readings}.", readings=", ".join(unchecked))
    return join(" ", (said, nothing))


def _suspects(plan: Plan, units: Units) -> tuple[Block, ...]:
    test = plan.opening.agreement
    if not test.alarm or not test.suspects:
        return ()
    undecided = "What may be wrong; these readings do not decide it"
    decider = test.decider
    return (
        Heading(text="What stands out" if test.named else undecided),
        reading_tables.suspects(test, plan.brief.job, units),
        *((Text(text=_settling(decider)),) if decider else ()),
        Heading(text="All readings"),
    )


def _settling(decider: NextReading) -> str:
    return phrase("This would settle it: {reading}", reading=decider.words)


def cautions(applied: Sequence[Applied]) -> Page:
    """Every caution at the step it belongs to, and the limits of use."""
    steps = dict.fromkeys(c.step for c in applied)
    blocks = tuple(block for step in steps for block in _step(step, applied))
    limits = Steps(title="Limits of use", items=LIMITS)
    return Page(title="Cautions, step by step", blocks=(*blocks, limits), flows=True)


def _step(step: str, applied: Sequence[Applied]) -> tuple[Block, ...]:
    warned = (Caution(text=c.text, step=step) for c in cautions_at(step, applied))
    return (Heading(text=tables.capital(step)), *warned)
