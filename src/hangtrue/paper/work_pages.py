"""The work packet in order: which sheets a job gets, and the first of them."""

from __future__ import annotations

from collections.abc import Iterator

from hangtrue.check.verdict import Verdict
from hangtrue.paper import front, qr, tables, work_before, work_day, work_shop
from hangtrue.paper.blocks import (
    Block,
    Caution,
    Cell,
    Column,
    Document,
    Heading,
    Page,
    Steps,
    Table,
    Text,
)
from hangtrue.paper.drawings.elevation import elevation
from hangtrue.paper.drawings.opening import opening
from hangtrue.paper.drawn_pages import OUTSIDE, free
from hangtrue.paper.frame import Sheets, bands, frames, head_fields, in_language, with_note
from hangtrue.paper.language import language_of
from hangtrue.paper.work_set import Hanging, WorkSet
from hangtrue.phrase import phrase

LIMITS = (
    "This packet is an aid. Local code, the hardware maker's instructions and licensed practice "
    "come first. It holds for this version only."
)
NO_DATE = (
    "No day is named for the work, so there is no calendar file. Name it when this packet is "
    "written, and there is one."
)
MOST = 5
"""How many points stand on the first sheet."""
WHO = (
    ("For builder and tiler", "builder, tiler, before the walls are closed"),
    ("Ready to measure, Measuring sheet", "who measures"),
    ("Customer sign-off", "customer, before glass is ordered"),
    ("Order to the glass plant, Panes to order", "plant"),
    ("Hardware and consumables, Cut list", "shop, van"),
    ("Receiving", "who takes the glass in"),
    ("Drilling plan, Shims and setting, Time, Steps", "crew, on the day"),
    ("Hand-over", "customer, at the end"),
)


def work_document(found: WorkSet, *, dated: bool = False) -> Document:
    """Lay out the work packet.

    Parameters
    ----------
    dated
        Whether a day is known, so that there is a calendar file as well.

    """
    plan = found.plan
    head = plan.brief.job.job
    profile = plan.brief.profile
    pages = tuple(in_language(profile, _sheets(found, dated=dated)))
    laid = Document(
        title=f"Work packet, {head.title or head.id}, {head.room}, version {head.version}",
        paper=profile.paper,
        language=language_of(profile, "work"),
        head=head_fields(plan, found.units),
        frame=frames(pages),
        band=bands(pages, front.band(plan.verdict)),
        stop=plan.verdict.stops,
        pages=pages,
        mark=qr.square(qr.said(head.id, head.version)),
    )
    return with_note(laid)


def _sheets(found: WorkSet, *, dated: bool) -> Sheets:
    hanging = found.hanging
    yield "work", lambda: (_first(found, dated=dated),)
    yield "builder", lambda: (work_before.builder(found),)
    yield "ready", lambda: (work_before.ready(found),)
    yield "measuring", lambda: work_before.measuring(found)
    if hanging is None:
        return
    hung = hanging.hung
    yield "sign-off", lambda: (work_before.agreed(found, hanging),)
    yield "order", lambda: work_shop.order(found, hanging)
    yield "bring", lambda: (work_shop.bring(found, hung),)
    yield "cut-list", lambda: (work_shop.cut_list(found, hung),)
    yield "receiving", lambda: work_shop.receiving(found, hung)
    yield "drilling", lambda: work_day.drilling(found, hanging)
    yield "setting", lambda: (work_day.setting(found, hanging),)
    yield "steps", lambda: work_day.steps(found, hanging)
    yield "hand-over", lambda: (work_day.hand_over(found, hanging),)


def _first(found: WorkSet, *, dated: bool) -> Page:
    """What this is, what must be seen to first, and which sheet is whose."""
    hanging = found.hanging
    brief, measured = found.plan.brief, found.plan.opening
    sheet = elevation(brief, measured, hanging.made) if hanging else opening(brief, measured)
    blocks: tuple[Block, ...] = (
        front.verdict(found.plan, found.units),
        *_stopped(found),
        *_first_of_all(found),
        *(_see_to(hanging) if hanging else ()),
        *(_times(hanging) if hanging else ()),
        Heading(text="Which sheet is whose"),
        Table(
            columns=(Column(head="Sheets", share=1), Column(head="For", share=1)),
            rows=WHO if hanging else WHO[:2],
        ),
        free(sheet, (sheet.width, sheet.height)),
        *(Caution(text=c.text) for c in found.cautions if c.front),
        *(() if dated or not hanging else (Text(text=NO_DATE, small=True),)),
        Text(text=LIMITS, small=True),
    )
    return Page(title="Work packet", blocks=blocks, view=OUTSIDE, sizes=True)


def _stopped(found: WorkSet) -> Iterator[Block]:
    if found.hanging is None:
        yield Text(
            text=phrase(
                "{why} So there is nothing to drill, cut or order by; only what is needed before "
                "measuring is here. The packet of the plan says what to do.",
                why=found.why,
            )
        )


def _first_of_all(found: WorkSet) -> Iterator[Block]:
    """What the findings ask for before anything is ordered or drilled."""
    if found.plan.verdict is Verdict.GOES:
        return
    asked = tuple(front.cures(found.plan))
    if asked:
        yield Steps(title="Before anything is ordered or drilled", items=asked[:MOST])
    if len(asked) > MOST:
        more = phrase("{n} more on the findings of the plan.", n=len(asked) - MOST)
        yield Text(text=more, small=True)


def _see_to(hanging: Hanging) -> Iterator[Block]:
    """Snags, those that stop the work first."""
    snags = hanging.hung.snags
    if not snags:
        return
    columns = (Column(head="See to this first", share=0.7), Column(head="What is wrong", share=1),
               Column(head="What to do", share=1))  # fmt: skip
    rows = tuple(
        (
            Cell(text=tables.capital(s.where), strong=True, small=("stops the work",) * s.stops),
            s.wrong,
            tables.capital(s.do),
        )
        for s in snags
    )
    yield Table(columns=columns, rows=rows)


def _times(hanging: Hanging) -> Iterator[Block]:
    times = next(t for t in hanging.times if t.crew == work_day.CREW)
    holes = len(hanging.hung.drilling.holes)
    water = (
        "nothing is sealed, so water may run at once"
        if times.shower is None
        else phrase("first water {when}", when=work_day.when(times.shower))
    )
    yield Text(
        text=phrase(
            "Two people, {steps} steps, {holes} holes: last work {worked}, {water}, handed over "
            "{finish}.",
            steps=len(hanging.steps),
            holes=holes,
            worked=work_day.when(times.worked),
            water=water,
            finish=work_day.when(times.finish),
        )
    )
