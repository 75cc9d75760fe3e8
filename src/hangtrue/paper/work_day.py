"""Work sheets of the day: holes, packing and gaps, ordered steps with their time, hand-over."""

from __future__ import annotations

from collections.abc import Iterator

from hangtrue.check.wording import off_line
from hangtrue.hang.handover import GapLine
from hangtrue.hang.records import DrillHole, Packing, Setting, Shim
from hangtrue.hang.steps import Step
from hangtrue.hang.timetable import Timetable, clock
from hangtrue.hang.work import is_upright
from hangtrue.paper import tables
from hangtrue.paper.blocks import (
    Block,
    Caution,
    Cell,
    Column,
    Heading,
    Page,
    Signature,
    Table,
    Text,
)
from hangtrue.paper.drawings.drill_sections import drill_sections
from hangtrue.paper.drawings.drilled_level import drilled_levels
from hangtrue.paper.drawings.riser_faces import drilled_risers
from hangtrue.paper.drawings.time_bars import time_bars
from hangtrue.paper.drawings.wall_faces import drilled_walls
from hangtrue.paper.drawn_pages import HEADING, ROOM, drawing
from hangtrue.paper.lengths import Units
from hangtrue.paper.scene import Sheet
from hangtrue.paper.work_before import BOX, LINE
from hangtrue.paper.work_set import Hanging, WorkSet
from hangtrue.phrase import join, phrase

DRILL = ("pipes", "old-wall", "wet", "silica", "solid-wood")
"""Cautions of drilling, over the drawing of the holes."""
ABOVE_BARS = 52.0
"""Height of what stands over the time bars, mm."""
APART = 3.0
"""Between two drawings on one sheet, mm."""
CREW = 2
"""Crew whose time is drawn."""


def _warned(found: WorkSet, *names: str) -> tuple[Caution, ...]:
    said = (found.caution(name) for name in names)
    return tuple(Caution(text=text) for text in said if text)


# ---------------------------------------------------------------------------------------- drilling


def drilling(found: WorkSet, hanging: Hanging) -> Iterator[Page]:
    """Walls with their holes, then every hole with its layers."""
    plan, holes = found.plan, hanging.hung.drilling
    warned = _warned(found, *DRILL)
    wide, high = ROOM[plan.brief.profile.paper]
    tall = high - 14.0 - 8.0 * len(warned)
    sheets = drilled_walls(plan.brief, plan.opening, hanging.made, holes, tall)
    sections = tuple(drawing(s, (wide, tall))[0] for s in _sections(holes.holes, found.units))
    for sheet in sheets:
        picture, scale = drawing(sheet, (wide, tall))
        here = sections if sum(s.height for s in sections) < tall - picture.height - APART else ()
        sections = () if here else sections
        yield Page(
            title="Drilling plan: walls",
            blocks=(*warned, picture, *here),
            view="walls face on",
            scale=scale,
            sizes=True,
        )
    level = (
        *drilled_levels(plan.brief, plan.opening, hanging.made, holes),
        *drilled_risers(plan.brief, plan.opening, holes),
    )
    pictures = tuple(drawing(s, (wide, tall))[0] for s in level)
    blocks: tuple[Block, ...] = (
        *pictures,
        *sections,
        *(_holes(holes.holes, found.units) if holes.holes else (Text(text="No hole at all."),)),
        Text(text=_drill_note(found), small=True),
        *_not_drilled(hanging),
    )
    yield Page(title="Drilling plan: holes", blocks=blocks, sizes=True)


Way = tuple[str | Cell, ...]


def _holes(holes: tuple[DrillHole, ...], units: Units) -> tuple[Block, ...]:
    """Ways of drilling, each once under its letter; then every hole with its letter."""
    ways = _ways(holes, units)
    how = (
        Column(head="Way"),
        Column(head="Layer by layer from the face: to which depth, with which bit", share=1.5),
        Column(head="Fixing, how tight", share=1),
        Column(head="Behind it must be", share=0.7),
    )
    where = (
        Column(head="Hole"),
        Column(head="For", share=1),
        Column(head="Above the curb; on a level from the left", unit=units.head, align="figure"),
        Column(head="Off the glass line", unit=units.first, align="right"),
        Column(head="Way"),
        Column(head="Stop at", unit=units.first, align="figure"),
        Column(head="Look at"),
        Column(head="Done"),
    )
    flags = tuple(dict.fromkeys(flag for h in holes for flag in h.flags))
    rows = tuple(_hole(h, ways[_way(h, units)], flags, units) for h in holes)
    notes = (
        phrase("Look at {number}: {what}.", number=n, what=flag) for n, flag in enumerate(flags, 1)
    )
    return (
        Table(columns=how, rows=tuple((Cell(text=k, strong=True), *w) for w, k in ways.items())),
        Table(columns=where, rows=rows, compact=True),
        *(Caution(text=words) for words in notes),
    )


