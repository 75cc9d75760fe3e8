"""Every gap on the day as a linear function of what nobody knows yet and of what the fitter may do.

Taken from the enclosure as drawn and the opening as measured; nothing of how sizes were chosen.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field, replace

import numpy as np

from hangtrue.estimate import Estimate
from hangtrue.fit.enclosure import Corner, Enclosure, Gap, Joint, Lite
from hangtrue.fit.meeting import Form, flush_form, gap_form
from hangtrue.job.brief import Brief
from hangtrue.job.hardware import Clamp, Hinge
from hangtrue.job.readings import Side
from hangtrue.measure.opening import Matrix, Opening, Vector
from hangtrue.odds.errors import Source, height_of, sources, squareness_of, width_of
from hangtrue.odds.wording import written
from hangtrue.phrase import phrase
from hangtrue.tables import table

UP = "all panes up"
OFF = " off its line at corner "
SMALL = 1e-6
"""Turn over which the slope of a gap at a corner is taken, rad."""


class NotACovarianceError(ValueError):
    """What should be a covariance has a direction of negative variance, or is no number."""

    def __init__(self, least: float) -> None:
        super().__init__(f"the covariance is not positive: a variance of {least:g} mm2 came of it")


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """Where a gap is looked at: on which joint, where (mm), at a fitting, or at its cut-out."""

    joint: str
    at: float
    fitting: bool = False
    cut_out: bool = False


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Model:
    """`gap = planned + Y y + shape (opening - estimate) + parts e`, which must be in its range.

    Attributes
    ----------
    places
        k places where a gap is looked at.
    planned, usual, low, high
        (k,) gap when set as planned, and its range, mm.
    freedoms, Y
        n things that the fitter may do, and (k, n) what each does to the gaps, mm per mm.
    most
        (n,) how far each freedom goes either way, mm; infinite where only the gaps stop it.
    shape, covariance
        (k, m) what the opening does to the gaps, and (m, m) how well it is known.
    sources, parts
        s independent other errors, and (k, s) what each does to the gaps.

    """

    places: tuple[Place, ...]
    planned: Vector
    usual: Vector
    low: Vector
    high: Vector
    freedoms: tuple[str, ...]
    Y: Matrix
    most: Vector
    shape: Matrix
    covariance: Matrix
    sources: tuple[Source, ...]
    parts: Matrix

    @property
    def noise(self) -> Matrix:
        """Covariance (k, k) of the gaps while nothing is moved, of all that is normal, mm2."""
        sds = np.array([0.0 if s.uniform else s.sd for s in self.sources])
        own = self.parts * sds
        every: Matrix = self.shape @ self.covariance @ self.shape.T + own @ own.T
        return every

    @property
    def uniform(self) -> Matrix:
        """(k, u) what each uniform error does to the gaps, for a variable of variance 1."""
        sds = np.array([s.sd if s.uniform else 0.0 for s in self.sources])
        flat: Matrix = (self.parts * sds)[:, sds > 0.0]
        return flat

    @property
    def joints(self) -> tuple[str, ...]:
        """Ids of the joints in order."""
        return tuple(dict.fromkeys(place.joint for place in self.places))

    def rows_of(self, joint: str) -> list[int]:
        """Rows of one joint's gaps; its cut-outs left out."""
        return [k for k, p in enumerate(self.places) if p.joint == joint and not p.cut_out]

    def known_better(self, covariance: Matrix) -> Model:
        """Return the same where the opening is known otherwise."""
        return replace(self, covariance=covariance)

    def moved(self, gaps: Vector) -> Model:
        """Return the same with other planned gaps (k,): panes of other sizes."""
        return replace(self, planned=gaps)

    def wider(self, low: Vector, high: Vector) -> Model:
        """Return the same with other ranges."""
        return replace(self, low=low, high=high)

    def freer(self, names: tuple[str, ...], Y: Matrix, most: Vector) -> Model:
        """Return the same with more freedoms."""
        return replace(
            self,
            freedoms=(*self.freedoms, *names),
            Y=np.hstack([self.Y, Y]),
            most=np.concatenate([self.most, most]),
        )


# ------------------------------------------------------------------------------------ its making


@dataclass(slots=True, kw_only=True)
class _Row:
    """One row while it is put together."""

    place: Place
    gap: Gap
    shape: Vector
    moves: dict[str, float] = field(default_factory=dict)
    parts: dict[str, float] = field(default_factory=dict)
    play: float = 0.0

    def move(self, name: str, amount: float) -> None:
        self.moves[name] = self.moves.get(name, 0.0) + amount

    def part(self, name: str, amount: float) -> None:
        self.parts[name] = self.parts.get(name, 0.0) + amount


