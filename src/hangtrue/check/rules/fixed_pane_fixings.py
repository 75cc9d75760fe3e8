"""What holds fixed glass to its walls must be screwed to something that holds."""

from __future__ import annotations

from collections.abc import Iterable

from hangtrue.check.case import Case
from hangtrue.check.finding import Finding, Level
from hangtrue.check.rule import rule
from hangtrue.check.wood import backing
from hangtrue.check.wording import sentence
from hangtrue.fit.enclosure import Lite
from hangtrue.job.hardware import Joint
from hangtrue.job.readings import Side

BEHIND = {
    "blocking": "is not known to have solid wood everywhere",
    "stud": "is not known to have solid wood everywhere",
    "hollow": "is hollow",
    "acrylic": "is only acrylic",
    "unknown": "hides what is behind its tile",
    "masonry": "is masonry",
    "steel stud": "has thin steel studs",
}


@rule(
    id="fixed-pane-fixings",
    title="The fixings of the fixed glass hold",
    why="A channel or clamp keeps fixed glass from tipping when somebody falls against it, and "
    "more so where a door hangs on that glass.",
    needs="fixed glass",
)
def fixed_pane_fixings(case: Case) -> Iterable[Finding]:
    """Judge what is behind the channel or clamps at each wall with fixed glass."""
    if not case.fixed_walls:
        yield Finding(level=Level.PASS, where="glass", found="No fixed glass meets a wall.")
    for side in case.fixed_walls:
        yield _wall(case, side)


def _wall(case: Case, side: Side) -> Finding:
    wall, fitting = case.wall(side), case.wall_fitting
    pane = case.at_wall(side)
    if isinstance(fitting, Joint):
        return Finding(
            level=Level.NOTE,
            where=f"{side} wall",
            found=f"The fixed glass meets the {side} wall with no fitting.",
            means="Silicone seals; it must not be all that holds the glass.",
        )
    low, high = _span(case, side, pane)
    stretch = f"from {case.size(low)} to {case.size(high)}"
    if wall.behind in {"blocking", "stud"} and backing(wall, low, high):
        good = f"There is solid wood behind the {fitting.kind} {stretch}."
        return Finding(level=Level.PASS, where=f"{side} wall", found=good)
    carries = case.carries(pane)
    lost = carries and wall.behind in {"hollow", "acrylic"}
    wood = "" if wall.behind == "masonry" else f"Find solid wood {stretch}, or "
    ask = f"ask the maker of the {fitting.kind} which fixing this wall requires."
    return Finding(
        level=Level.FAIL if lost else Level.NOT_CHECKED,
        where=f"{side} wall",
        found=f"The {side} wall {BEHIND[wall.behind]} where the {fitting.kind} is fixed.",
        means="A door hangs on this glass; it needs solid wood." if carries else "",
        do=f"Have solid wood put in {stretch}." if lost else sentence(wood + ask),
    )


def _span(case: Case, side: Side, pane: Lite) -> tuple[float, float]:
    """Lowest and highest fixing: at the clamps, or all the way up a channel."""
    at = [gap.at for gap in case.gaps(pane.id, f"{side} wall") if gap.at_fitting]
    if at:
        return min(at), max(at)
    low = pane.origin[1]
    return low, low + (pane.height_left if side == "left" else pane.height_right)
