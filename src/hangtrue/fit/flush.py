"""Panes that meet at a corner flush: what sizes and places must keep to, and what is best."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from hangtrue.fit.demands import MUST, USUAL
from hangtrue.fit.entries import SHIFTS
from hangtrue.fit.gaps import Gaps
from hangtrue.fit.goals import Demand, Wish
from hangtrue.fit.turning import Flush
from hangtrue.fit.wording import said
from hangtrue.measure.opening import Vector
from hangtrue.phrase import phrase
from hangtrue.tables import table
from hangtrue.units import Unit


def sizing_demands(near: Gaps, unit: Unit) -> Iterator[Demand]:
    """Flush as sized; where nothing fits so, within what still looks flush."""
    within = float(table("fit")["corner"]["flush_within"])
    for flush in near.flush:
        yield _within(flush, flush.size_a, flush.size_constant, 0.0, unit, habit=USUAL)
        yield _within(flush, flush.size_a, flush.size_constant, within, unit, habit=MUST)


def sizing_wishes(near: Gaps) -> Iterator[Wish]:
    """As flush as may be."""
    weight = table("fit")["weights"]["flush"]
    for flush in near.flush:
        yield Wish(a=flush.size_a, target=-flush.size_constant, weight=weight)


def setting_demands(near: Gaps, unit: Unit, grid: float) -> Iterator[Demand]:
    """Flush within what still looks so and a step of the grid; panes aside no more than unseen."""
    settings = table("fit")["corner"]
    within = float(settings["flush_within"]) + grid
    for flush in near.flush:
        yield _within(flush, flush.set_a, flush.set_constant, within, unit, habit=MUST)
    most = float(settings["aside_most"])
    for a in _shifts(near):
        words = phrase(
            "panes at a corner stand at most {most} off their line", most=said(most, unit)
        )
        yield Demand(a=a, low=-most, high=most, least_words=words, most_words=words, joint="corner")


def setting_wishes(near: Gaps) -> Iterator[Wish]:
    """As flush as may be, and on the line."""
    weights = table("fit")["weights"]
    for flush in near.flush:
        yield Wish(a=flush.set_a, target=-flush.set_constant, weight=weights["flush"])
    for a in _shifts(near):
        yield Wish(a=a, target=0.0, weight=weights["aside"])


def _shifts(near: Gaps) -> Iterator[Vector]:
    """Entries of the vector that stand for steps aside, each as a row."""
    size = near.A.shape[1]
    count = SHIFTS * len(near.flush)
    yield from np.eye(size)[size - 1 - count : size - 1]


def _within(
    flush: Flush, a: Vector, constant: float,
    most: float, unit: Unit, *, habit: int,
) -> Demand:  # fmt: skip
    joint = flush.joint
    words = phrase("{joint}: flush within {most} (corner)", joint=joint.id, most=said(most, unit))
    return Demand(
        a=a, constant=constant, low=-most, high=most, habit=habit,
        least_words=words, most_words=words, joint=joint.id,
    )  # fmt: skip
