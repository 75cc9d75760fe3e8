"""The sheets that carry one drawing each, at its own scale, with what belongs below it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from hangtrue.check.verdict import Verdict
from hangtrue.fit.enclosure import Enclosure, Lite
from hangtrue.job.readings import Lean, Offset, Width
from hangtrue.paper import tables
from hangtrue.paper.blocks import Block, Caution, Drawing, Page, Text
from hangtrue.paper.cautions import Caution as Applied
from hangtrue.paper.cautions import at
from hangtrue.paper.drawings.frame import scale_words
from hangtrue.paper.language import told
from hangtrue.paper.lengths import Units
from hangtrue.paper.scene import Sheet
from hangtrue.paper.scene import Text as Words
from hangtrue.paper.svg import write_svg
from hangtrue.phrase import join, phrase
from hangtrue.plan import Plan

ROOM = {"letter": (180.0, 226.0), "a4": (180.0, 244.0)}
"""Width and height between the margins and above the title block, mm; as in the template."""
HEADING = 12.0
"""Height that the heading of a sheet takes, mm."""
CAUTION = 7.0
"""Height that a caution takes below a drawing, mm."""
ROW, TABLE = 6.0, 20.0
"""Height of a row of a table, and of its head and note, mm."""
OUTSIDE = "from outside"
ABOVE = "from above"
PANE = "pane-"
"""How the name of a pane's drawing begins."""

Drawings = Mapping[str, Sheet]


def drawing(sheet: Sheet, room: tuple[float, float]) -> tuple[Drawing, str]:
    """Set a drawing at its own size with its scale, or smaller without one where room is short."""
    shrink = min(1.0, room[0] / sheet.width, room[1] / sheet.height)
    set_ = Drawing(
        svg=write_svg(sheet if shrink == 1.0 else unscaled(sheet)),
        width=sheet.width * shrink,
        height=sheet.height * shrink,
        says=join(". ", (sheet.title, sheet.description)),
    )
    return set_, sheet.scale if shrink == 1.0 else ""


def free(sheet: Sheet, room: tuple[float, float]) -> Drawing:
    """Set a drawing as large as the rest of its page allows, without a scale."""
    return replace(drawing(unscaled(sheet), room)[0], fills=True)


def unscaled(sheet: Sheet) -> Sheet:
    """Return the drawing without the words that name its scale, for when it is set smaller."""
    if not sheet.scale:
        return sheet
    named, free_ = told(scale_words(sheet.scale)), told("not to scale")
    primitives = tuple(
        replace(p, words=p.words.replace(named, free_)) if isinstance(p, Words) else p
        for p in sheet.primitives
    )
    return replace(sheet, primitives=primitives, scale="")


def opening(plan: Plan, units: Units, drawn: Drawings) -> tuple[Page, ...]:
    """Show the opening as measured, with its widths and leans."""
    table = tables.opening(plan.opening, _heights_read(plan), units)
    note = Text(text=_opening_note(plan, units), small=True)
    title, sheet = "Opening as measured", drawn.get("opening")
    if sheet is None:
        return (Page(title=title, blocks=(table, note), view=OUTSIDE),)
    below = TABLE + ROW * len(table.rows)
    contradicting = plan.verdict is Verdict.READ_AGAIN
    return (_page(plan, sheet, title, after=(table, note), below=below, sizes=contradicting),)


def _heights_read(plan: Plan) -> tuple[float, ...]:
    """Heights at which widths were read, rising; where none was, those at which walls were."""
    listed = plan.brief.job.readings
    widths = {float(r.at) for r in listed if isinstance(r, Width)}
    walls = {float(z) for r in listed if isinstance(r, Lean) for z in (r.from_, r.to)}
    walls |= {float(r.at) for r in listed if isinstance(r, Offset)}
    return tuple(sorted(widths or walls)) or plan.opening.heights


