"""Work sheets from before there is glass: builder and tiler, measuring, signing."""

from __future__ import annotations

from hangtrue.check.wording import listed
from hangtrue.hang.before import SignOff, ready_to_measure, sign_off
from hangtrue.hang.measuring_sheet import BlankReading, measuring_sheet, noted
from hangtrue.paper import tables
from hangtrue.paper.blocks import (
    Abreast,
    Block,
    Caution,
    Cell,
    Column,
    Drawing,
    Page,
    Signature,
    Table,
    Text,
)
from hangtrue.paper.drawings.elevation import elevation
from hangtrue.paper.drawings.walk import walk
from hangtrue.paper.drawings.wall_faces import blocking
from hangtrue.paper.drawn_pages import HEADING, OUTSIDE, ROOM, drawing, free
from hangtrue.paper.lengths import Units, tidy
from hangtrue.paper.work_set import Hanging, WorkSet
from hangtrue.phrase import join, phrase

BOX = "☐"
"""To tick."""
LINE = "_" * 11
"""To write a figure on."""
BLOCKING_TALL = 121.0
"""Height of the drawing of blocking, mm."""
ANSWERS = {"yes": "yes", "no": "no, put it right", "unknown": "ask"}
PIPES = "Before anybody drills or screws here: find pipes and cables, and photograph them open."


# ------------------------------------------------------------------------------- builder and tiler


def builder(found: WorkSet) -> Page:
    """Blocking drawn on the wall, what is asked of walls and curb, what to keep clear."""
    asked, units, plan = found.builder, found.units, found.plan
    made = found.hanging.made if found.hanging else None
    holes = found.hanging.hung.drilling.holes if found.hanging else ()
    sheet = blocking(plan.brief, plan.opening, made, asked, BLOCKING_TALL, holes)
    picture, scale = drawing(sheet, (sheet.width, BLOCKING_TALL))
    clear = tuple((Cell(text=tables.capital(what), strong=True), where) for what, where in
                  asked.keep_clear)  # fmt: skip
    photographs = tuple((BOX, words) for words in asked.photographs)
    columns = (Column(head="Keep clear", share=0.8), Column(head="Where", share=1))
    taken = (Column(head=""), Column(head="Photograph, before it is closed", share=1))
    blocks: tuple[Block, ...] = (
        *((picture,) if asked.blocking else ()),
        _wood(found),
        _faces(found),
        Text(text=_curb(found), small=False),
        Abreast(tables=(Table(columns=columns, rows=clear, compact=True),
                        Table(columns=taken, rows=photographs, compact=True))),
        Caution(text=PIPES),
        Text(text=phrase(
            "Heights are above the datum of the job. {unit}.", unit=units.head), small=True),
    )  # fmt: skip
    return Page(title="For builder and tiler", blocks=blocks, view="walls face on", scale=scale)


def _wood(found: WorkSet) -> Table:
    units = found.units
    columns = (
        Column(head="Solid wood behind"),
        Column(head="From", unit=units.head, align="figure"),
        Column(head="To", unit=units.head, align="figure"),
        Column(head="Each side of its middle", unit=units.head, align="figure"),
        Column(head="Thick", unit=units.head, align="figure"),
        Column(head="Carries", share=1),
        Column(head="There?"),
    )
    rows = tuple(
        (
            Cell(text=tables.capital(f"{b.wall} wall"), strong=True),
            units.figure(b.low),
            units.figure(b.high),
            units.figure(b.each_side),
            units.figure(b.depth),
            b.carries,
            join(" ", (BOX, ANSWERS[b.there])),
        )
        for b in found.builder.blocking
    )
    return Table(columns=columns, rows=rows, compact=True)


def _faces(found: WorkSet) -> Table:
    units = found.units
    columns = (
        Column(head="Finished face of", share=1),
        Column(head="Out of plumb along the glass, at most", unit=units.head, align="figure"),
        Column(head="Across the glass, at most", unit=units.head, align="figure"),
        Column(head="Out of flat, at most", unit=units.head, align="figure"),
        Column(head="Over a height of", unit=units.head, align="figure"),
    )

    def most(mm: float | None) -> str:
        return tables.NOTHING if mm is None else units.figure(mm, fine=True)

    rows = tuple(
        (
            Cell(
                text=tables.capital(f"{w.wall} wall"), strong=True, small=(w.name,) * bool(w.name)
            ),
            most(w.plumb_most),
            most(w.across_most),
            most(w.flat_most),
            units.figure(w.over),
        )
        for w in found.builder.walls
    )
    return Table(columns=columns, rows=rows, compact=True)


def _curb(found: WorkSet) -> str:
    curb, units = found.builder.curb, found.units
    return phrase(
        "Curb: its top falls into the shower {usual}, between {least} and {most}; along the glass "
        "it is level within {level}; flat and whole over its width of {width}, waterproofed under "
        "the tile.",
        usual=_pitch(curb.pitch_usual, units),
        least=_pitch(curb.pitch_least, units),
        most=_pitch(curb.pitch_most, units),
        level=units.small(curb.level_most),
        width=units.size(curb.flat_width),
    )


def _pitch(slope: float, units: Units) -> str:
    """Slope as the trade says it: to the foot, or per cent."""
    if units.first == "in":
        return phrase("{rise} in to the foot", rise=units.alone.figure(slope * 304.8, fine=True))
    return f"{tidy(slope * 100, 1)} %"


# --------------------------------------------------------------------------------------- measuring


