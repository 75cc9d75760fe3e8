"""The screws of a wall hinge must hold the door in what is behind the tile."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from hangtrue.check.case import Case
from hangtrue.check.finding import Fastened, Finding, Level
from hangtrue.check.hung import Hung
from hangtrue.check.proof import hanging, hung_door
from hangtrue.check.proof.covered import covered
from hangtrue.check.proof.fixing import Fixing, known_to_rules, sideways
from hangtrue.check.proof.hanging import Hanging, Use, holds, worst
from hangtrue.check.proof.hanging_sheet import Required, required, sheet
from hangtrue.check.proof.saying import force
from hangtrue.check.proof.stud import thinnest_stud
from hangtrue.check.rule import REMEMBERED, rule
from hangtrue.check.wording import listed, sentence, the_wall
from hangtrue.estimate import Estimate
from hangtrue.job.readings import Side
from hangtrue.mechanics.ranges import OutOfRange
from hangtrue.phrase import join, phrase

APPROVED = (
    "Ask the hinge maker for screws whose own approval (in Europe an ETA) says that they bear that "
    "load in this wood; or correct the data of the hinge or of the wall; or let an engineer prove "
    "it."
)
CONFIRM = "Let an engineer confirm the factors by the national annex."
LEAST_STEEL_MPA = 50.0
"""Bending yield strength from which on steels are tried in the search for the least that does."""
ASK = {
    "masonry": "Ask the anchor's maker for a fixing with at least that working load in this "
    "masonry, and have it tested on the wall if its kind is not known.",
    "unknown": "What is behind the tile: wood, and how thick; masonry; or nothing?",
    "stud": "Where is the stud, how thick is it, and does it stand behind every plate?",
    "acrylic": "What is behind the acrylic? It bears nothing itself.",
    "steel stud": "Have wood put in behind the hinges; or ask an engineer for a steel bracket.",
}


@rule(
    id="hinge-screws",
    title="The hinge screws hold the door in its wall",
    why="Each screw is pulled out of the wood and bent across the tile at once, and how the two "
    "hinges share the weight is not known. The worst screw of the worst case must still hold.",
    source="nds",
    needs="wall hinge",
)
@covered
def hinge_screws(case: Case) -> Iterable[Finding]:
    """Prove every door on every wall; where the wood is not known, say what must be borne."""
    for hung, side in case.wall_hung:
        found = _door(case, hung, side)
        none = Fastened(holds="hinge", of=hung.id)
        yield found if found.fastened else replace(found, fastened=none)


def _door(case: Case, hung: Hung, side: Side) -> Finding:
    if hung.door is None:
        found = phrase(
            "Not looked at, as no glass goes in: the screws of {door}.", door=hung.called
        )
        return Finding(level=Level.NOT_CHECKED, where=f"{side} wall", found=found)
    wall = case.wall(side)
    try:
        door = hung_door.hanging(case, hung)
        piece = hung_door.wood_behind(case, hung, side)
        if wall.behind not in {"blocking", "stud"} or piece is None or not wall.layers:
            return _without_wood(case, hung, side, door)
        return _in_wood(case, hung, side, door)
    except OutOfRange as error:
        return _uncovered(case, hung, side, error)


def _uncovered(case: Case, hung: Hung, side: Side, error: OutOfRange) -> Finding:
    """Say what kept it from being proved, what must be borne, and which screw is covered."""
    better, need = _covered(case, hung, side), _needed(case, hung)
    words = {"door": hung.called, "error": error.words}
    return Finding(
        level=Level.NOT_CHECKED,
        where=f"{side} wall",
        found=phrase(
            "The screws of {door} could not be proved: {error}. Each must bear a working load of "
            "{pull} straight out and {slide} sideways.",
            pull=force(case, need.tension_N),
            slide=force(case, need.shear_N),
            **words,
        )
        if need
        else phrase("The screws of {door} could not be proved: {error}.", **words),
        do=phrase(
            "Take {screws}, which hold; or correct the data of the hinge or of the wall; or let an "
            "engineer prove it.",
            screws=_screw(case, better),
        )
        if better
        else APPROVED
        if need
        else "Correct the data of the hinge or of the wall; or let an engineer prove it.",
        source="own",
        sheet=sheet(hung_door.hanging(case, hung), None, need, hung.called) if need else None,
    )


def _needed(case: Case, hung: Hung) -> Required | None:
    """Return what each screw must bear; None where the hinges do not make a door of it."""
    try:
        return required(hung_door.hanging(case, hung))
    except OutOfRange:
        return None


def _covered(case: Case, hung: Hung, side: Side) -> Fixing | None:
    """Return the screw of the shops that holds where the stated one is not covered, or None."""
    piece = hung_door.wood_behind(case, hung, side)
    if piece is None:
        return None
    try:
        stated = replace(hung_door.fixing(case, hung, side, piece), length=0.0)
        return hanging.shortest(hung_door.hanging(case, hung), stated)
    except OutOfRange:
        return None


def _without_wood(case: Case, hung: Hung, side: Side, door: Hanging) -> Finding:
    """Say what each fixing must bear; hollow walls bear nothing that a door may hang on."""
    need = required(door)
    behind = case.wall(side).behind
    hollow = behind == "hollow"
    ask = ASK.get(behind, "How thick are tile and board, and how thick is the wood?")
    return Finding(
        level=Level.FAIL if hollow else Level.NOT_CHECKED,
        where=f"{side} wall",
        found=phrase(
            "Each fixing of the hinges of {door} must bear a working load of {pull} straight out "
            "and {slide} sideways.",
            door=hung.called,
            pull=force(case, need.tension_N),
            slide=force(case, need.shear_N),
        ),
        means=_bears(case, hung, side, need),
        do=phrase("Have blocking put in behind {wall}.", wall=the_wall(side)) if hollow else ask,
        value=Estimate(need.tension_N),
        unit="N",
        source="own",
        sheet=sheet(door, None, need, hung.called),
    )


def _bears(case: Case, hung: Hung, side: Side, need: Required) -> str:
    """Say what is known of a wall without wood: nothing, or how thin a steel stud may be."""
    behind = case.wall(side).behind
    if behind == "hollow":
        return "A hollow wall bears no door, whatever the anchor is called."
    if behind != "steel stud":
        return "What this wall bears is not known here, and no figure is made up for it."
    mil = thinnest_stud(hung.hinge.screw.size, need.tension_N)
    if not mil:
        return (
            "Such a screw is pulled out of every stud of the table; sideways, across tile and "
            "board, no formula for thin steel covers it."
        )
    return phrase(
        "Out of a stud of {mil} mil such a screw is not pulled; sideways, across tile and board, "
        "no formula for thin steel covers it.",
        mil=mil,
    )


def _in_wood(case: Case, hung: Hung, side: Side, door: Hanging) -> Finding:
    piece = hung_door.wood_behind(case, hung, side)
    if piece is None:
        raise OutOfRange("wood behind the plates", "missing", "wood behind every plate")
    stated = hung_door.fixing(case, hung, side, piece)
    known_to_rules(stated)  # what they do not cover cannot be proved
    chosen = stated if stated.length else hanging.shortest(door, stated)
    known = hung_door.gravity(piece.species)[1]
    if chosen is None:
        return _none_holds(case, hung, side, door, stated)
    used = worst(door, chosen)
    good, known_rules = used.use <= 1.0, chosen.rules == "nds"
    passes = Level.PASS if known_rules else Level.NOT_CHECKED
    told = _told(case, hung, door, chosen) if good else ""
    return Finding(
        level=passes if good else Level.FAIL if known_rules else Level.NOT_CHECKED,
        where=f"{side} wall",
        found=phrase(
            "The worst screw of {door} uses {use:.0f} % of what it bears: {screws} into {wood}, "
            "with {load}, {at}.",
            door=hung.called,
            use=100 * used.use,
            screws=_screw(case, chosen),
            wood=piece.species
            if known
            else "the softest of the common woods, as nobody said which",
            load=used.case.what,
            at=_at(used),
        ),
        means=(told if known_rules else join(" ", (REMEMBERED, told)))
        if good
        else "It would tear out or bend.",
        do=("" if known_rules else CONFIRM) if good else _cure(case, door, stated),
        value=Estimate(used.use),
        limit=1.0,
        source="nds" if known_rules else "en-1995-recalled",
        sheet=sheet(door, chosen, used, hung.called),
        fastened=_fastened(hung, chosen) if good else None,
    )


def _fastened(hung: Hung, chosen: Fixing) -> Fastened:
    return Fastened(holds="hinge", of=hung.id, size=chosen.size, length=chosen.length)


def _at(used: Use) -> str:
    share = {
        "both": "the weight shared by both hinges",
        "upper": "the weight all on the upper hinge",
    }.get(used.share, "the weight all on the lower hinge")
    if used.opening_deg == 0:
        return phrase("shut, {share}", share=share)
    return phrase("{angle:.0f}° open, {share}", angle=used.opening_deg, share=share)


def _screw(case: Case, fixing: Fixing) -> str:
    words = {"size": fixing.size, "long": case.say(fixing.length)}
    if fixing.kind == "wood-screw":
        return phrase("No. {size} screws {long} long below the plate", **words)
    return phrase("{size} in lag screws {long} long below the plate", **words)


def _told(case: Case, hung: Hung, door: Hanging, fixing: Fixing) -> str:
    """Say what the wall would carry at most, in which wood, and what hanging on the door does."""
    heavy, wide = hanging.heaviest(door, fixing), hanging.widest(door, fixing)
    fall = worst(door, fixing, told=True)
    words = [
        phrase(
            "On these screws the wall carries a door this wide of up to {heavy}, or one of this "
            "glass up to {wide} wide.",
            heavy=case.weigh(heavy),
            wide=case.size(wide),
        )
    ]
    deep = hanging.least_depth(door, fixing)
    if deep is not None:
        words.append(
            phrase(
                "Screwed right through it, wood {deep} thick would still do.", deep=case.say(deep)
            )
        )
    if fall.use > 1.0:
        words.append(
            phrase(
                "Somebody who hangs on {door} in a fall loads them {times:.1f} times over: glass "
                "is no grab bar.",
                door=hung.called,
                times=fall.use,
            )
        )
    steel = _least_steel(door, fixing)
    if steel is not None:
        words.append(
            phrase(
                "The figures are those of plain steel; screws of stainless steel must have a "
                "bending yield strength of at least {steel:.0f} MPa by their maker.",
                steel=steel,
            )
        )
    return join(" ", words)


def _least_steel(door: Hanging, fixing: Fixing) -> float | None:
    """Least bending yield strength with which the same screws still hold, MPa; NDS alone."""
    if fixing.rules != "nds":
        return None
    used, own = worst(door, fixing), fixing.screw.bending_yield_MPa
    scale = used.capacity.lateral_N / sideways(fixing).capacity_N
    low, high = LEAST_STEEL_MPA, own
    while high - low > 1.0:
        middle = (low + high) / 2
        along = sideways(fixing, middle).capacity_N * scale
        weaker = hanging.use_with(fixing, used, along)
        low, high = (low, middle) if weaker <= 1.0 else (middle, high)
    return high


def _none_holds(case: Case, hung: Hung, side: Side, door: Hanging, stated: Fixing) -> Finding:
    return Finding(
        level=Level.FAIL if stated.rules == "nds" else Level.NOT_CHECKED,
        where=f"{side} wall",
        found=phrase(
            "No screw of the shops that stays within this wall holds {door}, or the rules cover "
            "none.",
            door=hung.called,
        ),
        means="The wood is too thin, or too soft, or too far behind the tile.",
        do=_cure(case, door, stated),
        source="nds" if stated.rules == "nds" else "en-1995-recalled",
        sheet=sheet(door, None, required(door), hung.called),
    )


def _cure(case: Case, door: Hanging, stated: Fixing) -> str:
    """Compute what would hold: another screw, thicker wood, a lighter door."""
    cures: list[str] = []
    better = hanging.shortest(door, stated)
    if better is not None:
        cures.append(phrase("take {screws}", screws=_screw(case, better)))
    deep = hanging.least_depth(door, stated)
    if better is None and deep is not None:
        cures.append(
            phrase("have wood at least {deep} thick put in behind every plate", deep=case.say(deep))
        )
    if stated.length and holds(door.scaled(0.1, 0.1), stated):
        wide = case.size(hanging.widest(door, stated))
        cures.append(phrase("make the door at most {wide} wide", wide=wide))
    if not cures:
        return "Ask an engineer for a fixing through the wall."
    return phrase("{cures}.", cures=sentence(listed(cures, "or")))
