"""Every list of the work papers as plain rows, lengths in the first unit of the papers."""

from __future__ import annotations

import math
from collections.abc import Iterator

from hangtrue.hang.before import ready_to_measure
from hangtrue.hang.cut_records import PieceCut
from hangtrue.hang.measuring_sheet import measuring_sheet
from hangtrue.paper.lengths import COVERAGE, INCH, Units
from hangtrue.paper.sheets_xlsx import DataList, Value
from hangtrue.paper.work_set import Hanging, WorkSet
from hangtrue.phrase import join, phrase

KILO = 1e6


def lists(found: WorkSet) -> tuple[DataList, ...]:
    """Return the lists of a job: those from before there is glass, then those to work by."""
    after = _hanging(found.hanging, found.units) if found.hanging else ()
    return (*_before(found), *after)


def _length(mm: float, units: Units) -> float:
    """Length in decimals of the first unit: a thousandth of an inch, a hundredth of a mm."""
    return round(mm / INCH, 3) if units.first == "in" else round(mm, 2)


def _in(words: str, unit: str) -> str:
    """Head of a column with its unit behind it."""
    return join(" ", (words, f"({unit})"))


def _before(found: WorkSet) -> Iterator[DataList]:
    unit, units = found.units.first, found.units
    yield DataList(
        name="blocking",
        title="Blocking for builder and tiler",
        heads=(
            "wall", _in("from", unit), _in("to", unit), _in("each side of its middle", unit),
            _in("thick", unit), "carries", "there",
        ),
        rows=tuple(
            (b.wall, *(_length(mm, units) for mm in (b.low, b.high, b.each_side, b.depth)),
             b.carries, b.there)
            for b in found.builder.blocking
        ),
    )  # fmt: skip
    yield DataList(
        name="ready to measure",
        title="Ready to measure",
        heads=("question", "the job says"),
        rows=tuple((r.question, r.answer) for r in ready_to_measure(found.plan.brief.job)),
    )
    yield DataList(
        name="measuring sheet",
        title="Measuring sheet",
        heads=(
            "number", "where", "what", _in("from or at", unit), _in("to", unit), "with", "reading",
        ),
        rows=tuple(
            (
                r.number, r.station, r.said(),
                *("" if mm is None else _length(mm, units) for mm in (r.low, r.high)), r.tool, "",
            )
            for r in measuring_sheet(found.plan.brief)
        ),
    )  # fmt: skip


def _hanging(hanging: Hanging, units: Units) -> Iterator[DataList]:
    yield _plant(hanging, units)
    yield _bring(hanging)
    yield _receiving(hanging, units)
    yield _holes(hanging, units)
    yield _pieces(hanging, units)
    yield _stock(hanging, units)
    yield _packing(hanging, units)
    yield _gaps(hanging, units)
    yield _steps(hanging)


def _plant(hanging: Hanging, units: Units) -> DataList:
    unit = units.first
    return DataList(
        name="plant order",
        title="Order to the glass plant",
        heads=(
            "pane", _in("width bottom", unit), _in("width top", unit), _in("height left", unit),
            _in("height right", unit), _in("thickness", unit), "area (m2)", "mass (kg)", "holes",
            "cut-outs",
        ),
        rows=tuple(
            (
                p.id,
                *(_length(mm, units) for mm in (p.width_bottom, p.width_top, p.height_left,
                                                p.height_right, p.thickness)),
                round(p.area / KILO, 4), round(p.mass_kg, 2), len(p.holes), len(p.notches),
            )
            for p in hanging.made.lites
        ),
    )  # fmt: skip


def _bring(hanging: Hanging) -> DataList:
    return DataList(
        name="hardware",
        title="Hardware and consumables",
        heads=("group", "what", "how many", "unit", "item", "how it was come by"),
        rows=tuple(
            (i.group, i.what, i.quantity, i.unit, i.item, i.how) for i in hanging.hung.hardware
        ),
    )


def _receiving(hanging: Hanging, units: Units) -> DataList:
    unit = units.first
    rows: list[tuple[Value, ...]] = []
    for one in hanging.hung.receiving:
        rows += [
            (one.pane, s.what, _length(s.size, units), _length(s.tolerance, units), "")
            for s in one.sizes
        ]
        rows += [(one.pane, look, "", "", "") for look in one.looks]
    return DataList(
        name="receiving",
        title="Receiving",
        heads=("pane", "what", _in("size", unit), _in("plus or minus", unit), "found"),
        rows=tuple(rows),
    )


