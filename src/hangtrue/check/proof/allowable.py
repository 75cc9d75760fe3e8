"""What stress tempered glass may take by the shop's set of rules, at its edges and cut-outs."""

# ruff: noqa: N815 - units keep their capitals

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from hangtrue.mechanics.glass_strength import (
    din_prestressed,
    en_duration_factor,
    en_strength,
    us_allowable,
)
from hangtrue.tables import table

FLOAT = "toughened-float"
EN_DURATION = {30.0: "30s-domestic-barrier"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Allowable:
    """A stress, MPa, with the formula behind it in symbols, its source and clause."""

    stress_MPa: float
    formula: str
    source: str
    clause: str


@cache
def allowable(glass: str, seconds: float, *, textured: bool = False) -> Allowable:
    """Return the allowable stress of tempered glass at ground edges, under a short load.

    Parameters
    ----------
    glass
        `us`, `en` or `din`.
    seconds
        How long the load acts; `en` knows 30 s for what leans on a pane.
    textured
        Patterned glass, which bears less: 90 MPa for the 120 MPa of float glass (EN 572), and by
        that share of the United States' figure, which knows none.

    """
    if glass == "us":
        less = _patterned_share() if textured else 1.0
        return Allowable(
            stress_MPa=less * us_allowable("fully-tempered", "edge", seconds=seconds),
            formula="90/120 × 73.0 MPa (t / 3 s)^(−1/47.5), breakage 8 in 1000"
            if textured
            else "73.0 MPa (t / 3 s)^(−1/47.5), breakage 8 in 1000",
            source="ncsea-glass",
            clause="allowable edge stress",
        )
    if glass == "en":
        k_mod = en_duration_factor(EN_DURATION.get(seconds, "50years"))
        kind, profile = ("toughened-patterned", "patterned") if textured else (FLOAT, "float")
        return Allowable(
            stress_MPa=en_strength(kind, k_mod, profile=profile),
            formula="k_e k_mod 0.75 × 45/1.8 + (90 − 45)/1.2"
            if textured
            else "k_e k_mod 45/1.8 + (120 − 45)/1.2",
            source="en-16612",
            clause="8.1",
        )
    strength = _characteristic("toughened-patterned" if textured else FLOAT)
    return Allowable(
        stress_MPa=din_prestressed(strength),
        formula=f"k_c {strength:g} / 1.5",
        source="din-18008",
        clause="8.3",
    )


def _characteristic(kind: str) -> float:
    return float(table("mechanics/glass")["en"]["characteristic"][kind])


def _patterned_share() -> float:
    return _characteristic("toughened-patterned") / _characteristic(FLOAT)
