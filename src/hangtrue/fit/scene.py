"""All that the panes of one enclosure are drawn from, once it is known where they stand."""

from __future__ import annotations

from dataclasses import dataclass

from hangtrue.fit.gaps import Gaps
from hangtrue.fit.layout import Fittings
from hangtrue.fit.room import Room
from hangtrue.fit.rows import Row
from hangtrue.fit.sizes import Setting
from hangtrue.job.brief import Brief


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Scene:
    """All that the panes of one enclosure are drawn from."""

    brief: Brief
    row: Row
    room: Room
    used: Fittings
    setting: Setting
    gaps: Gaps
    boxed: bool

    def on_grid(self, size: float) -> float:
        """Nearest size that the plant cuts, mm."""
        grid = float(self.brief.profile.plant.grid)
        return round(size / grid) * grid