def _ways(holes: tuple[DrillHole, ...], units: Units) -> dict[Way, str]:
    """Letter of each way of drilling."""
    every = dict.fromkeys(_way(hole, units) for hole in holes)
    return {way: chr(ord("A") + n % 26) for n, way in enumerate(every)}


def _sections(holes: tuple[DrillHole, ...], units: Units) -> tuple[Sheet, ...]:
    """Draw each way of drilling cut through, by its letter."""
    ways = _ways(holes, units)
    drilled = {ways[_way(h, units)]: h for h in reversed(holes)}
    return drill_sections(sorted(drilled.items()), units)


def _way(hole: DrillHole, units: Units) -> Way:
    """How a hole is drilled and what goes into it."""
    layers = tuple(
        phrase(
            "{number}. {layer}, to {depth}: {bit}; {how}",
            number=n,
            layer=p.layer,
            depth=units.small(p.end),
            bit=str(p.bit or "no bit for it"),
            how=p.how,
        )
        for n, p in enumerate(hole.passes, 1)
    )
    first, *others = layers or ("Layers are not known: ask before drilling.",)
    screw = (
        phrase(
            "screw No. {size}, {length}",
            size=hole.screw,
            length=units.alone.small(hole.screw_length),
        )
        if hole.screw
        else ""
    )
    extras = (screw, hole.anchor, "sleeve in the tile" if hole.sleeve else "", hole.torque)
    return (
        Cell(text=first, then=join("\n", others)),
        tables.capital(join("; ", (part for part in extras if part))),
        hole.behind,
    )


def _hole(
    hole: DrillHole, way: str, flags: tuple[str, ...], units: Units
) -> tuple[str | Cell, ...]:
    upright = is_upright(hole.surface)
    by = phrase("moved {length}", length=units.small(abs(hole.shifted)))
    moved: tuple[str, ...] = (by,) if abs(hole.shifted) > MOVED else ()
    if hole.edge is not None:
        moved += (phrase("{length} to the tile edge", length=units.small(hole.edge)),)
    return (
        Cell(text=hole.id, strong=True),
        join(", ", (hole.surface, hole.part)),
        units.figure(hole.height.value if upright else hole.along),
        _side(hole.off, units),
        way,
        units.alone.figure(hole.depth, fine=True),
        join(", ", (*moved, *(str(flags.index(f) + 1) for f in hole.flags))),
        BOX,
    )


MOVED = 0.5
"""A hole that was moved less is where it was, mm."""


def _side(off: float, units: Units) -> str:
    """How far off the glass line, and which way."""
    if abs(off) < MOVED:
        return "on it"
    return off_line(units.alone.figure(abs(off), fine=True), off)


def _drill_note(found: WorkSet) -> str:
    return phrase(
        "Heights are above the highest point of the curb; “inside” is toward the shower. Stop: "
        "depth of the last bit from the finished face. Start in tile at an angle, wet, without "
        "hammer; fill every hole with sealant before its screw. Local code and the hardware "
        "maker's instructions come first. {unit}.",
        unit=found.units.head,
    )


def _not_drilled(hanging: Hanging) -> Iterator[Block]:
    holes = hanging.hung.drilling
    if holes.bedded:
        what = join("; ", holes.bedded)
        yield Text(text=phrase("Held without a hole: {what}.", what=what), small=True)
    if holes.moved:
        parts = join("; ", (m.part for m in holes.moved))
        moved = phrase("Moved, so that holes come clear: {parts}.", parts=parts)
        yield Text(text=moved, small=True)


# ------------------------------------------------------------------------------- shims and setting


def setting(found: WorkSet, hanging: Hanging) -> Page:
    """Packing behind each plate and fixing, then the gap to set at each place."""
    units = found.units
    packings = [p for p in hanging.hung.packings if p.shims]
    shims = (
        Column(head="Behind, under", share=1),
        Column(head="At", unit=units.head, align="figure"),
        Column(head="Room to the line", unit=units.head, align="figure"),
        Column(head="Pieces, thickest first", unit=units.first, share=0.8),
        Column(head="In place"),
    )
    gaps = (
        Column(head="Joint", share=1),
        Column(head="Place"),
        Column(head="Set to", unit=units.head, align="figure"),
        Column(head="Least", unit=units.first, align="figure"),
        Column(head="Most", unit=units.first, align="figure"),
        Column(head="Glass in the channel", unit=units.first, align="figure"),
        Column(head="As set"),
    )
    packed = tuple(row for p in packings for row in _packed(p, units))
    sets = tuple(row for s in hanging.hung.settings for row in _set(s, units))
    marks = tuple(m for s in hanging.hung.settings for m in _mark(s, units))
    blocks: tuple[Block, ...] = (
        Table(columns=shims, rows=packed, compact=True),
        Text(text=PACKING, small=True),
        Table(columns=gaps, rows=sets, compact=True),
        *((_marks(marks, units),) if marks else ()),
        *_warned(found, "two-people", "knock"),
    )
    return Page(title="Shims and setting", blocks=blocks, sizes=True)


