"""What stress a pane may take by the US allowables, EN 16612 or DIN 18008; deflection, mass."""

# ruff: noqa: N803 - units keep their capitals

from __future__ import annotations

import math
from statistics import NormalDist
from typing import Final, Literal

from hangtrue.mechanics.ranges import listed, positive, within
from hangtrue.source import cites
from hangtrue.tables import Table, table

UsKind = Literal["annealed", "heat-strengthened", "fully-tempered"]
Where = Literal["surface", "edge"]

NORMAL: Final = NormalDist()
SHORTEST_S, LONGEST_S = 1.0, 50 * 365.25 * 86_400
"""s; load durations that the factors are meant for."""


def _row(name: str) -> Table:
    found: Table = table("mechanics/glass")[name]
    return found


def _of(rows: Table, name: str, value: str) -> float:
    """Return a row of a table of single values, or raise OutOfRange naming the rows."""
    return float(rows[listed(name, value, (row for row in rows if row != "source"))])


@cites("ncsea-glass", "load duration factor")
def us_duration_factor(kind: UsKind, seconds: float) -> float:
    """Factor (t / 3 s)^(-1/n) on a 3-second allowable; n is 16, 31.7 or 47.5 by kind of glass."""
    within("duration", seconds, SHORTEST_S, LONGEST_S, "s")
    return math.pow(seconds / 3, -1 / float(_us(kind)["duration_exponent"]))


def _us(kind: str) -> Table:
    rows = _row("us")
    found: Table = rows[listed("kind of glass", kind, rows)]
    return found


@cites("ncsea-glass", "probability of breakage factor")
def us_breakage_factor(breakage: float, variation: float) -> float:
    """Factor on an allowable for another probability of breakage than 8 in 1000.

    (1 - v z(1 - p)) / (1 - v z(0.992)), strength normally distributed.

    Parameters
    ----------
    breakage
        Probability p, 1e-4 to 0.1.
    variation
        Coefficient of variation v of the strength, 0.05 to 0.25.

    """
    within("probability of breakage", breakage, 1e-4, 0.1)
    within("coefficient of variation", variation, 0.05, 0.25)
    basis = float(_row("us-guide")["breakage"])
    low, high = (1 - variation * NORMAL.inv_cdf(1 - p) for p in (breakage, basis))
    return low / high


@cites("ncsea-glass", "allowable surface and edge stress, extending ASTM E1300")
def us_allowable(
    kind: UsKind,
    where: Where,
    *,
    seconds: float = 3.0,
    breakage: float = 0.008,
    variation: float | None = None,
    treatment: str = "none",
) -> float:
    """Allowable stress; MPa.

    Parameters
    ----------
    kind
        `annealed`, `heat-strengthened` or `fully-tempered`.
    where
        `surface`, or `edge` (seamed or ground, of the pane and of its holes and cut-outs).
    seconds
        How long the load acts.
    breakage
        Accepted probability of breakage.
    variation
        Coefficient of variation of the strength; the guide's own by default.
    treatment
        Of the surface: `none`, `acid-etched`, `sandblasted`.

    """
    listed("where", where, ("surface", "edge"))
    spread = float(_row("us-guide")["variation"]) if variation is None else variation
    factors = us_duration_factor(kind, seconds) * us_breakage_factor(breakage, spread)
    if where == "surface":
        factors *= _of(_row("us-treatment"), "treatment", treatment)
    return float(_us(kind)[f"{where}_MPa"]) * factors


@cites("own", "inverse of the probability of breakage factor")
def us_breakage(
    stress_MPa: float,
    kind: UsKind,
    where: Where,
    *,
    seconds: float = 3.0,
    variation: float | None = None,
) -> float:
    """Probability of breakage at a stress, by the distribution behind `us_allowable`."""
    within("stress", stress_MPa, 0)
    guide = _row("us-guide")
    spread = float(guide["variation"]) if variation is None else variation
    mean = us_allowable(kind, where, seconds=seconds, variation=spread) / (
        1 - spread * NORMAL.inv_cdf(1 - float(guide["breakage"]))
    )
    return NORMAL.cdf((stress_MPa / mean - 1) / spread)