def _opening_note(plan: Plan, units: Units) -> str:
    datum = {
        "curb left": "the top of the curb at the left wall",
        "curb right": "the top of the curb at the right wall",
        "mark": "the levelled mark",
    }[plan.brief.job.datum]
    said = phrase("Heights are above {datum}. ± is two standard deviations.", datum=datum)
    shape = plan.opening
    if shape.corners or not (shape.knows("curb right") and shape.knows("curb left")):
        return said
    rise = shape.estimate(shape.entry("curb right") - shape.entry("curb left")).value
    if units.small(rise) == units.small(0.0):
        return join(" ", (said, "The curb is level."))
    by = units.small(abs(rise))
    if rise > 0:
        fall = phrase("The curb is {length} higher at its right end than at its left.", length=by)
    else:
        fall = phrase("The curb is {length} lower at its right end than at its left.", length=by)
    return join(" ", (said, fall))


def layout(plan: Plan, drawn: Drawings, applied: Sequence[Applied]) -> tuple[Page, ...]:
    """Plan with swing, room, corners, elevations, gap strips; cautions where their step begins."""
    swings = "door" in plan.best.alternative.choice.order
    titles = {
        "plan": ("Plan with swing" if swings else "Plan", ABOVE, at("carry and lift", applied)),
        "room": ("The room around the glass", ABOVE, ()),
        "corners": ("Corners", ABOVE, ()),
        "elevation": ("Elevation", OUTSIDE, at("drill", applied)),
        "gaps": ("Gaps, joint by joint", OUTSIDE, ()),
    }
    pages = []
    for name, sheet in drawn.items():
        kind, _, number = name.partition("-")
        if kind in titles:
            title, view, cautions = titles[kind]
            warned = cautions if not number else ()
            pages.append(
                _page(
                    plan,
                    sheet,
                    _of_run(title, name, drawn),
                    view=view,
                    after=_warned(warned),
                    below=_high(warned),
                )
            )
    return tuple(pages)


def _of_run(title: str, name: str, drawn: Drawings) -> str:
    """Say which run an elevation shows, where there is more than one."""
    if name == "elevation" and "elevation-run-1" in drawn:
        return phrase("{title}, runs laid flat", title=title)
    if "-run-" in name:
        run = name.rpartition("-")[2]
        return phrase("{title} of run {run}", title=title, run=run)
    return title


def panes(plan: Plan, drawn: Drawings, applied: Sequence[Applied]) -> tuple[Page, ...]:
    """One sheet a pane that the plant can cut from; none while the readings contradict."""
    made = plan.best.alternative.made
    if not isinstance(made, Enclosure) or plan.verdict is Verdict.READ_AGAIN:
        return ()
    order = at("order", applied)[:1]
    boxed = made.choice.cut == "boxed"
    return tuple(
        _page(
            plan,
            drawn[pane_name(lite)],
            phrase("Pane as it comes: {pane}", pane=lite.id)
            if boxed
            else phrase("Pane: {pane}", pane=lite.id),
            after=_warned(order),
            below=_high(order),
        )
        for lite in made.lites
        if pane_name(lite) in drawn
    )


def pane_name(lite: Lite) -> str:
    """Return the name of the drawing of a pane."""
    return PANE + lite.id.replace(" ", "-")


def _warned(applied: Iterable[Applied]) -> tuple[Caution, ...]:
    return tuple(Caution(text=c.text, step=c.step) for c in applied)


def _high(applied: Sequence[Applied]) -> float:
    return CAUTION * len(applied)


def _page(
    plan: Plan,
    sheet: Sheet,
    title: str,
    *,
    after: Sequence[Block],
    below: float,
    view: str = OUTSIDE,
    sizes: bool = True,
) -> Page:
    """Return a sheet with one drawing and what stands below it (`below` mm high).

    The heading is left out where room is short: the title block carries it anyway.
    """
    wide, high = ROOM[plan.brief.profile.paper]
    set_, scale = drawing(sheet, (wide, high - below))
    roomy = set_.height + below + HEADING <= high
    blocks = (set_, *after)
    return Page(title=title, blocks=blocks, view=view, scale=scale, sizes=sizes, heading=roomy)
