"""What the terminal says on the day and after: gaps as read, what to move, what is behind it."""

from __future__ import annotations

import math
from collections.abc import Iterator

from hangtrue.check.wording import article, percent
from hangtrue.estimate import Estimate
from hangtrue.hang.adjustments import Adjustment, Cure, Foreseen
from hangtrue.hang.asbuilt import AsBuilt, GapRead, LevelRead, NextGap
from hangtrue.hang.diagnosis import Cause, Check, Diagnosis
from hangtrue.paper.columns import item, paragraph, table
from hangtrue.paper.lengths import Units, tidy

MOST_CAUSES = 4
MOST_CHECKS = 3
LEAST_GAIN = 0.02
"""A check that tells less is not worth the walk, bits."""
AS_PLANNED = 0.4
"""A pane that is less off is where it was planned, mm; so is one that is turned less, mm per m."""
WORTH_READING = 0.2
"""A gap whose reading takes away less of what is not known is not asked for."""

CAUTION = (
    "Two people hold a door while a hinge is loose. Never let glass touch tile, metal or glass. "
    "The hardware maker's instructions come first."
)
JUDGEMENT = (
    "Rates are judgement of the trade, held against no statistics: they order the causes, "
    "they prove none."
)


def asbuilt_text(found: AsBuilt, cure: Cure, read_next: NextGap | None, units: Units) -> str:
    """Say what is out, where the panes stand, what to move, and what will come of it."""
    parts = [
        _gaps(found, units),
        *_stand_out(found, units),
        *_standing(found, units),
        *_cure(cure, units, odd=bool(found.stand_out)),
        *_read_next(read_next, units),
    ]
    return "\n\n".join(parts)


def _gaps(found: AsBuilt, units: Units) -> str:
    rows = [
        (
            f"{g.number}  {g.joint}",
            units.size(g.plan.at),
            units.small(g.value),
            units.small(g.plan.predicted.value),
            _range(g, units),
            _state(g, units),
        )
        for g in found.gaps
    ]
    head = ("gap", "at", "read", "planned", "range", "")
    return table(head, rows) if rows else "No gap was read."


def _read_next(gap: NextGap | None, units: Units) -> Iterator[str]:
    if gap is not None and gap.gain >= WORTH_READING:
        yield paragraph(
            f"To know it better read {gap.joint} at {units.size(gap.at)}: it takes away "
            f"{percent(gap.gain)} of what is not known of all gaps."
        )


def _range(gap: GapRead | Foreseen, units: Units) -> str:
    alone = units.alone
    return f"{alone.figure(gap.plan.least, fine=True)} to {alone.small(gap.plan.most)}"


def _state(gap: GapRead, units: Units) -> str:
    if gap.stands_out:
        return "not explained"
    if not gap.out_by:
        return "in"
    return f"{units.alone.small(abs(gap.out_by))} too {'wide' if gap.out_by > 0 else 'tight'}"


def _stand_out(found: AsBuilt, units: Units) -> Iterator[str]:
    """Name the readings that no setting of the panes explains, with what is left over."""
    if not found.stand_out:
        return
    lines = [item("  - ", _odd(reading, units)) for reading in found.stand_out]
    yield "No setting of the panes explains this; read it again, or look at glass and wall\n" + (
        "\n".join(lines)
    )


def _odd(reading: GapRead | LevelRead, units: Units) -> str:
    left = units.small(abs(reading.residual))
    if isinstance(reading, GapRead):
        what = f"gap {reading.number}, {reading.joint}: {units.small(reading.value)} read"
        return f"{what}, {units.small(reading.explained)} would agree with the rest; {left} left."
    return f"level {reading.number}, {reading.pane}, {reading.edge}: {left} left."


def _standing(found: AsBuilt, units: Units) -> Iterator[str]:
    read = {end for g in found.gaps for end in g.joint.split(" to ")}
    read |= {level.pane for level in found.levels}
    lines = []
    for at in found.standing:
        if at.pane not in read:
            continue
        lean = math.tan(at.turn.value) * 1000.0
        said = [
            _moved(at.shift, "to the right", "to the left", units),
            _moved(at.lift, "up", "down", units),
            f"top turned {abs(lean):.1f} mm per m to the {'left' if lean > 0 else 'right'}"
            if abs(lean) >= AS_PLANNED
            else "",
        ]
        words = ", ".join(filter(None, said)) or "as planned"
        lines.append(item("  - ", f"{at.pane}: {words}"))
    if lines:
        rms = f"{units.exact(found.rms)} {units.first}"
        yield f"Where the panes stand, against the plan (agrees to {rms})\n" + "\n".join(lines)


def _moved(by: Estimate, plus: str, minus: str, units: Units) -> str:
    if abs(by.value) < AS_PLANNED:
        return ""
    way = plus if by.value > 0 else minus
    return f"{units.small(abs(by.value))} {way} (± {units.spread(by.sd)} {units.first})"