def _holes(hanging: Hanging, units: Units) -> DataList:
    unit = units.first
    return DataList(
        name="holes",
        title="Drilling plan",
        heads=(
            "hole", "surface", "of", _in("above the highest curb point", unit),
            _in("above datum", unit),
            _in("along the glass line", unit), _in("off the glass line, + inside", unit),
            _in("stop at", unit), "layers and bits", "screw", _in("screw length", unit), "anchor",
            "torque", "behind", _in("rim to the edge of its tile", unit), "look at",
        ),
        rows=tuple(
            (
                h.id, h.surface, h.part,
                *(_length(mm, units) for mm in (h.height.value, h.above_datum, h.along, h.off,
                                                h.depth)),
                join("; ", (join(": ", (p.layer, str(p.bit or "none"))) for p in h.passes)),
                h.screw,
                _length(h.screw_length, units), h.anchor, h.torque, h.behind,
                "" if h.edge is None else _length(h.edge, units), join("; ", h.flags),
            )
            for h in hanging.hung.drilling.holes
        ),
    )  # fmt: skip


def _pieces(hanging: Hanging, units: Units) -> DataList:
    unit = units.first
    return DataList(
        name="cut list",
        title="Cut list",
        heads=(
            "piece", "sort", "item", _in("length", unit), _in("plus or minus", unit),
            "lower or left end (degrees)", "upper or right end (degrees)", "notches", "note",
        ),
        rows=tuple(
            (
                p.id, p.sort, p.item, _length(p.length.value, units),
                _length(COVERAGE * p.length.sd, units),
                *(round(math.degrees(e.angle_rad), 2) for e in p.ends),
                join("; ", (_cut(c, units) for c in p.cuts)),
                p.note,
            )
            for p in hanging.hung.pieces
        ),
    )  # fmt: skip


def _cut(cut: PieceCut, units: Units) -> str:
    start, end = _length(cut.start, units), _length(cut.end, units)
    return phrase("{start} to {end} {why}", start=start, end=end, why=cut.why)


def _stock(hanging: Hanging, units: Units) -> DataList:
    unit = units.first
    return DataList(
        name="stock",
        title="Cutting from stock",
        heads=(
            "sort", "item", _in("stock", unit), "from", "pieces in order", _in("left", unit),
            "kept",
        ),
        rows=tuple(
            (
                plan.sort, plan.item, _length(bar.stock.length, units),
                "shelf" if bar.stock.shelf else "new",
                join("; ", (join(" ", (name, str(_length(length, units)))) for name, length in
                            bar.pieces)),
                _length(bar.rest, units), "yes" if bar.kept else "no",
            )
            for plan in hanging.hung.cutting
            for bar in plan.plan.bars
        ),
    )  # fmt: skip


def _packing(hanging: Hanging, units: Units) -> DataList:
    unit = units.first
    return DataList(
        name="shims",
        title="Packing",
        heads=("line", "part", _in("at", unit), _in("room to the line", unit), _in("pieces", unit)),
        rows=tuple(
            (
                p.id, s.part, _length(s.at, units), _length(s.distance, units),
                " + ".join(f"{_length(x, units)}" for x in s.pieces) or "none",
            )
            for p in hanging.hung.packings
            for s in p.shims
        ),
    )  # fmt: skip


def _gaps(hanging: Hanging, units: Units) -> DataList:
    unit = units.first
    return DataList(
        name="gaps",
        title="Gaps to set",
        heads=(
            "joint", "kind", "place", _in("set to", unit), _in("least", unit), _in("most", unit),
            "as set",
        ),
        rows=tuple(
            (s.joint, s.kind, t.place,
             *(_length(mm, units) for mm in (t.gap.value, t.least, t.most)), "")
            for s in hanging.hung.settings
            for t in s.targets
        ),
    )  # fmt: skip


def _steps(hanging: Hanging) -> DataList:
    return DataList(
        name="steps",
        title="Steps, in order",
        heads=("number", "what", "people", "minutes", "tools", "consumables", "done when", "after"),
        rows=tuple(
            (
                hanging.numbers[s.id], s.title, s.people, round(s.minutes), join(", ", s.tools),
                join(", ", s.consumables), s.check,
                ", ".join(map(str, sorted(hanging.numbers[n.step] for n in s.needs))),
            )
            for s in hanging.steps
        ),
    )  # fmt: skip
