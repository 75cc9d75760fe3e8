"""What a shop says of its own: how it drills and fixes, what lies on its shelf, how it works.

Every field may be left out: what a profile does not say is as the shipped tables say.
"""

from __future__ import annotations

from collections.abc import Iterator
from difflib import get_close_matches
from typing import Annotated, Any, Literal, Self

from pydantic import AfterValidator, ConfigDict, Field, NonNegativeFloat, model_validator

from hangtrue.job.problems import Path
from hangtrue.job.quantity import Model, Room, Size
from hangtrue.job.room import Behind, Material
from hangtrue.tables import Table, table

PAIR = 2
SECTIONS = ("substrates", "shelf", "habits")
"""Parts of a shop profile that lie over the tables of the same names under `data/hang`."""


def _share(value: float) -> float:
    if not 0.0 <= value <= 1.0:
        msg = "a share is from 0 to 1; write it like 0.25"
        raise ValueError(msg)
    return value


def _some(value: tuple[float, ...]) -> tuple[float, ...]:
    if not value:
        msg = 'nothing stands in this list; write sizes like ["1/8 in"], or leave it out'
        raise ValueError(msg)
    return value


def _least_most(value: tuple[float, ...]) -> tuple[float, ...]:
    if len(value) != PAIR or value[0] > value[1]:
        msg = 'two lengths are wanted, the lesser first; write them like ["8 in", "12 in"]'
        raise ValueError(msg)
    return value


Share = Annotated[float, AfterValidator(_share)]
Sizes = Annotated[tuple[Size, ...], AfterValidator(_some)]
LeastMost = Annotated[tuple[Size, ...], AfterValidator(_least_most)]


def _says(means: str, example: Any) -> Any:
    """Return a field that may be left out: then the shipped table stands."""
    return Field(None, description=means, examples=[example])


class Part(Model):
    """A part of a profile: checked as part of it only, so not made ready on its own."""

    model_config = ConfigDict(defer_build=True)


# ------------------------------------------------------------------------------- substrates


class FamilyRow(Part):
    """A sort of material: which words name it, which kind of bit goes through it, and how."""

    words: tuple[str, ...] | None = _says(
        "A layer is of this sort if one of these words is in its name", ["tile", "porcelain"]
    )
    bit: str | None = _says(
        "Kind of bit on the shelf; `any`: that of the next layer; empty: it cannot be drilled",
        "diamond",
    )
    how: str | None = _says("How it is drilled", "wet, no hammer, start at an angle")
    seals: bool | None = Field(
        None, description="It is the waterproofing, which no hole may leave open", examples=[False]
    )


class FixingRow(Part):
    """One way of fixing: what is held, on what, into what; it goes before the shipped ones."""

    holds: Literal["hinge", "channel", "clamp", "bar"] = Field(
        description="What is fixed", examples=["channel"]
    )
    on: Literal["wall", "base", "riser"] = Field(
        description="A wall or the ceiling; what the glass stands on; the riser of a step",
        examples=["wall"],
    )
    into: tuple[Behind | Material, ...] = Field(
        min_length=1,
        description="What the screw ends in: what is behind a wall, what a curb is made of",
        examples=[["blocking", "stud"]],
    )
    fixing: str = Field(
        description="What goes in, in words", examples=["stainless wood screw No. 8"]
    )
    torque: str = Field(description="How tight, in words", examples=["low: snug"])
    behind: str = Field(description="What must be behind", examples=["the stud or blocking"])
    clearance: Size | None = _says(
        "Hole through everything before the wood, or for the anchor", "3/16 in"
    )
    pilot: Size | None = _says("Hole in the wood; left out where an anchor holds", "1/8 in")
    screw: str | None = _says("Number of the wood screw", "8")
    thread: Size | None = _says("Least thread in the wood", "1 in")
    anchor: str | None = _says("What holds where there is no wood", "anchor for a 5/16 in hole")
    anchor_depth: Size | None = _says("Depth of its hole from the face", "1-1/2 in")
    sleeve: bool = Field(
        False, description="A sleeve keeps the screw off the tile", examples=[True]
    )
    bedded: bool = Field(False, description="Held by sealant, without a hole", examples=[True])

    @model_validator(mode="after")
    def _whole(self) -> Self:
        """Say all that is missing for a hole to be drilled."""
        missing = [] if self.bedded else list(self._missing())
        if missing:
            msg = f"this way of fixing lacks {', '.join(missing)}; write it, or `bedded = true`"
            raise ValueError(msg)
        return self

    def _missing(self) -> Iterator[str]:
        if self.clearance is None:
            yield "`clearance`"
        if self.pilot is None:
            yield from ("`anchor_depth`",) if self.anchor_depth is None else ()
            return
        if self.thread is None:
            yield "`thread`"
        if self.screw not in table("mechanics/screws")["wood-screw"]:
            yield "`screw`, the number of a wood screw such as 8, 10 or 12"