PACKING = (
    "Upright lines: height above the datum; blocks: along the glass line from the left. Room: from "
    "the face to the line that is to come straight, before packing. No glass touches glass, tile "
    "or metal: gaskets and blocks only."
)


def _packed(packing: Packing, units: Units) -> Iterator[tuple[str | Cell, ...]]:
    for number, shim in enumerate(packing.shims):
        even = (
            phrase(
                "{line}: even within {length} {unit}",
                line=packing.id,
                length=units.exact(packing.uneven),
                unit=units.first,
            ),
        )
        small = even if number == 0 else ()
        yield (
            Cell(text=tables.capital(shim.part), small=small, strong=True),
            units.figure(shim.at),
            units.figure(shim.distance, fine=True),
            _pieces(shim, units),
            BOX,
        )


def _pieces(shim: Shim, units: Units) -> str:
    """Pieces as they are stamped: to the finest part there is of them."""
    if not shim.pieces:
        return "none"
    return " + ".join(units.piece(p) for p in shim.pieces)


def _set(setting_: Setting, units: Units) -> Iterator[tuple[str | Cell, ...]]:
    bites = {b.place: b for b in setting_.bites}
    for number, target in enumerate(setting_.targets):
        bite = bites.get(target.place)
        yield (
            Cell(text=tables.capital(setting_.joint), strong=True) if number == 0 else "",
            target.place,
            units.figure(target.gap.value, fine=True),
            units.alone.figure(target.least, fine=True),
            units.alone.figure(target.most, fine=True),
            units.alone.figure(bite.bite, fine=True) if bite else tables.NOTHING,
            LINE,
        )


def _marks(rows: tuple[tuple[str, ...], ...], units: Units) -> Table:
    columns = (
        Column(head="Mark on the glass, which stays inside the lips", share=1),
        Column(head="From the edge", unit=units.head, align="figure"),
        Column(head="May still be drawn out", unit=units.head, align="figure"),
        Column(head="Marked"),
    )
    return Table(columns=columns, rows=rows, compact=True)


def _mark(setting_: Setting, units: Units) -> Iterator[tuple[str, ...]]:
    """How far glass must stay in its channel; nothing where there is no channel."""
    if setting_.mark is not None:
        out = setting_.draw_out
        more = tables.NOTHING if out is None else units.figure(out, fine=True)
        name = tables.capital(setting_.joint)
        yield name, units.figure(setting_.mark, fine=True), more, BOX


# ------------------------------------------------------------------------------------------- steps


def steps(found: WorkSet, hanging: Hanging) -> Iterator[Page]:
    """The clock first, then every step with its caution and the check that ends it."""
    times = next(t for t in hanging.times if t.crew == CREW)
    wide, high = ROOM[found.plan.brief.profile.paper]
    room = (high - ABOVE_BARS, high - HEADING)
    for number, sheet in enumerate(time_bars(hanging.steps, times, hanging.numbers, room)):
        picture, _ = drawing(sheet, (wide, room[min(number, 1)]))
        said = (_crews(hanging), Text(text=_air(hanging))) if number == 0 else ()
        yield Page(title="Time", blocks=(*said, picture))
    yield Page(title="Steps, in order", blocks=tuple(_steps(found, hanging)))


def _crews(hanging: Hanging) -> Table:
    columns = (
        Column(head="Crew", align="right"),
        Column(head="Last work before the cure"),
        Column(head="One more is needed", share=1),
        Column(head="First water"),
        Column(head="Handed over"),
    )
    return Table(columns=columns, rows=tuple(_crew(t) for t in hanging.times))


def _crew(times: Timetable) -> tuple[str, ...]:
    called = join(
        "; ",
        (
            phrase("{when} for {minutes:.0f} min", when=when(s.start), minutes=s.minutes)
            for s in times.called
        ),
    )
    return (
        str(times.crew),
        when(times.worked),
        called or "no",
        "at once" if times.shower is None else when(times.shower),
        when(times.finish),
    )


def when(minutes: float) -> str:
    """Day and time of day: `day 2, 10:40`."""
    day, hour, minute = clock(minutes)
    return phrase("day {day}, {hour}:{minute:02d}", day=day, hour=hour, minute=minute)


