"""Every hinge screw must go into solid wood."""

from __future__ import annotations

from collections.abc import Iterable

from hangtrue.check.case import Case
from hangtrue.check.finding import Finding, Level
from hangtrue.check.hung import Hung
from hangtrue.check.rule import rule
from hangtrue.check.wood import backing, faults, screw_from_face, wanted
from hangtrue.check.wording import hinge_wall, sentence
from hangtrue.job.document import Wall
from hangtrue.job.readings import Side
from hangtrue.phrase import phrase

Place = tuple[Case, Hung, Side]
NO_HOLD = {"hollow", "acrylic", "steel stud"}
ASKED = {"unknown", "masonry"}


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
        cure = phrase(
            "Have {wood} put in before tiling, or hinge on another wall.",
            wood=wanted(case, door, side),
        )
        yield _finding(at, Level.FAIL, _no_hold(wall, sentence(hinge_wall(side))), cure)
    elif wall.behind in ASKED or not wall.blocking or not door.plates:
        yield _finding(at, Level.NOT_CHECKED, *_asked(wall, wanted(case, door, side)))
    else:
        for height in door.plates:
            yield _plate(at, wall, height)


def _no_hold(wall: Wall, named: str) -> str:
    """Say what there is instead of wood."""
    match wall.behind:
        case "hollow":
            return phrase("{wall} is hollow where the hinges go.", wall=named)
        case "acrylic":
            return phrase("{wall} is only acrylic where the hinges go.", wall=named)
        case _:
            return phrase("{wall} has only thin steel studs where the hinges go.", wall=named)


def _asked(wall: Wall, wood: str) -> tuple[str, str]:
    """Say what is not known, and ask for it."""
    match wall.behind:
        case "unknown":
            return (
                "Nobody knows what is behind the tile of the hinge wall.",
                phrase("Find out: is there {wood}?", wood=wood),
            )
        case "masonry":
            return (
                "Behind the tile of the hinge wall is masonry, not wood.",
                phrase(
                    "Ask the hinge maker which anchor this masonry requires, and how deep; or for "
                    "{wood}.",
                    wood=wood,
                ),
            )
        case _:
            return (
                "It is not known from where to where there is solid wood in the hinge wall.",
                phrase("Find its ends and edges. Wanted is {wood}.", wood=wood),
            )


def _plate(place: Place, wall: Wall, height: float) -> Finding:
    case, door, side = place
    half, at = door.hinge.plate_height / 2, case.say(height)
    wrong = faults(case, backing(wall, height - half, height + half))
    if wrong:
        found = phrase("Behind the hinge at {height} {wrong}.", height=at, wrong=wrong)
        cure = phrase("Have {wood} put in.", wood=wanted(case, door, side))
        return _finding(place, Level.FAIL, found, cure)
    reach = screw_from_face(case, wall)
    if reach is None:
        found = phrase(
            "There is solid wood behind the hinge at {height}, but nobody said how thick the wall "
            "over it is.",
            height=at,
        )
        return _finding(place, Level.NOT_CHECKED, found, "How thick are tile and board?")
    return Finding(
        level=Level.PASS,
        where=f"{side} wall",
        found=phrase("There is solid wood behind all of the hinge at {height}.", height=at),
        means=phrase(
            "Its screws must be at least {length} long below the plate.", length=case.say(reach)
        ),
    )


def _finding(place: Place, level: Level, found: str, do: str) -> Finding:
    """Make a finding of what is not known to hold."""
    _, _, side = place
    return Finding(
        level=level,
        where=f"{side} wall",
        found=found,
        means="No hinge may hang on wall anchors or thin sheet; the glass could come down."
        if level is Level.FAIL
        else "Until it is known, no hinge may be hung there.",
        do=do,
    )
