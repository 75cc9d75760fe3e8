"""What the shop drills with, fixes with and has on its shelf: its tables as records."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from functools import cache

from hangtrue.job.profile import Profile
from hangtrue.job.shop_tables import SECTIONS, laid, shipped
from hangtrue.phrase import phrase
from hangtrue.tables import Table
from hangtrue.units import length

SAME = 1e-3
"""Lengths on the shelf are one when they differ by less, mm."""
ANY = "any"
"""A layer that the bit of the next layer goes through."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Bit:
    """A drill bit: its kind (`diamond`, `twist`), diameter in mm, and as the trade writes it."""

    kind: str
    diameter: float
    typed: str

    def __str__(self) -> str:
        """Say it as at the van: `1/4 in diamond`."""
        if self.kind == "twist":  # a word with another meaning elsewhere
            return phrase("{size} twist", size=self.typed)
        return phrase("{size} {kind}", size=self.typed, kind=self.kind)


@dataclass(frozen=True, slots=True, kw_only=True)
class Family:
    """A sort of material: the words that name it, its kind of bit (empty: not drilled), and how.

    Attributes
    ----------
    seals
        It is the waterproofing: a hole through it is filled before the screw goes in.

    """

    name: str
    words: tuple[str, ...]
    bit: str
    how: str
    seals: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class FixingRule:
    """One way of fixing: what is held, on what surface, into what.

    Attributes
    ----------
    clearance
        Diameter through everything before the wood, or for the anchor; mm. 0 where bedded.
    pilot
        Diameter in the wood, mm; None where an anchor holds.
    thread
        Least thread in the wood, mm.
    anchor, anchor_depth
        What holds where there is no wood, and how deep its hole is from the face, mm.
    bedded
        Held by sealant, no hole.

    """

    holds: str
    on: str
    into: tuple[str, ...]
    fixing: str
    torque: str
    behind: str
    clearance: float = 0.0
    clearance_typed: str = ""
    pilot: float | None = None
    pilot_typed: str = ""
    screw: str = ""
    thread: float = 0.0
    anchor: str = ""
    anchor_depth: float = 0.0
    sleeve: bool = False
    bedded: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Shop:
    """The shop's way of drilling, packing and cutting.

    Attributes
    ----------
    mm
        Single lengths by table and name, mm: `mm["spacing.channel_apart_most"]`.
    pairs
        Least and most, mm: `pairs["spacing.hinge_from_end"]`.
    shares
        Plain numbers: `shares["plate.column_share"]`.
    typed
        What the shop writes for a length of its shelf, by the length in mm.
    stock
        Lengths as bought, by sort, mm.
    offcuts
        Rests on the shelf by (sort, item), mm.

    """

    families: tuple[Family, ...]
    fixings: tuple[FixingRule, ...]
    bits: tuple[Bit, ...]
    screws: tuple[float, ...]
    shims: tuple[float, ...]
    blocks: tuple[float, ...]
    stock: dict[str, tuple[float, ...]]
    mm: dict[str, float]
    pairs: dict[str, tuple[float, float]]
    shares: dict[str, float]
    typed: dict[float, str]
    offcuts: dict[tuple[str, str], tuple[float, ...]] = field(default_factory=dict)

    def write(self, mm: float) -> str:
        """Write a length of the shelf as the shop does; another one in mm."""
        near = (text for size, text in self.typed.items() if abs(size - mm) < SAME)
        return next(near, f"{mm:.1f} mm")

    def family(self, material: str) -> Family | None:
        """Return the family of a material by its name; None where nobody knows it."""
        name = material.lower()
        return next((f for f in self.families if any(w in name for w in f.words)), None)

    def fixing(self, holds: str, on: str, into: str) -> FixingRule | None:
        """Return how that is fixed; None where it must not be.

        On the riser of a step as on what the glass stands on, unless a rule is for risers.
        """
        rules = [r for r in self.fixings if r.holds == holds and into in r.into]
        places = (on, "base") if on == "riser" else (on,)
        return next((r for place in places for r in rules if r.on == place), None)

    def bit(self, kind: str, diameter: float) -> Bit | None:
        """Return the narrowest bit of a kind that is not under a diameter, nor much over it."""
        most = diameter + self.mm["substrates.face_tighter"]
        fits = [b for b in self.bits if b.kind == kind and _from_to(b.diameter, diameter, most)]
        return min(fits, key=lambda b: b.diameter, default=None)

    def bit_up_to(self, kind: str, diameter: float) -> Bit | None:
        """Return the widest bit of a kind up to a diameter."""
        fits = [b for b in self.bits if b.kind == kind and b.diameter <= diameter + 1e-6]
        return max(fits, key=lambda b: b.diameter, default=None)


def _from_to(value: float, low: float, high: float) -> bool:
    return low - 1e-6 <= value <= high + 1e-6


