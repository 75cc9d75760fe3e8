"""How far each gap may come out from plan on the day: survey, plant and setting together.

What opening and panes of a run together are off is spread over its upright joints, to each in
proportion to what it can take up; a free end takes all of it. What remains at a wall is how the
wall departs from its own mean. At a corner the errors of both runs meet. Along the curb the one top
line takes what is common to all panes.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Protocol

import numpy as np

from hangtrue.fit.places import AtCorner, Places
from hangtrue.fit.room import Room
from hangtrue.fit.rows import Row
from hangtrue.job.profile import Profile
from hangtrue.measure.opening import Matrix, Vector

Error = tuple[Matrix, float]
"""What an error of the opening's shape does, (k, m), and the variance that the panes add, mm2."""


class Taker(Protocol):
    """What takes up a part of the error of a run: a joint, or a pane's end at a corner."""

    @property
    def mean_shape(self) -> Vector:
        """(m,) what an error of the opening does to it."""

    @property
    def takes_up(self) -> float:
        """How much it can take up, mm."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class RunError:
    """What a run is off in length, and who takes it up.

    Attributes
    ----------
    off
        (m,) what an error of the opening does to the length that is left over for the joints.
    total
        What its joints together can take up, mm; 0 where an end is free, which takes all.
    takers
        Joints and ends at corners from left to right; None at a free end.

    """

    off: Vector
    total: float
    takers: tuple[Taker | None, ...]

    @property
    def panes(self) -> int:
        """How many panes stand in it."""
        return len(self.takers) - 1

    def share(self, takes_up: float) -> float:
        """Share of the error that a joint takes."""
        return takes_up / self.total if self.total > 0 else 0.0

    def place(self, before: int, cut: float) -> tuple[Vector, float]:
        """Where the left edge of the pane with so many `before` it comes to stand on the day."""
        first, last = self.takers[0], self.takers[-1]
        after = self.panes - before
        if first is None:
            row = np.zeros(0) if last is None else last.mean_shape
            return row, after * cut
        share = sum(self.share(taker.takes_up) for taker in self.takers[: before + 1] if taker)
        variance = (before * (1.0 - share) ** 2 + after * share**2) * cut
        return share * self.off - first.mean_shape, variance


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Day:
    """What may be off on the day.

    Attributes
    ----------
    covariance
        Of the opening's shape, (m, m).
    cut, setting
        Variance of a size as the plant cuts it, and of a pane against its mark.
    foot
        (m,) what an error of the opening does to the mean gap under all feet.
    runs
        By the number of their first pane, from 0.

    """

    covariance: Matrix
    cut: float
    setting: float
    foot: Vector
    runs: dict[int, RunError]

    def sigma(self, rows: Matrix, others: Vector) -> Vector:
        """Standard deviation of gaps with such rows and such variance of the panes, mm."""
        survey = np.maximum(((rows @ self.covariance) * rows).sum(axis=1), 0.0)
        sigma: Vector = np.sqrt(survey + others + self.setting)
        return sigma

    def slot(self, row: Row, i: int, joints: tuple[Places | None, ...]) -> tuple[Vector, float]:
        """How the room between the neighbours of pane `i` changes: (m,) row, and variance.

        Parameters
        ----------
        joints
            The upright joints on both sides of it; None at a free end.

        """
        run = self.runs[row.run_of(i).start]
        share = sum(run.share(joint.takes_up) for joint in joints if joint)
        off = run.off if run.off.size else np.zeros(len(self.covariance))
        return share * off, ((1.0 - share) ** 2 + (run.panes - 1) * share**2) * self.cut

    def pane(self, row: Row, i: int) -> tuple[Vector, float]:
        """Where pane `i` comes to stand along its line: (m,) row, and variance of the panes."""
        run = row.run_of(i)
        place, variance = self.runs[run.start].place(i - run.start, self.cut)
        return (place if place.size else np.zeros(len(self.covariance))), variance


def day(
    row: Row, room: Room, upright: dict[int, Places], level: list[Places], profile: Profile
) -> Day:
    """Gather what may be off when the panes of a row are set in the real opening."""
    return Day(
        covariance=room.opening.covariance,
        cut=size_variance(profile),
        setting=float(profile.setting_sd) ** 2,
        foot=np.add.reduce([piece.mean_shape for piece in level]) / len(level),
        runs={run.start: _run_error(run, upright) for run in row.runs},
    )


def on_the_day(
    day: Day, row: Row, upright: dict[int, Places], level: list[Places], more: list[Places]
) -> Vector:
    """Standard deviation of every gap: upright joints, those below, those above and at risers."""
    errors = [*_upright_errors(day, row, upright), *_level_errors(day, level)]
    errors += [_other_error(day, row, piece) for piece in more]
    rows = np.concatenate([rows for rows, _ in errors])
    others = np.concatenate([np.full(len(rows), variance) for rows, variance in errors])
    return day.sigma(rows, others)


def _upright_errors(day: Day, row: Row, upright: dict[int, Places]) -> Iterator[Error]:
    for j, piece in upright.items():
        run = day.runs[row.run_of(min(j, len(row.panes) - 1)).start]
        if piece.corner:
            before = day.runs[row.run_of(j - 1).start]
            yield _corner_error(piece, piece.corner, (before, run), day.cut)
            continue
        share = run.share(piece.takes_up)
        rows = piece.shape + (share * run.off - piece.mean_shape)
        yield rows, share**2 * run.panes * day.cut


def _level_errors(day: Day, level: list[Places]) -> Iterator[Error]:
    for piece in level:
        yield piece.shape - day.foot, (1.0 - 1.0 / len(level)) * day.cut


def _other_error(day: Day, row: Row, piece: Places) -> Error:
    """What is off at a ceiling, or beside a riser."""
    if piece.stop is None:
        return piece.shape + day.foot, 2.0 * day.cut
    place, variance = day.pane(row, piece.stop.pane)
    right = piece.stop.side == "right"
    return piece.shape - (1.0 if right else -1.0) * place, variance + (day.cut if right else 0.0)


def _run_error(run: range, upright: dict[int, Places]) -> RunError:
    takers: list[Taker | None] = []
    for j in range(run.start, run.stop + 1):
        piece = upright.get(j)
        if piece and piece.corner:
            takers.append(piece.corner.after if j == run.start else piece.corner.before)
        else:
            takers.append(piece)
    found = [taker for taker in takers if taker]
    closed = takers[0] is not None and takers[-1] is not None
    return RunError(
        off=np.add.reduce([t.mean_shape for t in found]) if found else np.zeros(0),
        total=sum(t.takes_up for t in found) if closed else 0.0,
        takers=tuple(takers),
    )


def _corner_error(
    piece: Places, corner: AtCorner, runs: tuple[RunError, RunError], cut: float
) -> Error:
    """What both runs do to the gap of a corner."""
    row, variance = corner.angle, 0.0
    for end, run in zip((corner.before, corner.after), runs, strict=True):
        seen = end.share * end.shown * run.share(end.takes_up)
        row = row + seen * run.off
        variance += seen**2 * run.panes * cut
    return np.tile(row, (len(piece.at), 1)), variance


def size_variance(profile: Profile) -> float:
    """Variance of a size as the plant cuts it: its tolerance is taken to hold 95 % of the panes."""
    return (float(profile.plant.size_tolerance) / 2) ** 2
