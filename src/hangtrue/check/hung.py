"""A door and what it hangs on, and which wish each pane of a row goes back to."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import groupby

from hangtrue.fit.enclosure import Corner, Enclosure, HungOn, Lite
from hangtrue.job.document import WantedLite
from hangtrue.job.hardware import Hinge
from hangtrue.job.readings import Side
from hangtrue.phrase import phrase


@dataclass(frozen=True, slots=True, kw_only=True)
class Hung:
    """One door: what it hangs on, by which hinge.

    Attributes
    ----------
    id
        `door`; `door 1` and `door 2` where there are two.
    side, on
        Its hinge side as seen from outside, and what it hangs on.
    door
        The door as made; None where nothing goes in.
    carrier
        The pane it hangs on; None where that is a wall, or nothing goes in.
    corner
        The corner of the glass line that its hinges are at, if they are at one.
    stop
        Opening at which a stop holds it, rad; None where nobody said that there is one.
    plates
        Heights of the hinge plates' centres above the datum, lowest first; none where nothing
        goes in.

    """

    id: str
    side: Side
    on: HungOn
    hinge: Hinge
    door: Lite | None = None
    carrier: Lite | None = None
    corner: Corner | None = None
    stop: float | None = None
    plates: tuple[float, ...] = ()

    @property
    def glass(self) -> Lite:
        """The door as made, for rules that need one.

        Raises
        ------
        LookupError
            If nothing goes in: the rule did not say that it needs glass.

        """
        if self.door is None:
            msg = "a rule about the glass of a door was applied where there is none"
            raise LookupError(msg)
        return self.door

    @property
    def wall(self) -> Side | None:
        """The wall that carries it, or None."""
        return self.side if self.on == "wall" else None

    @property
    def closing(self) -> Side:
        """The side that it closes with."""
        return "right" if self.side == "left" else "left"

    @property
    def closes_on(self) -> str:
        """What its closing edge meets: `right wall`, `fixed 1`, `door 2`, `free`."""
        return self.glass.edge(self.closing).meets

    def narrowed(self, width: float) -> Hung:
        """Return the same door made to another width, its hinges where they are."""
        pane = self.glass
        _, _, right, left = pane.corners
        corners = ((0.0, 0.0), (width, 0.0), (width, right[1]), (0.0, left[1]))
        x = pane.origin[0] + (pane.width_bottom - width if self.side == "right" else 0.0)
        return replace(self, door=replace(pane, corners=corners, origin=(x, pane.origin[1])))

    @property
    def called(self) -> str:
        """Name in a sentence: `the door`, `door 2`."""
        if self.id == "door":
            return "the door"
        return phrase("door {number}", number=self.id.removeprefix("door "))


def wishes(
    panes: Sequence[Lite], row: Sequence[WantedLite], *, mirrored: bool
) -> tuple[WantedLite, ...]:
    """Return the wish of each pane of a row, from left to right.

    Doors are where they were wished. Between them there may be a pane more than was wished: one
    that was made into two above a step; both go back to one wish.

    Parameters
    ----------
    panes
        As made, without transoms.
    row
        As written down.
    mirrored
        The row is built left for right.

    """
    row = row[::-1] if mirrored else row
    if len(row) == len(panes):
        return tuple(row)
    asked, made = _groups([w.kind for w in row]), _groups([p.kind for p in panes])
    found: list[WantedLite] = []
    for wished, group in zip(asked, made, strict=False):
        spare = len(group) - len(wished)
        found += [row[wished[max(i - spare, 0)]] for i in range(len(group))]
    return tuple(found)


def stop_of(made: Enclosure, row: Sequence[WantedLite], door: Lite) -> float | None:
    """Opening at which a stop holds a door as made, rad; None where none was wished."""
    panes = tuple(pane for pane in made.lites if pane.kind != "transom")
    asked = wishes(panes, row, mirrored=made.choice.mirrored)
    wished = dict(zip((pane.id for pane in panes), asked, strict=False)).get(door.id)
    return float(wished.stop) if wished and wished.stop else None


def _groups(kinds: Sequence[str]) -> list[list[int]]:
    """Positions of neighbours of one kind; a door is a group of its own."""
    keyed = groupby(range(len(kinds)), lambda i: i if kinds[i] == "door" else kinds[i])
    return [list(group) for _, group in keyed]
