"""The packet in order: which sheets a plan gets."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict, replace

from hangtrue.job.problems import Problem
from hangtrue.paper import (
    calculation_pages,
    cautions,
    coverage,
    drawn_pages,
    front,
    odds_pages,
    text_pages,
)
from hangtrue.paper.blocks import Document, Page, Text
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
    laid = Document(
        title=f"{head.title or head.id}, {head.room or head.id}, version {head.version}",
        paper=plan.brief.profile.paper,
        language="en",
        head=head_fields(plan, units),
        band=front.band(plan.verdict),
        stop=plan.verdict.stops,
        pages=_pages(plan, units, dict(sheets), problems),
    )
    return _with_note(laid, unprintable(laid))


def unprintable(laid: Document) -> tuple[str, ...]:
    """Return the characters that the font lacks and that are printed as a question mark."""
    return coverage.missing("".join(coverage.texts(asdict(laid))))


def _with_note(laid: Document, lacking: tuple[str, ...]) -> Document:
    """Say on the first page which characters are missing from the print."""
    if not lacking:
        return laid
    codes = ", ".join(f"U+{ord(character):04X}" for character in lacking)
    note = Text(text=f"Printed as “?”, for the font has no letter for them: {codes}.", small=True)
    first, *others = laid.pages
    return replace(laid, pages=(replace(first, blocks=(*first.blocks, note)), *others))


def _pages(
    plan: Plan, units: Units, drawn: dict[str, Sheet], problems: Sequence[Problem]
) -> tuple[Page, ...]:
    applied = cautions.cautions(plan, units)
    return (
        front.page(plan, units, drawn, applied),
        *drawn_pages.opening(plan, units, drawn),
        *drawn_pages.layout(plan, drawn, applied),
        *drawn_pages.panes(plan, drawn, applied),
        text_pages.findings(plan, units),
        *text_pages.sizes(plan, units),
        *odds_pages.odds(plan, units),
        text_pages.readings(plan, units, problems),
        text_pages.cautions(applied),
        *(replace(page, flows=True) for page in calculation_pages.calculations(plan)),
    )


def head_fields(plan: Plan, units: Units) -> dict[str, str]:
    """Return the fields of the title block that are the same on every sheet."""
    head = plan.brief.job.job
    return {
        "job": " · ".join(part for part in (head.title, head.id) if part),
        "room": head.room,
        "version": str(head.version),
        "date": head.date,
        "unit": units.head,
        "made_by": head.made_by,
    }