@cache
def shipped_shop() -> Shop:
    """Return the shop as shipped: common practice, no source."""
    return shop_of(shipped("substrates"), shipped("shelf") | shipped("habits"))


def shop_for(profile: Profile) -> Shop:
    """Return the shop of a profile: what it says of its own, over what is shipped."""
    own = profile.model_dump(
        mode="json", include=set(SECTIONS), exclude_none=True, exclude_defaults=True
    )
    if not own:
        return shipped_shop()
    shelf = laid(shipped("shelf") | shipped("habits"), own.get("shelf", {}) | own.get("habits", {}))
    return shop_of(_substrates(own.get("substrates", {})), shelf)


def _substrates(own: Table) -> Table:
    """Lay a shop's own rules over the shipped ones; its new materials are looked for first."""
    below = shipped("substrates")
    whole = laid(below, own)
    new = {name: row for name, row in whole["families"].items() if name not in below["families"]}
    return whole | {"families": new | whole["families"]}


def shop_of(substrates: Table, shelf: Table) -> Shop:
    """Read a shop from its tables: how it drills, and what it has with how it works.

    Raises
    ------
    KeyError, UnitsError
        If a table lacks a row or a length cannot be read.

    """
    mm, pairs, shares = _numbers({**shelf, "substrates": _plain(substrates)})
    return Shop(
        families=tuple(_family(n, row) for n, row in substrates["families"].items()),
        fixings=tuple(_rule(row) for row in substrates["fixing"]),
        bits=tuple(
            Bit(kind=kind, diameter=float(length(t)), typed=t)
            for kind, sizes in shelf["bits"].items()
            for t in sizes
        ),
        screws=_lengths(shelf["screws"]["lengths"]),
        shims=_lengths(shelf["shims"]["sizes"]),
        blocks=_lengths(shelf["shims"]["block_sizes"]),
        stock={sort: _lengths(typed) for sort, typed in shelf["stock"].items()},
        mm=mm,
        pairs=pairs,
        shares=shares,
        typed={float(length(t)): t for t in _shelf_sizes(shelf)},
        offcuts={
            (sort, item): _lengths(typed)
            for sort, rows in shelf.get("offcuts", {}).items()
            for item, typed in rows.items()
        },
    )


def _shelf_sizes(shelf: Table) -> Iterator[str]:
    """Every size on the shelf as it is written there."""
    yield from shelf["screws"]["lengths"]
    yield from shelf["shims"]["block_sizes"]
    yield from shelf["shims"]["sizes"]
    for sizes in shelf["stock"].values():
        yield from sizes
    for rows in shelf.get("offcuts", {}).values():
        for sizes in rows.values():
            yield from sizes


def _plain(rows: Table) -> Table:
    return {k: v for k, v in rows.items() if isinstance(v, str) and k != "source"}


def _lengths(typed: Iterable[str]) -> tuple[float, ...]:
    return tuple(sorted(float(length(t)) for t in typed))


def _numbers(
    tables: Table,
) -> tuple[dict[str, float], dict[str, tuple[float, float]], dict[str, float]]:
    """Sort every number by table and name into lengths, pairs of lengths and plain numbers."""
    mm: dict[str, float] = {}
    pairs: dict[str, tuple[float, float]] = {}
    shares: dict[str, float] = {}
    for name, rows in tables.items():
        if name in {"bits", "stock", "offcuts"} or not isinstance(rows, dict):
            continue
        for key, value in rows.items():
            if isinstance(value, str) and value[:1].isdigit():
                mm[f"{name}.{key}"] = float(length(value))
            elif isinstance(value, int | float):
                shares[f"{name}.{key}"] = float(value)
            elif isinstance(value, list) and len(value) == 2:  # noqa: PLR2004 -- least and most
                pairs[f"{name}.{key}"] = (float(length(value[0])), float(length(value[1])))
    return mm, pairs, shares


def _family(name: str, row: Table) -> Family:
    return Family(
        name=name,
        words=tuple(row["words"]),
        bit=row["bit"],
        how=row["how"],
        seals=row.get("seals", False),
    )


def _rule(row: Table) -> FixingRule:
    """Read one way of fixing; a pilot, an anchor or a clearance may be missing."""

    def mm(key: str) -> float:
        return float(length(row[key])) if key in row else 0.0

    return FixingRule(
        holds=row["holds"],
        on=row["on"],
        into=tuple(row["into"]),
        fixing=row["fixing"],
        torque=row["torque"],
        behind=row["behind"],
        clearance=mm("clearance"),
        clearance_typed=row.get("clearance", ""),
        pilot=mm("pilot") if "pilot" in row else None,
        pilot_typed=row.get("pilot", ""),
        screw=row.get("screw", ""),
        thread=mm("thread"),
        anchor=row.get("anchor", ""),
        anchor_depth=mm("anchor_depth"),
        sleeve=row.get("sleeve", False),
        bedded=row.get("bedded", False),
    )
