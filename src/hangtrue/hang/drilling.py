"""The drilling plan: every hole with its place, layers, bits, depth, fixing, and what is behind."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import count

import numpy as np

from hangtrue.check.finding import Finding, Level
from hangtrue.check.wording import a_fitting, article
from hangtrue.hang.layers import Drilled, drilled
from hangtrue.hang.mounting import GUESSED, Fitted, everything
from hangtrue.hang.records import DrillHole, DrillPlan, Moved
from hangtrue.hang.shop import FixingRule
from hangtrue.hang.snags import Snag
from hangtrue.hang.tile_grid import Mount, Obstructions, from_joints, jointly, outside, short_by
from hangtrue.hang.work import RISER, WALLS, Work, is_upright, the
from hangtrue.job.document import Blocking, Layer, Wall
from hangtrue.phrase import phrase
from hangtrue.units import Length

SOLID = {"blocking", "stud"}
NOT_A_MM = 1e-3
"""A hole short of its clearance by less is clear; mm."""


def drilling(work: Work) -> tuple[DrillPlan, tuple[Snag, ...]]:
    """Plan every hole of an enclosure, and say what cannot be drilled as it stands."""
    rows = [_row(work, fitted) for fitted in everything(work) if fitted.mounts]
    plan = DrillPlan(
        holes=tuple(_numbered(hole for row in rows for hole in row.holes)),
        moved=tuple(moved for row in rows for moved in row.moved),
        bedded=tuple(row.bedded for row in rows if row.bedded),
    )
    return plan, tuple(snag for row in rows for snag in row.snags)


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """The holes of one line, what was moved for them, and what is wrong with them."""

    holes: tuple[DrillHole, ...] = ()
    moved: tuple[Moved, ...] = ()
    bedded: str = ""
    snags: tuple[Snag, ...] = ()


def _row(work: Work, fitted: Fitted) -> Row:
    """Find the rule for one line, place its mounts and drill them."""
    ground = _ground(work, fitted)
    rule = work.shop.fixing(fitted.holds, fitted.on, ground.into)
    if rule is None:
        return Row(snags=(_no_rule(fitted, ground),))
    if rule.bedded:
        return Row(
            bedded=phrase(
                "{fitted}, on {surface}: {fixing}",
                fitted=fitted.name,
                surface=the(fitted.surface),
                fixing=rule.fixing,
            )
        )
    made = _drilled(work, fitted, ground, rule)
    return _placed(work, fitted, ground, rule, made)


def _placed(work: Work, fitted: Fitted, ground: Ground, rule: FixingRule, made: Drilled) -> Row:
    """Move the mounts of a line clear together, and drill them where they are."""
    near, wide = _near(work, ground), _face(made, rule)
    mounts = [replace(m, diameter=wide, depth=made.depth) for m in fitted.mounts]
    places = jointly(
        mounts,
        near,
        apart_least=fitted.apart_least,
        apart_most=fitted.apart_most,
        step=work.shop.mm["spacing.search_step"],
    )
    snags = [*made.snags, *_other_screw(work, fitted, rule)]
    holes: list[DrillHole] = []
    for mount, place in zip(mounts, places, strict=True):
        short = float(short_by(mount, np.array([place]), near)[0])
        if short > NOT_A_MM:
            snags.append(_too_near(work, mount, fitted, short))
        site = Site(work=work, fitted=fitted, ground=ground, rule=rule, made=made, near=near)
        holes.extend(_holes(site, mount, place))
    moved = tuple(_moved(fitted, places))
    snags.extend(_order_so(work, m) for m in moved if m.in_glass)
    return Row(holes=tuple(holes), moved=moved, snags=tuple(snags))


def _moved(fitted: Fitted, places: Sequence[float]) -> Iterator[Moved]:
    for mount, place in zip(fitted.mounts, places, strict=True):
        if abs(place - mount.planned) > NOT_A_MM:
            yield Moved(
                part=mount.part,
                fitting=fitted.item,
                surface=fitted.surface,
                planned=mount.planned,
                placed=place,
                in_glass=fitted.in_glass,
                reach=fitted.reach,
            )


# --------------------------------------------------------------------------------- what it is in


@dataclass(frozen=True, slots=True, kw_only=True)
class Ground:
    """What a surface is made of.

    Attributes
    ----------
    into
        What screws end in, as in the rules.
    wall
        What was said of the wall; None for a curb, a step or a ceiling.

    """

    surface: str
    into: str
    layers: tuple[Layer, ...]
    wall: Wall | None


def _ground(work: Work, fitted: Fitted) -> Ground:
    surface, job = fitted.surface, work.brief.job
    if surface in WALLS:
        wall = work.wall(WALLS[surface])
        return Ground(surface=surface, into=wall.behind, layers=wall.layers, wall=wall)
    if surface == "ceiling":
        above = job.above
        return Ground(surface=surface, into=above.behind, layers=above.layers, wall=None)
    into, layers = _base(work, surface)
    step = work.step(surface)
    if fitted.on == "wall" and step is not None:
        into = step.behind
    return Ground(surface=surface, into=into, layers=layers, wall=None)


def _base(work: Work, surface: str) -> tuple[str, tuple[Layer, ...]]:
    """What a curb, a cap or a riser is made of; of a step nobody spoke of, as the curb."""
    curb, step = work.brief.job.threshold, work.step(surface)
    if step is None or (step.material is None and not step.layers):
        return curb.material, curb.layers
    return step.material or curb.material, step.layers


def _drilled(work: Work, fitted: Fitted, ground: Ground, rule: FixingRule) -> Drilled:
    """One hole stands for all of a line: the layers are the same all along."""
    wood = _wood(ground, fitted.mounts)
    layers = ground.layers
    if fitted.on != "wall" and not layers:
        layers = (Layer(material=ground.into, thickness=Length(rule.anchor_depth)),)
    return drilled(
        fitted.surface,
        layers,
        rule,
        work.shop,
        into=ground.into,
        wood=float(wood.depth) if wood else 0.0,
        species=wood.species if wood else "unknown",
        say=work.say,
    )


def _wood(ground: Ground, mounts: Sequence[Mount]) -> Blocking | None:
    """Return the piece of wood behind all the mounts, the thinnest one where there are several."""
    blocking = ground.wall.blocking if ground.wall else ()
    at = [m.planned for m in mounts]
    behind = [b for b in blocking if b.from_ <= max(at) and b.to >= min(at)]
    return min(behind, key=lambda b: b.depth, default=None)


def _face(made: Drilled, rule: FixingRule) -> float:
    """Diameter of the hole in the face: of the first bit, or as asked for."""
    first = made.passes[0].bit if made.passes else None
    return first.diameter if first else rule.clearance


def _near(work: Work, ground: Ground) -> Obstructions:
    wall, mm = ground.wall, work.shop.mm
    return Obstructions(
        tiles=wall.tiles if wall else None,
        keep_outs=wall.keep_out if wall else (),
        from_tile_edge=mm["clearances.from_tile_edge"],
        keep_out_margin=mm["clearances.keep_out_margin"],
    )


# ------------------------------------------------------------------------------------ the holes


@dataclass(frozen=True, slots=True, kw_only=True)
class Site:
    """Where and how the holes of one line are drilled."""

    work: Work
    fitted: Fitted
    ground: Ground
    rule: FixingRule
    made: Drilled
    near: Obstructions


def _holes(site: Site, mount: Mount, place: float) -> Iterator[DrillHole]:
    """Drill the holes of one mount at its place."""
    work, fitted, rule, made = site.work, site.fitted, site.rule, site.made
    asked = tuple(_proved(work, screw_told(work, fitted), rule.screw))
    for along, across in mount.holes:
        at = place + along
        x, height = at, fitted.fixed_at
        if is_upright(fitted.surface):
            wall = WALLS.get(fitted.surface)
            x, height = work.face(wall, at) if wall else fitted.fixed_at, at
        yield DrillHole(
            id="",
            fitting=fitted.item,
            part=mount.part,
            surface=fitted.surface,
            height=work.above_curb(height),
            above_datum=height,
            along=x,
            off=across,
            passes=made.passes,
            depth=made.depth,
            screw=rule.screw,
            screw_length=made.screw_length,
            fixing=rule.fixing,
            torque=rule.torque,
            behind=rule.behind,
            joint=fitted.joint,
            sleeve=rule.sleeve,
            anchor=rule.anchor,
            edge=_tile_edge(site, at, across),
            shifted=place - mount.planned,
            flags=(*asked, *_flags(site, at, across)),
        )


def _tile_edge(site: Site, at: float, across: float) -> float | None:
    """From the rim of a hole to the nearest edge of its tile, mm."""
    tiles = site.near.tiles
    if tiles is None:
        return None
    clear = from_joints(tiles, np.array([at]), np.array([across]))[0]
    return float(clear) - _face(site.made, site.rule) / 2


def _flags(site: Site, at: float, across: float) -> Iterator[str]:
    """What to look at at one hole."""
    wall, made = site.ground.wall, site.made
    if site.fitted.guessed:
        yield GUESSED
    if made.seals:
        yield "goes through the waterproofing: fill the hole with sealant before the screw"
    elif site.fitted.on == "riser":
        yield "stop short of the waterproofing behind; fill the hole with sealant before the screw"
    elif site.fitted.on == "base":
        yield "stop above the waterproofing; fill the hole with sealant before the screw"
    if site.fitted.on == "wall" and not site.ground.layers:
        yield "nobody said what the layers are: find out, and set the stop deeper by them"
    if site.rule.pilot is not None and (wall is None or not wall.blocking):
        yield "nobody said how thick the wood is: find out before a screw comes through it"
    if wall is None:
        return
    if wall.solid_bedded == "no":
        yield "hollow tile: bed it again or move, it cracks under the plate"
    elif wall.solid_bedded == "unknown":
        yield "tap the tile first: a hollow one cracks under the plate"
    if wall.tiles is None:
        yield "the joints were not read: keep off the edge of the tile"
    if site.rule.pilot is not None and not _wood_at(wall, at, across):
        yield "no wood is known to be here"
    yield from _zones(site, at, across)


def _zones(site: Site, at: float, across: float) -> Iterator[str]:
    """Name the zones that a hole comes too near to."""
    rim = _face(site.made, site.rule) / 2
    for zone in site.near.keep_outs:
        clear = float(outside(zone, np.array([at]), np.array([across]))[0]) - rim
        if site.made.depth > zone.deeper_than and clear < site.near.keep_out_margin - NOT_A_MM:
            yield phrase("too near to {zone}: do not drill", zone=article(zone.name))


def _wood_at(wall: Wall, at: float, across: float) -> bool:
    """Whether wood is known behind a hole; of a stud without figures, that it is there."""
    if wall.behind == "stud" and not wall.blocking:
        return True
    return any(b.from_ <= at <= b.to and abs(across) < b.each_side for b in wall.blocking)


def _numbered(holes: Iterator[DrillHole]) -> Iterator[DrillHole]:
    """Number the holes: W on walls, R in risers, C in what the glass stands on, T overhead."""
    counters = {letter: count(1) for letter in "WRCT"}
    for hole in holes:
        letter = "W" if hole.surface in WALLS else "T" if hole.surface == "ceiling" else "C"
        letter = "R" if hole.surface.startswith(RISER) else letter
        yield replace(hole, id=f"{letter}{next(counters[letter])}")


# ------------------------------------------------------------------------------ what was proved


def screw_told(work: Work, fitted: Fitted) -> Finding | None:
    """Return the finding about the screws of a fitting; None where nothing was proved."""
    held = {bar.id: bar.holds for bar in work.enclosure.bars}.get(fitted.of, fitted.of)
    about = (f for f in work.findings if f.fastened and f.where == fitted.surface)
    mine = (f for f in about if f.fastened and (f.fastened.holds, f.fastened.of) == (
        fitted.holds, held))  # fmt: skip
    return next(mine, None)


def _proved(work: Work, told: Finding | None, screw: str) -> Iterator[str]:
    """Say where the finding about these screws is not about the shop's own."""
    of = told.fastened if told else None
    if told is None or of is None or not screw or of.size == screw:
        return
    if not of.size:
        yield phrase("screw not proved: see the finding {rule} first", rule=told.rule)
        return
    yield phrase(
        "the finding {rule} is for No. {size} screws, {length} below the fitting, not for No. "
        "{shops}",
        rule=told.rule,
        size=of.size,
        length=work.say(of.length),
        shops=screw,
    )


