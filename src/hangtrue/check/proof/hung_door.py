"""A door of the enclosure as the statics see it, and the screw that its wall would be given."""

from __future__ import annotations

import math
from collections.abc import Iterator

from hangtrue.check.case import Case
from hangtrue.check.hung import Hung
from hangtrue.check.proof.fixing import Fixing
from hangtrue.check.proof.hanging import OPENINGS_DEG, Hanging
from hangtrue.check.wood import backing
from hangtrue.geometry import Point
from hangtrue.job.document import Blocking, Wall
from hangtrue.job.hardware import Handle, Hinge
from hangtrue.job.readings import Side
from hangtrue.mechanics.door_statics import Leaf, hinge_forces, screw_forces
from hangtrue.mechanics.ranges import OutOfRange
from hangtrue.mechanics.wood import specific_gravity
from hangtrue.tables import table

PAIR = 2


def floor(case: Case, hung: Hung) -> float:
    """Height of the bathroom floor above the datum at the hinge side, mm."""
    return case.foot(hung.side) - float(case.job.threshold.height)


def leaf(hung: Hung) -> Leaf:
    """Return the door on its outer two hinges; a third between them is not counted on.

    Raises
    ------
    OutOfRange
        If it hangs on fewer than two.

    """
    door, plates = hung.glass, hung.plates
    if len(plates) < PAIR:
        raise OutOfRange("number of hinges", len(plates), "two and more")
    return Leaf(
        mass_kg=door.mass_kg,
        centre=across(hung, door.centroid[0]),
        spacing=plates[-1] - plates[0],
        lower_hinge=plates[0],
    )


def across(hung: Hung, x: float) -> float:
    """Distance of a place on the door from its hinge edge at the bottom, mm."""
    door = hung.glass
    edge = door.corners[0][0] if hung.side == "left" else door.corners[1][0]
    return abs(x - edge)


def stand_off(case: Case, hung: Hung) -> float:
    """Distance from the wall's face to the pivot, at its most if nobody said where it is; mm."""
    if hung.hinge.pivot is not None:
        return float(hung.hinge.pivot)
    cut = max((float(c.width) for c in hung.hinge.cut_outs), default=0.0)
    gaps = case.gaps(hung.id, f"{hung.side} wall")
    shown = [gap.predicted.value for gap in gaps] or [float(hung.hinge.gap.usual)]
    return max(shown) + cut


def screw_places(hinge: Hinge) -> tuple[Point, ...]:
    """Places of the screws on a plate (along the wall, up) from its middle, mm.

    In two columns and as many rows as it takes; an odd one stands alone in the middle of the
    uppermost row, which is the worst place for it.
    """
    wide = float(hinge.plate_width) / 2 if hinge.screw_columns is None else hinge.screw_columns
    rows = (hinge.screws + 1) // PAIR
    step = float(hinge.screw_rows) / (rows - 1) if rows > 1 else 0.0
    return tuple(_row(hinge.screws, rows, step, float(wide)))


def _row(count: int, rows: int, step: float, wide: float) -> Iterator[Point]:
    for n in range(count):
        row, column = divmod(n, PAIR)
        alone = n == count - 1 and column == 0
        yield (0.0 if alone else (column - 0.5) * wide), (row - (rows - 1) / 2) * step


def hanging(case: Case, hung: Hung) -> Hanging:
    """Return the door and its hinge plates as its screws feel them.

    Raises
    ------
    OutOfRange
        If it hangs on fewer than two hinges.

    """
    door = hung.glass
    width = max(door.width_bottom, door.width_top)
    handle = case.brief.items.get(case.job.hardware.handle)
    inset = float(handle.from_edge) if isinstance(handle, Handle) else 0.0
    return Hanging(
        leaf=leaf(hung),
        width=width,
        handle=width - inset,
        floor=floor(case, hung),
        screws=_offset(case, hung),
        stand_off=stand_off(case, hung),
        rules=case.brief.profile.strength_rules,
    )


def _offset(case: Case, hung: Hung) -> tuple[Point, ...]:
    """Screws of a plate from the glass line: set to one side where the hinge's plate is.

    Along the wall is + to where the door opens; a door that goes both ways is tried the way that
    pulls harder at a screw.
    """
    places, aside = screw_places(hung.hinge), float(hung.hinge.plate_offset or 0.0)
    if not aside:
        return places
    inward, outward = (tuple((y + way * aside, z) for y, z in places) for way in (1.0, -1.0))
    swing = case.job.wanted.swing
    if swing == "both":
        return max(inward, outward, key=lambda at: _pulled(case, hung, at))
    return inward if swing == "in" else outward


def _pulled(case: Case, hung: Hung, places: tuple[Point, ...]) -> float:
    """Greatest pull on a screw by the weight alone, at any opening; N."""
    door, off = leaf(hung), stand_off(case, hung)
    forces = [hinge_forces(door, math.radians(deg)) for deg in OPENINGS_DEG]
    plates = [plate for each in forces for plate in (each.upper, each.lower)]
    return max(s.tension_N for plate in plates for s in screw_forces(plate, places, off))


def wood_behind(case: Case, hung: Hung, side: Side) -> Blocking | None:
    """Return the thinnest wood that is behind a whole plate; None if a plate has none."""
    half = hung.hinge.plate_height / 2
    found = [backing(case.wall(side), at - half, at + half) for at in hung.plates]
    pieces = [piece for piece in found if piece is not None]
    if len(pieces) < len(found) or not pieces:
        return None
    return min(pieces, key=lambda piece: piece.depth)


def over(wall: Wall) -> float:
    """Thickness of tile, backer and whatever else lies over the wood, mm."""
    return sum(float(layer.thickness) for layer in wall.layers)


def gravity(species: str) -> tuple[float, bool]:
    """Specific gravity of a species, and whether it is in the table; else the lowest there is."""
    try:
        return specific_gravity(species), True
    except OutOfRange:
        return float(table("mechanics/wood")["unknown-species"]["specific-gravity"]), False


def fixing(case: Case, hung: Hung, side: Side, piece: Blocking) -> Fixing:
    """Return the hinge's screw in this wall; length 0 where the hinge leaves the length open."""
    screw, rules = hung.hinge.screw, case.brief.profile
    return Fixing(
        kind=screw.kind,
        size=screw.size,
        length=float(screw.length or 0.0),
        over=over(case.wall(side)),
        depth=float(piece.depth),
        gravity=gravity(piece.species)[0],
        moisture=rules.wood_moisture,
        rules="nds" if rules.strength_rules == "us" else "ec5",
    )
