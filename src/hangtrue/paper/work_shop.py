"""Work sheets of the shop: order to the plant, what to bring, receiving, cutting to length."""

from __future__ import annotations

import math
from collections.abc import Iterator

from hangtrue.hang.cut_records import CutBar, CutPiece, EndCut, StockPlan
from hangtrue.hang.records import HangPlan, Receiving
from hangtrue.paper import tables
from hangtrue.paper.blocks import Block, Caution, Cell, Column, Heading, Page, Table, Text
from hangtrue.paper.drawings.pane import pane
from hangtrue.paper.drawn_pages import CAUTION, HEADING, OUTSIDE, ROOM, drawing
from hangtrue.paper.lengths import INCH, Units, tidy
from hangtrue.paper.work_before import BOX, LINE
from hangtrue.paper.work_set import Hanging, WorkSet
from hangtrue.phrase import join, phrase

GROUPS = {
    "hardware": "Hardware",
    "fixings": "Fixings, shims, blocks",
    "consumables": "Consumables",
    "tools": "Bits",
}
PROVEN = 1e-6
RECEIVED = phrase(
    "Received by: {line}{line}    Date: {line}    Pane taken {box}    sent back {box}",
    line=LINE,
    box=BOX,
)
FOOT = 12 * INCH
ON_ONE_SHEET = 36
"""Lines of a receiving list that surely fit on one sheet; a longer list may run on."""


# ------------------------------------------------------------------------------------------- plant


def _texture(found: WorkSet) -> tuple[tuple[str, str], ...]:
    """Say that the glass is to be textured; nothing of glass that is smooth on both sides."""
    if found.plan.brief.job.wanted.texture != "textured":
        return ()
    return (("Faces", "textured"),)


def order(found: WorkSet, hanging: Hanging) -> Iterator[Page]:
    """The order to the plant with its totals, and a drawing of each pane."""
    boxed = hanging.made.choice.cut == "boxed"
    total, units = hanging.hung.plant, found.units
    edge = f"{total.edge / FOOT:.1f} ft" if units.first == "in" else f"{total.edge / 1000:.2f} m"
    rows = (
        ("Panes", str(total.panes)),
        ("Area of glass", units.area(total.area)),
        ("Weight", units.mass(total.mass_kg)),
        ("Edge to be worked, cut-outs included", edge),
        ("Holes", str(total.holes)),
        ("Cut-outs", str(total.cut_outs)),
        *_texture(found),
    )
    wanted = found.plan.brief.job.wanted
    asked = phrase(
        "Edges: {edge}. Seen from outside on every drawing. One pane one label: job, pane, "
        "version {version}.",
        edge=wanted.edge,
        version=found.plan.brief.job.job.version,
    )
    blocks: tuple[Block, ...] = (
        tables.sizes(hanging.made.lites, units),
        Table(
            columns=(Column(head="Altogether", share=1), Column(head="", align="right")), rows=rows
        ),
        Text(text=asked),
        *_warned(found, "cut-never", "own-hardware", "boxed-set"),
    )
    title = "The set as it comes" if boxed else "Order to the glass plant"
    yield Page(title=title, blocks=blocks, view=OUTSIDE, sizes=True)
    yield from _pane_pages(found, hanging)


def _pane_pages(found: WorkSet, hanging: Hanging) -> Iterator[Page]:
    wide, high = ROOM[found.plan.brief.profile.paper]
    boxed = hanging.made.choice.cut == "boxed"
    for lite in hanging.made.lites:
        sheet = pane(found.plan.brief, hanging.made, lite)
        set_, scale = drawing(sheet, (wide, high - CAUTION))
        yield Page(
            title=(
                phrase("Pane as it comes: {pane}", pane=lite.id)
                if boxed
                else phrase("Pane to order: {pane}", pane=lite.id)
            ),
            blocks=(set_, *_warned(found, "cut-never")),
            view=OUTSIDE,
            scale=scale,
            sizes=True,
            heading=set_.height + CAUTION + HEADING <= high,
        )


def _warned(found: WorkSet, *names: str) -> tuple[Caution, ...]:
    said = (found.caution(name) for name in names)
    return tuple(Caution(text=text) for text in said if text)


# ---------------------------------------------------------------------------------- what to bring


def bring(found: WorkSet, hung: HangPlan) -> Page:
    """Hardware, fixings, consumables and bits, with how each quantity was come by."""
    columns = (
        Column(head=""),
        Column(head="What", share=1.2),
        Column(head="How many", align="right"),
        Column(head="", align="left"),
        Column(head="How it was come by", share=1),
    )
    blocks: list[Block] = []
    for group, title in GROUPS.items():
        lines = [line for line in hung.hardware if line.group == group]
        rows = tuple((BOX, line.what, _count(line.quantity), line.unit, line.how) for line in lines)
        if rows:
            blocks += [Heading(text=title), Table(columns=columns, rows=rows, compact=True)]
    return Page(title="Hardware and consumables", blocks=(*blocks, *_warned(found, "own-hardware")))


