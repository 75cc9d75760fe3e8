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
from hangtrue.mechanics.passage import passes_doorway, passes_turn

NOWHERE = "Nobody said which doorways and turns the glass must pass."


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
    """Try each pane through each doorway and round each turn that the job names."""
    way = case.job.way_in
    if way is None or not (way.doorways or way.turns):
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
        found=f"{NOWHERE} The largest pane is {case.say(wide)} wide and {case.say(tall)} high.",
        means="It cannot be cut to get it in.",
        do="Measure the narrowest doorway and landing on the way before ordering.",
    )


def _pane(pane: Lite, way: WayIn) -> Finding:
    stuck, ways = [], []
    for name, how in _passages(pane, way):
        if how is None:
            stuck.append(name)
        else:
            ways.append(f"{how} past the {name}")
    if stuck:
        return Finding(
            level=Level.FAIL,
            where=pane.id,
            found=f"{sentence(article(pane.id))} does not pass the {listed(stuck, 'or')}, upright, "
            "on its side or tilted.",
            means="It cannot be cut to get it in.",
            do="Find another way in, take a frame out, or divide the pane.",
        )
    return Finding(
        level=Level.PASS, where=pane.id, found=f"{sentence(article(pane.id))} goes {listed(ways)}."
    )


def _passages(pane: Lite, way: WayIn) -> Iterator[tuple[str, str | None]]:
    """Name of each doorway and turn, and how the pane passes it."""
    xs, ys = [x for x, _ in pane.outline], [y for _, y in pane.outline]
    wide, tall, around = max(xs) - min(xs), max(ys) - min(ys), float(way.around)
    for door in way.doorways:
        clear = (float(door.width), float(door.height))
        yield door.name, passes_doorway(wide, tall, clear, around)
    for turn in way.turns:
        passages = (float(turn.before), float(turn.after))
        room = float(turn.headroom) - 2 * around
        how = passes_turn(wide, tall, passages, room, pane.thickness + 2 * around)
        yield turn.name, how.attitude if how else None
