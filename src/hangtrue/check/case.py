"""What a rule looks at: the brief, the opening and one alternative, with the facts they imply."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from hangtrue.estimate import Estimate
from hangtrue.fit.enclosure import Alternative, Choice, Enclosure, Gap, Joint, Lite
from hangtrue.job.brief import Brief
from hangtrue.job.document import Job, Wall, WantedLite
from hangtrue.job.hardware import Channel, Clamp, Hinge, Item
from hangtrue.job.hardware import Joint as OpenJoint
from hangtrue.job.profile import Limit
from hangtrue.job.readings import Reading, Side
from hangtrue.measure.opening import NextReading, Opening
from hangtrue.units import inches

SIDES: tuple[Side, Side] = ("left", "right")
COVERAGE = 2.0
"""What a length may be off by is said as this many standard deviations."""
NOTHING = 1e-6
"""Lengths under this are rounding, and are written as 0; mm."""
POUND = 0.45359237
"""kg, by definition."""
FINE_UNDER = 50.0
"""Lengths under this are small, as gaps and leans are, and are written twice as fine; mm."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """One alternative in its opening, as every rule gets it."""

    brief: Brief
    opening: Opening
    alternative: Alternative

    @property
    def job(self) -> Job:
        """The job as stated."""
        return self.brief.job

    @property
    def choice(self) -> Choice:
        """What the alternative decides."""
        return self.alternative.choice

    @property
    def enclosure(self) -> Enclosure | None:
        """The panes that go in, or None where nothing does."""
        made = self.alternative.made
        return made if isinstance(made, Enclosure) else None

    @property
    def boxed(self) -> bool:
        """The glass comes ready made and cannot be changed."""
        return self.job.wanted.make == "boxed set"

    @property
    def confidence(self) -> float:
        """Probability from which on a limit counts as met."""
        return self.limit("decision-confidence").value

    def limit(self, name: str) -> Limit:
        """Return a limit of the shop."""
        return self.brief.profile.limit(name)

    # ---------------------------------------------------------------------------------- glass

    @property
    def lites(self) -> tuple[Lite, ...]:
        """Panes from left to right; none where nothing goes in."""
        return self.enclosure.lites if self.enclosure else ()

    @property
    def door(self) -> Lite:
        """The door, for rules that need one.

        Raises
        ------
        LookupError
            If there is none: the rule did not say that it needs one.

        """
        if self.enclosure is None or self.enclosure.door is None:
            msg = "a rule about doors was applied where there is none"
            raise LookupError(msg)
        return self.enclosure.door

    @property
    def fixed(self) -> tuple[Lite, ...]:
        """Fixed panes, left to right."""
        return tuple(pane for pane in self.lites if pane.kind == "fixed")

    def wanted(self, pane: Lite) -> WantedLite:
        """Return what was asked for of a pane; a mirrored row is read from the other end."""
        row = self.job.wanted.lites
        if tuple(wish.kind for wish in row) != self.choice.order:
            row = row[::-1]
        return row[self.lites.index(pane)]

    @property
    def carrier(self) -> Lite | None:
        """The pane that a door on glass hinges hangs on."""
        if self.choice.hung_on != "glass" or self.enclosure is None:
            return None
        at = self.lites.index(self.door) + (-1 if self.choice.hinge_side == "left" else 1)
        return self.lites[at]

    def joints(self, *ends: str) -> Iterator[Joint]:
        """Joints between all the named ends: a pane's id, `left wall`, `curb`."""
        joints = self.enclosure.joints if self.enclosure else ()
        return (joint for joint in joints if set(ends) <= set(joint.between))

    def gaps(self, *ends: str) -> tuple[Gap, ...]:
        """Gaps between the named ends, lowest or leftmost first."""
        found = (gap for joint in self.joints(*ends) for gap in joint.gaps)
        return tuple(sorted(found, key=lambda gap: gap.at))

    # ------------------------------------------------------------------------------- hardware

    @property
    def hinge(self) -> Hinge:
        """The hinge that the door hangs on."""
        box = self.brief.boxed_set
        chosen = self.job.hardware
        on_glass = self.choice.hung_on == "glass"
        ordered = chosen.glass_hinge if on_glass else chosen.hinge
        return self.brief.item(box.hinge if box else ordered, Hinge)

    @property
    def wall_fitting(self) -> Channel | Clamp | OpenJoint:
        """What holds fixed glass to a wall."""
        box = self.brief.boxed_set
        item = self.brief.items[box.wall if box else self.job.hardware.wall]
        if not isinstance(item, Channel | Clamp | OpenJoint):
            msg = f"{item.id} is a {item.kind} and holds no glass to a wall"
            raise TypeError(msg)
        return item

    @property
    def fittings(self) -> tuple[Item, ...]:
        """Everything that holds, seals or opens glass in this alternative, each once."""
        chosen, box, order = self.job.hardware, self.brief.boxed_set, self.choice.order
        ids: list[str] = []
        if "door" in order:
            strike, sweep = (box.strike, box.sweep) if box else (chosen.strike, chosen.sweep)
            ids += [self.hinge.id, strike, sweep, *([] if box else [chosen.handle])]
        if "fixed" in order:
            ids += [box.wall] if box else [chosen.wall, chosen.curb]
        if ("fixed", "fixed") in pairwise(order):
            ids.append(chosen.between)
        return tuple(self.brief.items[i] for i in dict.fromkeys(ids) if i != "none")

    def fitting(self, name: str) -> str:
        """Say in a word what a hole or a cut-out is for: `hinge`, `handle`, `clamp`."""
        return self.brief.items[name].kind if name in self.brief.items else name

    @property
    def plates(self) -> tuple[float, ...]:
        """Heights of the hinge plates' centres above the datum; none where nothing goes in."""
        if self.enclosure is None or self.enclosure.door is None:
            return ()
        door = self.enclosure.door
        return tuple(sorted(door.origin[1] + height for height in door.hinge_heights))

    # ---------------------------------------------------------------------------------- walls

    @property
    def hinge_wall(self) -> Side | None:
        """The wall that carries the door, or None."""
        return self.choice.hinge_side if self.choice.hung_on == "wall" else None

    @property
    def carrying_wall(self) -> Side:
        """The wall that carries the door, for rules that need one.

        Raises
        ------
        LookupError
            If none does: the rule did not say that it needs one.

        """
        if self.hinge_wall is None:
            msg = "a rule about hinge walls was applied where no door hangs on a wall"
            raise LookupError(msg)
        return self.hinge_wall

    @property
    def fixed_walls(self) -> tuple[Side, ...]:
        """Walls that a fixed pane meets."""
        ends = {"left": self.choice.order[0], "right": self.choice.order[-1]}
        return tuple(s for s in self.opening.walls if ends[s] == "fixed")

    @property
    def used_walls(self) -> tuple[Side, ...]:
        """Walls that anything is screwed to."""
        return tuple(s for s in SIDES if s == self.hinge_wall or s in self.fixed_walls)

    def wall(self, side: Side) -> Wall:
        """Return what was said of a wall; a wall that was not described is wholly unknown."""
        return self.job.wall(side) or Wall()

    @property
    def top(self) -> float:
        """Height of the top of the glass above the datum."""
        return float(self.job.wanted.height)

    def foot(self, side: Side) -> float:
        """Height of the curb at a wall above the datum, mm."""
        name = f"curb {side}"
        known = self.opening.knows(name)
        return self.opening.estimate(self.opening.entry(name)).value if known else 0.0

    def rise(self, side: Side) -> float:
        """Height from the curb at a wall to the top of the glass, mm."""
        return self.top - self.foot(side)

    def lean(self, side: Side) -> Estimate:
        """How far a wall leans into the opening from the curb to the top of the glass, mm."""
        return self.opening.estimate(self.opening.lean(side, self.foot(side), self.top))

    def width(self, height: float) -> Estimate:
        """Width from wall to wall at a height, for openings that have two walls."""
        opening = self.opening
        return opening.estimate(opening.wall("right", height) - opening.wall("left", height))

    # ------------------------------------------------------------------------------- readings

    def reading(self, reading_id: str) -> Reading | None:
        """Return the reading of that id; a nameless one goes by its place in the list, `r3`."""
        for number, reading in enumerate(self.job.readings, start=1):
            if reading_id == (reading.id or f"r{number}"):
                return reading
        return None

    def next_reading(self, otherwise: str) -> str:
        """Say which reading to take next: what the adjustment advises, or else `otherwise`."""
        return asked(self.opening.advice[0]) if self.opening.advice else otherwise

    # ---------------------------------------------------------------------------------- words

    def say(self, mm: float) -> str:
        """Write a length in the job's unit, small ones finer."""
        return self._written(mm, fine=abs(mm) < FINE_UNDER)

    def size(self, mm: float) -> str:
        """Write a place or a size in the job's unit, no finer than it is set out with."""
        return self._written(mm, fine=False)

    def _written(self, mm: float, *, fine: bool) -> str:
        unit, parts = self.job.unit, self.brief.profile.fraction * (1 + fine)
        places = (unit == "cm") + fine
        one = {"in": 25.4 / parts, "cm": 10.0 / 10**places, "mm": 1.0 / 10**places}[unit]
        under = "under " if NOTHING < abs(mm) < one / 2 else ""
        shown = one if under else mm
        if unit == "in":
            return f"{under}{inches(shown, parts)}"
        amount = shown / 10 if unit == "cm" else shown
        return f"{under}{round(amount, places) + 0.0:.{places}f} {unit}"

    def weigh(self, kg: float) -> str:
        """Write a mass; jobs in inches read pounds first."""
        kilograms = f"{kg:.1f} kg"
        return f"{kg / POUND:.0f} lb ({kilograms})" if self.job.unit == "in" else kilograms

    def give(self, value: Estimate) -> str:
        """Write a length with what it may be off by, two standard deviations either way."""
        off = self.say(COVERAGE * value.sd)
        return (
            f"{self.say(value.value)} (give or take {off})" if value.sd else self.say(value.value)
        )


def asked(reading: NextReading) -> str:
    """Write a reading to take as a sentence."""
    words = reading.words.rstrip(".")
    return f"{words[:1].upper()}{words[1:]}."
