"""The packet in order: which sheets a plan gets."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from hangtrue.job.problems import Problem
from hangtrue.paper import (
    calculation_pages,
    cautions,
    drawn_pages,
    front,
    odds_pages,
    text_pages,
)
from hangtrue.paper.blocks import Document, Page
from hangtrue.paper.drawings import drawings
from hangtrue.paper.frame import Sheets, bands, frames, head_fields, in_language, with_note
from hangtrue.paper.language import language_of
from hangtrue.paper.lengths import Units, units_of
from hangtrue.paper.scene import Sheet
from hangtrue.plan import Plan


def document(
    plan: Plan, sheets: Sequence[tuple[str, Sheet]], problems: Sequence[Problem] = ()
) -> Document:
    """Lay out the whole packet; what has nothing to say is left out.

    Parameters
    ----------
    sheets
        Every drawing of the plan by name.
    problems
        What was odd in the job document.

    """
    units = units_of(plan.brief)
    head = plan.brief.job.job
    made = _sheets(plan, units, dict(sheets), problems)
    pages = tuple(in_language(plan.brief.profile, made))
    laid = Document(
        title=f"{head.title or head.id}, {head.room or head.id}, version {head.version}",
        paper=plan.brief.profile.paper,
        language=language_of(plan.brief.profile, "verdict"),
        head=head_fields(plan, units),
        frame=frames(pages),
        band=bands(pages, front.band(plan.verdict)),
        stop=plan.verdict.stops,
        pages=pages,
    )
    return with_note(laid)


def _sheets(
    plan: Plan, units: Units, drawn: dict[str, Sheet], problems: Sequence[Problem]
) -> Sheets:
    """Yield the sheets in order; nothing of one is made before its turn, in its own language."""
    applied = cautions.cautions(plan, units)
    profile = plan.brief.profile
    same = language_of(profile, "verdict") == language_of(profile, "layout")
    yield (
        "verdict",
        lambda: (front.page(plan, units, drawn if same else dict(drawings(plan)), applied),),
    )
    yield "opening", lambda: drawn_pages.opening(plan, units, drawn)
    yield "layout", lambda: drawn_pages.layout(plan, drawn, applied)
    yield "panes", lambda: drawn_pages.panes(plan, drawn, applied)
    yield "findings", lambda: (text_pages.findings(plan, units),)
    yield "sizes", lambda: text_pages.sizes(plan, units)
    yield "odds", lambda: odds_pages.odds(plan, units)
    yield "readings", lambda: (text_pages.readings(plan, units, problems),)
    yield "cautions", lambda: (text_pages.cautions(applied),)
    yield "calculations", lambda: _flowing(calculation_pages.calculations(plan))


def _flowing(pages: Iterable[Page]) -> Iterator[Page]:
    return (replace(page, flows=True) for page in pages)
