"""Every way to build what the wishes leave open, each fitted."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from hangtrue.fit import boxed
from hangtrue.fit.bars import bars
from hangtrue.fit.demands import Edge, usual_width
from hangtrue.fit.enclosure import Alternative, Choice, Clash, Enclosure, HungOn, Lite, NoFit
from hangtrue.fit.entries import BOTTOM_LEFT, BOTTOM_RIGHT, CORNERS, Z_LEFT, panes_of
from hangtrue.fit.folding import folded
from hangtrue.fit.footing import standing
from hangtrue.fit.gaps import gaps
from hangtrue.fit.glass import glass_mass_kg
from hangtrue.fit.goals import Task, shortfall
from hangtrue.fit.heads import headed
from hangtrue.fit.joining import joints, least_margin
from hangtrue.fit.layout import Fittings, Way, fittings, row
from hangtrue.fit.panes import CutInTwoError, lites
from hangtrue.fit.places import Places, top_of
from hangtrue.fit.room import Room, room
from hangtrue.fit.rows import Row
from hangtrue.fit.scene import Scene
from hangtrue.fit.sizes import (
    Answer,
    Setting,
    Stuck,
    first_corners,
    raking_edges,
    size,
    worth_raking,
)
from hangtrue.fit.splitting import split
from hangtrue.fit.steps import step_joints
from hangtrue.fit.transoms import NoRoomError, transom_joints, transoms
from hangtrue.fit.ways import items_on, thicknesses, ways
from hangtrue.fit.wording import gap_words, said
from hangtrue.job.brief import Brief
from hangtrue.job.document import LiteKind
from hangtrue.job.hardware import Hinge
from hangtrue.job.readings import Side
from hangtrue.measure.opening import Opening, Vector
from hangtrue.phrase import join, phrase

Cut = Literal["raked", "square", "boxed"]

TWO, THREE = 2, 3
SQUARE = 1e-6
"""Edges this little out of square are square, mm."""
TRIES = 3
"""What is below the panes is looked for again until they stand on what was found."""
MOVED = 0.5
"""mm by which a top, or mm in a metre by which a step may be elsewhere without a second look."""


def fit(brief: Brief, opening: Opening) -> tuple[Alternative, ...]:
    """Fit every way that the wishes leave open, in the order of hinge side, row and thickness.

    Returns
    -------
    At least one alternative; those that do not go in say why.

    """
    found = tuple(a for way in ways(brief) for a in _alternatives(brief, opening, way))
    return found or (Alternative(made=_nothing_to_hang_on(brief)),)


# ---------------------------------------------------------------------- one way


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """What came of one way with one number of hinges: as made, and as squared, if that differs."""

    made: Enclosure | NoFit
    squared: Enclosure | NoFit | None


def _alternatives(brief: Brief, opening: Opening, way: Way) -> Iterator[Alternative]:
    used = fittings(brief)
    offered = thicknesses(brief, used, way)
    if not offered:
        yield Alternative(made=_no_glass(brief, used, way))
        return
    turned = row(brief, way, TWO).turns
    found: dict[tuple[int, float], Found] = {}
    parted: Way | None = None
    for thickness in offered:
        # Where the glass line turns, sizes depend on the thickness of the glass; else they do not.
        glass = thickness if turned else 0.0

        def with_hinges(count: int, glass: float = glass) -> Found:
            known = found.get((count, glass)) or _found(brief, opening, way, count, glass)
            return found.setdefault((count, glass), known)

        best = with_hinges(THREE if brief.job.hardware.hinges == THREE else TWO)
        if brief.job.hardware.hinges == "free" and _too_heavy(brief, best, used, thickness):
            best = with_hinges(THREE)
        made = _of_glass(best.made, thickness)
        yield Alternative(
            made=_as_it_comes(brief, way, made),
            squared=best.squared and _of_glass(best.squared, thickness),
        )
        if not way.stops and isinstance(best.made, Enclosure):
            parted = parted or split(brief, way, best.made)
    if parted:
        yield from _alternatives(brief, opening, parted)


def _too_heavy(brief: Brief, found: Found, used: Fittings, thickness: float) -> bool:
    """Whether a door is more than two hinges carry and its hinge is made to hang by three."""
    made = found.made
    if isinstance(made, NoFit) or made.choice.cut == "boxed":
        return False

    def heavy(door: Lite) -> bool:
        hinge = brief.item(used.hinge_on(door.hung_on), Hinge)
        mass_kg = glass_mass_kg(door.area, thickness)
        return hinge.mass_third_kg is not None and mass_kg > hinge.mass_kg

    return any(heavy(door) for door in made.doors if door.hung_on)


def _of_glass(made: Enclosure | NoFit, thickness: float) -> Enclosure | NoFit:
    """The same with this thickness written on it."""
    choice = replace(made.choice, thickness=thickness)
    if isinstance(made, NoFit):
        return replace(made, choice=choice)
    panes = tuple(
        p
        if p.bevelled
        else replace(p, thickness=thickness, mass_kg=glass_mass_kg(p.area, thickness))
        for p in made.lites
    )
    return replace(made, choice=choice, lites=panes)


def _as_it_comes(brief: Brief, way: Way, made: Enclosure | NoFit) -> Enclosure | NoFit:
    """Panes of a boxed set with their own thickness, and their maker's mass where it is known."""
    if brief.boxed_set is None or isinstance(made, NoFit):
        return made
    panes = brief.boxed_set.panes[::-1] if way.mirrored else brief.boxed_set.panes
    return replace(
        made,
        lites=tuple(
            replace(
                lite,
                thickness=float(pane.thickness),
                mass_kg=pane.mass_kg or glass_mass_kg(lite.area, float(pane.thickness)),
            )
            for lite, pane in zip(made.lites, panes, strict=True)
        ),
    )


