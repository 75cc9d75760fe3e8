"""What a rule looks at: the brief, the opening and one alternative, with the facts they imply."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from hangtrue.check.hung import Hung, wishes
from hangtrue.estimate import Estimate
from hangtrue.fit.enclosure import Alternative, Choice, Enclosure, Gap, HungOn, Joint, Lite
from hangtrue.job.brief import Brief
from hangtrue.job.document import Answer, Job, Wall, WantedLite
from hangtrue.job.hardware import Channel, Clamp, Hinge, Item
from hangtrue.job.hardware import Joint as OpenJoint
from hangtrue.job.profile import Limit
from hangtrue.job.readings import Reading, Side
from hangtrue.measure.opening import Linear, NextReading, Opening
from hangtrue.odds.odds import Odds
from hangtrue.phrase import phrase, reshaped
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
    odds: Odds | None = None
    """The chance of the day, where it was worked out."""

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
        """Panes from left to right, then transoms; none where nothing goes in."""
        return self.enclosure.lites if self.enclosure else ()

    @property
    def row(self) -> tuple[Lite, ...]:
        """Panes that stand on what is below, from left to right: all but transoms."""
        return tuple(pane for pane in self.lites if pane.kind != "transom")

    @property
    def fixed(self) -> tuple[Lite, ...]:
        """Fixed panes, left to right."""
        return tuple(pane for pane in self.lites if pane.kind == "fixed")

    @property
    def runs(self) -> range:
        """Numbers of the straight parts of the glass line."""
        return range(1, self.opening.corners + 2)

    def curb_named(self, run: int) -> str:
        """Name the curb of a run: `curb`, or `curb of run 2` where there are more."""
        return "curb" if len(self.runs) == 1 else phrase("curb of run {run}", run=run)

    def covered(self, run: int) -> str:
        """Name of the step that the whole of a run stands on; empty where there is none."""
        whole = (s.name for s in self.job.steps if s.run == run and s.from_ is None is s.to)
        return next(whole, "")

    def wanted(self, pane: Lite) -> WantedLite:
        """Return what was asked for of a pane of the row, however the row was built."""
        asked = wishes(self.row, self.job.wanted.lites, mirrored=self.choice.mirrored)
        return asked[self.row.index(pane)]

    # ---------------------------------------------------------------------------------- doors

    @property
    def hung(self) -> tuple[Hung, ...]:
        """Every door with what it hangs on, from left to right."""
        choice = self.choice
        if choice.hinge_side is None or choice.hung_on is None:
            return ()
        ways = [(choice.hinge_side, choice.hung_on), *([choice.second] if choice.second else [])]
        doors = self.enclosure.doors if self.enclosure else (None,) * len(ways)
        names = ["door"] if len(ways) == 1 else ["door 1", "door 2"]
        rows = zip(names, ways, doors, strict=False)
        return tuple(self._hung(name, *way, door) for name, way, door in rows)

    def _hung(self, name: str, side: Side, on: HungOn, door: Lite | None) -> Hung:
        box, chosen = self.brief.boxed_set, self.job.hardware
        ordered = box.hinge if box else chosen.glass_hinge if on == "glass" else chosen.hinge
        hinge = self.brief.item(ordered, Hinge)
        if door is None:
            return Hung(id=name, side=side, on=on, hinge=hinge)
        carrier = self.beside(door, side) if on == "glass" else None
        met = next(self.joints(door.id, carrier.id), None) if carrier else None
        return Hung(
            id=door.id,
            side=side,
            on=on,
            hinge=hinge,
            door=door,
            carrier=carrier,
            corner=met.corner if met else None,
            stop=self.wanted(door).stop,
            plates=tuple(sorted(door.origin[1] + height for height in door.hinge_heights)),
        )

    @property
    def door(self) -> Lite:
        """The door, or the first of two, for rules that need one.

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
    def wall_hung(self) -> tuple[tuple[Hung, Side], ...]:
        """Doors that hang on a wall, and the wall."""
        return tuple((door, door.wall) for door in self.hung if door.wall)

    def hung_on_wall(self, side: Side) -> Hung | None:
        """Return the door that hangs on that wall."""
        return next((door for door, wall in self.wall_hung if wall == side), None)

    def carries(self, pane: Lite) -> bool:
        """Whether a door hangs on this pane."""
        return any(door.carrier == pane for door in self.hung)

    def held(self, pane: Lite) -> Answer:
        """Whether the top of a pane is held: by a bar, by the ceiling, or as somebody said."""
        bars = self.enclosure.bars if self.enclosure else ()
        placed = {bar.holds for bar in bars} or {bar.holds for bar in self.job.wanted.bars}
        top = next((edge.meets for edge in pane.edges if edge.where == "top"), "free")
        return "yes" if pane.id in placed or top == "ceiling" else self.wanted(pane).head_support

    def beside(self, pane: Lite, side: Side) -> Lite | None:
        """Return the next pane of the row on that side, round a corner too; None at the end."""
        at = self.row.index(pane) + (-1 if side == "left" else 1)
        return self.row[at] if 0 <= at < len(self.row) else None

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
        ids = dict.fromkeys(self._fitted())
        return tuple(self.brief.items[i] for i in ids if i != "none")

    def _fitted(self) -> Iterator[str]:
        """Ids of what holds, seals or opens glass, with repeats."""
        chosen, box, order = self.job.hardware, self.brief.boxed_set, self.choice.order
        yield from (door.hinge.id for door in self.hung)
        if "door" in order:
            strike, sweep = (box.strike, box.sweep) if box else (chosen.strike, chosen.sweep)
            yield from (strike, sweep, *([] if box else [chosen.handle]))
        if "fixed" in order:
            yield from ([box.wall] if box else [chosen.wall, chosen.curb])
        if ("fixed", "fixed") in pairwise(order) and not self._only_at_corners():
            yield chosen.between
        if self.job.wanted.turns:
            yield chosen.corner
        heads = {wish.head for wish in self.job.wanted.lites}
        if heads - {"level"}:
            yield chosen.ceiling
        if "transom" in heads:
            yield chosen.transom
        yield from (bar.fitting for bar in self.job.wanted.bars)

    def _only_at_corners(self) -> bool:
        """Whether no two fixed panes meet in one straight run."""
        runs = self.job.wanted.runs
        if len(runs) == 1 or self.choice.split:
            return False
        kinds = [[self.job.wanted.lites[i].kind for i in run] for run in runs]
        return not any(("fixed", "fixed") in pairwise(run) for run in kinds)

    def fitting(self, name: str) -> str:
        """Say in a word what a hole or a cut-out is for: `hinge`, `handle`, `clamp`."""
        return self.brief.items[name].kind if name in self.brief.items else name

    # ---------------------------------------------------------------------------------- walls

    @property
    def fixed_walls(self) -> tuple[Side, ...]:
        """Walls that a fixed pane meets."""
        ends = {"left": self.choice.order[0], "right": self.choice.order[-1]}
        return tuple(s for s in self.opening.walls if ends[s] == "fixed")

    def at_wall(self, side: Side) -> Lite:
        """Return the pane of the row at that end of the glass line."""
        return self.row[0 if side == "left" else -1]

    @property
    def used_walls(self) -> tuple[Side, ...]:
        """Walls that anything is screwed to."""
        barred = {bar.to for bar in self.job.wanted.bars}
        return tuple(
            s
            for s in SIDES
            if self.hung_on_wall(s) or s in self.fixed_walls or f"{s} wall" in barred
        )

    def wall(self, side: Side) -> Wall:
        """Return what was said of a wall; a wall that was not described is wholly unknown."""
        return self.job.wall(side) or Wall()

    @property
    def top(self) -> float:
        """Height of the level top line of the glass above the datum."""
        return float(self.job.wanted.height)

    def top_at(self, side: Side) -> float:
        """Height of the top of the glass at that end of the glass line, mm."""
        asked = self.job.wanted.lites[:: -1 if self.choice.mirrored else 1]
        head = asked[0 if side == "left" else -1].head
        if head == "transom" and self.job.wanted.transom_at is not None:
            return float(self.job.wanted.transom_at)
        if head != "ceiling" or not self.opening.has_ceiling:
            return self.top
        at = self.opening.estimate(self.opening.end(side)).value
        return self.opening.estimate(self.opening.ceiling(at)).value

    def foot(self, side: Side) -> float:
        """Height of what the glass stands on at a wall above the datum, mm: curb, cap of a step."""
        opening = self.opening
        name = f"curb {side}"
        curb = opening.estimate(opening.entry(name)).value if opening.knows(name) else 0.0
        return max([curb, *(opening.estimate(cap).value for cap in self._caps(side))])

    def _caps(self, side: Side) -> Iterator[Linear]:
        """Heights of the caps of steps that reach to that end of the glass line."""
        run = 1 if side == "left" else self.opening.corners + 1
        for step in self.job.steps:
            reaches = (step.from_ if side == "left" else step.to) is None and step.run == run
            if reaches and step.name in self.opening.steps:
                shape = self.opening.step(step.name)
                yield shape.top_left if side == "left" else shape.top_right

    def rise(self, side: Side) -> float:
        """Height from what the glass stands on at a wall to its top there, mm."""
        return self.top_at(side) - self.foot(side)

    def lean(self, side: Side) -> Estimate:
        """How far a wall leans into the opening over the height of the glass at it, mm."""
        foot, top = self.foot(side), self.top_at(side)
        return self.opening.estimate(self.opening.lean(side, foot, top))

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
        under = NOTHING < abs(mm) < one / 2
        shown = one if under else mm
        if unit == "in":
            written = inches(shown, parts)
        else:
            amount = shown / 10 if unit == "cm" else shown
            written = f"{round(amount, places) + 0.0:.{places}f} {unit}"
        return phrase("under {length}", length=written) if under else written

    def weigh(self, kg: float) -> str:
        """Write a mass; jobs in inches read pounds first."""
        kilograms = f"{kg:.1f} kg"
        return f"{kg / POUND:.0f} lb ({kilograms})" if self.job.unit == "in" else kilograms

    def give(self, value: Estimate) -> str:
        """Write a length with what it may be off by, two standard deviations either way."""
        length, off = self.say(value.value), self.say(COVERAGE * value.sd)
        return (
            phrase("{length} (give or take {off})", length=length, off=off) if value.sd else length
        )


def asked(reading: NextReading) -> str:
    """Write a reading to take as a sentence."""
    return reshaped(reading.words, _as_sentence)


def _as_sentence(words: str) -> str:
    words = words.rstrip(".")
    return f"{words[:1].upper()}{words[1:]}."
