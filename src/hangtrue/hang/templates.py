"""Templates at 1:1 to hold against wall or glass."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from hangtrue.check.wording import off_line, sentence
from hangtrue.fit.enclosure import Lite, Notch
from hangtrue.geometry import Outline, Point
from hangtrue.hang.mounting import GUESSED, is_guessed, plate_screws
from hangtrue.hang.records import DrillHole, DrillPlan
from hangtrue.hang.template_records import Box, Drill, GuideLine, Ring, Template
from hangtrue.hang.work import WALLS, Work, foot_ends, is_upright
from hangtrue.job.hardware import Channel, Clamp, Handle, Hinge
from hangtrue.job.readings import Side
from hangtrue.phrase import phrase
from hangtrue.units import mixed

CHECK = {"in": 101.6, "mm": 100.0, "cm": 100.0}
"""Length of the check bar by the job's unit, mm: what a person can read off a tape."""
STRIP = 100.0
"""Width of the strip of a channel, mm."""
FLANGE = 60.0
"""What is shown about the middle of a flange, mm; common practice, no source."""
ON_IT = 0.5
"""A flange that lies less off the glass line is on it, mm."""
WALL_OF: dict[Side, str] = {"left": "left wall", "right": "right wall"}
STUB = 12.0
"""What is drawn of a check diagonal that would cross what is drilled, at each end, mm."""
ROUND = 20.0
"""White round what is drawn, mm."""
TO_WALL = "Printed side to you, back flat on the wall; the arrow points up."
ON_TOP = "Printed side up, lying on the surface; its lower edge toward you."
OVERHEAD = "Printed side down to you, back flat on the ceiling; its upper edge toward you."
TO_GLASS = "Printed side to you as you stand outside, back on the face of the glass."


# ------------------------------------------------------------------------------------- made


def templates(work: Work, drilling: DrillPlan) -> tuple[Template, ...]:
    """Templates of one enclosure: plates, strips of holes, handles, cut-outs."""
    every = [*_hinge_plates(work, drilling), *_strips(work, drilling), *_glass(work)]
    return tuple(dict.fromkeys(every))


def _hinge_plates(work: Work, drilling: DrillPlan) -> Iterator[Template]:
    """One template for each hinge that is drilled; a plate beside the glass has one a wall."""
    done: set[tuple[str, Side | None]] = set()
    for joint in work.joints(Hinge):
        hinge, side = work.item(joint), work.side(joint)
        if not isinstance(hinge, Hinge) or side is None or not drilling.of(joint.id):
            continue
        key = hinge.id, side if hinge.plate_offset else None
        if key not in done:
            done.add(key)
            yield _plate(work, hinge, side)


def _plate(work: Work, hinge: Hinge, side: Side) -> Template:
    """A back plate: its outline, its screws, the glass line and the level line of its middle.

    Facing the left wall the shower is to the right, facing the right wall to the left.
    """
    wide, tall = float(hinge.plate_width), float(hinge.plate_height)
    rule = work.shop.fixing("hinge", "wall", work.wall(side).behind)
    diameter = rule.clearance if rule else 0.0
    into = 1.0 if side == "left" else -1.0
    off = into * float(hinge.plate_offset or 0.0)
    size = _sheet(work, wide + 2 * abs(off), tall)
    x, y = size[0] / 2, _FOOT + tall / 2
    screws = plate_screws(hinge, work.shop.shares["plate.column_share"])
    return Template(
        id=f"hinge plate {hinge.id}" + (f", {side} wall" if off else ""),
        title=_plate_title(hinge, side if off else None),
        size=size,
        rings=(_box(x + off - wide / 2, y - tall / 2, wide, tall),),
        drills=tuple(
            Drill(centre=(x + into * across, y + up), diameter=diameter, words="screw")
            for up, across in screws
        ),
        lines=(
            *_checks(
                work, size, (x + off - wide / 2, y - tall / 2, x + off + wide / 2, y + tall / 2)
            ),
            _plumb(x, y - tall / 2 - ROUND / 2, y + tall / 2 + ROUND / 2, "glass line, plumb"),
            _level(
                y, x - wide / 2 - ROUND / 2, x + wide / 2 + ROUND / 2, "middle of the hinge, level"
            ),
        ),
        faces=TO_WALL,
        notes=tuple(_plate_notes(work, hinge, side)),
    )


