"""What panes stand on: the curb and the caps of steps; and how a foot is cut to step over them."""

from __future__ import annotations

from hangtrue.fit.layout import Row
from hangtrue.fit.room import Room
from hangtrue.job.brief import Brief


def standing(brief: Brief, row: Row, room: Room) -> Row:
    """Find what each pane stands on: the lowest of what is below it."""
    return row
