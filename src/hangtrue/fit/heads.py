"""Tops of panes: the one level line, the ceiling that a pane is cut to, a door under a transom."""

from __future__ import annotations

from dataclasses import replace

from hangtrue.fit.entries import TOP_LEFT, TOP_RIGHT, Z_LEFT, Z_RIGHT, panes_of
from hangtrue.fit.layout import to_ceiling
from hangtrue.fit.room import Room
from hangtrue.fit.rows import Row, RowPane
from hangtrue.job.brief import Brief
from hangtrue.measure.opening import Vector


def headed(brief: Brief, row: Row, room: Room, corners: Vector) -> Row:
    """Say how far each top is above the level line when the corners are about there."""
    panes = panes_of(corners, len(row.panes))
    return replace(
        row,
        panes=tuple(
            replace(
                pane, rise=_rise(brief, pane, room, float(corners[-1]), x[[TOP_LEFT, TOP_RIGHT]])
            )
            for pane, x in zip(row.panes, panes, strict=True)
        ),
    )


def _rise(brief: Brief, pane: RowPane, room: Room, line: float, x: Vector) -> tuple[float, float]:
    if pane.head == "transom":
        at = float(brief.job.wanted.transom_at or brief.job.wanted.height)
        return at - line, at - line
    if pane.head == "ceiling":
        gap = to_ceiling(brief, pane).elsewhere.usual
        left, right = room.ceiling(x)[0] - gap - line
        return float(left), float(right)
    return 0.0, 0.0


def topped(brief: Brief, row: Row, room: Room, cut: Vector) -> Row:
    """Cut the tops that follow the ceiling to the plant's grid, over feet that are cut.

    The joints with the ceiling count from here on.
    """
    if all(pane.head != "ceiling" for pane in row.panes):
        return row
    grid = float(brief.profile.plant.grid)
    wanted = headed(brief, row, room, cut)
    panes = []
    for pane, corners in zip(wanted.panes, panes_of(cut, len(row.panes)), strict=True):
        if pane.head == "ceiling":
            feet = corners[[Z_LEFT, Z_RIGHT]] - cut[-1]
            left, right = (
                float(foot) + round((rise - float(foot)) / grid) * grid
                for rise, foot in zip(pane.rise, feet, strict=True)
            )
            panes.append(replace(pane, rise=(left, right)))
        else:
            panes.append(pane)
    return replace(
        row,
        panes=tuple(panes),
        above=tuple(to_ceiling(brief, pane) if pane.head == "ceiling" else None for pane in panes),
    )


def level_line(row: Row) -> bool:
    """Whether the level line can be seen: a top ends on it."""
    return any(pane.head == "level" for pane in row.panes)