class Substrates(Part):
    """How this shop drills each material and fixes each fitting in it."""

    clear_of_screw: Room | None = _says("A screw must not bind in the tile", "1/32 in")
    face_tighter: Room | None = _says("A bit may be this much wider than asked for", "1/16 in")
    families: dict[str, FamilyRow] | None = _says(
        "Sorts of material by name; a new one needs `words`, `bit` and `how`",
        {"tile": {"bit": "carbide"}},
    )
    fixing: tuple[FixingRow, ...] | None = _says("Ways of fixing of its own", [])


# ------------------------------------------------------------------------------------ shelf


class Screws(Part):
    """Screws at hand and what they go through."""

    lengths: Sizes | None = _says("Lengths at hand", ["1-1/2 in", "2 in"])
    plate_thickness: Size | None = _says(
        "Metal under the head of a hinge, clamp or bar screw", "3/16 in"
    )
    channel_thickness: Size | None = _says("Metal under a screw head in a channel", "1/16 in")
    default_species: str | None = _says("Wood where nobody wrote it", "unknown")


class Shims(Part):
    """Packing and setting blocks at hand, and how even they must come."""

    sizes: Sizes | None = _says("Thicknesses of shims", ["1/32 in", "1/16 in"])
    axis_plumb_within: Size | None = _says(
        "Hinge axis, over the height between the outer plates", "1/64 in"
    )
    channel_even_within: Size | None = _says("Along one channel", "1/16 in")
    channel_packed_most: Room | None = _says("Most packing behind a channel", "1/4 in")
    block_sizes: Sizes | None = _says("Thicknesses of setting blocks", ["1/8 in", "3/16 in"])
    block_even_within: Size | None = _says("Among the blocks of one pane", "1/64 in")
    block_top_most: Size | None = _says("What uneven blocks may move the top by", "1/32 in")
    block_off_most: Size | None = _says("A pane may stand this much higher or lower", "1/64 in")
    block_length: Size | None = _says("Length of a setting block", "4 in")
    block_share: Share | None = _says("Place of a block from the end, over the width", 0.25)


class Cutting(Part):
    """How stock is cut."""

    kerf: Room | None = _says("Lost at every cut of the saw", "1/8 in")
    offcut_least: Size | None = _says("A shorter rest is scrap", "12 in")
    shelf_share: Share | None = _says("What a length from the shelf counts beside a new one", 0.5)
    seconds: NonNegativeFloat | None = _says("Time for the search", 0.9)


class Shelf(Part):
    """What lies in this shop's van and on its shelf."""

    bits: dict[str, Sizes] | None = _says("Bits at hand by kind", {"diamond": ["1/4 in"]})
    screws: Screws | None = _says("Screws", {"lengths": ["2 in"]})
    shims: Shims | None = _says("Shims and setting blocks", {"sizes": ["1/16 in"]})
    cutting: Cutting | None = _says("Saw, and what is kept", {"kerf": "3 mm"})
    stock: dict[str, Sizes] | None = _says("Lengths as bought, by sort", {"channel": ["95 in"]})
    offcuts: dict[str, dict[str, Sizes]] | None = _says(
        "Rests on the shelf by sort and fitting: they are used before new stock",
        {"channel": {"channel-deep": ["41-1/2 in"]}},
    )


# ----------------------------------------------------------------------------------- habits


class Plate(Part):
    """What stands in for a maker's drawing that says nothing of its screws."""

    column_share: Share | None = _says("Screw columns apart, over the plate's width", 0.5)
    bar_flange_screws: Annotated[int, Field(ge=1, le=8)] | None = _says("Screws of a flange", 2)
    bar_flange_rows: Size | None = _says("Distance of a flange's screws", "1 in")