@cites("en-16612", "8.2, load duration")
def en_duration_factor(duration: str) -> float:
    """k_mod of a named duration of `glass.toml`: `30s-domestic-barrier` 0.89, `50years` 0.29."""
    return _of(_row("en")["duration"], "duration", duration)


@cites("en-16612-recalled", "8.2, load duration")
def en_duration_factor_at(hours: float) -> float:
    """k_mod = 0.663 t^(-1/16), at most 1, of any duration (formula from memory)."""
    within("duration", hours, 1e-4, LONGEST_S / 3600, "h")
    return min(1.0, 0.663 * math.pow(hours, -1 / 16))


@cites("en-16612", "8.1, prestressed and annealed glass")
def en_strength(
    kind: str,
    k_mod: float,
    *,
    edge: str = "polished",
    profile: str = "float",
    finish: str = "none",
    process: str = "horizontal",
    guide: Literal["standard", "istructe"] = "standard",
) -> float:
    """Design bending strength f_g,d; MPa.

    k_e k_mod k_sp k'_sp f_g,k / gamma_MA + k_v (f_b,k - f_g,k) / gamma_Mv.

    Parameters
    ----------
    kind
        `annealed`, `heat-strengthened`, `toughened-float`, `toughened-patterned`, ...
    k_mod
        By `en_duration_factor`.
    edge
        `not-stressed`, `polished`, `seamed`, `other`.
    profile, finish
        `float`, `patterned`, `patterned-wired`; `none`, `sandblasted`, `acid-etched`.
    process
        Of toughening: `horizontal` or `vertical` (tong marks).
    guide
        The institution's guide takes 1.6 for 1.8, and k_e on both parts.

    """
    rows = _row("en")
    strength = _of(rows["characteristic"], "kind of glass", kind)
    annealed = float(rows["characteristic"]["annealed"])
    k_e = _of(rows["edge"], "edge", edge)
    surface = _of(rows["surface-profile"], "profile", profile)
    surface *= _of(rows["surface-finish"], "finish", finish)
    k_v = _of(rows["process"], "process", process)
    within("k_mod", k_mod, 0.2, 1)
    partial, istructe = rows["partial"], guide == "istructe"
    own = k_mod * surface * annealed
    own /= float(partial["annealed-istructe" if istructe else "annealed"])
    prestress = k_v * (strength - annealed) / float(partial["prestress"])
    return k_e * own + (k_e if istructe else 1.0) * prestress


@cites("din-18008", "8.3, thermally prestressed glass")
def din_prestressed(characteristic_MPa: float, k_c: float = 1.0) -> float:
    """Design resistance k_c f_k / 1.5 of prestressed glass, whatever the duration; MPa."""
    partial = float(_row("din")["prestressed-partial"])
    return within("k_c", k_c, 0.5, 2) * positive("strength", characteristic_MPa) / partial


@cites("din-18008", "8.3, glass without prestress")
def din_annealed(characteristic_MPa: float, duration: str, k_c: float = 1.0) -> float:
    """Design resistance k_mod k_c f_k / 1.8 of annealed glass; MPa."""
    rows = _row("din")
    k_mod = _of(rows["annealed-duration"], "duration", duration)
    return k_mod * k_c * positive("strength", characteristic_MPa) / float(rows["annealed-partial"])


def deflection_limit(rule: str, span: float) -> float:
    """Least of span over a number and a length, by a named rule of `glass.toml`; mm."""
    rows = _row("deflection-limits")
    row = rows[listed("deflection rule", rule, rows)]
    return min(positive("span", span) / float(row["span_over"]), float(row["at_most_mm"]))


@cites("e1300", "table 4, minimum thickness")
def least_thickness(nominal: float) -> float:
    """Least thickness of a nominal one, mm: for stiffness and stress, never for weight."""
    rows = {str(thick): least for thick, least in _row("least-thickness")["rows"]}
    return float(rows[listed("nominal thickness", f"{nominal:g}", rows)])


@cites("en-572", "density")
def mass(area: float, nominal: float) -> float:
    """Mass of a pane of an area (mm2) by its nominal or measured thickness (mm); kg."""
    density = float(_row("density")["kg_per_m3"])
    return positive("area", area) * positive("thickness", nominal) * density * 1e-9