def _plate_title(hinge: Hinge, side: Side | None) -> str:
    if side is None:
        return phrase("{hinge}: back plate", hinge=hinge.title)
    return phrase("{hinge}: back plate, {wall}", hinge=hinge.title, wall=WALL_OF[side])


def _cut_out_title(work: Work, pane: Lite, notch: Notch, side: str) -> str:
    item = work.brief.items.get(notch.fitting)
    fitting = item.title if item else notch.fitting
    if side == "left":
        return phrase(
            "Cut-out in {pane}, left edge, seen from outside: {fitting}",
            pane=pane.id,
            fitting=fitting,
        )
    return phrase(
        "Cut-out in {pane}, right edge, seen from outside: {fitting}", pane=pane.id, fitting=fitting
    )


def _plate_notes(work: Work, hinge: Hinge, side: Side) -> Iterator[str]:
    """Where the places of the screws come from, and which way the plate stands."""
    if is_guessed(hinge):
        yield phrase("{said}.", said=sentence(GUESSED))
    else:
        yield "Hold the plate on it before drilling."
    if hinge.plate_offset and side == "left":
        yield phrase(
            "The middle of the plate stands {length} off the glass line, toward the shower, which "
            "is on the right as you face the wall.",
            length=work.say(float(hinge.plate_offset)),
        )
    elif hinge.plate_offset:
        yield phrase(
            "The middle of the plate stands {length} off the glass line, toward the shower, which "
            "is on the left as you face the wall.",
            length=work.say(float(hinge.plate_offset)),
        )


def _strips(work: Work, drilling: DrillPlan) -> Iterator[Template]:
    """A strip for each channel, row of clamps or flange that is screwed, with its holes."""
    for joint in work.joints(Channel | Clamp):
        pane, item = work.pane(joint), work.item(joint)
        said: tuple[str, str] = (f"channel of {pane.id}", phrase("Channel of {pane}", pane=pane.id))
        if isinstance(item, Clamp):
            said = f"clamps of {pane.id}", phrase("Clamps of {pane}", pane=pane.id)
        yield from _strip(work, pane, said, drilling.of(joint.id))
    for bar in work.enclosure.bars:
        named = phrase("Flange of {bar}", bar=bar.id)
        for surface in drilling.surfaces:
            holes = tuple(h for h in drilling.of(bar.id) if h.surface == surface)
            said = f"flange of {bar.id}", named
            if holes and is_upright(surface):
                yield _flange(work, said, holes)
            else:
                yield from _strip(work, work.enclosure.lite(bar.holds), said, holes)


def _flange(work: Work, said: tuple[str, str], holes: Sequence[DrillHole]) -> Template:
    """The holes of a flange about its middle, which is marked on the wall first."""
    surface = holes[0].surface
    heights, offs = [h.height.value for h in holes], [h.off for h in holes]
    up, off = (min(heights) + max(heights)) / 2, (min(offs) + max(offs)) / 2
    tall = max(max(heights) - min(heights), FLANGE)
    size = _sheet(work, FLANGE, tall)
    x, y = size[0] / 2, _FOOT + tall / 2
    into = -1.0 if WALLS.get(surface) == "right" else 1.0
    return Template(
        id=f"{said[0]} at the {surface}",
        title=phrase("{what}, {surface}: holes", what=said[1], surface=surface),
        size=size,
        rings=(),
        drills=tuple(_drill((x + into * (h.off - off), y + h.height.value - up), h) for h in holes),
        lines=(
            *_checks(work, size, (x, y - tall / 2, x, y + tall / 2)),
            _plumb(x, y - tall / 2 - ROUND / 2, y + tall / 2 + ROUND / 2, "middle of the flange"),
            _level(y, x - STRIP / 2, x + STRIP / 2, "middle of the flange, level"),
        ),
        faces=TO_WALL,
        notes=(_flange_place(work, up, off),),
    )