def _count(quantity: float) -> str:
    return str(round(quantity)) if math.isclose(quantity, round(quantity)) else f"{quantity:.1f}"


# -------------------------------------------------------------------------------------- receiving


def receiving(found: WorkSet, hung: HangPlan) -> Iterator[Page]:
    """One checklist for each pane: sizes with what they may be off by, then what is looked at."""
    for one in hung.receiving:
        yield _receive(found, one)


def _receive(found: WorkSet, one: Receiving) -> Page:
    units = found.units
    columns = (
        Column(head=phrase("Measure on {pane}", pane=one.pane), share=1),
        Column(head="Size", unit=units.head, align="figure"),
        Column(head="Least", unit=units.first, align="figure"),
        Column(head="Most", unit=units.first, align="figure"),
        Column(head="Measured", unit=units.first),
        Column(head="Good"),
    )
    alone = units.alone
    rows = tuple(
        (
            tables.capital(size.what),
            units.figure(size.size, fine=True),
            alone.figure(size.size - size.tolerance, fine=True),
            alone.figure(size.size + size.tolerance, fine=True),
            LINE,
            BOX,
        )
        for size in one.sizes
    )
    looks = tuple((BOX, tables.capital(words)) for words in one.looks)
    return Page(
        title=phrase("Receiving: {pane}", pane=one.pane),
        flows=True,
        whole=len(rows) + len(looks) <= ON_ONE_SHEET,
        view=OUTSIDE,
        blocks=(
            *_warned(found, "receive"),
            Table(columns=columns, rows=rows, compact=True),
            Table(
                columns=(Column(head="Seen"), Column(head="Look at", share=1)),
                rows=looks,
                compact=True,
            ),
            Text(text=RECEIVED),
        ),
    )


# ----------------------------------------------------------------------------------------- cutting


def cut_list(found: WorkSet, hung: HangPlan) -> Page:
    """Pieces to cut to length with their ends and notches, and how they come out of stock."""
    units = found.units
    columns = (
        Column(head="Piece", share=1),
        Column(head="Length", unit=units.head, align="figure"),
        Column(head="±", unit=units.first, align="right"),
        Column(head="Lower or left end"),
        Column(head="Upper or right end"),
        Column(head="Notches, from the first end", share=0.9),
        Column(head="Cut"),
    )
    rows = tuple(_piece(piece, units) for piece in hung.pieces)
    bars = [row for plan in hung.cutting for row in _bars(plan, units)]
    stock = (
        Column(head="From stock", share=1),
        Column(head="Cut in this order, saw cut between", share=1.4),
        Column(head="Left over", unit=units.head, align="figure"),
        Column(head=""),
    )
    blocks: tuple[Block, ...] = (
        Table(columns=columns, rows=rows, compact=True),
        Text(text="± is two standard deviations of what the wall may still say: where it is wide, "
             "cut the last bit to fit on site.", small=True),
        Heading(text="How it comes out of stock"),
        Table(columns=stock, rows=tuple(bars), compact=True),
        *_warned(found, "wear"),
    )  # fmt: skip
    return Page(title="Cut list", blocks=blocks)


def _piece(piece: CutPiece, units: Units) -> tuple[str | Cell, ...]:
    cuts = join(
        "; ",
        (
            phrase(
                "{start} to {end} ({why})",
                start=units.alone.figure(c.start, fine=True),
                end=units.alone.figure(c.end, fine=True),
                why=c.why,
            )
            for c in piece.cuts
        ),
    )
    ends = tuple(map(_end, piece.ends))
    small = tuple(s for s in (piece.note,) if s)
    return (
        Cell(text=tables.capital(piece.id), small=small, strong=True),
        units.figure(piece.length.value, fine=True),
        units.spread(piece.length.sd),
        *ends,
        cuts or tables.NOTHING,
        BOX,
    )


ANGLE = 1e-4
"""An end that is less off square is square, rad."""


def _end(end: EndCut) -> str:
    if abs(end.angle_rad) < ANGLE:
        return end.words
    return join("°, ", (tidy(abs(math.degrees(end.angle_rad)), 1), end.words))


def _bars(plan: StockPlan, units: Units) -> Iterator[tuple[str | Cell, ...]]:
    how = (
        "no plan needs less stock"
        if plan.plan.gap < PROVEN
        else phrase("within {gap:.1%}", gap=plan.plan.gap)
    )
    for bar in plan.plan.bars:
        where = "from the shelf" if bar.stock.shelf else "new"
        small = (join("; ", (plan.item, how)),)
        long = join(" ", (units.alone.size(bar.stock.length), where))
        name = join(", ", (tables.capital(plan.sort), long))
        kept = "keep on the shelf" if bar.kept else "scrap"
        yield (Cell(text=name, small=small), _cuts(bar, units), units.figure(bar.rest), kept)


def _cuts(bar: CutBar, units: Units) -> str:
    named = ((name, units.alone.figure(length, fine=True)) for name, length in bar.pieces)
    return join("; ", (join(": ", pair) for pair in named))