class Spacing(Part):
    """How far fittings stand from the ends and from each other."""

    hinge_from_end: LeastMost | None = _says("Hinge from the end of the door", ["8 in", "12 in"])
    hinge_apart_least: Size | None = _says("Hinges apart", "12 in")
    middle_hinge_free: Room | None = _says("A third hinge off its place", "4 in")
    channel_from_end: LeastMost | None = _says("First channel fixing", ["2 in", "6 in"])
    channel_apart_most: Size | None = _says("Channel fixings apart, at most", "20 in")
    channel_apart_least: Size | None = _says("Channel fixings apart, at least", "4 in")
    clamp_free: Room | None = _says("A clamp off its place", "2 in")
    search_step: Size | None = _says("Places are tried this far apart", "1/32 in")


class Clearances(Part):
    """How far holes keep from what must stay whole."""

    from_tile_edge: Room | None = _says("Rim of a hole to the edge of its tile", "3/8 in")
    keep_out_margin: Room | None = _says("Rim of a hole to a pipe or cable zone", "1 in")


class Pieces(Part):
    """What is cut into pieces, and how much they stay short of what they meet."""

    drain_wide: Size | None = _says("Gap in the inner lip of a curb channel", "1/4 in")
    drain_each: Size | None = _says("Drain gaps apart, at most", "24 in")
    drain_from_end: Size | None = _says("First drain gap from the end", "3 in")
    screw_cover: Size | None = _says("Piece over a channel screw head", "2 in")
    strip_clear: Room | None = _says("Strips end this much before what they meet", "1/16 in")
    hinge_notch_clear: Room | None = _says("Round a hinge body, each way", "1/16 in")


class Sealant(Part):
    """Sealant as it is used."""

    cartridge_ml: Annotated[float, Field(gt=0)] | None = _says("In one cartridge, ml", 300.0)
    waste_share: NonNegativeFloat | None = _says("Lost in nozzles and tooling, over it", 0.15)
    channel_bead: Size | None = _says("Bead in a channel", "1/2 in")
    bed_bead: Size | None = _says("Bead under a channel that is bedded", "1/4 in")
    fillet: Size | None = _says("Leg of the bead inside a fixed pane", "1/4 in")


def _known_sealant(value: str) -> str:
    known = table("hang/sealants")["sealants"]
    if value not in known:
        msg = f"nobody knows how {value!r} cures; {_near(value, known, 'take one of these')}"
        raise ValueError(msg)
    return value


def _within_range(name: str) -> Any:
    """Return what refuses air for which no data sheet gives figures."""

    def check(value: float) -> float:
        row = table("hang/sealants")["range"]
        low, high = (
            next(v for k, v in row.items() if k.startswith(f"{name}_{end}"))
            for end in ("least", "most")
        )
        if not low <= value <= high:
            msg = f"no data sheet gives figures for it; write {low:g} to {high:g}"
            raise ValueError(msg)
        return value

    return AfterValidator(check)


class CureHabit(Part):
    """Which sealant this shop uses, and what air it cures in."""

    sealant: Annotated[str, AfterValidator(_known_sealant)] | None = _says(
        "Its kind, as in the table of sealants", "neutral"
    )
    temperature_C: Annotated[float, _within_range("temperature")] | None = _says(  # noqa: N815
        "Of the room, day and night, °C", 16.0
    )
    humidity: Annotated[float, _within_range("humidity")] | None = _says(
        "Relative, of the room, 0 to 1", 0.6
    )


class StepHabit(Part):
    """How long one kind of step takes this shop, and how many hands."""

    base: NonNegativeFloat | None = _says("Minutes of it", 10.0)
    each: NonNegativeFloat | None = _says("Minutes for every fitting, hole or metre", 4.0)
    people: Annotated[int, Field(ge=1, le=4)] | None = _says("Hands it takes", 2)


class HingeHabit(Part):
    """What goes between hinge and glass."""

    gasket: Size | None = _says("Each side of the glass", "2 mm")
    filler: Size | None = _says("Between the body of the hinge and its cut-out", "1 mm")
    clamping_screws: NonNegativeFloat | None = _says("In each pane that a hinge grips", 4)


