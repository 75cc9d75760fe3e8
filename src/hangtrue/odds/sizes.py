"""The size with the best odds: how the chance of a remake changes with the width of a pane."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from hangtrue.fit.enclosure import Enclosure
from hangtrue.job.brief import Brief
from hangtrue.measure.opening import Opening
from hangtrue.odds.errors import width_of
from hangtrue.odds.model import model
from hangtrue.odds.next_reading import remaining
from hangtrue.tables import table

WORTH_CHANGING = 0.9
"""A width is better where what remains of the risk is no more than this share of it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Curve:
    """The chance of a remake over the width of one pane.

    Attributes
    ----------
    widths, remake
        Widths that the plant can cut, mm, rising, and the chance at each; the same draws for all.
    chosen
        The width that was chosen, mm.

    """

    pane: str
    widths: tuple[float, ...]
    remake: tuple[float, ...]
    chosen: float

    @property
    def best(self) -> float:
        """The width with the least risk; of those alike, the one nearest to what was chosen."""
        least = min(self.remake)
        alike = [
            w for w, r in zip(self.widths, self.remake, strict=True)
            if r <= least / WORTH_CHANGING
        ]  # fmt: skip
        return min(alike, key=lambda w: (abs(w - self.chosen), w))


def curve(brief: Brief, opening: Opening, made: Enclosure, pane: str) -> Curve:
    """Follow the risk as a pane gets narrower and wider, step by step of the plant's grid.

    The pane is cut wider as a whole; the fitter sets the row anew.

    Raises
    ------
    StopIteration
        If there is no such pane.

    """
    of, lite = model(brief, opening, made), made.lite(pane)
    names = [source.name for source in of.sources]
    wider = of.parts[:, names.index(width_of(pane))] if width_of(pane) in names else None
    grid, reach = float(brief.profile.plant.grid), int(table("odds")["curve"]["reach"])
    steps = np.arange(-reach, reach + 1) * grid
    moved = np.zeros((len(steps), len(of.places))) if wider is None else np.outer(steps, wider)
    return Curve(
        pane=pane,
        widths=tuple(float(lite.width_bottom + step) for step in steps),
        remake=tuple(remaining(of.moved(of.planned + by), brief.job.seed) for by in moved),
        chosen=lite.width_bottom,
    )
