"""The first page: the verdict in a customer's words, what to do next, and one drawing."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import islice
from typing import Literal

from hangtrue.check.finding import Level
from hangtrue.check.verdict import READINGS_RULE, Verdict
from hangtrue.fit.enclosure import Enclosure, NoFit
from hangtrue.paper import reading_words, tables
from hangtrue.paper.blocks import Block, Caution, Heading, Page, Signature, Steps, Text
from hangtrue.paper.blocks import Verdict as VerdictBlock
from hangtrue.paper.cautions import Caution as Applied
from hangtrue.paper.drawn_pages import OUTSIDE, free
from hangtrue.paper.lengths import Units
from hangtrue.paper.scene import Sheet
from hangtrue.phrase import join, many, phrase
from hangtrue.plan import Plan

THINGS = 3
"""How many things to do next stand on the first page."""
CAUTIONS = 3
"""How many cautions stand on the first page at most."""
AGREED = "Layout, swing and gaps agreed (customer)"
LARGEST = (180.0, 190.0)
"""Largest size of the drawing on the first page, mm."""

Sign = Literal["goes", "hold", "stop"]


def verdict(plan: Plan, units: Units) -> VerdictBlock:
    """Return the verdict with a line that says what it is about."""
    return VerdictBlock(
        sentence=plan.verdict.sentence,
        about=tables.choice_words(plan.best.alternative.choice, units),
        sign=sign(plan.verdict),
    )


def sign(found: Verdict) -> Sign:
    """Return the sign beside the verdict."""
    if found.stops:
        return "stop"
    return "goes" if found is Verdict.GOES else "hold"


def band(found: Verdict) -> str:
    """Say across every sheet with sizes why glass may not be ordered; empty where it may."""
    return {
        Verdict.GOES: "",
        Verdict.ASK_FIRST: "These sizes hold only once the questions on sheet 1 are answered.",
        Verdict.CURE_FIRST: "These sizes hold only once the points on sheet 1 are put right.",
        Verdict.MUST_NOT: "It must not be hung here as it stands. See sheet 1.",
        Verdict.NO_FIT: "Nothing that was asked for goes in here. See sheet 1.",
        Verdict.READ_AGAIN: "The readings contradict each other. See sheet 1.",
    }[found]


def next_steps(plan: Plan, units: Units) -> Steps:
    """Return the three things to do next: from readings, findings, then the usual course."""
    items = tuple(islice(_distinct(_things(plan, units)), THINGS))
    return Steps(title="Do next", items=items)


def _distinct(items: Iterator[str]) -> Iterator[str]:
    seen: set[str] = set()
    for item in items:
        if item not in seen:
            seen.add(item)
            yield item


def _things(plan: Plan, units: Units) -> Iterator[str]:
    made = plan.best.alternative.made
    if plan.verdict is Verdict.READ_AGAIN:
        yield from _read_again(plan, units)
    else:
        if isinstance(made, NoFit):
            yield tables.no_fit_words(made, units)
        last = THINGS - 1 if plan.verdict is Verdict.GOES else None
        yield from islice(cures(plan), last)
    yield from _usual_course(plan)


def cures(plan: Plan) -> Iterator[str]:
    """Yield what the findings ask for, worst first, each once.

    Of what goes as drawn these are the notes, those without a figure first: they are about the
    whole of the work.
    """
    least = Level.NOTE if plan.verdict is Verdict.GOES else Level.NOT_CHECKED
    asked = (f for f in plan.best.findings if f.do and f.level >= least)
    ordered = sorted(asked, key=lambda f: (-f.level, f.level is Level.NOTE and f.value is not None))
    yield from _distinct(
        join(": ", (tables.capital(f.where), f.do)) if f.where else f.do
        for f in ordered
        if f.rule != READINGS_RULE
    )


def _read_again(plan: Plan, units: Units) -> Iterator[str]:
    agreement = plan.opening.agreement
    by_id = {r.id: r for r in plan.brief.job.readings}
    named, unit = agreement.named, plan.brief.job.unit
    if named and named.reading in by_id:
        reading = by_id[named.reading]
        should = reading_words.said(reading, named.corrected, units)
        yield phrase(
            "Read again: {reading}. It was written as {typed} ({slip}); the others say {should}.",
            reading=reading_words.place(reading, units),
            typed=reading_words.typed(reading, unit),
            slip=named.slip,
            should=should,
        )
    elif agreement.suspects:
        listed = dict.fromkeys(s.reading for s in agreement.suspects[:3])
        words = join("; ", (reading_words.place(by_id[i], units) for i in listed if i in by_id))
        yield phrase("Read these again, one of them is wrong: {readings}.", readings=words)
    if agreement.decider:
        yield phrase("This reading would settle it: {reading}", reading=agreement.decider.words)


def _usual_course(plan: Plan) -> Iterator[str]:
    version = plan.brief.job.job.version
    if plan.verdict is not Verdict.GOES:
        answers = "what was read again" if plan.verdict is Verdict.READ_AGAIN else "the answers"
        yield phrase(
            "Put {answers} into the job and plan again; that packet is version {version}.",
            answers=answers,
            version=version + 1,
        )
        yield phrase(
            "Order nothing and drill nothing before version {version} is in hand.",
            version=version + 1,
        )
        yield "Show this page to the customer, so that everybody knows what it waits for."
        return
    yield "Go through elevation, swing and gaps with the customer, and have them signed."
    if plan.best.alternative.choice.cut == "boxed":
        yield "Order the set named in the job, in the hand that the elevation shows."
    else:
        yield phrase(
            "Order the glass from the pane sheets of version {version}, and from no other paper.",
            version=version,
        )
    yield "When the panes come, measure each against its sheet before it travels."


def page(
    plan: Plan, units: Units, drawn: Mapping[str, Sheet], applied: tuple[Applied, ...]
) -> Page:
    """Return the first page: what is said, the drawing in the room that is left, what to mind."""
    contradicting = plan.verdict is Verdict.READ_AGAIN
    sheet = (None if contradicting else drawn.get("elevation")) or drawn.get("opening")
    picture = (free(sheet, LARGEST),) if sheet else ()
    agreed = (Signature(text=AGREED),) if plan.verdict is Verdict.GOES else ()
    blocks = (*_said(plan, units), *picture, *_now(applied), *agreed)
    return Page(title="Verdict", blocks=blocks, view=OUTSIDE, sizes=True)


def _said(plan: Plan, units: Units) -> tuple[Block, ...]:
    """Verdict, what to do next, and sizes."""
    steps = next_steps(plan, units)
    left = sum(cure not in steps.items for cure in cures(plan))
    more = (Text(text=_more(left), small=True),) if left > 0 else ()
    return (verdict(plan, units), steps, *more, *_sizes(plan, units))


def _more(left: int) -> str:
    return many(
        left,
        "One more point stands on the sheet of findings.",
        "{n} more points stand on the sheet of findings.",
    )


def _sizes(plan: Plan, units: Units) -> tuple[Block, ...]:
    """Sizes in one small table; none where they could be ordered by mistake."""
    made = plan.best.alternative.made
    if not isinstance(made, Enclosure) or plan.verdict is Verdict.READ_AGAIN:
        return ()
    words = "Sizes" if plan.verdict is Verdict.GOES else "Sizes, as they would be"
    return (Heading(text=words), tables.sizes(made.lites, units))


def _now(applied: tuple[Applied, ...]) -> tuple[Block, ...]:
    return tuple(Caution(text=c.text) for c in applied if c.front)[:CAUTIONS]
