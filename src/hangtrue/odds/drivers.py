"""What drives the risk: each reading's share, the plant's, the setting's; together the whole."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from hangtrue.job.brief import Brief
from hangtrue.measure.adjusting import Fit, bowed, fit, network
from hangtrue.measure.next_reading import in_words
from hangtrue.measure.opening import Matrix, Opening
from hangtrue.odds.errors import Origin
from hangtrue.odds.model import Model
from hangtrue.odds.odds import Odds
from hangtrue.phrase import phrase
from hangtrue.tables import table

SAME = 1e-6
"""Covariances count as the same to this share of the largest variance."""

USUAL_WALLS = "how far walls usually bow and lean where nothing was read"


@dataclass(frozen=True, slots=True, kw_only=True)
class Driver:
    """One source of the risk and its share of it, 0 to 1.

    Attributes
    ----------
    reading
        Id of the reading, if it is one.

    """

    name: str
    origin: Origin
    share: float
    reading: str = ""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Readings:
    """The covariance of an opening, reading by reading.

    Attributes
    ----------
    fit
        The adjustment that the opening came from.
    place
        (m,) index of each entry of the opening among the unknowns; -1 where the frame fixes it.
    names, ids
        Of r readings and of what was taken for granted (without an id).
    parts
        (m, r) with `parts parts' = covariance` of the opening.

    """

    fit: Fit
    place: tuple[int, ...]
    names: tuple[str, ...]
    ids: tuple[str, ...]
    parts: Matrix


def readings_of(brief: Brief, opening: Opening) -> Readings | None:
    """Take the covariance of an opening apart; None if it did not come from this brief."""
    net = network(brief)
    for some in (net, bowed(net, float(table("misreadings")["bowed"]["times"]))):
        found = _apart(brief, opening, fit(some, frozenset(opening.set_aside)))
        whole = found.parts @ found.parts.T
        if np.abs(whole - opening.covariance).max() <= SAME * np.diag(opening.covariance).max():
            return found
    return None


def _apart(brief: Brief, opening: Opening, found: Fit) -> Readings:
    layout, adjusted = found.network.layout, found.adjustment
    place = tuple(layout.place.get(name, -1) for name in opening.unknowns)
    known = [k for k, i in enumerate(place) if i >= 0]
    covariance = adjusted.covariance[[place[k] for k in known]]
    parts = np.zeros((len(place), len(adjusted.rows)))
    for r, row in enumerate(adjusted.rows):
        index = [i for i, _ in row.terms]
        weight = np.array([a for _, a in row.terms]) / row.sigma
        parts[known, r] = covariance[:, index] @ weight
    words = _named(found, brief)
    ids = [s.reading.id for s in found.seen]
    granted = len(adjusted.rows) - len(ids)
    return Readings(
        fit=found,
        place=place,
        names=(*(words[i] for i in ids), *[USUAL_WALLS] * granted),
        ids=(*ids, *[""] * granted),
        parts=parts,
    )


def _named(found: Fit, brief: Brief) -> dict[str, str]:
    """Words for each reading by its id; where two read alike, with their ids."""
    words = {s.reading.id: in_words(s.reading, brief.job.unit) for s in found.seen}
    often = Counter(words.values())
    return {
        key: said if often[said] == 1 else phrase("{reading} (reading {id})", reading=said, id=key)
        for key, said in words.items()
    }


def drivers(of: Model, found: Odds, apart: Readings | None) -> tuple[Driver, ...]:
    """Share out the risk over its sources, the largest first; the shares add up to 1.

    Each way to fail counts by its chance, and in it each source by its part of the variance of
    the room. Nothing comes of it where nothing failed.
    """
    shares: dict[tuple[str, Origin, str], float] = defaultdict(float)
    if found.failures:
        chance = np.array([failure.chance for failure in found.failures])
        variances = _variances(of, apart, np.array([f.pull for f in found.failures]))
        each = (chance / chance.sum() / variances.sum(axis=1)) @ variances
        for key, share in zip(_keys(of, apart), each.tolist(), strict=True):
            shares[key] += share
    ordered = sorted(shares.items(), key=lambda item: (-item[1], item[0]))
    return tuple(
        Driver(name=name, origin=origin, share=share, reading=reading)
        for (name, origin, reading), share in ordered
        if share > 0.0
    )


def _keys(of: Model, apart: Readings | None) -> Iterator[tuple[str, Origin, str]]:
    """Name, origin and reading of every source, in the order of `_variances`."""
    if apart is None:
        yield "the readings", "survey", ""
    else:
        for name, reading in zip(apart.names, apart.ids, strict=True):
            yield name, "survey", reading
    for source in of.sources:
        yield source.name, source.origin, ""


def _variances(of: Model, apart: Readings | None, pulls: Matrix) -> Matrix:
    """Variance of the room (f, n) in each of f ways to fail by each source, mm2."""
    shape = pulls @ of.shape
    sds = np.array([source.sd for source in of.sources])
    own = (pulls @ of.parts * sds) ** 2
    if apart is None:
        read = np.einsum("fm,mn,fn->f", shape, of.covariance, shape)[:, None]
    else:
        read = (shape @ apart.parts) ** 2
    every: Matrix = np.hstack([read, own])
    return every


def by_origin(found: tuple[Driver, ...]) -> dict[Origin, float]:
    """Add the shares up: survey, plant, setting."""
    shares: dict[Origin, float] = {"survey": 0.0, "plant": 0.0, "setting": 0.0}
    for driver in found:
        shares[driver.origin] += driver.share
    return shares