def _found(brief: Brief, opening: Opening, way: Way, hinges: int, thickness: float = 0.0) -> Found:
    """Fit one way: in the mirror where its hinges are on the right, so that mirror images agree."""
    laid = row(brief, way, hinges, thickness)
    mirrored = way.hinge_side == "right" or (way.hinge_side is None and laid.joints[0] is None)
    reach, last = _reach(brief, laid, laid.runs[0]), _reach(brief, laid, laid.runs[-1])
    seen = room(opening, reach, mirrored=mirrored, last_reach=last)
    real = room(opening, reach, mirrored=False, last_reach=last)
    near = first_corners(brief, laid, real)
    for _ in range(TRIES):
        laid = headed(brief, standing(laid, real, near), real, near)
        solved = laid.mirrored() if mirrored else laid
        view = View(brief=brief, way=way, solved=solved, seen=seen, laid=laid, real=real)
        if brief.boxed_set:
            made = boxed.place(brief, solved, seen, brief.boxed_set)
            return Found(made=view.told(made, "boxed"), squared=None)
        answer, cut, square = made_to_measure(brief, solved, seen)
        if isinstance(answer, Stuck):
            break
        near = seen.unmirrored(answer.corners, len(laid.panes))
        if view.stands(near):
            break
    return Found(
        made=view.told(answer, cut), squared=None if square is None else view.told(square, "square")
    )


def _reach(brief: Brief, laid: Row, run: range) -> float:
    """Length of curb that a run is taken to need where it has a free end."""
    return math.fsum(
        pane.given[0] if pane.given else pane.wished or usual_width(brief, pane)
        for pane in (laid.panes[i] for i in run)
    )


def made_to_measure(brief: Brief, laid: Row, seen: Room) -> tuple[Answer, Cut, Answer | None]:
    """Cut square if that keeps the margin and no wall leans enough to be seen; raked otherwise.

    Returns
    -------
    How it is made, its cut, and how it would be if cut square (None where it is).

    """
    near = gaps(laid, seen, first_corners(brief, laid, seen), brief.profile)
    square = size(brief, laid, seen, (), near)
    raked: Answer | None = None
    leaning, every = _leaning(brief, laid, seen), raking_edges(laid)
    if leaning:
        raked = size(brief, laid, seen, leaning, near)
    if set(every) != set(leaning) and worth_raking(brief, laid, every, near, raked or square):
        raked = size(brief, laid, seen, every, near)
    if raked is None or (isinstance(square, Setting) and not _rakes(laid, raked)):
        return square, "square", None
    return raked, "raked", square