def model(brief: Brief, opening: Opening, made: Enclosure) -> Model:
    """Write down what is not known of an enclosure, and what its fitter may do about it.

    Shifts are a few mm and edges a few mm out of square, so their products are left out: a pane
    that is shifted does not climb the fall of its curb.
    """
    rows = [row for joint in made.joints for row in _rows(brief, opening, made, joint)]
    freedoms = tuple(dict.fromkeys(name for row in rows for name in row.moves))
    errors = tuple(sources(brief, made, dict.fromkeys(n for row in rows for n in row.parts)))
    place_of = {s.name: i for i, s in enumerate(errors)}
    Y, parts = np.zeros((len(rows), len(freedoms))), np.zeros((len(rows), len(errors)))
    for k, row in enumerate(rows):
        for name, amount in row.moves.items():
            Y[k, freedoms.index(name)] = amount
        for name, amount in row.parts.items():
            parts[k, place_of[name]] = amount
    return Model(
        places=tuple(row.place for row in rows),
        planned=np.array([row.gap.predicted.value for row in rows]),
        usual=np.array([row.gap.usual for row in rows]),
        low=np.array([row.gap.least - row.play for row in rows]),
        high=np.array([row.gap.most + row.play for row in rows]),
        freedoms=freedoms,
        Y=Y,
        most=np.array([_reach(made, name) for name in freedoms]),
        shape=np.array([row.shape for row in rows]),
        covariance=opening.covariance,
        sources=errors,
        parts=parts,
    )


def _rows(brief: Brief, opening: Opening, made: Enclosure, joint: Joint) -> Iterator[_Row]:
    """Rows of one joint, and of the cut-outs at its fittings."""
    panes = {lite.id: lite for lite in made.lites}
    meeting = _meeting(opening, joint, panes)
    if meeting:
        yield _flush(brief, meeting)
    for gap in joint.gaps:
        row = _Row(
            place=Place(joint=joint.id, at=gap.at, fitting=gap.at_fitting),
            gap=gap,
            shape=np.zeros(len(opening.shape)),
        )
        if meeting:
            meeting.put(row, gap_form)
        elif joint.upright:
            _upright(opening, row, joint, panes)
        else:
            _level(opening, row, joint, panes)
        _set_by_hand(row, joint)
        yield row
        if gap.at_fitting and _cut_out(brief, joint):
            yield _at_cut_out(brief, row, joint)


def _meeting(opening: Opening, joint: Joint, panes: dict[str, Lite]) -> _Meeting | None:
    if joint.corner is None:
        return None
    before, after = (panes[name] for name in joint.between)
    return _Meeting(opening=opening, joint=joint, corner=joint.corner, before=before, after=after)


def _upright(opening: Opening, row: _Row, joint: Joint, panes: dict[str, Lite]) -> None:
    """Gap between what is left and what is right of an upright joint."""
    for sign, other, side in zip((-1.0, 1.0), joint.between, ("right", "left"), strict=True):
        if other in panes:
            _edge(row, panes[other], "right" if side == "right" else "left", sign)
        elif other in ("left wall", "right wall"):
            wall: Side = "left" if other == "left wall" else "right"
            row.shape += sign * opening.wall(wall, row.place.at).coefficients
        elif other in opening.steps:
            step = opening.step(other)
            riser = step.right if side == "right" else step.left
            row.shape += sign * riser.coefficients
            row.part(phrase("step cut for the riser of {step}", step=other), 1.0)


def _edge(row: _Row, pane: Lite, side: Side, sign: float) -> None:
    """What an upright edge of a pane does: it goes with the pane, and is as the plant cut it."""
    row.move(f"{pane.id} along", sign)
    row.part(width_of(pane.id), -0.5 * sign if side == "left" else 0.5 * sign)
    share = (row.place.at - pane.origin[1]) / max(pane.height_left, pane.height_right)
    row.part(squareness_of(pane.id), sign * (share - 0.5))


def _level(opening: Opening, row: _Row, joint: Joint, panes: dict[str, Lite]) -> None:
    """Gap below or above a pane; all panes hang from one top line, so a foot shows the height.

    A transom is set by itself between the door and what is above.
    """
    pane, other = joint.between
    x = row.place.at
    up = f"{pane} up" if panes[pane].kind == "transom" else UP
    if other == "ceiling":
        row.shape += opening.ceiling(x).coefficients
        row.move(up, -1.0)
        return
    if other in panes:
        row.move(f"{other} up", 1.0)
        row.move(up, -1.0)
        row.part(height_of(other), -1.0)
        return
    row.move(up, 1.0)
    row.part(height_of(pane), -1.0)
    if other in opening.steps:
        step = opening.step(other)
        row.part(phrase("step cut over {step}", step=other), 1.0)
        low, high = (opening.estimate(end).value for end in (step.cap_left, step.cap_right))
        share = (x - low) / (high - low)
        row.shape -= (1 - share) * step.top_left.coefficients + share * step.top_right.coefficients
    else:
        row.shape -= opening.curb(x).coefficients


