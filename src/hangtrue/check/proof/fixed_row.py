"""What holds fixed glass to a wall: rows of fixings, and what leaning glass asks of each."""

# ruff: noqa: N815 - units keep their capitals

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Literal

from hangtrue.check.case import Case
from hangtrue.check.hung import Hung
from hangtrue.check.proof import hung_door
from hangtrue.check.proof.bending import Answer, Bent, opened
from hangtrue.check.proof.held_pane import HeldPane, barred_at, clamped_at, pieces_in
from hangtrue.fit.enclosure import Bar, Joint, Lite
from hangtrue.geometry import at_height, evenly
from hangtrue.job.hardware import Channel, Clamp, HeadBar
from hangtrue.job.readings import Side
from hangtrue.job.shop_tables import laid, shipped
from hangtrue.mechanics.customary import GRAVITY
from hangtrue.mechanics.plate_pushes import Push, shared
from hangtrue.tables import Table, table
from hangtrue.units import length

Holder = Literal["channel", "clamp", "bar"]
DOOR_OPEN = "the door stands open square"
"""Name of the load of a door that hangs on the pane and stands open; it stays."""
DOOR_SHUT = "the shut door tips the pane with its weight"
OFF_EDGE = 25.0
"""mm from the edge at which a glass hinge grips the pane that carries it, beyond its cut-out."""
STEEP = 0.3
"""Share of a bar's length across the glass from which on it is a strut; less is a header."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """Fixings of one fitting along one wall; mm.

    Attributes
    ----------
    pane
        The pane that it holds.
    heights
        Of its fixings above the datum, lowest first.
    supports
        Numbers of the plate's supports that they carry.
    screws
        In each fixing.
    arm
        From the wall's face to where the glass pushes.
    lever
        From a screw to the edge that the fitting would turn about.
    pull, slide
        What a push of the glass on a bar comes to at the wall: out of it, and along it.
    free
        How near and how far apart fixings of a channel may be; empty for others.

    """

    holder: Holder
    side: Side
    pane: Lite
    heights: tuple[float, ...]
    supports: tuple[int, ...]
    screws: int
    arm: float
    lever: float
    pull: float = 0.0
    slide: float = 1.0
    free: tuple[float, float] | tuple[()] = ()

    def with_count(self, count: int) -> Row:
        """Return a channel on so many fixings, spread evenly over the same length."""
        low, high = self.heights[0], self.heights[-1]
        return replace(self, heights=evenly(low, high, (high - low) / (count - 1)))


@dataclass(frozen=True, slots=True, kw_only=True)
class Demand:
    """What a load asks of each screw of one fixing, N, before any factor.

    Attributes
    ----------
    push_N, couple_Nmm
        Of the glass on the whole fixing: across the glass, and turning the fitting.

    """

    load: str
    what: str
    source: str
    duration: str
    bracket: str
    height: float
    push_N: float
    couple_Nmm: float
    tension_N: float
    shear_N: float

    @property
    def stays(self) -> bool:
        """Whether it is a load that stays."""
        return self.duration == "permanent"


# -------------------------------------------------------------------------------------- the rows


def rows(case: Case, pane: Lite, held: HeldPane) -> Iterator[Row]:
    """Rows of fixings that hold a fixed pane to the walls of the room."""
    for side in ("left", "right"):
        for joint in case.joints(pane.id, f"{side} wall"):
            row = _row(case, pane, held, joint, side)
            if row is not None:
                yield row
    enclosure = case.enclosure
    for bar in enclosure.bars if enclosure else ():
        yield from _bar(case, pane, held, bar)


def _row(case: Case, pane: Lite, held: HeldPane, joint: Joint, side: Side) -> Row | None:
    item = case.brief.items.get(joint.hardware)
    if isinstance(item, Channel):
        return _channel(case, pane, held, joint, side, item)
    if isinstance(item, Clamp):
        return _clamp(case, pane, held, joint, side, item)
    return None


def _channel(
    case: Case, pane: Lite, held: HeldPane, joint: Joint, side: Side, item: Channel
) -> Row | None:
    """Fixings evenly between the ends, as far apart as the shop sets them."""
    pieces = pieces_in(pane, joint)
    numbers = tuple(n for n in map(held.number, pieces) if n is not None)
    if not numbers:
        return None
    spacing = _habits(case)["spacing"]
    ends = [pane.origin[1] + y for piece in pieces for _, y in piece]
    off = float(length(spacing["channel_from_end"][0]))
    most, least = (float(length(spacing[f"channel_apart_{k}"])) for k in ("most", "least"))
    base = table("mechanics/load_cases")["channel-base"]
    gap = max((g.predicted.value for g in joint.gaps), default=float(item.depth) / 2)
    inner = float(item.base) + float(item.depth)
    return Row(
        holder="channel",
        side=side,
        pane=pane,
        heights=evenly(min(ends) + off, max(ends) - off, most),
        supports=numbers,
        screws=1,
        arm=(min(gap, inner) + inner) / 2,
        lever=(held.nominal + float(base["lips"])) / 2,
        free=(least, most),
    )


def _clamp(
    case: Case, pane: Lite, held: HeldPane, joint: Joint, side: Side, item: Clamp
) -> Row | None:
    numbers = tuple(n for n in map(held.number, clamped_at(case, pane, joint)) if n is not None)
    heights = tuple(gap.at for gap in joint.gaps if gap.at_fitting)
    if not numbers or len(numbers) != len(heights):
        return None
    size = float(item.plate_height)
    gap = max(g.predicted.value for g in joint.gaps)
    return Row(
        holder="clamp",
        side=side,
        pane=pane,
        heights=heights,
        supports=numbers,
        screws=max(item.screws, 1),
        arm=gap + size / 2,
        lever=size / 2,
    )


def _bar(case: Case, pane: Lite, held: HeldPane, bar: Bar) -> Iterator[Row]:
    """A bar's flange at a wall: a strut carries along itself, a header across itself."""
    side = {"left wall": "left", "right wall": "right"}.get(bar.to)
    if bar.holds != pane.id or side is None or case.enclosure is None:
        return
    number = held.number(barred_at(case, pane, bar))
    if number is None:
        return
    (x0, y0, _), (x1, y1, z1) = bar.ends
    long = math.hypot(x1 - x0, y1 - y0)
    runs = case.enclosure.runs
    heading = case.enclosure.run(pane.run).heading if runs else 0.0
    across = abs((y1 - y0) * math.cos(heading) - (x1 - x0) * math.sin(heading)) / max(long, 1.0)
    thrust = 1 / across if across >= STEEP else 0.0
    item, habits = case.brief.items.get(bar.hardware), _habits(case)["plate"]
    count = item.flange_screws if isinstance(item, HeadBar) else None
    along = math.sqrt(max(1 - across**2, 0.0))  # rounding may leave it a hair over 1
    yield Row(
        holder="bar",
        side="left" if side == "left" else "right",
        pane=pane,
        heights=(z1,),
        supports=(number,),
        screws=count or int(habits["bar_flange_screws"]),
        arm=0.0,
        lever=1.0,
        pull=thrust * along,
        slide=1.0,
    )


