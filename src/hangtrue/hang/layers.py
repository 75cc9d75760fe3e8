"""Through the layers of a wall: which bit for each, how deep, where the stop sits."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from hangtrue.hang.records import Pass
from hangtrue.hang.shop import ANY, Bit, FixingRule, Shop
from hangtrue.hang.snags import Snag
from hangtrue.job.document import Layer
from hangtrue.mechanics.wood import lead_hole, screw, specific_gravity
from hangtrue.phrase import phrase
from hangtrue.tables import table
from hangtrue.units import Length

SOLID_WOOD = "solid wood"
Say = Callable[[float], str]


def in_mm(mm: float) -> str:
    """Write a length to a whole mm."""
    return f"{mm:.0f} mm"


NO_BIT = "write the layer's material plainly, or put a bit for it on the shop's shelf"


@dataclass(frozen=True, slots=True, kw_only=True)
class Drilled:
    """A hole as it is drilled: its passes, where the stop sits, and the screw that suits.

    Attributes
    ----------
    depth
        From the face, mm.
    screw_length
        From the shop's lengths, mm; 0 where none suits or none is needed.
    seals
        It goes through the waterproofing.

    """

    passes: tuple[Pass, ...]
    depth: float
    screw_length: float
    seals: bool
    snags: tuple[Snag, ...]


def drilled(
    where: str,
    layers: tuple[Layer, ...],
    rule: FixingRule,
    shop: Shop,
    *,
    into: str = "",
    wood: float = 0.0,
    species: str = "unknown",
    say: Say = in_mm,
) -> Drilled:
    """Work out one hole.

    Parameters
    ----------
    where
        Name of the surface, for what is wrong.
    layers
        From the face inward, down to what is behind.
    into
        What is behind them, as in the rules.
    wood
        Thickness of the wood behind them, mm; 0 where there is none.
    species
        Of the wood, as written in the job.
    say
        Writes a length in the job's unit, for what is wrong.

    """
    if rule.on != "wall":
        return _shallow(where, layers, rule, shop, say)
    passes, snags = _through(where, layers, rule, shop)
    over = passes[-1].end if passes else 0.0
    plate = shop.mm["screws.channel_thickness" if rule.holds == "channel" else _PLATE]
    if rule.pilot is None:
        depth = max(over, rule.anchor_depth)
        reach = depth + plate
        if into in DRILLED_BEHIND and depth > over:
            bit, how, wrong = _bit_for((_behind(into, depth - over),), rule, shop)
            snags.extend([_no_bit(where, wrong)] if wrong else [])
            passes.append(Pass(layer=into, start=over, end=depth, bit=bit, how=how))
        return _finish(where, passes, (depth, reach, 0.0), rule, shop, snags, say)
    bit = pilot(rule, species, shop)
    if bit is None:
        snags.append(
            _no_bit(
                where, phrase("no twist bit for a pilot of {size} in wood", size=rule.pilot_typed)
            )
        )
    length = _screw_length(shop, plate + over + rule.thread)
    reach = (length or plate + over + rule.thread) - plate
    how = "straight, with a depth stop"
    passes.append(Pass(layer=SOLID_WOOD, start=over, end=reach, bit=bit, how=how))
    needed = plate + over + rule.thread
    back = wood + over if wood else 0.0
    return _finish(where, passes, (reach, needed, back), rule, shop, snags, say)


def _shallow(
    where: str, layers: tuple[Layer, ...], rule: FixingRule, shop: Shop, say: Say
) -> Drilled:
    """Stop a hole in curb, cap or riser where its anchor ends: what lies below is sealed."""
    depth = rule.anchor_depth
    passes, snags = _through(where, tuple(_down_to(depth, layers)), rule, shop)
    over = math.fsum(float(layer.thickness) for layer in layers)
    if over < depth - THIN:
        wrong = phrase(
            "the hole goes {depth} deep and the layers end at {end}",
            depth=say(depth),
            end=say(over),
        )
        snags.append(Snag(where=where, wrong=wrong, do="say what lies below, or anchor shallower"))
    wet = next((p.start for p in passes if _seals(p.layer, shop)), None)
    if wet is not None:
        wrong = phrase(
            "the waterproofing lies {wet} deep and the hole goes {depth}",
            wet=say(wet),
            depth=say(depth),
        )
        snags.append(Snag(where=where, wrong=wrong, do="anchor shallower, or bed it in sealant"))
    plate = shop.mm["screws.channel_thickness" if rule.holds == "channel" else _PLATE]
    return _finish(where, passes, (depth, depth + plate, 0.0), rule, shop, snags, say)


def _down_to(depth: float, layers: Sequence[Layer]) -> Iterator[Layer]:
    """Layers down to a depth, the last one cut off there."""
    left = depth
    for layer in layers:
        if left <= 0.0:
            return
        yield Layer(material=layer.material, thickness=Length(min(float(layer.thickness), left)))
        left -= float(layer.thickness)


THIN = 0.5
"""Layers that end this near to the bottom of a hole reach it, mm."""
_PLATE = "screws.plate_thickness"
DRILLED_BEHIND = {"masonry", "steel stud"}
"""What an anchor's hole goes into behind the layers."""