def _rakes(laid: Row, answer: Answer) -> bool:
    """Whether any pane came out of square."""
    if isinstance(answer, Stuck):
        return False
    bl, br, tr, tl, left, right = panes_of(answer.corners, len(laid.panes)).T
    return bool(np.abs(np.concatenate([bl - tl, br - tr, left - right])).max() > SQUARE)


def _leaning(brief: Brief, laid: Row, seen: Room) -> tuple[Edge, ...]:
    """Edges whose wall leans, or whose curb falls, by more than a square edge hides."""
    most = brief.profile.limit("rake-wanted-over").value
    near = first_corners(brief, laid, seen)
    edges = []
    for i, name in raking_edges(laid):
        pane = near[i * CORNERS : (i + 1) * CORNERS]
        if name == "bottom":
            rise = seen.base_rise(laid.panes[i].on, laid.panes[i].run)
            off = rise * (pane[BOTTOM_RIGHT] - pane[BOTTOM_LEFT])
        else:
            side: Side = "left" if name == "left" else "right"
            x, _ = seen.walls(side, np.array([pane[Z_LEFT], top_of(laid, near, i, side)]))
            off = x[1] - x[0]
        if abs(off) > most:
            edges.append((i, name))
    return tuple(edges)


# ---------------------------------------------------------------------- the answer


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class View:
    """A way as it was solved, perhaps in the mirror, and as it is told."""

    brief: Brief
    way: Way
    solved: Row
    seen: Room
    laid: Row
    real: Room

    def stands(self, corners: Vector) -> bool:
        """Whether panes set there stand on what they were thought to stand on."""
        again = headed(self.brief, standing(self.laid, self.real, corners), self.real, corners)
        return all(
            a.on == b.on
            and np.allclose(a.leg, b.leg, rtol=0.0, atol=MOVED / 1000.0)
            and np.allclose((*a.lift, *a.rise), (*b.lift, *b.rise), rtol=0.0, atol=MOVED)
            for a, b in zip(again.panes, self.laid.panes, strict=True)
        )

    def told(self, answer: Answer, cut: Cut) -> Enclosure | NoFit:
        """Turn an answer into panes and joints, or into what clashes."""
        choice = Choice(
            order=self.way.order,
            mirrored=self.way.mirrored,
            hinge_side=self.way.hinge_side,
            hung_on=self.way.hung_on,
            second=self.way.second,
            split=tuple(dict.fromkeys(stop.step for stop in self.way.stops)),
            thickness=1.0,
            cut=cut,
        )
        if isinstance(answer, Stuck):
            return self.no_fit(answer.task, choice)
        try:
            return self.enclosure(answer, choice)
        except CutInTwoError as error:
            words = phrase(
                "{pane}: one piece of glass beside its steps, hinges and clamps", pane=error.pane
            )
            why = phrase("Steps and fittings together cut {pane} in two.", pane=error.pane)
            return _no_pane(choice, error.pane, words, why)
        except NoRoomError as error:
            words = phrase(
                "{pane}: some height and width between door, neighbours and ceiling",
                pane=error.pane,
            )
            why = phrase(
                "Door, neighbours and ceiling leave no room for {pane}.", pane=f"the {error.pane}"
            )
            return _no_pane(choice, error.pane, words, why)

    def enclosure(self, answer: Setting, choice: Choice) -> Enclosure:
        """Draw the panes and predict the gaps where the room really is."""
        setting = replace(
            answer,
            sized=self.seen.unmirrored(answer.sized, len(self.laid.panes)),
            corners=self.seen.unmirrored(answer.corners, len(self.laid.panes)),
        )
        laid = answer.row.mirrored() if self.seen.mirrored else answer.row
        found = gaps(laid, self.real, setting.corners, self.brief.profile)
        scene = Scene(
            brief=self.brief,
            row=laid,
            room=self.real,
            used=fittings(self.brief),
            setting=setting,
            gaps=found,
            boxed=choice.cut == "boxed",
        )
        steps = [j for i in range(len(laid.panes)) for j in step_joints(scene, i)]
        over = [j for made in transoms(scene) for j in transom_joints(scene, made)]
        between = (*joints(found, setting.corners, self.real), *steps, *over)
        panes = lites(scene, laid.thickness or choice.thickness)
        return Enclosure(
            choice=choice,
            lites=panes,
            joints=between,
            margin=least_margin(between),
            runs=folded(laid, self.real, self.brief.job.wanted.front),
            bars=bars(scene, panes),
        )

    def no_fit(self, task: Task, choice: Choice) -> NoFit:
        """Name the requirements that cannot all hold."""
        missing, prices = shortfall(task)
        clashes = tuple(self._clashes(task, prices))
        words = join("; ", (c.requirement for c in clashes))
        short = said(missing, self.brief.job.unit)
        why = phrase("These cannot all hold, by {short} each: {words}.", short=short, words=words)
        return NoFit(choice=choice, missing=missing, clashes=clashes, why=why)

    def _clashes(self, task: Task, prices: Vector) -> Iterator[Clash]:
        """Requirements with a price: gaps first, then bounds."""
        for places, rows in task.gaps.sections:
            for k, price in enumerate(prices[rows]):
                if price != 0:
                    yield self._gap_clash(places, k, least=price > 0)
        for demand, price in zip(task.demands, prices[len(task.gaps.sigma) :], strict=True):
            if price != 0:
                words = demand.least_words if price > 0 else demand.most_words
                yield Clash(requirement=words, joint=demand.joint, at=demand.at)

    def _gap_clash(self, places: Places, k: int, *, least: bool) -> Clash:
        at = float(places.at[k])
        if self.seen.mirrored and not places.joint.upright:
            at = self.seen.foot_right - at
        limit = places.ranges[k].least if least else places.ranges[k].most
        words = gap_words(places.joint, at, limit, self.brief.job.unit, least=least)
        return Clash(requirement=words, joint=places.joint.id, at=at)


