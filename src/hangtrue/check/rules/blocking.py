"""Every hinge screw must go into solid wood."""

from __future__ import annotations

from collections.abc import Iterable

from hangtrue.check.case import Case
from hangtrue.check.finding import Finding, Level
from hangtrue.check.rule import rule
from hangtrue.check.wood import backing, faults, outward, reach_of_screw
from hangtrue.job.document import Wall
from hangtrue.job.readings import Side

NO_HOLD = {"hollow", "acrylic", "steel stud"}


@rule(
    id="blocking",
    title="Every hinge screw goes into solid wood",
    why="The whole door hangs on a few screws, pulled outward at the upper hinge. They hold in "
    "solid wood behind the tile; anchors in a hollow wall work loose and let the glass fall.",
    needs="wall hinge",
)
def blocking(case: Case) -> Iterable[Finding]:
    """Judge what is behind each hinge plate of the hinge wall; what is unknown is asked for."""
    side = case.carrying_wall
    wall = case.wall(side)
    if wall.behind in NO_HOLD:
        yield _no_hold(case, side, wall)
    elif wall.behind == "masonry":
        yield _ask(
            side,
            "Behind the tile of the hinge wall is masonry.",
            "Ask the hinge maker which anchor this masonry requires, and how deep it must sit.",
        )
    elif wall.behind == "unknown":
        yield _ask(
            side,
            "Nobody knows what is behind the tile of the hinge wall.",
            f"Find out whether there is {_wanted(case, side)}.",
        )
    elif not wall.blocking or not case.plates:
        yield _ask(
            side,
            "It is not known from where to where there is solid wood in the hinge wall.",
            f"Find its ends and its edges. Wanted is {_wanted(case, side)}.",
        )
    else:
        for height in case.plates:
            yield _plate(case, side, wall, height)


def _plate(case: Case, side: Side, wall: Wall, height: float) -> Finding:
    half = case.hinge.plate_height / 2
    wood = backing(wall, height - half, height + half)
    wrong = faults(case, wood)
    length, length_known = reach_of_screw(case, wall)
    at = f"behind the hinge at {case.say(height)}"
    if wrong:
        return Finding(
            level=Level.FAIL,
            where=f"{side} wall",
            found=f"{at.capitalize()} {wrong}.",
            means="Not every screw of this hinge would hold in wood.",
            do=f"Have {_wanted(case, side)} put in.",
        )
    return Finding(
        level=Level.PASS if length_known else Level.NOT_CHECKED,
        where=f"{side} wall",
        found=f"There is solid wood all {at}.",
        means="Only the hinge maker's screws count, sealed in their holes." if length_known else "",
        do=f"Screws reach the wood from {length} on below the head."
        if length_known
        else f"How thick are tile and board over it? Screws must bite {length} of wood.",
    )


def _no_hold(case: Case, side: Side, wall: Wall) -> Finding:
    names = {"hollow": "hollow", "acrylic": "only acrylic", "steel stud": "steel studs only"}
    return Finding(
        level=Level.FAIL,
        where=f"{side} wall",
        found=f"The hinge wall ({side}) is {names[wall.behind]} where the hinges go.",
        means="No hinge may hang on hollow-wall anchors or thin sheet; the glass would come down.",
        do=f"Have {_wanted(case, side)} put in before tiling, or hinge on another wall.",
    )


def _ask(side: Side, found: str, question: str) -> Finding:
    return Finding(
        level=Level.NOT_CHECKED,
        where=f"{side} wall",
        found=found,
        means="Until it is known, no hinge may be hung there.",
        do=question,
    )


def _wanted(case: Case, side: Side) -> str:
    """Blocking to ask the builder for, in figures."""
    plates, half = case.plates or (0.0, case.top), case.hinge.plate_height / 2
    low, high = outward(case, max(plates[0] - half, 0.0), plates[-1] + half)
    width, depth = case.limit("blocking-width-least"), case.limit("blocking-depth-least")
    return (
        f"solid wood blocking from {case.say(low)} to {case.say(high)} at the {side} wall, at "
        f"least {case.say(width.value)} wide on the glass line and {case.say(depth.value)} thick"
    )