@dataclass(frozen=True, slots=True, kw_only=True)
class _Meeting:
    """Two panes at a corner, as set."""

    opening: Opening
    joint: Joint
    corner: Corner
    before: Lite
    after: Lite

    @property
    def cuts(self) -> tuple[float, float]:
        """How far their edges are cut back from the mark, mm."""
        mark = self.opening.estimate(self.opening.corner(self.corner.number)).value
        right = self.before.origin[0] + self.before.corners[1][0]
        return mark - right, self.after.origin[0] + self.after.corners[0][0] - mark

    @property
    def offs(self) -> tuple[float, float]:
        """How far they stand off their lines, mm."""
        return self.before.shifts[1], self.after.shifts[0]

    def form(self, of: Callable[..., Form], more: float = 0.0) -> Form:
        """A length at the corner, where the line turns by a little more."""
        laps = "before" if self.corner.laps == self.before.id else "after"
        turn = abs(self.corner.turn) + more
        return of(self.corner.joint, laps, turn, self.before.thickness).seen(self.corner.way)

    def put(self, row: _Row, of: Callable[..., Form]) -> None:
        """What errors of corner and panes do to that length, and what the fitter does about it."""
        form, number = self.form(of), self.corner.number
        mark = self.opening.corner(number).coefficients
        row.shape += (form.cut_before - form.cut_after) * mark
        turned = self.form(of, SMALL).at(self.cuts, self.offs) - form.at(self.cuts, self.offs)
        row.shape -= turned / SMALL * self.opening.angle(number).coefficients
        _edge(row, self.before, "right", -form.cut_before)
        _edge(row, self.after, "left", form.cut_after)
        for pane, off in ((self.before, form.off_before), (self.after, form.off_after)):
            if off:
                row.move(f"{pane.id}{OFF}{number}", off)


def _flush(brief: Brief, meeting: _Meeting) -> _Row:
    """How far two panes are out of flush, which must not be seen."""
    within = float(table("fit")["corner"]["flush_within"]) + float(brief.profile.plant.grid)
    at = meeting.joint.gaps[0].at
    value = meeting.form(flush_form).at(meeting.cuts, meeting.offs)
    row = _Row(
        place=Place(joint=phrase("flush at corner {number}", number=meeting.corner.number), at=at),
        gap=Gap(at=at, predicted=Estimate(value), least=-within, usual=0.0, most=within),
        shape=np.zeros(len(meeting.opening.shape)),
    )
    meeting.put(row, flush_form)
    return row


def _reach(made: Enclosure, name: str) -> float:
    """How far a freedom goes either way, mm: off its line a pane goes no further than unseen."""
    if OFF not in name:
        return np.inf
    aside = float(table("fit")["corner"]["aside_most"])
    pane = made.lite(name.split(OFF, maxsplit=1)[0])
    return max(aside - max(abs(shift) for shift in pane.shifts), 0.0)


# ------------------------------------------------------------------------------------ by hand


def _set_by_hand(row: _Row, joint: Joint) -> None:
    """How far plate, channel or seal end up from the face that was measured.

    Part of it is the same all along the joint; the rest is each fitting's own, and in between as
    the fittings beside it say.
    """
    fittings = [g.at for g in joint.gaps if g.at_fitting]
    whole = float(table("odds")["setting"]["whole_joint_share"]) if fittings else 1.0
    row.part(phrase("setting of {joint}", joint=joint.id), whole**0.5)
    if fittings:
        for k, share in _between(row.place.at, fittings):
            seat = phrase("seat {k} of {joint}", k=k + 1, joint=joint.id)
            row.part(seat, share * (1.0 - whole) ** 0.5)


def _between(at: float, fittings: list[float]) -> list[tuple[int, float]]:
    """Shares of the two fittings that a place lies between; of the last one beyond it."""
    k = int(np.clip(np.searchsorted(fittings, at), 1, max(len(fittings) - 1, 1)))
    if len(fittings) == 1:
        return [(0, 1.0)]
    share = float(np.clip((at - fittings[k - 1]) / (fittings[k] - fittings[k - 1]), 0.0, 1.0))
    return [(i, s) for i, s in ((k - 1, 1.0 - share), (k, share)) if s]


def _cut_out(brief: Brief, joint: Joint) -> bool:
    item = brief.items.get(joint.hardware)
    return isinstance(item, Hinge | Clamp) and bool(item.cut_outs)


def _at_cut_out(brief: Brief, row: _Row, joint: Joint) -> _Row:
    """The same gap as the fitting in its cut-out sees it: off by the cut-out, with its play."""
    more = _Row(
        place=replace(row.place, cut_out=True),
        gap=row.gap,
        shape=row.shape,
        moves=dict(row.moves),
        parts=dict(row.parts),
        play=float(table("odds")["cut_out"]["play"]),
    )
    item = brief.items[joint.hardware]
    hole = isinstance(item, Hinge | Clamp) and item.cut_outs[0].shape == "hole"
    at = written(row.place.at, brief.job.unit)
    if hole:
        more.part(phrase("hole at {at} of {joint}", at=at, joint=joint.id), 1.0)
    else:
        more.part(phrase("notch at {at} of {joint}", at=at, joint=joint.id), 1.0)
    return more