def _behind(into: str, thickness: float) -> Layer:
    return Layer(material=into, thickness=Length(thickness))


def _finish(
    where: str,
    passes: list[Pass],
    depths: tuple[float, float, float],
    rule: FixingRule,
    shop: Shop,
    snags: list[Snag],
    say: Say,
) -> Drilled:
    """Choose the screw and say what does not go together.

    Parameters
    ----------
    depths
        Of the hole, of what the screw must reach with its plate, and of the back of the wood (0:
        not known), mm.

    """
    depth, needed, back = depths
    length = _screw_length(shop, needed)
    if length is None:
        wrong = phrase(
            "no screw of the shop is long enough: {length} through layers and wood",
            length=say(needed),
        )
        snags.append(Snag(where=where, wrong=wrong, do="buy longer stainless screws", stops=True))
    if rule.pilot is not None and 0.0 < back < depth:
        wrong = phrase("the screw ends {length} behind the wood", length=say(depth - back))
        do = "look for pipes and cables behind it, or take a shorter screw"
        snags.append(Snag(where=where, wrong=wrong, do=do))
    return Drilled(
        passes=tuple(passes),
        depth=depth,
        screw_length=length or 0.0,
        seals=any(_seals(p.layer, shop) for p in passes),
        snags=tuple(snags),
    )


def _through(
    where: str, layers: tuple[Layer, ...], rule: FixingRule, shop: Shop
) -> tuple[list[Pass], list[Snag]]:
    """Go through all layers with the clearance bit of each."""
    passes: list[Pass] = []
    snags: list[Snag] = []
    start = 0.0
    for i, layer in enumerate(layers):
        end = start + float(layer.thickness)
        bit, how, wrong = _bit_for(layers[i:], rule, shop)
        if wrong:
            snags.append(_no_bit(where, wrong))
        passes.append(Pass(layer=layer.material, start=start, end=end, bit=bit, how=how))
        start = end
    return passes, snags


def _bit_for(
    layers: tuple[Layer, ...], rule: FixingRule, shop: Shop
) -> tuple[Bit | None, str, str]:
    """Bit for the first of some layers, how to use it, and what is wrong (empty if nothing)."""
    material = layers[0].material
    family = shop.family(material)
    if family is None:
        return None, "", phrase("nobody knows which bit goes through “{layer}”", layer=material)
    if family.bit == ANY:
        inner = (shop.family(layer.material) for layer in layers[1:])
        behind = next((f for f in inner if f and f.bit != ANY), None)
        kind = behind.bit if behind else "twist"
    else:
        kind = family.bit
    bit = shop.bit(kind, rule.clearance)
    if bit is not None:
        return bit, family.how, ""
    if not kind:
        return None, family.how, phrase("{layer}: {how}", layer=material, how=family.how)
    asked = Bit(kind=kind, diameter=rule.clearance, typed=rule.clearance_typed)
    lacking = phrase("no {bit} bit for {layer}", bit=str(asked), layer=material)
    return None, family.how, lacking


def _seals(material: str, shop: Shop) -> bool:
    family = shop.family(material)
    return family is not None and family.seals


def _no_bit(where: str, wrong: str) -> Snag:
    return Snag(where=where, wrong=wrong, do=NO_BIT, stops=True)


def _screw_length(shop: Shop, least: float) -> float | None:
    """Shortest screw of the shop that reaches."""
    return next((s for s in shop.screws if s >= least - 1e-6), None)


def pilot(rule: FixingRule, species: str, shop: Shop) -> Bit | None:
    """Bit for the pilot hole in the wood.

    The shop's habit in softwood; in wood over a specific gravity of 0.5, the widest bit up to the
    lead hole of the NDS, since a tight hole splits hard wood and shears stainless screws.
    """
    size = rule.pilot or 0.0
    published = lead_hole(screw("wood-screw", rule.screw), gravity(species), "withdrawal")
    if published > size:
        return shop.bit_up_to("twist", published)
    return shop.bit("twist", size) if size else None


def gravity(species: str) -> float:
    """Specific gravity of a species as written in a job; that assumed where nobody knows it."""
    name = species.strip().lower().replace(" ", "-")
    rows = table("mechanics/wood")
    if name in rows["specific-gravity"] and name not in {"source", "clause"}:
        return specific_gravity(name)
    return float(rows["unknown-species"]["specific-gravity"])