def _flange_place(work: Work, up: float, off: float) -> str:
    """Where the middle of a flange is marked on the wall."""
    height = work.say(up)
    if abs(off) < ON_IT:
        return phrase(
            "Its middle: {height} above the highest point of the curb, on the glass line.",
            height=height,
        )
    return phrase(
        "Its middle: {height} above the highest point of the curb, {far} the glass line.",
        height=height,
        far=off_line(work.say(abs(off)), off),
    )


def _strip(
    work: Work, pane: Lite, said: tuple[str, str], holes: Sequence[DrillHole]
) -> Iterator[Template]:
    """The strip of some holes of one surface; nothing where there are none.

    Parameters
    ----------
    said
        What it is for: in its id, and in its title.

    """
    if holes:
        make = _upright_strip if is_upright(holes[0].surface) else _level_strip
        yield make(work, pane, said, holes)


def _upright_strip(
    work: Work, _pane: Lite, said: tuple[str, str], holes: Sequence[DrillHole]
) -> Template:
    """Heights from the highest curb point, which is the level line at the foot."""
    surface = holes[0].surface
    foot = min(0.0, *(h.height.value for h in holes))
    tall = max(h.height.value for h in holes) - foot
    size = _sheet(work, _wide(holes), tall)
    x, zero = size[0] / 2, _FOOT - foot
    into = -1.0 if WALLS.get(surface) == "right" else 1.0
    return Template(
        id=f"{said[0]} at the {surface}",
        title=phrase("{what}, {surface}: holes", what=said[1], surface=surface),
        size=size,
        rings=(),
        drills=tuple(_drill((x + into * h.off, zero + h.height.value), h) for h in holes),
        lines=(
            *_checks(work, size, (x, _FOOT, x, _FOOT + tall)),
            _plumb(x, _FOOT, _FOOT + tall + ROUND / 2, "glass line, plumb"),
            _level(zero, x - STRIP / 2, x + STRIP / 2, "highest point of the curb, level"),
        ),
        faces=TO_WALL,
        notes=("Sheets without a hole are left out; each says how high its frame stands.",),
        runs="up",
        zero=zero,
        counted="the highest point of the curb",
    )


def _wide(holes: Sequence[DrillHole]) -> float:
    """Width of a strip with room for what lies off the glass line, mm."""
    return max(STRIP, 2 * max(abs(h.off) for h in holes) + ROUND)


def _level_strip(
    work: Work, pane: Lite, said: tuple[str, str], holes: Sequence[DrillHole]
) -> Template:
    """Places from the left end of the pane's foot; a ceiling is seen from below, outside up."""
    surface = holes[0].surface
    left, right = foot_ends(pane)
    half = _wide(holes) / 4
    size = _sheet(work, right - left, 2 * half)
    y = _FOOT + half
    into = -1.0 if surface == "ceiling" else 1.0
    return Template(
        id=f"{said[0]} on the {surface}",
        title=phrase("{what}, {surface}: holes", what=said[1], surface=surface),
        size=size,
        rings=(),
        drills=tuple(_drill((ROUND + h.along - left, y + into * h.off), h) for h in holes),
        lines=(
            *_checks(work, size, (ROUND, y, ROUND + right - left, y)),
            GuideLine(start=(ROUND, y), end=(ROUND + right - left, y), role="glass line"),
            _plumb(ROUND, y - half, y + half, "left edge of the glass"),
            _plumb(ROUND + right - left, y - half, y + half, "right edge of the glass"),
        ),
        faces=OVERHEAD if surface == "ceiling" else ON_TOP,
        notes=("Sheets without a hole are left out; each says where its frame begins.",),
        runs="along",
        zero=ROUND,
        counted="the left edge of the glass",
    )


