"""Load cases as the shop's set of rules has them: what leans on a pane, what hangs on a door."""

# ruff: noqa: N815 - units keep their capitals

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from hangtrue.mechanics.ranges import within
from hangtrue.tables import Table, table


@dataclass(frozen=True, slots=True, kw_only=True)
class PaneCase:
    """Something that leans on a pane, across it.

    Attributes
    ----------
    id, what, source
        Name, words, and source of the load.
    line_N_per_mm
        Along the whole pane at `height`, for each mm of it.
    force_N
        On a hand's breadth at the free edge at `height`.
    pressure_MPa
        All over.
    height
        Above the floor, mm.
    seconds
        How long it acts.

    """

    id: str
    what: str
    source: str
    height: float
    seconds: float
    line_N_per_mm: float = 0.0
    force_N: float = 0.0
    pressure_MPa: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class LeafCase:
    """Something that pulls at a door besides its weight; N, mm above the floor.

    Attributes
    ----------
    duration
        As the wood tables name it.
    decides
        A door must bear it; else it is told what would happen.

    """

    id: str
    what: str
    source: str
    duration: str
    decides: bool
    across_N: float = 0.0
    down_N: float = 0.0
    height: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class CaseSet:
    """The load cases of one set of rules, and which rules for glass and wood go with them.

    Attributes
    ----------
    factor
        On loads that come and go, where resistances are design values.

    """

    id: str
    panes: tuple[PaneCase, ...]
    leaves: tuple[LeafCase, ...]
    factor: float
    glass: str
    wood: str


@cache
def case_set(name: str) -> CaseSet:
    """Return the load cases of a set of rules: `us`, `en`, `din`.

    Raises
    ------
    OutOfRange
        If a row of the table holds a negative load.

    """
    rows = table("mechanics/load_cases")
    own: Table = rows[name]
    below: Table = rows[own["like"]] | own if "like" in own else own
    return CaseSet(
        id=name,
        panes=tuple(pane_case(key, row) for key, row in below["pane"].items()),
        leaves=tuple(
            _leaf_case(key, decides=key in below["leaf"]["decide"])
            for key in (*below["leaf"]["decide"], *below["leaf"]["tell"])
        ),
        factor=float(below["factor"]),
        glass=str(below["glass"]),
        wood=str(below["wood"]),
    )


def pane_case(name: str, row: Table) -> PaneCase:
    """Read one row; a load below 0 is a slip, not a load from the other side."""
    for key in ("line_N_per_mm", "force_N", "pressure_MPa", "height", "seconds"):
        within(f"{key} of load case {name}", float(row.get(key, 0.0)), 0)
    return PaneCase(id=name, **row)


def _leaf_case(name: str, *, decides: bool) -> LeafCase:
    row = table("mechanics/doors")["load"][name]
    for key in ("across_N", "down_N", "height"):
        within(f"{key} of load case {name}", float(row.get(key, 0.0)), 0)
    return LeafCase(
        id=name,
        what=row["what"],
        source=row["source"],
        duration=row["duration"],
        decides=decides,
        across_N=float(row.get("across_N", 0.0)),
        down_N=float(row.get("down_N", 0.0)),
        height=float(row.get("height", 0.0)),
    )
