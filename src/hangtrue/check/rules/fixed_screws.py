"""The screws of channels, clamps and bars must hold fixed glass to its walls."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from hangtrue.check.case import Case
from hangtrue.check.finding import Fastened, Finding, Level
from hangtrue.check.proof import fixed_sheet
from hangtrue.check.proof.bending import Answer, bend
from hangtrue.check.proof.covered import covered
from hangtrue.check.proof.fixed_row import Demand, Row, demands, door_demands, rows, screw_size
from hangtrue.check.proof.fixed_wood import (
    Borne,
    Shared,
    bears_no_wood,
    enough,
    heavier,
    in_wood,
    reaches,
    shortest,
    worst,
)
from hangtrue.check.proof.fixing import Fixing
from hangtrue.check.proof.held_pane import HeldPane
from hangtrue.check.proof.leaning import bent, cases, floor, rules
from hangtrue.check.proof.saying import force
from hangtrue.check.proof.stud import thinnest_stud
from hangtrue.check.rule import rule
from hangtrue.check.wood import backing
from hangtrue.check.wording import listed, sentence, the_wall
from hangtrue.estimate import Estimate
from hangtrue.mechanics.ranges import OutOfRange
from hangtrue.phrase import phrase
from hangtrue.tables import table

LEANS = "line"
BINDS = "ipc"
"""Jurisdiction of buildings other than dwellings, where a load along the whole pane binds."""
ASK = {
    "masonry": "Ask the anchor's maker for a fixing with at least that working load in this "
    "masonry, and have it tested on the wall if its kind is not known.",
    "unknown": "What is behind the tile there: wood, and how thick; masonry; or nothing?",
    "acrylic": "What is behind the acrylic? It bears nothing itself.",
    "steel stud": "Have wood put in behind the fixings, or ask the maker for a fixing that bears "
    "that load in thin steel.",
}


@rule(
    id="fixed-screws",
    title="The screws of the fixed glass hold it to its walls",
    why="Whoever leans on fixed glass pushes it out of its channel, clamps and bars, and they pull "
    "at their screws, the harder the further apart these are.",
    source="nds",
    needs="fixed glass",
)
@covered
def fixed_screws(case: Case) -> Iterable[Finding]:
    """Prove every row of fixings; where the wood is not known, say what each must bear."""
    none = True
    for pane in case.fixed:
        held, answer = bent(case, pane)
        for row in rows(case, pane, held):
            none = False
            finding = _row(case, row, held, answer)
            unproved = Fastened(holds=row.holder, of=row.pane.id)
            yield finding if finding.fastened else replace(finding, fastened=unproved)
    if none:
        found = "Nothing of the fixed glass is screwed to a wall."
        yield Finding(level=Level.PASS, where="enclosure", found=found)


def _row(case: Case, row: Row, held: HeldPane, answer: Answer) -> Finding:
    def asked(other: Row) -> tuple[Demand, ...]:
        found = (*demands(other, answer), *door_demands(case, other, held))
        return tuple(d for d in found if _decides(case, d))

    if not answer.bent:
        return Finding(
            level=Level.NOT_CHECKED,
            where=f"{row.side} wall",
            found=phrase(
                "What the fixings of {what} must bear could not be worked out: {why}.",
                what=_called(row), why=listed(answer.faults),
            ),
            do="Correct what keeps the pane from being solved; or let an engineer prove it.",
        )  # fmt: skip
    known = screw_size(case, row.holder, case.wall(row.side).behind)
    fixing = in_wood(case, row, known[0]) if known else None
    if fixing is None:
        return _without_wood(case, row, asked(row), known[0] if known else "")
    told = tuple(d for d in demands(row, answer) if not _decides(case, d))
    return _in_wood(case, row, held, fixing, asked, told)


def _decides(case: Case, demand: Demand) -> bool:
    """Whether a load must be borne here; leaning along a whole pane is told only, in a dwelling."""
    return demand.load != LEANS or case.brief.profile.jurisdiction == BINDS


def _called(row: Row) -> str:
    return {
        "channel": phrase("the channel of {pane}", pane=row.pane.id),
        "clamp": phrase("the clamps of {pane}", pane=row.pane.id),
        "bar": phrase("the bar of {pane}", pane=row.pane.id),
    }[row.holder]


# ---------------------------------------------------------------------------------- without wood


def _without_wood(case: Case, row: Row, asked: Sequence[Demand], size: str) -> Finding:
    """Say what each fixing must bear; what a hollow wall bears is next to nothing."""
    pull, slide = max(d.tension_N for d in asked), max(d.shear_N for d in asked)
    behind, worst_one = case.wall(row.side).behind, max(asked, key=lambda d: d.tension_N)
    level, means, do = _behind(case, row, max(pull, slide), pull, size)
    return Finding(
        level=level,
        where=f"{row.side} wall",
        found=phrase(
            "Each screw of {what} at {wall}, {count} in all, must bear a working load of "
            "{pull} straight out and {slide} sideways.",
            what=_called(row), wall=the_wall(row.side), count=len(row.heights) * row.screws,
            pull=force(case, pull), slide=force(case, slide),
        ),
        means=means,
        do=do or ASK.get(behind, "How thick are tile and board, and where is the wood, how thick?"),
        value=Estimate(pull),
        unit="N",
        source="own",
        sheet=fixed_sheet.sheet(row, _called(row), worst_one, None, rules(case).factor),
    )  # fmt: skip


def _behind(case: Case, row: Row, most: float, pull: float, size: str) -> tuple[Level, str, str]:
    """Level, meaning and cure by what is behind the wall; no cure where there is a question."""
    behind = case.wall(row.side).behind
    if behind == "hollow":
        return _hollow(case, row, most)
    if behind == "steel stud":
        mil = thinnest_stud(size or "8", pull)
        means = (
            phrase(
                "Out of a stud of {mil} mil such a screw is not pulled; sideways, across tile and "
                "board, no formula for thin steel covers it.", mil=mil,
            )
            if mil
            else "Such a screw is pulled out of every stud of the table."
        )  # fmt: skip
        return Level.NOT_CHECKED, means, ""
    if not bears_no_wood(case.wall(row.side)):
        return (
            Level.NOT_CHECKED,
            "Not every fixing is known to have wood behind it.",
            _bare(case, row),
        )
    known = "What this wall bears is not known here, and no figure is made up for it."
    return Level.NOT_CHECKED, known, ""


def _bare(case: Case, row: Row) -> str:
    """Say where wood is missing behind the fixings; empty where only the layers are not known."""
    wall = case.wall(row.side)
    bare = [height for height in row.heights if backing(wall, height, height) is None]
    if not bare or not wall.layers:
        return ""
    if len(bare) == 1:
        return phrase(
            "Have solid wood put in behind {wall} at {height}, or set that fixing where wood is.",
            wall=the_wall(row.side),
            height=case.size(bare[0]),
        )
    return phrase(
        "Have solid wood put in behind {wall} from {low} to {high}, or set those fixings where "
        "wood is.",
        wall=the_wall(row.side),
        low=case.size(bare[0]),
        high=case.size(bare[-1]),
    )


def _hollow(case: Case, row: Row, most: float) -> tuple[Level, str, str]:
    """Small anchors in board bear a quarter of what is printed on them; clamps never hang there."""
    anchor = table("mechanics/load_cases")["hollow-anchor"]
    bears = float(anchor["breaks_N"]) / float(anchor["divided_by"])
    low, high = case.size(row.heights[0]), case.size(row.heights[-1])
    cure = phrase(
        "Have solid wood put in behind {wall} from {low} to {high}.",
        wall=the_wall(row.side), low=low, high=high,
    )  # fmt: skip
    if row.holder != "channel" or case.carries(row.pane):
        means = "A few points carry the whole pane: a hollow wall bears no such load."
        return Level.FAIL, means, cure
    if most > bears:
        means = phrase(
            "A small anchor in board may be trusted with {bears}, a quarter of what it breaks at.",
            bears=force(case, bears),
        )  # fmt: skip
        return Level.WARN, means, cure
    means = "Anchors in board may help a channel that is bedded; they must not be all that holds."
    return Level.NOT_CHECKED, means, cure


# --------------------------------------------------------------------------------------- in wood


def _in_wood(
    case: Case, row: Row, held: HeldPane, fixing: Fixing, asked: Shared, told: Sequence[Demand]
) -> Finding:
    factor, must = rules(case).factor, asked(row)
    usual = reaches(fixing)
    if usual is None:
        return _none_reaches(case, row, fixing, must)
    try:
        used = worst(usual, must, factor)
    except OutOfRange as error:
        return _uncovered(case, row, must, error, shortest(fixing, must, factor))
    better = None if used.use <= 1.0 else shortest(fixing, must, factor)
    if better is not None:
        return _other_screw(case, row, used, better, must)
    good = used.use <= 1.0
    return Finding(
        level=Level.PASS if good else Level.FAIL if case.carries(row.pane) else Level.WARN,
        where=f"{row.side} wall",
        found=phrase(
            "The worst screw of {what} at {wall} uses {use:.0f} % of what it bears: "
            "{count} fixings with {screws}, when {load}.",
            what=_called(row), wall=the_wall(row.side), use=100 * used.use, count=len(row.heights),
            screws=_screws(case, usual), load=_short(used.demand),
        ),
        means=_told(case, usual, told) if good else "It would be pulled out or bent.",
        do="" if good else _cure(case, row, usual, asked, held),
        value=Estimate(used.use),
        limit=1.0,
        source=_code(fixing),
        sheet=fixed_sheet.sheet(row, _called(row), used.demand, used, factor),
        fastened=_fastened(row, usual) if good else None,
    )  # fmt: skip


def _code(fixing: Fixing) -> str:
    return "nds" if fixing.rules == "nds" else "en-1995-recalled"


def _other_screw(
    case: Case, row: Row, usual: Borne, better: Fixing, must: Sequence[Demand]
) -> Finding:
    """Say which screw holds where the one that the shop uses does not."""
    used = worst(better, must, rules(case).factor)
    return Finding(
        level=Level.NOTE,
        where=f"{row.side} wall",
        found=phrase(
            "The usual No. {size} screws of {what} at {wall} would be loaded {over:.1f} "
            "times what they bear when {load}; {screws} use {use:.0f} %.",
            size=usual.fixing.size, what=_called(row), wall=the_wall(row.side), over=usual.use,
            load=_short(usual.demand), screws=_screws(case, better), use=100 * used.use,
        ),
        means="The usual screw would be bent across tile and board, or pulled out.",
        do=phrase("Take {screws} there.", screws=_screws(case, better)),
        value=Estimate(used.use),
        limit=1.0,
        source=_code(better),
        sheet=fixed_sheet.sheet(row, _called(row), used.demand, used, rules(case).factor),
        fastened=_fastened(row, better),
    )  # fmt: skip


def _fastened(row: Row, fixing: Fixing) -> Fastened:
    return Fastened(holds=row.holder, of=row.pane.id, size=fixing.size, length=fixing.length)


def _screws(case: Case, fixing: Fixing) -> str:
    return phrase(
        "No. {size} screws {long} long below the fitting",
        size=fixing.size, long=case.say(fixing.length),
    )  # fmt: skip


def _short(demand: Demand) -> str:
    """Name a load without its figures."""
    return demand.what.split(":")[0]


def _told(case: Case, fixing: Fixing, told: Sequence[Demand]) -> str:
    """Say what leaning along the whole pane would do, where no code asks for it."""
    if not told:
        return ""
    used = worst(fixing, told, rules(case).factor)
    if used.use <= 1.0:
        return ""
    return phrase(
        "Loaded as a public building asks ({load}) they would bear {use:.1f} times too much; no "
        "code asks that of a dwelling.",
        load=used.demand.what, use=used.use,
    )  # fmt: skip


def _cure(case: Case, row: Row, fixing: Fixing, asked: Shared, held: HeldPane) -> str:
    """Compute what would hold where no screw of the shops does: more fixings, or a bar."""
    factor, cures = rules(case).factor, []
    for screw in heavier(fixing):
        more = enough(row, screw, asked, factor)
        if more is not None:
            cures.append(_closer(case, more, screw))
            break
    used = _with_bar(case, row, fixing, held)
    if used is not None:
        cures.append(
            phrase(
                "hold the pane by a bar at its free top corner, with which {screws} use "
                "{use:.0f} % of what they bear",
                screws=_screws(case, used.fixing),
                use=100 * used.use,
            )
        )
    if not cures:
        return "Ask an engineer for a fixing through the wall."
    return phrase("{cures}.", cures=sentence(listed(cures, "or")))


def _closer(case: Case, more: Row, screw: Fixing) -> str:
    count = len(more.heights)
    return phrase(
        "set {count} fixings, {apart} apart, with {screws}",
        count=count,
        apart=case.size((more.heights[-1] - more.heights[0]) / (count - 1)),
        screws=_screws(case, screw),
    )


def _with_bar(case: Case, row: Row, fixing: Fixing, held: HeldPane) -> Borne | None:
    """Return the worst screw with a bar at the free top corner; None where that is not enough."""
    if not held.free or case.held(row.pane) == "yes":
        return None
    answer = bend(held.with_bar(held.free[0][1]), cases(case, row.pane), floor(case, row.pane))
    must = [d for d in demands(row, answer) if _decides(case, d)]
    if not must or answer.faults:
        return None
    tried = (worst(screw, must, rules(case).factor) for screw in (fixing, *heavier(fixing)))
    return next((used for used in tried if used.use <= 1.0), None)


def _none_reaches(case: Case, row: Row, fixing: Fixing, must: Sequence[Demand]) -> Finding:
    least = fixing.least_penetration
    deep = max(case.limit("blocking-depth-least").value, least)
    return Finding(
        level=Level.FAIL if case.carries(row.pane) else Level.WARN,
        where=f"{row.side} wall",
        found=phrase(
            "No screw of the shops ends in the wood behind {what} with the {least} that it needs.",
            what=_called(row), least=case.say(least),
        ),
        means="The wood is too thin or too far behind the tile.",
        do=phrase("Have wood at least {deep} thick put in there.", deep=case.say(deep)),
        sheet=fixed_sheet.sheet(
            row, _called(row), max(must, key=lambda d: d.tension_N), None, rules(case).factor
        ),
    )  # fmt: skip


def _uncovered(
    case: Case, row: Row, must: Sequence[Demand], error: OutOfRange, covered_one: Fixing | None
) -> Finding:
    pull, slide = max(d.tension_N for d in must), max(d.shear_N for d in must)
    return Finding(
        level=Level.NOT_CHECKED,
        where=f"{row.side} wall",
        found=phrase(
            "The screws of {what} could not be proved: {error}. Each must bear a working load of "
            "{pull} straight out and {slide} sideways.",
            what=_called(row), error=error.words, pull=force(case, pull), slide=force(case, slide),
        ),
        do=phrase(
            "Take screws that their maker approved for that load, or {screws}, which these rules "
            "cover and which hold; or let an engineer prove them.",
            screws=_screws(case, covered_one),
        )
        if covered_one
        else "Ask for screws whose own approval (in Europe an ETA) says that they bear that load "
        "in this wood; or let an engineer prove them.",
        source="own",
        sheet=fixed_sheet.sheet(
            row, _called(row), max(must, key=lambda d: d.tension_N), None, rules(case).factor
        ),
    )  # fmt: skip