def _other_screw(work: Work, fitted: Fitted, rule: FixingRule) -> Iterator[Snag]:
    """Say once for a line that its finding asks for another screw than the shop's."""
    told = screw_told(work, fitted)
    if told is None or told.level <= Level.PASS:
        return
    for wrong in _proved(work, told, rule.screw):
        do = "do as the finding says, and drill and buy for that screw"
        yield Snag(where=phrase("{fitting}, {surface}", fitting=fitted.name,
                                surface=fitted.surface), wrong=wrong, do=do)  # fmt: skip


# ------------------------------------------------------------------------------- what is wrong


def _no_rule(fitted: Fitted, ground: Ground) -> Snag:
    """Say that a fitting must not be fixed there, or that nobody knows to what."""
    what: str = "nobody knows what is there"
    if ground.into != "unknown":
        what = phrase("it is {what}", what=ground.into)
    wrong = phrase(
        "no way is known to fix {fitting} to {surface}: {what}",
        fitting=a_fitting(fitted.holds),
        surface=the(fitted.surface),
        what=what,
    )
    do = "find out what is behind, and put solid wood there"
    if fitted.holds == "hinge":
        do = (
            "find out what is behind, and put solid wood there; no hinge hangs on a hollow-wall "
            "anchor"
        )
    return Snag(where=fitted.name, wrong=wrong, do=do, stops=True)


