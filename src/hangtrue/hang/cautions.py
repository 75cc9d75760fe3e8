"""Which cautions apply to a job: the conditions of its table, for steps and papers alike."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from hangtrue.fit.enclosure import Enclosure, NoFit
from hangtrue.job.brief import Brief
from hangtrue.tables import table

Row = Mapping[str, Any]
Made = Enclosure | NoFit
Condition = Callable[[Brief, Made, Row], bool]


def applies(row: Row, brief: Brief, made: Made) -> bool:
    """Whether a caution of the table applies to what is built."""
    return APPLIES[row["when"]](brief, made, row)


def applying(brief: Brief, made: Made) -> tuple[str, ...]:
    """Ids of all cautions that apply, in the order of the work."""
    return tuple(name for name, row in table("cautions").items() if applies(row, brief, made))


def heavy_from() -> float:
    """Mass over which a pane is carried by two people or with an aid, kg."""
    return float(table("cautions")["heavy"]["mass_over_kg"])


def heaviest(made: Made) -> float:
    """Mass of the heaviest pane, kg; 0 where there is none."""
    panes = made.lites if isinstance(made, Enclosure) else ()
    return max((pane.mass_kg for pane in panes), default=0.0)


def _always(_brief: Brief, _made: Made, _row: Row) -> bool:
    return True


def _is_made(_brief: Brief, made: Made, _row: Row) -> bool:
    return isinstance(made, Enclosure)


def _is_boxed(_brief: Brief, made: Made, _row: Row) -> bool:
    return made.choice.cut == "boxed"


def _is_cut(_brief: Brief, made: Made, _row: Row) -> bool:
    return isinstance(made, Enclosure) and made.choice.cut != "boxed"


def _is_heavy(_brief: Brief, made: Made, row: Row) -> bool:
    return heaviest(made) > float(row["mass_over_kg"])


def _has_hinges(_brief: Brief, made: Made, _row: Row) -> bool:
    return isinstance(made, Enclosure) and made.choice.hinge_side is not None


def _has_wall_hinges(_brief: Brief, made: Made, _row: Row) -> bool:
    """Whether any door hangs on a wall: a hinge between two panes has no screw in wood."""
    return isinstance(made, Enclosure) and any(door.hung_on == "wall" for door in made.doors)


def _is_held_by_glass(_brief: Brief, made: Made, _row: Row) -> bool:
    """Whether any door hangs on a pane, the second of two as well."""
    choice = made.choice
    second = choice.second is not None and choice.second[1] == "glass"
    return isinstance(made, Enclosure) and (choice.hung_on == "glass" or second)


def _has_free_edge(_brief: Brief, made: Made, _row: Row) -> bool:
    panes = made.lites if isinstance(made, Enclosure) else ()
    return any(edge.meets == "free" for pane in panes for edge in pane.edges)


def _is_unknown_behind(brief: Brief, _made: Made, _row: Row) -> bool:
    walls = (brief.job.walls.left, brief.job.walls.right)
    return any(wall is not None and wall.behind == "unknown" for wall in walls)


APPLIES: dict[str, Condition] = {
    "always": _always,
    "made": _is_made,
    "drilling": _is_made,
    "cut": _is_cut,
    "boxed": _is_boxed,
    "heavy": _is_heavy,
    "hinges": _has_hinges,
    "wall hinges": _has_wall_hinges,
    "held by glass": _is_held_by_glass,
    "free edge": _has_free_edge,
    "unknown backing": _is_unknown_behind,
}