def _air(hanging: Hanging) -> str:
    cure = hanging.cure
    slow = phrase(", which {joint} decides", joint=cure.slowest) if cure.slowest else ""
    return phrase(
        "The sealant ({sealant}) cures {hours:.0f} hours at {warm:.0f} °C and {humid:.0f} % "
        "humidity before water{slow}; colder or drier it takes longer. Minutes are common "
        "practice: put in your own.",
        sealant=cure.sealant,
        hours=cure.water_hours,
        warm=cure.air.temperature,
        humid=cure.air.humidity * 100,
        slow=slow,
    )


def _steps(found: WorkSet, hanging: Hanging) -> Iterator[Block]:
    """One row a step; its cautions stand before it, across the sheet."""
    columns = (
        Column(head="No."),
        Column(head="What is done", share=1.7),
        Column(head="People", align="right"),
        Column(head="Min", align="right"),
        Column(head="With", share=0.75),
        Column(head="It is done when", share=1.0),
        Column(head=""),
    )
    rows = tuple(_step(found, hanging, step) for step in hanging.steps)
    yield Table(columns=columns, rows=rows, compact=True)


def _step(found: WorkSet, hanging: Hanging, step: Step) -> tuple[str | Cell, ...]:
    warned = tuple(_cautions(found, hanging, step))
    after = sorted(hanging.numbers[need.step] for need in step.needs)
    waits = (phrase("after {steps}", steps=", ".join(map(str, after))),) if after else ()
    hours = f"{step.minutes / 60:.0f} h" if step.people == 0 else f"{step.minutes:.0f}"
    return (
        str(hanging.numbers[step.id]),
        Cell(text=step.title, strong=True, small=waits, warned=warned),
        str(step.people) if step.people else tables.NOTHING,
        hours,
        Cell(
            text=join(", ", step.tools),
            small=(join(", ", step.consumables),) if step.consumables else (),
        ),
        step.check,
        BOX,
    )


def _cautions(found: WorkSet, hanging: Hanging, step: Step) -> Iterator[str]:
    """Cautions of a step, but those that the step just before it has said."""
    earlier = hanging.steps[: hanging.numbers[step.id] - 1]
    before = earlier[-1].cautions if earlier else ()
    for name in step.cautions:
        text = found.caution(name)
        if text and name not in before:
            yield text


# ---------------------------------------------------------------------------------------- hand-over


def hand_over(found: WorkSet, hanging: Hanging) -> Page:
    """Gaps, water test, cure, care and safety, when to tighten again."""
    said, units = hanging.handover, found.units
    columns = (
        Column(head="Gap", share=1),
        Column(head="Place"),
        Column(head="Planned", unit=units.head, align="figure"),
        Column(head="Least", unit=units.first, align="figure"),
        Column(head="Most", unit=units.first, align="figure"),
        Column(head="Measured", unit=units.first),
    )
    gaps = tuple(_gap(line, units) for line in said.gaps)
    water = phrase(
        "No water before: {line} (the sealant needs {hours:.0f} hours from the end of sealing)",
        line=LINE if said.no_water_before is None else f"{said.no_water_before:%Y-%m-%d %H:%M}",
        hours=said.cure.water_hours,
    )
    first, later = (*(f"{day:%Y-%m-%d}" for day in said.tighten_on), LINE, LINE)[:2]
    again = phrase(
        "Screws to be tightened again: {screws}. On: {first} and {later}",
        screws=join(", ", said.tighten),
        first=first,
        later=later,
    )
    blocks: tuple[Block, ...] = (
        Table(columns=columns, rows=gaps, compact=True),
        Heading(text="Water test"),
        _ticks(said.water_test),
        Text(text=water),
        Heading(text="Safety"),
        *(Caution(text=words) for words in said.safety),
        Heading(text="Care"),
        _ticks(said.care),
        *((Text(text=again),) if said.tighten else ()),
        Signature(text="Handed over, explained and seen to work (customer)"),
        Signature(text="Handed over by"),
    )
    return Page(title="Hand-over", blocks=blocks)


def _ticks(lines: tuple[str, ...]) -> Table:
    rows = tuple((BOX, words) for words in lines)
    return Table(
        columns=(Column(head="Done"), Column(head="What", share=1)), rows=rows, compact=True
    )


def _gap(line: GapLine, units: Units) -> tuple[str, ...]:
    measured = LINE if line.measured is None else units.alone.figure(line.measured, fine=True)
    return (
        tables.capital(line.joint),
        line.place,
        units.figure(line.plan.predicted.value, fine=True),
        units.alone.figure(line.plan.least, fine=True),
        units.alone.figure(line.plan.most, fine=True),
        measured,
    )
