"""What to bring, order and check: hardware, consumables with computed quantities, panes."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence

from hangtrue.check.wording import sentence
from hangtrue.fit.enclosure import Edge, Joint, Lite
from hangtrue.fit.glass import glass_said
from hangtrue.hang.cut_records import CutPiece, StockPlan
from hangtrue.hang.records import (
    CheckSize,
    DrillHole,
    DrillPlan,
    ListLine,
    Packing,
    PlantTotals,
    Receiving,
)
from hangtrue.hang.work import Work
from hangtrue.job.hardware import Channel, Clamp, Hinge
from hangtrue.phrase import join, many, phrase
from hangtrue.source import cites

NEXT_TO_NOTHING = 5e-4
"""A cutting plan this near to its bound is as good as the best."""
SEALED = {"silicone", "clamp"}
"""Kinds of joint that are filled over the thickness of the glass."""
OWN_STOCK = {"channel", "strike seal", "sweep", "bar"}
"""Sorts that are bought as the fitting itself; strips between hinges and covers are not."""
FOR_TILE = "diamond"
"""Kind of bit that wears in tile, so that a spare is brought."""
SQUARE = 1e-6
"""mm; an edge with less rake is square."""
SIDES = {"left", "right"}
ML = 1000.0
"""mm3 in a millilitre."""


# -------------------------------------------------------------------------------- sealant


@cites("own", "volume of a prism")
def sealant_ml(section: float, length: float) -> float:
    """Sealant in a bead of that section (mm2) and length (mm), without waste; ml.

    Examples
    --------
    A joint of 6 by 6 mm takes 36 ml a metre:

    >>> sealant_ml(6.0 * 6.0, 1000.0)
    36.0

    """
    return section * length / ML


def joint_section(gap: float, thickness: float) -> float:
    """Section of a joint filled over the thickness of the glass, mm2."""
    return gap * thickness


def round_section(bead: float) -> float:
    """Section of a bead as it leaves the nozzle, mm2; `bead` is its diameter."""
    return math.pi * bead**2 / 4


def fillet_section(leg: float) -> float:
    """Section of a bead tooled into a corner, mm2; `leg` is how far it covers either face."""
    return leg**2 / 2


def cartridges(volume_ml: float, cartridge_ml: float, waste_share: float) -> int:
    """Whole cartridges for a volume with waste in nozzles and tooling."""
    return math.ceil(volume_ml * (1.0 + waste_share) / cartridge_ml - 1e-9)


def _sealant(work: Work, drilling: DrillPlan) -> tuple[float, list[str]]:
    """Volume of every bead and hole of an enclosure, ml, and how it was come by."""
    mm = work.shop.mm
    total = 0.0
    words: list[str] = []
    for joint in work.enclosure.joints:
        length = abs(joint.gaps[-1].at - joint.gaps[0].at)
        item, thick = work.item(joint), work.pane(joint).thickness
        if isinstance(item, Channel):
            section = round_section(mm["sealant.channel_bead"])
            said = phrase("bead in the channel, {joint}", joint=joint.id)
        elif joint.kind in SEALED:
            gap = math.fsum(g.predicted.value for g in joint.gaps) / len(joint.gaps)
            section = joint_section(gap, thick)
            said = phrase("joint, {joint}", joint=joint.id)
        else:
            continue
        volume = sealant_ml(section, length)
        if _inside_bead(work, joint):
            volume += sealant_ml(fillet_section(mm["sealant.fillet"]), length)
            said = phrase("{bead} and the bead inside", bead=said)
        if isinstance(item, Channel) and not drilling.of(joint.id):
            volume += sealant_ml(round_section(mm["sealant.bed_bead"]), length)
            said = phrase("{bead}, bedded", bead=said)
        total += volume
        words.append(phrase("{bead}: {volume:.0f} ml", bead=said, volume=volume))
    filled = math.fsum(hole_ml(hole) for hole in drilling.holes)
    if filled:
        words.append(phrase("holes: {volume:.0f} ml", volume=filled))
    return total + filled, words


def hole_ml(hole: DrillHole) -> float:
    """Sealant that fills a hole before its screw, without what the screw presses out; ml."""
    bored = (
        sealant_ml(round_section(p.bit.diameter), p.end - p.start) for p in hole.passes if p.bit
    )
    return math.fsum(bored)


def _inside_bead(work: Work, joint: Joint) -> bool:
    """A bead runs on the inside perimeter of a fixed pane, where it meets wall, curb or ceiling."""
    return work.pane(joint).kind == "fixed" and work.meets(joint) not in {
        p.id for p in work.enclosure.lites
    }


# ------------------------------------------------------------------------------- hardware


def hardware(
    work: Work,
    drilling: DrillPlan,
    pieces: Sequence[CutPiece],
    cutting: Sequence[StockPlan],
    packings: Sequence[Packing],
) -> tuple[ListLine, ...]:
    """List everything to bring, with how each quantity was come by."""
    return (
        *_fittings(work),
        *_stock(work, cutting),
        *_fixings(work, drilling),
        *_shims(work, packings),
        *_consumables(work, drilling, pieces),
        *_bits(drilling),
    )


def _fittings(work: Work) -> Iterator[ListLine]:
    """Hinges, clamps and handles by the piece, with what goes round a hinge."""
    counts: Counter[str] = Counter()
    for joint in work.enclosure.joints:
        item = work.item(joint)
        if isinstance(item, Hinge | Clamp):
            counts[item.id] += sum(g.at_fitting for g in joint.gaps)
    for fitting, count in counts.items():
        yield _line("hardware", work.brief.items[fitting].title, count, "pieces",
                    "one at each place of the pane sheets", fitting)  # fmt: skip
    gripped = _gripped(work)
    if gripped:
        mm = work.shop.mm
        gasket, filler = mm["hinge.gasket"], mm["hinge.filler"]
        what = phrase("Gasket {size:g} mm at a hinge", size=gasket)
        how = "one each side of every glass that a hinge grips"
        yield _line("hardware", what, 2 * gripped, "pieces", how)
        what = phrase("Filler {size:g} mm in a hinge cut-out", size=filler)
        how = "between the body of each hinge and each cut-out"
        yield _line("hardware", what, gripped, "pieces", how)
    handles = {h.fitting for p in work.enclosure.lites if p.kind == "door" for h in p.holes}
    for fitting in sorted(handles - set(counts)):
        doors = sum(any(h.fitting == fitting for h in p.holes) for p in work.enclosure.lites)
        title = work.brief.items[fitting].title if fitting in work.brief.items else fitting
        yield _line("hardware", title, doors, "pieces", "one a door", fitting)


def _stock(work: Work, cutting: Sequence[StockPlan]) -> Iterator[ListLine]:
    """Stock lengths to bring, by the cutting plans."""
    for plan in cutting:
        for length, count in plan.plan.buy():
            how: str = "by the cutting plan: the least there is"
            if plan.plan.gap >= NEXT_TO_NOTHING:
                how = phrase(
                    "by the cutting plan: at most {share:.1%} above the least there is",
                    share=plan.plan.gap,
                )
            own = plan.sort in OWN_STOCK and plan.item in work.brief.items
            title = work.brief.items[plan.item].title if own else ""
            what = phrase(
                "{sort}, {length}", sort=sentence(plan.sort), length=work.shop.write(length)
            )
            if title:
                what = phrase("{stock} ({title})", stock=what, title=title)
            yield _line("hardware", what, count, "lengths", how, plan.item)


def _fixings(work: Work, drilling: DrillPlan) -> Iterator[ListLine]:
    """Screws, anchors and sleeves by the holes that take them."""
    screws = Counter((h.screw, h.screw_length) for h in drilling.holes if h.screw)
    for (size, length), count in sorted(screws.items()):
        what = phrase(
            "Stainless screw No. {size}, {length}", size=size, length=work.shop.write(length)
        )
        yield _line("fixings", what, count, "pieces", "one a hole of the drilling plan")
    for anchor, count in sorted(Counter(h.anchor for h in drilling.holes if h.anchor).items()):
        yield _line("fixings", sentence(anchor), count, "pieces", "one a hole")
    sleeves = sum(h.sleeve for h in drilling.holes)
    if sleeves:
        yield _line("fixings", "Sleeve for a screw through tile", sleeves, "pieces",
                    "one at every hinge, clamp or bar screw in tile")  # fmt: skip


def _shims(work: Work, packings: Sequence[Packing]) -> Iterator[ListLine]:
    """Shims and blocks by size."""
    sizes = Counter(round(p, 4) for packing in packings for s in packing.shims for p in s.pieces)
    for size, count in sorted(sizes.items()):
        what = phrase("Shim or block {size}", size=work.shop.write(size))
        yield _line("fixings", what, count, "pieces", "by the shim list")


def _consumables(work: Work, drilling: DrillPlan, pieces: Sequence[CutPiece]) -> Iterator[ListLine]:
    """Sealant by joint sections, thread lock by screws in metal, tape by the sealed length."""
    shop = work.shop
    volume, words = _sealant(work, drilling)
    count = cartridges(
        volume, shop.shares["sealant.cartridge_ml"], shop.shares["sealant.waste_share"]
    )
    if count:
        how = phrase("{volume:.0f} ml and waste; {beads}", volume=volume, beads=join("; ", words))
        yield _line("consumables", "Sealant, cartridges", count, "pieces", how)
    metal = _gripped(work) * shop.shares["hinge.clamping_screws"]
    if metal:
        drops = metal * shop.shares["consumables.thread_lock_ml_each"]
        yield _line("consumables", "Thread lock", drops, "ml", "a drop on every clamping screw")
    sealed = math.fsum(abs(j.gaps[-1].at - j.gaps[0].at) for j in _sealed(work))
    if sealed:
        metres = 2 * sealed / 1000 * shop.shares["consumables.tape_m_each_m"]
        yield _line(
            "consumables", "Masking tape", math.ceil(metres), "m", "each side of every bead"
        )
    covers = sum(p.sort == "screw cover" for p in pieces)
    if covers:
        yield _line("consumables", "Piece over a channel screw head", covers, "pieces",
                    "one a screw in a channel")  # fmt: skip


def _gripped(work: Work) -> int:
    """How many times a hinge grips a pane: once on a wall, twice between two panes."""
    panes = {p.id for p in work.enclosure.lites}
    return sum(
        len(panes.intersection(joint.between)) * sum(g.at_fitting for g in joint.gaps)
        for joint in work.enclosure.joints
        if isinstance(work.item(joint), Hinge)
    )


def _sealed(work: Work) -> Iterator[Joint]:
    for joint in work.enclosure.joints:
        if isinstance(work.item(joint), Channel) or joint.kind in SEALED:
            yield joint


def _bits(drilling: DrillPlan) -> Iterator[ListLine]:
    """Every bit once, with how many holes it makes."""
    bits = Counter(bit for hole in drilling.holes for bit in hole.bits)
    for bit, count in sorted(bits.items(), key=lambda pair: str(pair[0])):
        if bit.kind == FOR_TILE:
            how = many(count, "{n} hole; bring a spare", "{n} holes; bring a spare")
        else:
            how = many(count, "{n} hole", "{n} holes")
        yield _line("tools", phrase("Bit {bit}", bit=str(bit)), 1, "pieces", how)


def _line(group: str, what: str, quantity: float, unit: str, how: str, item: str = "") -> ListLine:
    return ListLine(group=group, what=what, quantity=quantity, unit=unit, how=how, item=item)  # type: ignore[arg-type]


# ---------------------------------------------------------------------------------- plant


def plant_totals(lites: Iterable[Lite]) -> PlantTotals:
    """Add up what the plant is asked for."""
    panes = tuple(lites)
    return PlantTotals(
        panes=len(panes),
        area=math.fsum(p.area for p in panes),
        mass_kg=math.fsum(p.mass_kg for p in panes),
        edge=math.fsum(_rim(p) for p in panes),
        holes=sum(len(p.holes) for p in panes),
        cut_outs=sum(len(p.notches) for p in panes),
    )


def _rim(pane: Lite) -> float:
    """Length of edge that the plant works on, cut-outs included; mm."""
    ends = (*pane.outline[1:], pane.outline[0])
    return math.fsum(math.dist(a, b) for a, b in zip(pane.outline, ends, strict=True))


def receiving(work: Work) -> tuple[Receiving, ...]:
    """What to measure and look at on every pane before it travels."""
    return tuple(_receive(work, pane) for pane in work.enclosure.lites)


def _receive(work: Work, pane: Lite) -> Receiving:
    plant = work.brief.profile.plant
    size, hole = float(plant.size_tolerance), float(plant.hole_tolerance)
    notch = float(plant.notch_tolerance)
    return Receiving(
        pane=pane.id,
        sizes=(
            CheckSize(what="width at the bottom", size=pane.width_bottom, tolerance=size),
            CheckSize(what="width at the top", size=pane.width_top, tolerance=size),
            CheckSize(what="height at the left", size=pane.height_left, tolerance=size),
            CheckSize(what="height at the right", size=pane.height_right, tolerance=size),
            *_diagonals(pane, size),
            *_holes(pane, hole),
            *_cut_outs(pane, notch),
        ),
        looks=tuple(_looks(work, pane)),
    )


def _diagonals(pane: Lite, tolerance: float) -> Iterator[CheckSize]:
    """Both diagonals: what width and height may be off by, together, along the diagonal."""
    bl, br, tr, tl = pane.corners
    for what, a, b in (
        ("diagonal, bottom left to top right", bl, tr),
        ("diagonal, bottom right to top left", br, tl),
    ):
        length = math.dist(a, b)
        share = (abs(b[0] - a[0]) + abs(b[1] - a[1])) / length
        yield CheckSize(what=what, size=length, tolerance=tolerance * share)


def _holes(pane: Lite, tolerance: float) -> Iterator[CheckSize]:
    for i, hole in enumerate(pane.holes, 1):
        yield CheckSize(
            what=phrase("hole {n}, from the left", n=i), size=hole.centre[0], tolerance=tolerance
        )
        yield CheckSize(
            what=phrase("hole {n}, from the bottom", n=i), size=hole.centre[1], tolerance=tolerance
        )


def _cut_outs(pane: Lite, tolerance: float) -> Iterator[CheckSize]:
    for i, notch in enumerate(pane.notches, 1):
        ys = [y for _, y in notch.corners]
        middle = (min(ys) + max(ys)) / 2
        yield CheckSize(
            what=phrase("middle of cut-out {n}, from the bottom", n=i),
            size=middle,
            tolerance=tolerance,
        )
        yield CheckSize(
            what=phrase("height of cut-out {n}", n=i), size=max(ys) - min(ys), tolerance=tolerance
        )


def _looks(work: Work, pane: Lite) -> Iterator[str]:
    """What is seen, not measured."""
    job = work.brief.job
    yield phrase("thickness {thickness}", thickness=glass_said(pane.thickness))
    if job.wanted.texture == "textured":
        yield "textured, the pattern the same way up in every pane"
    if pane.hinge_side:
        yield HINGES_ON[pane.hinge_side]
    for edge in pane.edges:
        if abs(edge.rake) > SQUARE:
            yield _raked(edge, work.say(abs(edge.rake)))
    yield from _square(work, pane)
    yield phrase("edges {finish}, no chip, no shell, corners whole", finish=job.wanted.edge)
    mark = job.wanted.safety_mark
    if mark == "unknown":
        yield "a permanent safety mark, readable where it will sit"
    else:
        yield phrase("permanent mark: {mark}, readable where it will sit", mark=mark)
    yield "no scratch that is seen from an arm's length"
    yield phrase(
        "label: {job}, {pane}, version {version}",
        job=work.job,
        pane=pane.id,
        version=job.job.version,
    )


HINGES_ON = {
    "left": "hinges on the left, seen from outside",
    "right": "hinges on the right, seen from outside",
}


def _raked(edge: Edge, by: str) -> str:
    """Say which way an edge is out of square."""
    name, positive = EDGES[edge.where], edge.rake > 0
    if edge.where in SIDES:
        if positive:
            return phrase("{edge} out of square: its top {length} right", edge=name, length=by)
        return phrase("{edge} out of square: its top {length} left", edge=name, length=by)
    if positive:
        return phrase("{edge} out of square: its right end {length} higher", edge=name, length=by)
    return phrase("{edge} out of square: its right end {length} lower", edge=name, length=by)


EDGES = {
    "left": "left edge",
    "right": "right edge",
    "top": "top edge",
    "bottom": "bottom edge",
}


def _square(work: Work, pane: Lite) -> Iterator[str]:
    """How far the diagonals may differ, where the plant says so; of a raked pane, from the plan."""
    plant = work.brief.profile.plant
    if plant.diagonals is None:
        return
    bl, br, tr, tl = pane.corners
    longer, most = math.dist(bl, tr) - math.dist(br, tl), work.say(float(plant.diagonals))
    by = work.say(abs(longer))
    if abs(longer) < EVEN:
        yield phrase("the two diagonals differ by {most} at most", most=most)
    elif longer > 0:
        yield phrase(
            "the diagonal from the bottom left is {length} longer than the other, give or take "
            "{most}",
            length=by,
            most=most,
        )
    else:
        yield phrase(
            "the diagonal from the bottom left is {length} shorter than the other, give or take "
            "{most}",
            length=by,
            most=most,
        )


EVEN = 0.4
"""mm; diagonals that differ by less are drawn alike."""