def _habits(case: Case) -> Table:
    return laid(shipped("habits"), _own(case, "habits"))


def _own(case: Case, section: str) -> Table:
    said = case.brief.profile.model_dump(
        mode="json", include={section}, exclude_none=True, exclude_defaults=True
    )
    found: Table = said.get(section, {})
    return found


def screw_size(case: Case, holder: Holder, behind: str) -> tuple[str, float] | None:
    """Number of the screw that the shop fixes with there, and the least thread in wood, mm."""
    known = [*_own(case, "substrates").get("fixing", ()), *shipped("substrates")["fixing"]]
    for one in known:
        if one["holds"] == holder and one["on"] == "wall" and behind in one["into"]:
            return str(one.get("screw", "")), float(length(one.get("thread", "0 mm")))
    return None


# ----------------------------------------------------------------------------------- the demands


def demands(row: Row, answer: Answer) -> tuple[Demand, ...]:
    """What every load asks of every fixing of a row, at the end of the range that decides.

    A channel is taken to guide: its seal lets the edge of the glass tilt the degree or so that it
    wants to. Only where a pane stands by the grip of its channel alone, the grip is counted.
    """
    ends = {bent.bracket for bent in answer.bent}
    end = "guided" if "guided" in ends else next(iter(ends), "")
    found = (d for bent in answer.bent if bent.bracket == end for d in _of(row, bent))
    return tuple(found)


