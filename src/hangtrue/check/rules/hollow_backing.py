"""Tile must be solidly bedded where glass fittings land."""

from __future__ import annotations

from collections.abc import Iterable

from hangtrue.check.case import Case
from hangtrue.check.finding import Finding, Level
from hangtrue.check.rule import rule
from hangtrue.check.wording import the_wall
from hangtrue.job.readings import Side
from hangtrue.phrase import phrase


@rule(
    id="hollow-backing",
    title="The tile is solid where fittings land",
    why="Tile that sounds hollow cracks when it is drilled or when a screw draws it in, and the "
    "hinge moves on it afterwards.",
)
def hollow_backing(case: Case) -> Iterable[Finding]:
    """Ask for the tap test at every wall that something is screwed to."""
    if not case.used_walls:
        yield Finding(level=Level.PASS, where="walls", found="Nothing is fixed to a wall.")
    for side in case.used_walls:
        yield _wall(case, side)


def _wall(case: Case, side: Side) -> Finding:
    where, at, wall = f"{side} wall", _span(case, side), the_wall(side)
    match case.wall(side).solid_bedded:
        case "yes":
            solid = phrase("The tile of {wall} is solid {stretch}.", wall=wall, stretch=at)
            return Finding(level=Level.PASS, where=where, found=solid)
        case "no":
            return Finding(
                level=Level.FAIL if case.hung_on_wall(side) else Level.WARN,
                where=where,
                found=phrase("The tile of {wall} sounds hollow {stretch}.", wall=wall, stretch=at),
                means="It may crack under the drill, and no screw will stay tight in it.",
                do=phrase(
                    "Have the tiles {stretch} lifted and bedded solid before anything is drilled.",
                    stretch=at,
                ),
            )
        case _:
            return Finding(
                level=Level.NOT_CHECKED,
                where=where,
                found=phrase("Nobody tapped the tile of {wall}.", wall=wall),
                do=phrase(
                    "Tap it along the glass line {stretch}: does it sound solid all over?",
                    stretch=at,
                ),
            )


def _span(case: Case, side: Side) -> str:
    """Where fittings land: behind the hinge plates, else all the way up."""
    door = case.hung_on_wall(side)
    if door is None or not door.plates:
        return phrase("from the curb to {high}", high=case.say(case.top_at(side)))
    half = door.hinge.plate_height / 2
    return phrase(
        "from {low} to {high}",
        low=case.say(door.plates[0] - half),
        high=case.say(door.plates[-1] + half),
    )