def _drill(centre: Point, hole: DrillHole) -> Drill:
    bits = hole.bits
    return Drill(centre=centre, diameter=bits[0].diameter if bits else 0.0, words=hole.id)


def _glass(work: Work) -> Iterator[Template]:
    """Handles and cut-outs, to check the panes as they come."""
    for pane in work.enclosure.lites:
        handles = {h.fitting for h in pane.holes}
        for fitting in sorted(handles):
            yield _holes_in(work, pane, fitting)
        seen: set[tuple[str, str]] = set()
        for notch in pane.notches:
            key = (notch.fitting, _where(pane, notch))
            if notch.of == "fitting" and key not in seen:
                seen.add(key)
                yield _cut_out(work, pane, notch)


def _holes_in(work: Work, pane: Lite, fitting: str) -> Template:
    """Holes of one fitting from the nearest upright edge of the pane."""
    holes = [h for h in pane.holes if h.fitting == fitting]
    item = work.brief.items.get(fitting)
    xs, ys = [h.centre[0] for h in holes], [h.centre[1] for h in holes]
    left = sum(xs) / len(xs) < (pane.corners[0][0] + pane.corners[1][0]) / 2
    edge = pane.corners[0][0] if left else pane.corners[1][0]
    deep = max(abs(x - edge) for x in xs)
    big = max(h.diameter for h in holes)
    size = _sheet(work, deep + big, max(ys) - min(ys) + big)
    x0 = ROUND if left else size[0] - ROUND
    middle, y = (max(ys) + min(ys)) / 2, _FOOT + (max(ys) - min(ys) + big) / 2
    return Template(
        id=f"{fitting} in {pane.id}",
        title=phrase(
            "{fitting} in {pane}, seen from outside",
            fitting=item.title if item else fitting,
            pane=pane.id,
        ),
        size=size,
        rings=(),
        drills=tuple(
            Drill(centre=(x0 + h.centre[0] - edge, y + h.centre[1] - middle), diameter=h.diameter,
                  words="hole in the glass")
            for h in holes
        ),
        lines=(
            *_checks(work, size, (ROUND, _FOOT, size[0] - ROUND, size[1] - ROUND)),
            GuideLine(start=(x0, _FOOT), end=(x0, size[1] - ROUND), role="edge",
                      words="edge of the glass"),
            _level(y, ROUND / 2, size[0] - ROUND / 2, "middle of the fitting, level"),
        ),
        faces=TO_GLASS,
        notes=("Also for the handle's own holes" if isinstance(item, Handle) else "",),
    )  # fmt: skip


def _where(pane: Lite, notch: Notch) -> str:
    """Name the edge that a cut-out is open to."""
    xs = [x for x, _ in notch.corners]
    middle = sum(xs) / len(xs)
    return "left" if middle < (pane.corners[0][0] + pane.corners[1][0]) / 2 else "right"


def _cut_out(work: Work, pane: Lite, notch: Notch) -> Template:
    """One cut-out from the edge that it is open to, its inside corners rounded."""
    xs, ys = [x for x, _ in notch.corners], [y for _, y in notch.corners]
    deep, tall = max(xs) - min(xs), max(ys) - min(ys)
    size = _sheet(work, deep, tall)
    side = _where(pane, notch)
    x0 = ROUND if side == "left" else size[0] - ROUND
    y = _FOOT + tall / 2
    ring = notch_ring((x0, y), deep if side == "left" else -deep, tall, notch.radius)
    return Template(
        id=f"cut-out {notch.fitting} in {pane.id}",
        title=_cut_out_title(work, pane, notch, side),
        size=size,
        rings=(ring,),
        drills=(),
        lines=(
            *_checks(work, size, _around(ring.points)),
            GuideLine(start=(x0, _FOOT - ROUND / 2), end=(x0, _FOOT + tall + ROUND / 2),
                      role="edge", words="edge of the glass"),
            _level(y, ROUND / 2, size[0] - ROUND / 2, "middle of the hinge, level"),
        ),
        faces=TO_GLASS,
    )  # fmt: skip