def _of(row: Row, bent: Bent) -> Iterator[Demand]:
    yield from _spread(
        row, bent.pushes, bent.case.id, bent.case.what, bent.case.source, bent.bracket,
        "ten-minutes",
    )  # fmt: skip


def _spread(
    row: Row, pushes: tuple[tuple[Push, ...], ...], load: str, what: str, source: str, bracket: str,
    duration: str,
) -> Iterator[Demand]:  # fmt: skip
    for height, (force, couple) in zip(row.heights, _each(row, pushes), strict=True):
        turning = abs(force) * row.arm + abs(couple)
        yield Demand(
            load=load,
            what=what,
            source=source,
            duration=duration,
            bracket=bracket,
            height=height,
            push_N=abs(force),
            couple_Nmm=abs(couple),
            tension_N=(turning / row.lever + abs(force) * row.pull) / row.screws,
            shear_N=abs(force) * row.slide / row.screws,
        )


def _each(row: Row, pushes: tuple[tuple[Push, ...], ...]) -> tuple[tuple[float, float], ...]:
    """Force and couple of each fixing of a row."""
    mine = [pushes[n] for n in row.supports]
    if row.holder == "channel":
        places = [height - row.pane.origin[1] for height in row.heights]
        return shared(places, (push for each in mine for push in each))
    turns = row.holder == "clamp"
    return tuple((p.force_N, p.couple_x_Nmm if turns else 0.0) for each in mine for p in each)


def door_demands(case: Case, row: Row, held: HeldPane) -> tuple[Demand, ...]:
    """What a door that hangs on the pane asks of its fixings, for good: shut, and open square."""
    found: list[Demand] = []
    for hung in case.hung:
        if hung.carrier == row.pane:
            found += _open(row, held, hung)
            found += _tipped(row, hung)
    return tuple(found)


def _open(row: Row, held: HeldPane, hung: Hung) -> Iterator[Demand]:
    """Open square, the couple of the door pulls and pushes the pane across itself."""
    leaf, carrier = hung_door.leaf(hung), row.pane
    at_left = hung.side == "right"
    low, high = (carrier.corners[0], carrier.corners[3]) if at_left else carrier.corners[1:3]
    heights = tuple(plate - carrier.origin[1] for plate in hung.plates)
    cut = max((float(c.width) for c in hung.hinge.other_cut_outs), default=0.0) + OFF_EDGE
    x = at_height(low, high, sum(heights) / len(heights)) + (cut if at_left else -cut)
    pull = leaf.weight_N * leaf.centre / leaf.spacing
    pushes = opened(held, held.brackets[0], x, heights, pull).pushes
    yield from _spread(row, pushes, "door", DOOR_OPEN, "own", held.brackets[0], "permanent")


def _tipped(row: Row, hung: Hung) -> Iterator[Demand]:
    """Shut, the door tips the pane about its foot, and its top clamp is pulled out of the wall.

    The pane's own weight holds against it. A channel cannot pull at its glass, so it is not asked.
    """
    if row.holder != "clamp":
        return
    leaf, pane = hung_door.leaf(hung), row.pane
    foot = pane.corners[0 if hung.side == "right" else 1][0]
    own = pane.mass_kg * GRAVITY * abs(pane.centroid[0] - foot)
    top = row.heights[-1] - pane.origin[1]
    pull = (leaf.weight_N * leaf.centre - own) / top
    if pull > 0:
        yield Demand(
            load="door", what=DOOR_SHUT, source="own", duration="permanent", bracket="",
            height=row.heights[-1], push_N=0.0, couple_Nmm=pull * row.lever,
            tension_N=pull / row.screws, shear_N=0.0,
        )  # fmt: skip
