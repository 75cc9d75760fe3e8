"""The free edge of a pane must not move far from its neighbour when somebody leans on it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from hangtrue.check.case import Case
from hangtrue.check.finding import Finding, Level
from hangtrue.check.proof.bending import Bent, bend
from hangtrue.check.proof.cases import PaneCase
from hangtrue.check.proof.covered import covered
from hangtrue.check.proof.glass_cures import cures
from hangtrue.check.proof.held_pane import HeldPane
from hangtrue.check.proof.leaning import bent, floor, rules
from hangtrue.check.proof.saying import glass_name, next_thicker
from hangtrue.check.rule import rule
from hangtrue.check.wording import article, listed, sentence
from hangtrue.estimate import Estimate
from hangtrue.fit.enclosure import Lite
from hangtrue.mechanics.glass_strength import deflection_limit, least_thickness
from hangtrue.phrase import Phrase, join, phrase

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
    return Finding(
        level=level,
        where=pane.id,
        found=phrase(
            "With somebody leaning along {pane}, its free edge moves {span}; {whose} {limit}.",
            pane=article(pane.id),
            span=_range(case, low, high),
            whose=whose,
            limit=case.say(limit),
        ),
        means=_means(moved, level),
        do="" if level is Level.PASS else _cure(case, pane, held, limit),
        value=Estimate(high),
        limit=limit,
        unit="mm",
        source="ibc-2403" if rules(case).id == "us" else "bs-6180",
    )


def _range(case: Case, low: float, high: float) -> str:
    least, most = case.say(low), case.say(high)
    if least == most:
        return most
    return phrase(
        "{least} (channels that grip it) to {most} (that only guide it)", least=least, most=most
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
    words: list[str] = []
    if any(not one.linear for one in moved):
        words.append("The larger figure is beyond the linear theory and too large.")
    if level is Level.NOTE:
        words.append("It does not bind here, but the glass will feel loose.")
    elif level > Level.NOTE:
        words.append("An inspector may ask for a registered design professional.")
    return join(" ", words)


def _cure(case: Case, pane: Lite, held: HeldPane, limit: float) -> str:
    """Say what a bar, thicker glass, other clamps or a narrower pane would make of it."""
    one = next(c for c in rules(case).panes if c.id == LEANS)
    ground = floor(case, pane)
    said = [
        phrase(
            "a bar at its free top corner makes it {span}",
            span=_span(case, braced(held), one, ground),
        )
    ]
    nominal = next_thicker(held.nominal)
    if nominal:
        said.append(
            phrase(
                "{glass} glass {span}",
                glass=glass_name(case, nominal),
                span=_span(case, held, one, ground, _softer(held, nominal)),
            )
        )
    if case.brief.profile.jurisdiction == BINDS:
        said += _enough(case, held, one, (ground, limit))
    return phrase("{cures}.", cures=sentence(listed(said)))


def _enough(case: Case, held: HeldPane, one: PaneCase, at: tuple[float, float]) -> Iterator[Phrase]:
    """Say which changes keep to the limit by themselves, where it binds."""
    ground, limit = at
    found = cures(held, (one,), ground, lambda a: max(b.moves for b in a.bent) / limit)
    for cure in found:
        if cure.kind == "bar" and cure.at:
            yield phrase("a bar up to {off} from that corner keeps to it", off=case.size(cure.at))
        elif cure.kind == "clamps":
            yield phrase("clamps {off} from the ends keep to it", off=case.size(cure.at))
        elif cure.kind == "width":
            yield phrase(
                "a pane {wide} wide keeps to it whatever its channels do", wide=case.size(cure.at)
            )


def _softer(held: HeldPane, nominal: float) -> float:
    """Share of its movement that is left in another trade thickness: the cube of the ratio."""
    return (held.thickness / least_thickness(nominal)) ** 3


def _span(case: Case, held: HeldPane, one: PaneCase, ground: float, share: float = 1.0) -> str:
    moves = sorted(share * b.moves for b in bend(held, (one,), ground).bent)
    if not moves:
        return "something that could not be computed"
    least, most = case.say(moves[0]), case.say(moves[-1])
    return most if least == most else phrase("{least} to {most}", least=least, most=most)


def braced(held: HeldPane) -> HeldPane:
    """Return the pane with a bar at the top of its first free edge."""
    return held.with_bar(held.free[0][1])


def _unsolved(pane: Lite, faults: tuple[str, ...]) -> Finding:
    free = any("free to move" in fault for fault in faults)
    return Finding(
        level=Level.NOT_CHECKED,
        where=pane.id,
        found=phrase(
            "{pane} stands only as long as its channel grips it.", pane=sentence(article(pane.id))
        )
        if free
        else phrase(
            "How far {pane} moves could not be computed: {why}.",
            pane=article(pane.id),
            why=listed(faults),
        ),
        means="Nothing else keeps it from falling over.",
        do="Hold its top by a bar or a header; or ask the maker of the channel what it bears.",
    )