def _no_pane(choice: Choice, pane: str, words: str, why: str) -> NoFit:
    clash = Clash(requirement=words, joint=pane, at=0.0)
    return NoFit(choice=choice, missing=0.0, clashes=(clash,), why=why)


def _no_glass(brief: Brief, used: Fittings, way: Way) -> NoFit:
    unit = brief.job.unit
    clashes = tuple(
        Clash(
            requirement=phrase(
                "{fitting} takes glass of {least} to {most}",
                fitting=i.id,
                least=said(i.glass_least, unit),
                most=said(i.glass_most, unit),
            ),
            joint=i.id,
            at=0.0,
        )
        for i in items_on(brief, used, way)
    )
    choice = _bare_choice(way.order, way.hinge_side, way.hung_on)
    why = "No glass that the plant offers suits every fitting of this row."
    return NoFit(choice=choice, missing=0.0, clashes=clashes, why=why)


def _nothing_to_hang_on(brief: Brief) -> NoFit:
    """No wall and no fixed pane is beside the door where its hinges should be."""
    order = tuple(lite.kind for lite in brief.job.wanted.lites)
    words = "hinges need a wall or a fixed pane beside the door"
    why = "A door has no wall and no fixed pane to hang on at the side that its hinges may be."
    if order.count("door") > TWO:
        words = "a row has at most two doors"
        why = "A row with more than two doors is not planned here."
    clash = Clash(requirement=words, joint="door", at=0.0)
    choice = _bare_choice(order, None, None)
    return NoFit(choice=choice, missing=0.0, clashes=(clash,), why=why)


def _bare_choice(
    order: tuple[LiteKind, ...], hinge_side: Side | None, hung_on: HungOn | None
) -> Choice:
    return Choice(order=order, hinge_side=hinge_side, hung_on=hung_on, thickness=0.0, cut="square")
