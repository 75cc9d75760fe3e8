"""The free edge of a pane must not move far from its neighbour when somebody leans on it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import lru_cache

from hangtrue.check.case import Case
from hangtrue.check.finding import Finding, Level
from hangtrue.check.proof.bending import Bent, bend
from hangtrue.check.proof.cases import PaneCase
from hangtrue.check.proof.covered import covered
from hangtrue.check.proof.held_pane import HeldPane
from hangtrue.check.proof.leaning import bent, floor, rules
from hangtrue.check.proof.saying import glass_name, next_thicker
from hangtrue.check.rule import rule
from hangtrue.check.wording import article, listed, sentence
from hangtrue.estimate import Estimate
from hangtrue.fit.enclosure import Lite
from hangtrue.mechanics.glass_strength import deflection_limit, least_thickness

LEANS = "line"
BINDS = "ipc"
"""Jurisdiction of buildings other than dwellings, where the clause on movement binds."""


@rule(
    id="glass-movement",
    title="A free edge hardly moves when somebody leans on the glass",
    why="A pane whose free edge moves away from its neighbour pinches fingers, beats against the "
    "door, and frightens whoever leans on it.",
    source="ibc-2403",
    needs="fixed glass",
)
@covered
def glass_movement(case: Case) -> Iterable[Finding]:
    """Compare the movement of each free edge, as a range, with what is allowed or usual."""
    free = [pane for pane in case.fixed if _is_free(case, pane)]
    if not free:
        yield Finding(
            level=Level.PASS,
            where="enclosure",
            found="Every upright edge of the fixed glass is held.",
        )
    for pane in free:
        yield _pane(case, pane)


def _is_free(case: Case, pane: Lite) -> bool:
    held, _ = bent(case, pane)
    return bool(held.free)


def _pane(case: Case, pane: Lite) -> Finding:
    held, answer = bent(case, pane)
    moved = answer.of(LEANS)
    if not moved or answer.faults:
        return _unsolved(pane, answer.faults)
    low, high = sorted((min(b.moves for b in moved), max(b.moves for b in moved)))
    limit, whose = _limit(case, held)
    binds = case.brief.profile.jurisdiction == BINDS
    level = _level(low, high, limit, binds=binds)
    least, most = case.say(low), case.say(high)
    span = (
        most if least == most else f"{least} (channels that grip it) to {most} (that only guide it)"
    )
    return Finding(
        level=level,
        where=pane.id,
        found=f"With somebody leaning along {article(pane.id)}, its free edge moves {span}; "
        f"{whose} {case.say(limit)}.",
        means=_means(moved, level),
        do="" if level is Level.PASS else _cure(case, pane, held, limit),
        value=Estimate(high),
        limit=limit,
        unit="mm",
        source="ibc-2403" if rules(case).id == "us" else "bs-6180",
    )


def _limit(case: Case, held: HeldPane) -> tuple[float, str]:
    """Return the movement allowed, mm, and whose it is, in words."""
    if rules(case).id == "us":
        return held.thickness, "the building code allows its thickness,"
    tall = max(y for _, y in held.outline)
    return deflection_limit("bs-6180", tall), "a glass barrier, which this is not, is allowed"


def _level(low: float, high: float, limit: float, *, binds: bool) -> Level:
    """Where the clause binds it decides; else it is worth knowing."""
    if high <= limit:
        return Level.PASS
    if not binds:
        return Level.NOTE
    return Level.WARN if low > limit else Level.NOT_CHECKED


def _means(moved: tuple[Bent, ...], level: Level) -> str:
    words = []
    if any(not one.linear for one in moved):
        words.append("The larger figure is beyond the linear theory and too large.")
    if level is Level.NOTE:
        words.append("It does not bind here, but the glass will feel loose.")
    elif level > Level.NOTE:
        words.append("An inspector may ask for a registered design professional.")
    return " ".join(words)


def _cure(case: Case, pane: Lite, held: HeldPane, limit: float) -> str:
    """Say what a bar, thicker glass or a narrower pane would make of it."""
    one = next(c for c in rules(case).panes if c.id == LEANS)
    ground = floor(case, pane)
    binds = case.brief.profile.jurisdiction == BINDS
    cures = [f"a bar at its free top corner makes it {_span(case, braced(held), one, ground)}"]
    nominal = next_thicker(held.nominal)
    if nominal:
        moves = _span(case, held, one, ground, _softer(held, nominal))
        cures.append(f"{glass_name(case, nominal)} glass {moves}")
    width = narrower(held, one, ground, limit) if binds else None
    if width is not None:
        cures.append(f"a pane {case.size(width)} wide keeps to it whatever its channels do")
    return f"{sentence(listed(cures))}."


def _softer(held: HeldPane, nominal: float) -> float:
    """Share of its movement that is left in another trade thickness: the cube of the ratio."""
    return (held.thickness / least_thickness(nominal)) ** 3


def _span(case: Case, held: HeldPane, one: PaneCase, ground: float, share: float = 1.0) -> str:
    moves = sorted(share * b.moves for b in bend(held, (one,), ground).bent)
    if not moves:
        return "something that could not be computed"
    ends = dict.fromkeys((case.say(moves[0]), case.say(moves[-1])))
    return " to ".join(ends)


def braced(held: HeldPane) -> HeldPane:
    """Return the pane with a bar at the top of its first free edge."""
    return held.with_bar(held.free[0][1])


@lru_cache(maxsize=64)
def narrower(held: HeldPane, one: PaneCase, ground: float, limit: float) -> float | None:
    """Greatest width at which the pane keeps the limit with channels that only guide it, mm."""
    wide = max(x for x, _ in held.outline) - min(x for x, _ in held.outline)
    for share in _shares():
        narrow = held.narrowed(share).only_guided()
        found = bend(narrow, (one,), ground)
        if found.bent and not found.faults and max(b.moves for b in found.bent) <= limit:
            return wide * share
    return None


def _shares() -> Iterator[float]:
    return (n / 10 for n in range(9, 3, -1))


def _unsolved(pane: Lite, faults: tuple[str, ...]) -> Finding:
    free = any("free to move" in fault for fault in faults)
    found = (
        f"{sentence(article(pane.id))} stands only as long as its channel grips it."
        if free
        else f"How far {article(pane.id)} moves could not be computed: {listed(faults)}."
    )
    return Finding(
        level=Level.NOT_CHECKED,
        where=pane.id,
        found=found,
        means="Nothing else keeps it from falling over.",
        do="Hold its top by a bar or a header; or ask the maker of the channel what it bears.",
    )
