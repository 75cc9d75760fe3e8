"""The cut list of several jobs at once, as the terminal says it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from hangtrue.hang.cut_records import CutBar, StockPlan
from hangtrue.hang.cutting import Shelf
from hangtrue.hang.shop import Shop
from hangtrue.hang.snags import Snag
from hangtrue.paper.columns import item
from hangtrue.paper.lengths import Units

PROVEN = 5e-4
"""A plan this near to its bound needs no more stock than any other."""


def cut_text(
    plans: Sequence[StockPlan], snags: Sequence[Snag], after: Shelf, shop: Shop, units: Units
) -> str:
    """Say every bar with its pieces, what stays on the shelf, and what cannot be cut."""
    parts = ["\n".join(_stock(plan, shop, units)) for plan in plans]
    if snags:
        said = (item("  - ", str(snag)) for snag in snags)
        parts.append("\n".join(("Cannot be done as it stands", *said)))
    if after:
        parts.append("\n".join(("On the shelf afterwards, for the profile", *_shelf(after))))
    return "\n\n".join(parts) or "Nothing to cut."


def _stock(plan: StockPlan, shop: Shop, units: Units) -> Iterator[str]:
    best = plan.plan.gap < PROVEN
    how = "no plan needs less stock" if best else f"at most {plan.plan.gap:.1%} over the least"
    yield f"{plan.sort[:1].upper()}{plan.sort[1:]}, {plan.item}: {how}"
    yield from (_bar(bar, shop, units) for bar in plan.plan.bars)


def _bar(bar: CutBar, shop: Shop, units: Units) -> str:
    """One length, its pieces in the order of cutting, and what is left of it."""
    kind = "from the shelf" if bar.stock.shelf else "new"
    pieces = "; ".join(f"{name}: {units.alone.small(mm)}" for name, mm in bar.pieces)
    rest = f"{units.alone.small(bar.rest)} left, {'keep' if bar.kept else 'scrap'}"
    return item("  - ", f"{shop.write(bar.stock.length)} {kind}: {pieces}; {rest}")


def _shelf(after: Shelf) -> Iterator[str]:
    """Offcuts as they stand in a shop profile; rounded down, so that none is longer than it is."""
    for sort in sorted({sort for sort, _ in after}):
        yield f'[shelf.offcuts."{sort}"]'
        for (kind, name), lengths in sorted(after.items()):
            if kind == sort:
                written = ", ".join(f'"{int(mm)} mm"' for mm in lengths)
                yield f'"{name}" = [{written}]'