def notch_ring(middle: Point, deep: float, tall: float, radius: float) -> Ring:
    """Outline of a cut-out from the edge inward and back, open at the edge.

    Parameters
    ----------
    middle
        Of its mouth, on the edge.
    deep
        Into the glass, mm; + to the right of the edge.

    """
    x0, y0 = middle
    way = math.copysign(1.0, deep)
    top, low, inner = y0 + tall / 2, y0 - tall / 2, x0 + deep
    turn = -way * math.tan(math.pi / 8)  # a quarter turn: down from the top edge of the cut-out
    points: Outline = (
        (x0, top),
        (inner - way * radius, top),
        (inner, top - radius),
        (inner, low + radius),
        (inner - way * radius, low),
        (x0, low),
    )
    return Ring(points=points, bulges=(0.0, turn, 0.0, turn, 0.0, 0.0), closed=False)


_FOOT = 2 * ROUND
"""Below what is drawn: the check bar and its words, mm."""


def _sheet(work: Work, wide: float, tall: float) -> Point:
    """Size of a template around what is drawn on it, wide enough for the check bar."""
    return max(wide, CHECK[work.brief.job.unit]) + 2 * ROUND, tall + _FOOT + ROUND


def _checks(work: Work, size: Point, around: Box) -> tuple[GuideLine, GuideLine]:
    """The bar and the diagonal that are measured before the template is used.

    Parameters
    ----------
    around
        What is drilled or cut: the diagonal is drawn at its ends only where it would cross that.

    """
    long = CHECK[work.brief.job.unit]
    bar = GuideLine(
        start=(ROUND, ROUND / 2),
        end=(ROUND + long, ROUND / 2),
        role="check bar",
        words=phrase("{length}: measure it before use", length=_measured(work, long)),
    )
    low, high = (ROUND / 4, ROUND / 4), (size[0] - ROUND / 4, size[1] - ROUND / 4)
    crosses = _crosses(low, high, around)
    diagonal = GuideLine(
        start=low,
        end=high,
        role="check diagonal",
        words=_measured(work, math.dist(low, high)),
        stub=STUB if crosses else 0.0,
    )
    return bar, diagonal


def _measured(work: Work, mm: float) -> str:
    """Length to be measured back: to a tenth of a mm, in a job in inches as on a tape as well."""
    exact = f"{mm:.1f} mm".replace(".0 mm", " mm")
    if work.brief.job.unit != "in":
        return exact
    return phrase("{inches} in ({exact})", inches=mixed(mm / 25.4, 32), exact=exact)


def _around(points: Outline) -> Box:
    """Box around an outline."""
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return min(xs), min(ys), max(xs), max(ys)


def _crosses(low: Point, high: Point, around: Box) -> bool:
    """Whether a line from low to high has corners of a box on both of its sides."""
    left, bottom, right, top = around
    sides = [
        (high[0] - low[0]) * (y - low[1]) - (high[1] - low[1]) * (x - low[0])
        for x in (left, right)
        for y in (bottom, top)
    ]
    return min(sides) <= 0.0 <= max(sides)


def _box(x: float, y: float, wide: float, tall: float) -> Ring:
    return Ring(points=((x, y), (x + wide, y), (x + wide, y + tall), (x, y + tall)))


def _plumb(x: float, low: float, high: float, words: str) -> GuideLine:
    return GuideLine(start=(x, low), end=(x, high), role="plumb", words=words)


def _level(y: float, left: float, right: float, words: str) -> GuideLine:
    return GuideLine(start=(left, y), end=(right, y), role="level", words=words)
