"""How far plant and fitter are off: each source of error by name, with its standard deviation."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Literal

from hangtrue.fit.enclosure import Enclosure, Lite
from hangtrue.job.brief import Brief
from hangtrue.job.profile import Plant
from hangtrue.phrase import phrase
from hangtrue.source import cites
from hangtrue.tables import table

Origin = Literal["survey", "plant", "setting"]

BY_HAND = ("setting", "seat")
"""Words with which the names of errors begin that the plant has nothing to do with."""

ALIKE_WITHIN = 2 / 3**0.5
"""Alike anywhere within T is a standard deviation of T / sqrt 3, where normal it is T / 2."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Source:
    """One thing that is not known: a name for people, where it comes from, its deviation (mm).

    Attributes
    ----------
    uniform
        Anywhere within `3 ** 0.5` standard deviations alike; normal otherwise.

    """

    name: str
    origin: Origin
    sd: float
    uniform: bool = False


def width_of(pane: str) -> str:
    """Name the error of a pane's width."""
    return phrase("width of {pane}", pane=pane)


def height_of(pane: str) -> str:
    """Name the error of a pane's height."""
    return phrase("height of {pane}", pane=pane)


def squareness_of(pane: str) -> str:
    """Name how far a pane is out of square."""
    return phrase("squareness of {pane}", pane=pane)


def sources(brief: Brief, made: Enclosure, names: Iterable[str]) -> Iterator[Source]:
    """Every error once, with its standard deviation, in the order of the names."""
    uniform = table("odds")["plant"]["shape"] == "uniform"
    square = {
        squareness_of(pane.id): squareness_sd(brief.profile.plant, pane) for pane in made.lites
    }
    sds = _sds(brief)
    for name in names:
        kind = name.split()[0]
        by_hand = kind in BY_HAND
        sd = square[name] if name in square else sds[kind]
        yield Source(
            name=name,
            origin="setting" if by_hand else "plant",
            sd=sd * (ALIKE_WITHIN if uniform and not by_hand else 1.0),
            uniform=uniform and not by_hand,
        )


def _sds(brief: Brief) -> dict[str, float]:
    """Standard deviation by the first word of a name, mm; a tolerance holds 95 % of the panes."""
    plant, setting = brief.profile.plant, float(brief.profile.setting_sd)
    size = float(plant.size_tolerance) / 2
    return {
        "width": size,
        "height": size,
        "step": size,
        "notch": float(plant.notch_tolerance) / 2,
        "hole": float(plant.hole_tolerance) / 2,
        "setting": setting,
        "seat": setting,
    }


@cites("en-12150", "6.2.3, squareness as the difference of the diagonals")
def out_of_square(diagonals: float, width: float, height: float) -> float:
    """How far an upright edge is out of square over its height, from the two diagonals, mm.

    Of a parallelogram w wide and h high whose top is s off its foot, the squares of the diagonals
    differ by 4 w s, and so the diagonals by 2 w s over their mean.

    Parameters
    ----------
    diagonals
        How far they differ, mm.

    Examples
    --------
    >>> round(out_of_square(3.0, 700.0, 2000.0), 2)
    4.54

    """
    return diagonals * math.hypot(width, height) / (2 * width)


def squareness_sd(plant: Plant, pane: Lite) -> float:
    """Return the standard deviation of how far a pane is out of square over its height, mm."""
    if plant.diagonals is None:
        return float(table("odds")["plant"]["out_of_square"]) * float(plant.size_tolerance) / 2
    height = max(pane.height_left, pane.height_right)
    return out_of_square(float(plant.diagonals), pane.width_bottom, height) / 2