def ready(found: WorkSet) -> Page:
    """Questions that must be answered yes before anybody measures."""
    lines = ready_to_measure(found.plan.brief.job)
    columns = (
        Column(head="Ready to measure?", share=1),
        Column(head="The job says so far"),
        Column(head="Yes"),
        Column(head="No: who puts it right, by when", share=0.8),
    )
    rows = tuple((line.question, ANSWERS[line.answer], BOX, "") for line in lines)
    note = Text(
        text="Anything but yes: do not measure for ordering. A pane cut for a wall that is tiled "
        "afterwards is a pane lost.",
    )
    return Page(title="Ready to measure", blocks=(Table(columns=columns, rows=rows), note))


def measuring(found: WorkSet) -> tuple[Page, ...]:
    """The blank measuring sheet with room to write, and a picture of where each reading is."""
    columns = (
        Column(head="No."),
        Column(head="Where you stand"),
        Column(head="What is read", share=1),
        Column(head="With"),
        Column(head="Reading", unit=found.plan.brief.job.unit),
        Column(head="Which way, note"),
    )
    readings = measuring_sheet(found.plan.brief)
    rows = tuple(_blank(r, found.units, before) for r, before in
                 zip(readings, (None, *readings), strict=False))  # fmt: skip
    writing = (
        Column(head="Write down as well", share=1),
        Column(head="What is there", share=1),
    )
    notes = (
        Table(columns=writing, rows=tuple((what, "") for what in noted(found.plan.brief.job))),
        Text(
            text="Walk from the left wall to the right, facing the glass from outside. Write what "
            "the instrument says, unrounded; a second person reads one width of each run again.",
            small=True,
        ),
        Text(
            text=phrase("Instruments: {line}{line}    Read by: {line}    Date: {line}", line=LINE)
        ),
    )
    table = Page(
        title="Measuring sheet", blocks=(Table(columns=columns, rows=rows), *notes), view=OUTSIDE
    )
    sheet = walk(found.plan.brief, found.plan.opening, readings)
    room = ROOM[found.plan.brief.profile.paper]
    picture, _ = drawing(sheet, (room[0], room[1] - HEADING))
    title = "Where each reading is taken"
    return (table, Page(title=title, blocks=(picture,), view=OUTSIDE))


def _blank(reading: BlankReading, units: Units, before: BlankReading | None) -> tuple[str, ...]:
    low, high = (units.size(mm) if mm is not None else "" for mm in (reading.low, reading.high))
    words = reading.said(low, high)
    same = before is not None and before.station == reading.station
    station = "" if same else tables.capital(reading.station)
    return (str(reading.number), station, tables.capital(words), reading.tool, LINE, LINE + "___")


# ----------------------------------------------------------------------------------------- signing


def agreed(found: WorkSet, hanging: Hanging) -> Page:
    """What the customer signs."""
    signed = sign_off(found.plan.brief, hanging.made)
    made = found.plan.best.alternative.choice
    blocks: tuple[Block, ...] = (
        *((Text(text=signed.lead),) if signed.lead else ()),
        Text(
            text=phrase(
                "{layout}. {swing}",
                layout=tables.choice_words(made, found.units),
                swing=_swing(signed),
            )
        ),
        _picture(found, hanging),
        _sizes(signed, found.units),
        _seen(signed, found.units),
        Table(
            columns=(Column(head="Read"), Column(head="It cannot be promised", share=1)),
            rows=tuple((BOX, words) for words in signed.cannot_promise),
        ),
        Signature(text="Layout, swing, gaps and the points above agreed (customer)"),
        Signature(text="Explained by"),
    )
    return Page(title="Customer sign-off", blocks=blocks, view=OUTSIDE, sizes=True)


def _picture(found: WorkSet, hanging: Hanging) -> Drawing:
    sheet = elevation(found.plan.brief, found.plan.opening, hanging.made)
    return free(sheet, (sheet.width, sheet.height))


def _swing(signed: SignOff) -> str:
    hung = join("; ", (_opens(*hinge, signed.swing) for hinge in signed.hinges))
    return tables.capital(hung + ".") if hung else "No door."


def _opens(door: str, side: str, on: str, swing: str) -> str:
    parts = {"door": door, "side": side, "on": on}
    if swing == "out":
        return phrase("{door}: hinges on its {side}, on the {on}, opens out of the shower", **parts)
    if swing == "in":
        return phrase("{door}: hinges on its {side}, on the {on}, opens into the shower", **parts)
    return phrase("{door}: hinges on its {side}, on the {on}, opens both ways", **parts)


def _sizes(signed: SignOff, units: Units) -> Table:
    columns = (
        Column(head="Pane", share=1),
        Column(head="Width, at its widest", unit=units.head, align="figure"),
        Column(head="Height, at its highest", unit=units.head, align="figure"),
    )
    rows = tuple((tables.capital(n), units.figure(w), units.figure(h)) for n, w, h in signed.sizes)
    return Table(columns=columns, rows=rows)


def _seen(signed: SignOff, units: Units) -> Table:
    columns = (
        Column(head="Gap that will be seen, between", share=1),
        Column(head="Narrowest", unit=units.head, align="figure"),
        Column(head="Widest", unit=units.head, align="figure"),
        Column(head="±", unit=units.first, align="right"),
    )
    rows = tuple(
        (
            listed(gap.between),
            units.figure(gap.least, fine=True),
            units.figure(gap.most, fine=True),
            units.spread(gap.spread),
        )
        for gap in signed.gaps
    )
    return Table(columns=columns, rows=rows)