class Consumables(Part):
    """What is used up."""

    thread_lock_ml_each: NonNegativeFloat | None = _says("A clamping screw, ml", 0.05)
    tape_m_each_m: NonNegativeFloat | None = _says("Masking tape a side, with waste", 1.2)


class Habits(Part):
    """How this shop spaces, keeps clear, packs and seals."""

    plate: Plate | None = _says("Screw patterns no maker wrote", {"column_share": 0.6})
    spacing: Spacing | None = _says("Spacing of fittings", {"clamp_free": "1 in"})
    clearances: Clearances | None = _says("What holes keep from", {"from_tile_edge": "1/2 in"})
    pieces: Pieces | None = _says("Pieces and strips", {"screw_cover": "2 in"})
    sealant: Sealant | None = _says("Sealant", {"cartridge_ml": 310.0})
    cure: CureHabit | None = _says("Sealant and air", {"temperature_C": 16.0})
    steps: dict[str, StepHabit] | None = _says(
        "Steps of hanging by their kind, as in the table of steps", {"drill": {"each": 6.0}}
    )
    hinge: HingeHabit | None = _says("Hinge and glass", {"gasket": "2 mm"})
    consumables: Consumables | None = _says("Consumables", {"tape_m_each_m": 1.2})


# -------------------------------------------------------------------------- over the shipped


FIRST_HOLDS = "fixing"
"""A list of rules of which the first that fits holds: what lies over goes before."""


def laid(below: Table, above: Table) -> Table:
    """Lay tables over tables, row by row; a list stands for the whole list it lies over."""
    return below | {key: _over(key, below.get(key), row) for key, row in above.items()}


def _over(key: str, below: Any, above: Any) -> Any:
    if isinstance(above, dict) and isinstance(below, dict):
        return laid(below, above)
    if key == FIRST_HOLDS and isinstance(above, list) and isinstance(below, list):
        return [*above, *below]
    return above


def shipped(section: str) -> Table:
    """Return the shipped table of a section."""
    return table(f"hang/{section}")


def section_slips(rows: Table) -> Iterator[tuple[Path, str, str]]:
    """Say what does not go together in sections that are well formed: path, wrong, remedy."""
    shelf = rows.get("shelf") or {}
    families = (rows.get("substrates") or {}).get("families") or {}
    known = shipped("substrates")["families"]
    kinds = {row.get("bit", "") for row in (*known.values(), *families.values())} - {"any", ""}
    yield from _unknown(("shelf", "bits"), shelf.get("bits"), kinds, "no material takes a bit")
    sorts = set(shipped("shelf")["stock"])
    yield from _unknown(("shelf", "stock"), shelf.get("stock"), sorts, "nothing is cut from it")
    yield from _unknown(("shelf", "offcuts"), shelf.get("offcuts"), sorts, "nothing is cut from it")
    work = set(table("hang/steps")["steps"])
    steps = (rows.get("habits") or {}).get("steps")
    yield from _unknown(("habits", "steps"), steps, work, "no step is of a kind")
    at_hand = set(shipped("shelf")["bits"]) | set(shelf.get("bits") or {}) | {"any", ""}
    for name, row in families.items():
        lacks = [key for key in ("words", "bit", "how") if key not in row and name not in known]
        if lacks:
            wrong = f"this material is new and lacks {', '.join(lacks)}"
            yield ("substrates", "families", name), wrong, _near(name, known, "write them")
        if "bit" in row and row["bit"] not in at_hand:
            wrong = f"no bit of the kind {row['bit']!r} is on the shelf"
            path = ("substrates", "families", name, "bit")
            yield path, wrong, _near(row["bit"], at_hand - {""}, "write its sizes under shelf.bits")


def _unknown(
    path: Path, rows: Table | None, known: set[str], why: str
) -> Iterator[tuple[Path, str, str]]:
    for name in rows or {}:
        if name not in known:
            yield (*path, name), f"{why} named {name!r}", _near(name, known, "take it out")


def _near(typed: str, known: Any, otherwise: str) -> str:
    near = get_close_matches(typed, sorted(known), n=1, cutoff=0.6)
    return f"did you mean {near[0]}?" if near else f"{otherwise}; known: {', '.join(sorted(known))}"
