"""What holds fixed glass to its walls must be screwed to something that holds."""

from __future__ import annotations

from collections.abc import Iterable

from hangtrue.check.case import Case
from hangtrue.check.finding import Finding, Level
from hangtrue.check.rule import rule
from hangtrue.check.wood import backing
from hangtrue.check.wording import article, sentence, the_wall
from hangtrue.fit.enclosure import Lite
from hangtrue.job.document import Wall
from hangtrue.job.hardware import Joint
from hangtrue.job.readings import Side
from hangtrue.phrase import phrase


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
            found=phrase("The fixed glass meets {wall} with no fitting.", wall=the_wall(side)),
            means="Silicone seals; it must not be all that holds the glass.",
        )
    low, high = _span(case, side, pane)
    words = {"low": case.size(low), "high": case.size(high), "fitting": article(fitting.kind)}
    if wall.behind in {"blocking", "stud"} and backing(wall, low, high):
        good = phrase("There is solid wood behind {fitting} from {low} to {high}.", **words)
        return Finding(level=Level.PASS, where=f"{side} wall", found=good)
    carries = case.carries(pane)
    lost = carries and wall.behind in {"hollow", "acrylic"}
    ask = (
        phrase(
            "Ask the maker of {fitting} which fixing bears in this wall the working load that the "
            "finding fixed-screws states for the way that is built.",
            **words,
        )
        if wall.behind == "masonry"
        else phrase(
            "Find solid wood from {low} to {high}, or ask the maker of {fitting} which fixing "
            "bears in this wall the working load that the finding fixed-screws states for the way "
            "that is built.",
            **words,
        )
    )
    return Finding(
        level=Level.FAIL if lost else Level.NOT_CHECKED,
        where=f"{side} wall",
        found=_behind(wall, sentence(the_wall(side)), article(fitting.kind)),
        means="A door hangs on this glass; it needs solid wood." if carries else "",
        do=phrase("Have solid wood put in from {low} to {high}.", **words) if lost else ask,
    )


def _behind(wall: Wall, named: str, fitting: str) -> str:
    """Say what is behind a wall where its fitting is fixed."""
    words = {"wall": named, "fitting": fitting}
    match wall.behind:
        case "hollow":
            return phrase("{wall} is hollow where {fitting} is fixed.", **words)
        case "acrylic":
            return phrase("{wall} is only acrylic where {fitting} is fixed.", **words)
        case "unknown":
            return phrase("{wall} hides what is behind its tile where {fitting} is fixed.", **words)
        case "masonry":
            return phrase("{wall} is masonry where {fitting} is fixed.", **words)
        case "steel stud":
            return phrase("{wall} has thin steel studs where {fitting} is fixed.", **words)
        case _:
            return phrase(
                "{wall} is not known to have solid wood everywhere where {fitting} is fixed.",
                **words,
            )


def _span(case: Case, side: Side, pane: Lite) -> tuple[float, float]:
    """Lowest and highest fixing: at the clamps, or all the way up a channel."""
    at = [gap.at for gap in case.gaps(pane.id, f"{side} wall") if gap.at_fitting]
    if at:
        return min(at), max(at)
    low = pane.origin[1]
    return low, low + (pane.height_left if side == "left" else pane.height_right)
