"""Every hinge screw must go into solid wood."""

from __future__ import annotations

from collections.abc import Iterable

from hangtrue.check.case import Case
from hangtrue.check.finding import Finding, Level
from hangtrue.check.hung import Hung
from hangtrue.check.rule import rule
from hangtrue.check.wood import backing, faults, screw_from_face, wanted
from hangtrue.job.document import Wall
from hangtrue.job.readings import Side

Place = tuple[Case, Hung, Side]
NO_HOLD = {
    "hollow": "is hollow where the hinges go",
    "acrylic": "is only acrylic where the hinges go",
    "steel stud": "has only thin steel studs where the hinges go",
}
ASK = {
    "unknown": (
        "Nobody knows what is behind the tile of the hinge wall.",
        "Find out: is there {}?",
    ),
    "masonry": (
        "Behind the tile of the hinge wall is masonry, not wood.",
        "Ask the hinge maker which anchor this masonry requires, and how deep; or for {}.",
    ),
}
UNPLACED = (
    "It is not known from where to where there is solid wood in the hinge wall.",
    "Find its ends and edges. Wanted is {}.",
)


@rule(
    id="blocking",
    title="Every hinge screw goes into solid wood",
    why="The whole door hangs on a few screws, pulled outward at the upper hinge. They hold in "
    "solid wood behind the tile; anchors in a hollow wall work loose and let the glass fall.",
    needs="wall hinge",
)
def blocking(case: Case) -> Iterable[Finding]:
    """Judge what is behind each hinge plate of the hinge wall; what is unknown is asked for."""
    for door, side in case.wall_hung:
        yield from _door(case, door, side)


def _door(case: Case, door: Hung, side: Side) -> Iterable[Finding]:
    wall, at = case.wall(side), (case, door, side)
    if wall.behind in NO_HOLD:
        yield _finding(
            at, Level.FAIL, f"The hinge wall ({side}) {NO_HOLD[wall.behind]}.",
            "Have {} put in before tiling, or hinge on another wall.",
        )  # fmt: skip
    elif wall.behind in ASK or not wall.blocking or not door.plates:
        yield _finding(at, Level.NOT_CHECKED, *ASK.get(wall.behind, UNPLACED))
    else:
        for height in door.plates:
            yield _plate(at, wall, height)


def _plate(place: Place, wall: Wall, height: float) -> Finding:
    case, door, side = place
    half, at = door.hinge.plate_height / 2, f"the hinge at {case.say(height)}"
    wrong = faults(case, backing(wall, height - half, height + half))
    if wrong:
        found = f"Behind {at} {wrong}."
        return _finding(place, Level.FAIL, found, "Have {} put in.")
    reach = screw_from_face(case, wall)
    if reach is None:
        found = f"There is solid wood behind {at}, but nobody said how thick the wall over it is."
        return _finding(place, Level.NOT_CHECKED, found, "How thick are tile and board?")
    return Finding(
        level=Level.PASS,
        where=f"{side} wall",
        found=f"There is solid wood behind all of {at}.",
        means=f"Its screws must be at least {case.say(reach)} long below the plate.",
    )


def _finding(place: Place, level: Level, found: str, do: str) -> Finding:
    """Make a finding whose cure or question names the blocking wanted, in figures."""
    case, door, side = place
    return Finding(
        level=level,
        where=f"{side} wall",
        found=found,
        means="No hinge may hang on wall anchors or thin sheet; the glass could come down."
        if level is Level.FAIL
        else "Until it is known, no hinge may be hung there.",
        do=do.format(wanted(case, door, side)),
    )
