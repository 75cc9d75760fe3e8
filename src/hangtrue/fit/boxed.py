"""A boxed set: panes that cannot be changed; whether they go in, where, and with which margin."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from hangtrue.fit.entries import Z_LEFT, panes_of
from hangtrue.fit.gaps import gaps
from hangtrue.fit.goals import Demand, Task, best_corners, margin_sigmas
from hangtrue.fit.room import Room
from hangtrue.fit.rows import Row
from hangtrue.fit.sizes import Answer, Setting, Stuck, enough, first_corners, setting_freedom
from hangtrue.fit.wording import said
from hangtrue.job.brief import Brief
from hangtrue.job.hardware import BoxedSet
from hangtrue.job.readings import Side
from hangtrue.measure.opening import Vector
from hangtrue.phrase import phrase

SIDES: tuple[Side, Side] = ("left", "right")


def place(brief: Brief, row: Row, room: Room, box: BoxedSet) -> Answer:
    """Set panes of given size where their gaps have the most margin.

    The top line is where the feet of the panes put it. What the maker says of the opening holds.
    """
    near = _as_given(row, first_corners(brief, row, room))
    task = Task(
        gaps=gaps(row, room, near, brief.profile),
        freedom=setting_freedom(near, len(row.panes)),
        demands=tuple(_by_the_maker(brief, row, room, near, box)),
        wishes=(),
        enough=enough(brief),
    )
    corners = best_corners(task)
    if corners is None:
        return Stuck(task=task)
    exact = gaps(row, room, corners, brief.profile)
    sigmas = margin_sigmas(exact, corners)
    return Setting(sized=corners, corners=corners, sized_sigmas=sigmas, sigmas=sigmas, row=row)


def _as_given(row: Row, near: Vector) -> Vector:
    """Panes of their own size, side by side from the left, feet at about their usual gap."""
    corners = near.copy()
    panes = panes_of(corners, len(row.panes))
    sizes = [pane.given or (0.0, 0.0) for pane in row.panes]
    top = max(foot[-1] + height for foot, (_, height) in zip(panes, sizes, strict=True))
    x = panes[0][0]
    for pane, (width, height) in zip(panes, sizes, strict=True):
        pane[:] = (x, x + width, x + width, x, top - height, top - height)
        x += width
    corners[-1] = top
    return corners


def _by_the_maker(
    brief: Brief, row: Row, room: Room, near: Vector, box: BoxedSet
) -> Iterator[Demand]:
    """Widest and narrowest opening at every height, and the lean of each wall."""
    low, top, unit = (
        float(panes_of(near, len(row.panes))[:, Z_LEFT:].min()),
        near[-1],
        brief.job.unit,
    )
    nothing = np.zeros(len(near))
    walls = room.opening.walls
    at = np.array([low, *(h for h in room.opening.heights if low < h < top), top])
    faces = {side: room.walls(side, at)[0] for side in SIDES if _seen(room, side) in walls}
    if len(faces) == len(SIDES):
        for height, width in zip(at, faces["right"] - faces["left"], strict=True):
            where = said(float(height), unit)
            yield Demand(
                a=nothing, constant=float(width), joint="opening", at=float(height),
                low=float(box.opening_least), high=float(box.opening_most),
                least_words=phrase(
                    "opening at {height}: at least {least} wide ({set})",
                    height=where, least=said(box.opening_least, unit), set=box.id,
                ),
                most_words=phrase(
                    "opening at {height}: at most {most} wide ({set})",
                    height=where, most=said(box.opening_most, unit), set=box.id,
                ),
            )  # fmt: skip
    most = float(box.out_of_plumb_most)
    for side, x in faces.items():
        words = phrase(
            "{wall}: at most {most} out of plumb ({set})",
            wall=f"{_seen(room, side)} wall", most=said(most, unit), set=box.id,
        )  # fmt: skip
        yield Demand(
            a=nothing, constant=float(x[-1] - x[0]), joint=f"{_seen(room, side)} wall",
            at=float(top), low=-most, high=most, least_words=words, most_words=words,
        )  # fmt: skip


def _seen(room: Room, side: Side) -> Side:
    """Side of the room that the row sees on `side`."""
    other: Side = "left" if side == "right" else "right"
    return other if room.mirrored else side