def _cure(cure: Cure, units: Units, *, odd: bool) -> Iterator[str]:
    if not cure.needed and odd:
        yield paragraph(
            "What agrees is in its range and even. That is no leave to go: move nothing, and hand "
            "nothing over, before what is not explained is read again."
        )
        return
    if not cure.needed:
        yield "Every gap read is in its range and even: leave it as it is."
        return
    if not cure.adjustments:
        yield paragraph("Nothing that can be moved here brings it right.")
    else:
        lines = [item(f"  {n}. ", adjustment(a, units)) for n, a in enumerate(cure.adjustments, 1)]
        yield "What to move\n" + "\n".join(lines)
        rows = [
            (
                g.joint,
                units.size(g.plan.at),
                units.small(g.now),
                units.small(g.then),
                _range(g, units),
                _then(g, units),
            )
            for g in cure.gaps
            if g.read or g.out_by
        ]
        yield "Then\n" + table(("gap", "at", "now", "then", "range", ""), rows)
    for gap in cure.left:
        if not gap.read:
            continue
        short = units.small(abs(gap.out_by))
        way = "wide" if gap.out_by > 0 else "tight"
        yield paragraph(f"Still {short} too {way} at {gap.joint}, {units.size(gap.plan.at)}.")
    for joint, growth in cure.uneven.items():
        yield paragraph(f"Still uneven: {joint} grows by {units.small(abs(growth))}.")
    yield paragraph(CAUTION)


def _then(gap: Foreseen, units: Units) -> str:
    return f"out by {units.alone.small(abs(gap.out_by))}" if gap.out_by else "in"


def adjustment(made: Adjustment, units: Units) -> str:
    """Say one adjustment: which plate, which way, how much, which pieces."""
    size, more = _amount(made, units), made.amount > 0
    side, put = "right" if more else "left", "add" if more else "take out"
    several = len(made.pieces) > 1
    stack = " + ".join(f"{units.piece(p)} {units.first}" for p in made.pieces)
    pieces = f": {stack}" if several else ""
    said = {
        "packing": f"{put} {size} of packing behind the {made.place} ({made.joint}), "
        f"{'away from' if more else 'toward'} the wall{pieces}",
        "slide": f"loosen the hinge at the {made.place} ({made.joint}) and slide the glass {size} "
        f"to the {side}",
        "lift": f"loosen the hinges of {article(made.pane)} and {'raise' if more else 'lower'} "
        f"the glass {size} in them",
        "shift": f"shift {article(made.pane)} {size} to the {side}",
        "block": f"{put} {size} under {article(made.pane)} at its {made.place}{pieces}",
    }[made.kind]
    return f"{said[:1].upper()}{said[1:]}."


def _amount(made: Adjustment, units: Units) -> str:
    """How much; of packing to the last piece of it, so that the pieces add up to what is said."""
    if not made.pieces:
        return units.small(abs(made.amount))
    other = f" ({tidy(abs(made.amount), 1)} mm)" if units.both and units.first == "in" else ""
    return f"{units.piece(abs(made.amount))} {units.first}{other}"


# ------------------------------------------------------------------------------------ coming back


def diagnosis_text(found: Diagnosis) -> str:
    """Say the most likely causes, what would tell them apart, cure and parts."""
    parts = []
    if found.odd:
        parts.append(paragraph("No cause in the table is known for this. Look for something else."))
    causes = [_cause(c) for c in found.causes[:MOST_CAUSES]]
    parts.append("Most likely\n" + "\n".join(causes))
    checks = [c for c in found.checks if c.gain >= LEAST_GAIN][:MOST_CHECKS]
    if checks:
        lines = [_check(c, found) for c in checks]
        parts.append("What would tell them apart, most telling first\n" + "\n".join(lines))
    if any(cause.stop for cause in found.causes[:2]):
        parts.append(
            paragraph("Leave the door shut, and say so, until that is ruled out or cured.")
        )
    parts.extend((paragraph(CAUTION), paragraph(JUDGEMENT)))
    return "\n\n".join(parts)


def _cause(cause: Cause) -> str:
    parts = f" Parts: {', '.join(cause.parts)}." if cause.parts else ""
    return item(f"  {percent(cause.chance):>9}  ", f"{cause.title}. {cause.cure}{parts}")


def _check(check: Check, found: Diagnosis) -> str:
    titles = {cause.id: cause.title for cause in found.causes}
    then = "; ".join(
        f"{outcome} ({percent(chance)}): {titles[cause][:1].lower()}{titles[cause][1:]}"
        for outcome, chance, cause in check.then
    )
    return item("  - ", f"{check.do} ({check.minutes:g} min). {then}.")