def _order_so(work: Work, moved: Moved) -> Snag:
    """Say that the glass must be ordered for where a fitting was moved to."""
    by, version = work.say(abs(moved.by)), work.brief.job.job.version
    if moved.by > 0:
        wrong = phrase(
            "moved {length} higher so that its holes keep clear on {surface}; its cut-out goes "
            "along",
            length=by,
            surface=the(moved.surface),
        )
    else:
        wrong = phrase(
            "moved {length} lower so that its holes keep clear on {surface}; its cut-out goes "
            "along",
            length=by,
            surface=the(moved.surface),
        )
    do = phrase(
        "order by the pane sheets and cut files of version {version}, where it is so; not by an "
        "older sheet",
        version=version,
    )
    return Snag(where=moved.part, wrong=wrong, do=do)


def _too_near(work: Work, mount: Mount, fitted: Fitted, short: float) -> Snag:
    """Say that a mount could not be moved clear."""
    wrong = phrase(
        "a hole comes {length} too near to the edge of a tile or to a keep-out zone on {surface}, "
        "wherever the fitting may sit",
        length=work.say(short),
        surface=the(fitted.surface),
    )
    do = "choose another fitting or another place for it, or have the tile or the pipe moved"
    return Snag(where=mount.part, wrong=wrong, do=do, stops=True)
