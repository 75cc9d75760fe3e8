"""Pieces to cut to length, and how they come out of stock."""

from __future__ import annotations

from dataclasses import dataclass

from hangtrue.estimate import Estimate
from hangtrue.hang.snags import Snag


@dataclass(frozen=True, slots=True, kw_only=True)
class EndCut:
    """One end of a piece: angle from square, rad, and where its longer side is, in words."""

    angle_rad: float = 0.0
    words: str = "square"


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceCut:
    """A notch or a gap cut out along a piece: from and to, mm from its first end, and why."""

    start: float
    end: float
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CutPiece:
    """One length to cut.

    Attributes
    ----------
    id
        Unique within its job.
    sort
        Which stock it comes from: `channel`, `sweep`, `strike seal`, `hinge strip`, `bar`, `block`.
    item
        Id of the fitting; pieces of one sort and item share stock.
    length
        Along its longer side, mm, with how well it is known: cut the last bit to fit.
    ends
        Lower (or left) end, then upper (or right) end.

    """

    job: str
    id: str
    sort: str
    item: str
    title: str
    length: Estimate
    ends: tuple[EndCut, EndCut] = (EndCut(), EndCut())
    cuts: tuple[PieceCut, ...] = ()
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class StockLength:
    """A length to cut from: how many there are (None: as many as are bought), and its cost.

    Attributes
    ----------
    cost
        In mm of new stock: its length when bought, less when it already lies on the shelf.

    """

    length: float
    cost: float
    count: int | None = None
    shelf: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class CutBar:
    """One stock length and what is cut from it, in order; `rest` is what is left, mm."""

    stock: StockLength
    pieces: tuple[tuple[str, float], ...]
    rest: float
    kept: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class CuttingPlan:
    """How a list of pieces comes out of stock lengths.

    Attributes
    ----------
    cost
        Of the bars used, in mm of new stock.
    bound
        No plan can cost less, mm of new stock.
    snags
        Pieces that no stock length holds.

    """

    bars: tuple[CutBar, ...]
    cost: float
    bound: float
    snags: tuple[Snag, ...] = ()

    @property
    def gap(self) -> float:
        """Share by which the plan may be above the best there is; 0 is proven best."""
        return (self.cost - self.bound) / self.bound if self.bound else 0.0

    @property
    def offcuts(self) -> tuple[float, ...]:
        """Rests worth keeping on the shelf for next jobs, longest first, mm."""
        return tuple(sorted((b.rest for b in self.bars if b.kept), reverse=True))

    def buy(self) -> tuple[tuple[float, int], ...]:
        """New lengths to buy: length in mm and how many."""
        new = [b.stock.length for b in self.bars if not b.stock.shelf]
        return tuple((length, new.count(length)) for length in sorted(set(new)))


@dataclass(frozen=True, slots=True, kw_only=True)
class StockPlan:
    """The cutting plan of one sort of stock."""

    sort: str
    item: str
    plan: CuttingPlan
