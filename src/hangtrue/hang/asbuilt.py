"""Where hung glass really stands: the place of every pane from the gaps and levels read.

Weighted least squares over the rigid panes, with their planned places as weak observations; what
no place of the panes explains is found by its residual and said so.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hangtrue.estimate import Estimate
from hangtrue.fit.enclosure import Enclosure, Gap, Joint
from hangtrue.hang.asbuilt_document import AsBuiltDocument, LevelReading, ends, place
from hangtrue.hang.rigid import Bodies, Vector, bodies, edge_lean, planned
from hangtrue.job.profile import Profile
from hangtrue.tables import Table, table

Matrix = NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True)
class GapRead:
    """One gap as read, against what was planned there.

    Attributes
    ----------
    number
        Position in the document, from 1.
    value
        As read, mm.
    plan
        Gap planned there, with its working range.
    explained
        What the gap would be with the panes where they are taken to stand, mm.
    normalised
        Residual in standard deviations.
    stands_out
        No place of the panes explains it.

    """

    number: int
    joint: str
    value: float
    plan: Gap
    explained: float
    normalised: float
    stands_out: bool

    @property
    def residual(self) -> float:
        """As read less as explained, mm."""
        return self.value - self.explained

    @property
    def out_by(self) -> float:
        """How far it is out of its working range, mm: + too wide, - too tight, 0 in range."""
        return out_of_range(self.value, self.plan)


@dataclass(frozen=True, slots=True, kw_only=True)
class LevelRead:
    """One edge as read: the slope over its length, + to the right going up, or up to the right."""

    number: int
    pane: str
    edge: str
    over: float
    value: float
    explained: float
    normalised: float
    stands_out: bool

    @property
    def residual(self) -> float:
        """As read less as explained, mm over that length."""
        return self.value - self.explained


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """Where a pane stands against where it was planned.

    Attributes
    ----------
    shift
        mm, + to the right as seen from outside.
    lift
        mm, + up.
    turn
        rad, + anticlockwise as seen from outside: its top to the left.

    """

    pane: str
    shift: Estimate
    lift: Estimate
    turn: Estimate


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Model:
    """The rigid panes with what was read of them, in one system; rows are gaps, then levels.

    Attributes
    ----------
    rows, off, sd
        (k, n) coefficients; (k,) reading less plan; (k,) standard deviation of each.
    places, covariance
        (n,) and (n, n) of the panes' freedoms, those that stand out left out of it.
    left_out
        Rows that stand out.

    """

    bodies: Bodies
    rows: Matrix
    off: Vector
    sd: Vector
    places: Vector
    covariance: Matrix
    left_out: tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class AsBuilt:
    """What was read after hanging, and where the panes are taken to stand.

    Attributes
    ----------
    even_within
        Most that a gap may grow from one end to the other, mm.
    rms
        Of all residuals that do not stand out, mm.

    """

    gaps: tuple[GapRead, ...]
    levels: tuple[LevelRead, ...]
    standing: tuple[Standing, ...]
    even_within: float
    rms: float
    model: Model

    @property
    def stand_out(self) -> tuple[GapRead | LevelRead, ...]:
        """What no setting of the panes explains, worst first."""
        every: tuple[GapRead | LevelRead, ...] = (*self.gaps, *self.levels)
        odd = [r for r in every if r.stands_out]
        return tuple(sorted(odd, key=lambda r: -abs(r.normalised)))

    @property
    def out(self) -> tuple[GapRead, ...]:
        """Gaps out of their working range, worst first."""
        return tuple(sorted((g for g in self.gaps if g.out_by), key=lambda g: -abs(g.out_by)))

    @property
    def uneven(self) -> dict[str, float]:
        """Joints whose gap grows too much, with top less bottom (or right less left), mm."""
        return uneven([(g.joint, g.plan.at, g.value) for g in self.gaps], self.even_within)


@dataclass(frozen=True, slots=True, kw_only=True)
class NextGap:
    """A gap worth reading: where, and the share that it takes away of what is not known, 0 to 1."""

    joint: str
    at: float
    gain: float


def next_gap(enclosure: Enclosure, found: AsBuilt) -> NextGap | None:
    """Return the end of a joint whose reading would tell most of all gaps; None if all are read.

    Share of the summed variance of the gaps at the ends of all joints that one reading removes.
    """
    model = found.model
    places = [(joint, at) for joint in enclosure.joints for at in ends(joint)]
    rows = np.array([model.bodies.gap(joint, at) for joint, at in places])
    spread = rows @ model.covariance @ rows.T
    noise = float(table("hang/asbuilt")["reading"]["gap_sd"]) ** 2
    gains = np.square(spread).sum(axis=0) / (np.diag(spread) + noise) / np.trace(spread)
    seen = {(gap.joint, round(gap.plan.at)) for gap in found.gaps}
    left = [i for i, (j, at) in enumerate(places) if (j.id, round(at)) not in seen]
    if not left:
        return None
    best = max(left, key=lambda i: float(gains[i]))
    joint, at = places[best]
    return NextGap(joint=joint.id, at=at, gain=float(gains[best]))


def uneven(gaps: Sequence[tuple[str, float, float]], within: float) -> dict[str, float]:
    """Return joints whose gap at the last place differs from that at the first by more, mm.

    Parameters
    ----------
    gaps
        Joint, place along it and gap.

    """
    grown = {}
    for joint in dict.fromkeys(name for name, _, _ in gaps):
        along = sorted((at, value) for name, at, value in gaps if name == joint)
        growth = along[-1][1] - along[0][1]
        if abs(growth) > within:
            grown[joint] = growth
    return grown


def out_of_range(value: float, plan: Gap) -> float:
    """How far a gap is out of its range, mm: + too wide, - too tight, 0 in range."""
    return max(value - plan.most, 0.0) - max(plan.least - value, 0.0)


def asbuilt(enclosure: Enclosure, profile: Profile, document: AsBuiltDocument) -> AsBuilt:
    """Find where the panes stand from what was read, and what no place of theirs explains."""
    joints = {joint.id: joint for joint in enclosure.joints}
    plans = [planned(joints[g.joint], place(g, joints[g.joint])) for g in document.gaps]
    model = _model(enclosure, profile, document, plans, joints)
    explained = model.rows @ model.places
    normalised = _normalised(model)
    count = len(plans)
    gaps = tuple(
        GapRead(
            number=i + 1,
            joint=read.joint,
            value=float(read.value),
            plan=plan,
            explained=plan.predicted.value + float(explained[i]),
            normalised=float(normalised[i]),
            stands_out=i in model.left_out,
        )
        for i, (read, plan) in enumerate(zip(document.gaps, plans, strict=True))
    )
    levels = tuple(
        _level_read(model, document.levels[i], i, count, float(normalised[count + i]), enclosure)
        for i in range(len(document.levels))
    )
    every: tuple[GapRead | LevelRead, ...] = (*gaps, *levels)
    honest = [r.residual for r in every if not r.stands_out]
    return AsBuilt(
        gaps=gaps,
        levels=levels,
        standing=_standing(model),
        even_within=profile.limit("gap-even-within").value,
        rms=float(np.sqrt(np.mean(np.square(honest)))) if honest else 0.0,
        model=model,
    )


def _model(
    enclosure: Enclosure,
    profile: Profile,
    document: AsBuiltDocument,
    plans: Sequence[Gap],
    joints: dict[str, Joint],
) -> Model:
    rigid, data = bodies(enclosure), table("hang/asbuilt")["reading"]
    setting = float(profile.setting_sd)
    rows = [
        rigid.gap(joints[read.joint], plan.at)
        for read, plan in zip(document.gaps, plans, strict=True)
    ]
    off = [
        float(read.value) - plan.predicted.value
        for read, plan in zip(document.gaps, plans, strict=True)
    ]
    known = [max(plan.predicted.sd**2 - setting**2, 0.0) + data["gap_sd"] ** 2 for plan in plans]
    for level in document.levels:
        rows.append(_level_row(rigid, level))
        off.append(signed(level) - _level_planned(enclosure, level))
        known.append(float(data["level_sd"]) ** 2)
    matrix = np.array(rows).reshape(-1, rigid.size)
    return _settled(rigid, matrix, np.array(off), np.sqrt(np.array(known)))


def _settled(rigid: Bodies, rows: Matrix, off: Vector, sd: Vector) -> Model:
    """Adjust, and leave out the worst that stands out, until nothing more does."""
    limit = float(table("hang/asbuilt")["outlier"]["normalised"])
    left_out: tuple[int, ...] = ()
    while True:
        model = _adjusted(rigid, rows, off, sd, left_out)
        normalised = np.abs(_normalised(model))
        normalised[list(left_out)] = 0.0
        worst = int(np.argmax(normalised)) if len(normalised) else 0
        if not len(normalised) or normalised[worst] < limit:
            return model
        left_out = (*left_out, worst)


def _adjusted(
    rigid: Bodies, rows: Matrix, off: Vector, sd: Vector, left_out: tuple[int, ...]
) -> Model:
    weights = 1.0 / sd**2
    weights[list(left_out)] = 0.0
    normal = rows.T @ (weights[:, None] * rows) + np.diag(1.0 / _prior_sd(rigid) ** 2)
    covariance: Matrix = np.asarray(np.linalg.inv(normal), dtype=np.float64)
    return Model(
        bodies=rigid,
        rows=rows,
        off=off,
        sd=sd,
        places=covariance @ (rows.T @ (weights * off)),
        covariance=covariance,
        left_out=left_out,
    )


def _prior_sd(rigid: Bodies) -> Vector:
    row: Table = table("hang/asbuilt")["prior"]
    return np.tile([row["shift"], row["lift"], row["turn"]], len(rigid.index))


def _normalised(model: Model) -> Vector:
    """Residuals (k,) over their own standard deviations.

    A reading in the adjustment has pulled the panes toward itself, one left out has not.
    """
    residual = model.off - model.rows @ model.places
    of_model = np.einsum("ij,jk,ik->i", model.rows, model.covariance, model.rows)
    used = np.ones(len(residual))
    used[list(model.left_out)] = -1.0
    variance = np.maximum(model.sd**2 - used * of_model, 1e-9)
    normalised: Vector = residual / np.sqrt(variance)
    return normalised


def signed(level: LevelReading) -> float:
    """What a level says with its sign: + to the right going up, or up to the right; mm."""
    if level.edge in {"left", "right"}:
        return float(level.value) * (1.0 if level.toward == "right" else -1.0)
    return float(level.value) * (1.0 if level.toward == "left" else -1.0)


def _level_row(rigid: Bodies, level: LevelReading) -> Vector:
    upright = level.edge in {"left", "right"}
    return rigid.turned(level.pane) * float(level.over) * (-1.0 if upright else 1.0)


def _level_planned(enclosure: Enclosure, level: LevelReading) -> float:
    return edge_lean(enclosure.lite(level.pane), level.edge) * float(level.over)


def _level_read(
    model: Model, level: LevelReading, i: int, first: int, normalised: float, enclosure: Enclosure
) -> LevelRead:
    turned = float(model.rows[first + i] @ model.places)
    return LevelRead(
        number=i + 1,
        pane=level.pane,
        edge=level.edge,
        over=float(level.over),
        value=signed(level),
        explained=_level_planned(enclosure, level) + turned,
        normalised=normalised,
        stands_out=first + i in model.left_out,
    )


def _standing(model: Model) -> tuple[Standing, ...]:
    sd = np.sqrt(np.diag(model.covariance))

    def freedom(i: int) -> Estimate:
        return Estimate(float(model.places[i]), float(sd[i]))

    return tuple(
        Standing(pane=pane, shift=freedom(i), lift=freedom(i + 1), turn=freedom(i + 2))
        for pane, i in model.bodies.index.items()
    )
