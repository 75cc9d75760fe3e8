"""The chance that glass has to be made again must be one that the shop can live with."""

from __future__ import annotations

from collections.abc import Iterable

from hangtrue.check.case import Case, asked
from hangtrue.check.decide import Decided, at_most
from hangtrue.check.finding import Finding, Level
from hangtrue.check.rule import rule
from hangtrue.check.wording import sentence
from hangtrue.fit.enclosure import Enclosure
from hangtrue.odds.cures import ALL, Cure, after_cures
from hangtrue.odds.next_reading import Advice, advise
from hangtrue.odds.odds import JointOdds, Odds
from hangtrue.odds.odds import odds as drawn
from hangtrue.odds.wording import said_chance
from hangtrue.phrase import phrase

UNSETTLED = "The readings contradict each other: until that is settled, no chance is worth much."


@rule(
    id="odds",
    title="Glass cut to this goes in on the day",
    why="Every gap can be right on paper and the glass still not go in: readings, plant and "
    "setting are each off by a little. A pane that has to be made again costs more than all else "
    "on the job.",
    source="own",
    needs="glass",
)
def odds(case: Case) -> Iterable[Finding]:
    """Hold the chance of a remake against what the shop takes; say the best cure or reading."""
    made = case.enclosure
    if made is None:
        return
    if case.opening.agreement.alarm:
        yield Finding(level=Level.NOT_CHECKED, where="glass", found=UNSETTLED, do=_settle(case))
        return
    chance = case.odds or drawn(case.brief, case.opening, made)
    limit = case.limit("remake-risk-most").value
    decided = at_most(chance.remake, limit, case.confidence)
    yield _met(case, chance, decided) if decided.met else _over(case, made, chance, decided)


def _settle(case: Case) -> str:
    """Ask for what settles it: the reading that stands out, or what tells the suspects apart."""
    agreement = case.opening.agreement
    if agreement.named:
        return phrase("Read {reading} again first.", reading=agreement.named.reading)
    if agreement.decider:
        return asked(agreement.decider)
    return case.next_reading("Read both diagonals, and the width once more at mid height.")


def _met(case: Case, chance: Odds, decided: Decided) -> Finding:
    return Finding(
        level=Level.PASS,
        where="glass",
        found=_found(chance, decided.limit),
        value=chance.remake,
        limit=decided.limit,
        probability=decided.probability,
        source=case.limit("remake-risk-most").source,
    )


def _over(case: Case, made: Enclosure, chance: Odds, decided: Decided) -> Finding:
    """More than the shop takes: a question where a reading brings it under, else to be cured."""
    brief, opening = case.brief, case.opening
    advice = advise(brief, opening, made, chance)
    asked = bool(advice.readings) and advice.readings[0].remains <= decided.limit
    cures = () if asked else after_cures(brief, opening, made, chance.remake)
    return Finding(
        level=Level.NOT_CHECKED if asked else Level.WARN,
        where="glass",
        found=_found(chance, decided.limit),
        means=_where(case, made, chance.weakest),
        do=_cure(cures, advice, decided.limit),
        value=chance.remake,
        limit=decided.limit,
        probability=decided.probability,
        source=case.limit("remake-risk-most").source,
    )


def _found(chance: Odds, limit: float) -> str:
    return phrase(
        "The chance that glass cut to this must be made again is {chance}; the shop takes {limit}.",
        chance=said_chance(chance.remake.value),
        limit=said_chance(limit),
    )


def _where(case: Case, made: Enclosure, weakest: JointOdds) -> str:
    """Say at which joint it fails most often, and where along it."""
    joint, at = weakest.joint, case.size(weakest.at)
    upright = {j.id: j.upright for j in made.joints}
    if joint not in upright:
        return phrase("It fails most often because of {joint}.", joint=joint)
    if upright[joint]:
        return phrase("It fails most often at {joint}, {at} up.", joint=joint, at=at)
    return phrase("It fails most often at {joint}, {at} from the left.", joint=joint, at=at)


def _cure(cures: tuple[Cure, ...], advice: Advice, limit: float) -> str:
    """Name the first cure on site that is enough, or else what can be done before the order."""
    enough = [c for c in cures if c.remake.value <= limit]
    single = [c for c in enough if c.words != ALL]
    return _on_site((single or enough)[0]) if enough else advice.sentence


def _on_site(cure: Cure) -> str:
    words, left = sentence(cure.words), said_chance(cure.remake.value)
    return phrase("{cure}: that leaves {chance}.", cure=words, chance=left)
