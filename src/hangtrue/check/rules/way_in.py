"""Every pane must get into the room."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from hangtrue.check.case import Case
from hangtrue.check.finding import Finding, Level
from hangtrue.check.proof.covered import covered
from hangtrue.check.rule import rule
from hangtrue.check.wording import article, listed, sentence
from hangtrue.fit.enclosure import Lite
from hangtrue.job.way_in import WayIn
from hangtrue.mechanics.passage import passes_doorway, passes_flight, passes_turn
from hangtrue.phrase import phrase

NOWHERE = "Nobody said which doorways, stairs and turns the glass must pass."


@rule(
    id="way-in",
    title="Every pane gets into the room",
    why="Tempered glass cannot be cut on site. A pane that does not pass the bathroom door or the "
    "landing is found out with the pane on the stairs.",
    source="own",
    needs="glass",
)
@covered
def way_in(case: Case) -> Iterable[Finding]:
    """Try each pane through each doorway, up each stairs, round each turn that the job names."""
    way = case.job.way_in
    if way is None or not (way.doorways or way.turns or way.stairs):
        yield _unknown(case)
        return
    for pane in case.lites:
        yield _pane(pane, way)


def _unknown(case: Case) -> Finding:
    largest = max(case.lites, key=lambda pane: pane.area)
    wide, tall = largest.width_bottom, max(largest.height_left, largest.height_right)
    return Finding(
        level=Level.NOTE,
        where="glass",
        found=phrase(
            "{nowhere} The largest pane is {wide} wide and {tall} high.",
            nowhere=NOWHERE,
            wide=case.say(wide),
            tall=case.say(tall),
        ),
        means="It cannot be cut to get it in.",
        do="Measure the narrowest doorway, stairs and landing on the way before ordering.",
    )


def _pane(pane: Lite, way: WayIn) -> Finding:
    stuck, ways = [], []
    for name, how in _passages(pane, way):
        if how is None:
            stuck.append(phrase("the {name}", name=name))
        else:
            ways.append(phrase("{how} past the {name}", how=how, name=name))
    if stuck:
        return Finding(
            level=Level.FAIL,
            where=pane.id,
            found=phrase(
                "{pane} does not pass {stuck}, upright, on its side, flat or tilted.",
                pane=sentence(article(pane.id)), stuck=listed(stuck, "or"),
            ),
            means="It cannot be cut to get it in.",
            do="Find another way in, take a frame out, or divide the pane.",
        )  # fmt: skip
    return Finding(
        level=Level.PASS,
        where=pane.id,
        found=phrase("{pane} goes {ways}.", pane=sentence(article(pane.id)), ways=listed(ways)),
    )


def _passages(pane: Lite, way: WayIn) -> Iterator[tuple[str, str | None]]:
    """Name of each doorway, stairs and turn, and how the pane passes it."""
    xs, ys = [x for x, _ in pane.outline], [y for _, y in pane.outline]
    wide, tall, around = max(xs) - min(xs), max(ys) - min(ys), float(way.around)
    across = pane.thickness + 2 * around
    for door in way.doorways:
        clear = (float(door.width), float(door.height))
        yield door.name, passes_doorway(wide, tall, clear, around)
    for flight in way.stairs:
        room = (float(flight.width), float(flight.headroom) - 2 * around, float(flight.slope))
        yield flight.name, passes_flight(wide, tall, room, across)
    for turn in way.turns:
        passages = (float(turn.before), float(turn.after))
        how = passes_turn(wide, tall, passages, float(turn.headroom) - 2 * around, across)
        yield turn.name, how.attitude if how else None
