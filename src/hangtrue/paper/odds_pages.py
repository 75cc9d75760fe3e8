"""The sheet of odds: how likely glass is made again, at which joint, why, and what would help."""

from __future__ import annotations

from collections.abc import Sequence

from hangtrue.check.verdict import Verdict
from hangtrue.check.wording import percent
from hangtrue.fit.enclosure import Enclosure, Joint
from hangtrue.job.brief import Brief
from hangtrue.odds.cures import Cure
from hangtrue.odds.drivers import Driver
from hangtrue.odds.next_reading import Advice, Worth
from hangtrue.odds.odds import JointOdds, Odds
from hangtrue.odds.wording import said_amount, said_chance, said_error
from hangtrue.paper.blocks import Abreast, Block, Cell, Column, Heading, Page, Table, Text
from hangtrue.paper.lengths import Units
from hangtrue.paper.tables import NOTHING, capital, joint_words
from hangtrue.phrase import join, phrase
from hangtrue.plan import Plan

TITLE = "The chance of a remake"
UNSETTLED = "The readings contradict each other: until that is settled, no chance is worth much."
SEEN_NOTE = (
    "“Fails” is the chance that the glass does not go in because of this joint; where several are "
    "too tight together each takes its part. “At” is where: up from the datum at upright joints, "
    "from the left along the glass line at level ones. “Worst gap” is to be expected where it will "
    "be furthest from usual; nineteen joints in twenty stay above the least gap seen, and nineteen "
    "below the greatest."
)
MOST_DRIVERS = 5
"""So many sources of the risk are listed; the rest are one row."""


def odds(plan: Plan, units: Units) -> tuple[Page, ...]:
    """Return the sheet of odds; none where nothing goes in, or before a plan is proved."""
    made, chance, advice = plan.best.alternative.made, plan.odds, plan.advice
    if chance is None or advice is None or not isinstance(made, Enclosure):
        return ()
    contradicts = plan.verdict is Verdict.READ_AGAIN
    blocks: tuple[Block, ...] = (
        *((Text(text=UNSETTLED),) if contradicts else ()),
        Text(text=chance_words(chance)),
        _joints(chance, made.joints, units),
        Text(text=SEEN_NOTE, small=True),
        *_why(plan.cures, advice),
        *_readings(plan.brief, advice),
        Text(text=cost_words(plan.brief, chance)),
    )
    return (Page(title=TITLE, blocks=blocks, flows=True),)


def chance_words(odds: Odds) -> str:
    """Say the chance of a remake, how well drawing knows it, and where the draws come from."""
    said = {
        "chance": said_chance(odds.remake.value),
        "error": said_error(odds.remake.sd),
        "draws": f"{odds.draws:,}",
        "seed": odds.seed,
    }
    if odds.weighted:
        return phrase(
            "Chance that glass cut to this must be made again: {chance} (± {error} from drawing; "
            "{draws} draws from seed {seed}, drawn where failing is likely).",
            **said,
        )
    return phrase(
        "Chance that glass cut to this must be made again: {chance} (± {error} from drawing; "
        "{draws} draws from seed {seed}).",
        **said,
    )


def cost_words(brief: Brief, odds: Odds) -> str:
    """Say the expected cost of a remake, or that no prices are stated."""
    prices = brief.profile.prices
    if prices is None or odds.cost is None:
        return (
            "No prices are stated in the shop's profile (table “prices”), so nothing is counted "
            "in money."
        )
    return phrase(
        "Expected cost of a remake: {cost}, at {price} for one.",
        cost=said_amount(odds.cost, prices.money),
        price=said_amount(prices.remake, prices.money),
    )


def _joints(odds: Odds, joints: Sequence[Joint], units: Units) -> Table:
    """Each joint: its chance to fail, where, and what will be seen of it."""
    columns = (
        Column(head="Joint", share=1),
        Column(head="Fails", align="right"),
        Column(head="At", unit=units.first, align="figure"),
        Column(head="Worst gap", unit=units.first, align="figure"),
        Column(head="Seen, 5 %", unit=units.first, align="figure"),
        Column(head="Seen, 95 %", unit=units.first, align="figure"),
    )
    names = {joint.id: joint_words(joint) for joint in joints}
    plain, worst = units.alone, odds.weakest
    rows = (_joint(j, names.get(j.joint, capital(j.joint)), plain, j is worst) for j in odds.joints)
    return Table(columns=columns, rows=tuple(rows))


def _joint(j: JointOdds, name: str, units: Units, worst: bool) -> tuple[str | Cell, ...]:  # noqa: FBT001 - read in one place
    fails = worst and j.fails > 0.0
    return (
        Cell(text=name, strong=fails),
        Cell(text=said_chance(j.fails) if j.fails > 0.0 else NOTHING, strong=fails),
        units.figure(j.at),
        *(units.figure(gap, fine=True) for gap in (j.worst, *j.band)),
    )


def _why(cures: Sequence[Cure], advice: Advice) -> tuple[Block, ...]:
    """What is left after each cure on site, beside what drives the risk."""
    beside = tuple(filter(None, (_cures(cures), _drivers(advice.drivers))))
    assumed = (Text(text=advice.assumed, small=True),) if advice.assumed else ()
    return (*((Abreast(tables=beside),) if beside else ()), *assumed)


def _cures(cures: Sequence[Cure]) -> Table | None:
    columns = (
        Column(head="What may still be done on site", share=1),
        Column(head="Remake", align="right"),
    )
    rows = tuple((capital(c.words), said_chance(c.remake.value)) for c in cures)
    return Table(columns=columns, rows=rows) if rows else None


def _drivers(drivers: Sequence[Driver]) -> Table | None:
    columns = (
        Column(head="What drives it", share=1),
        Column(head="Of"),
        Column(head="Share", align="right"),
    )
    listed = ((capital(d.name), d.origin, percent(d.share)) for d in drivers[:MOST_DRIVERS])
    left = sum(d.share for d in drivers[MOST_DRIVERS:])
    rest = (("All else", "", percent(left)),) if left > 0.0 else ()
    return Table(columns=columns, rows=(*listed, *rest)) if drivers else None


def _readings(brief: Brief, advice: Advice) -> tuple[Block, ...]:
    """What to read next in a sentence, and what else could be read."""
    others = advice.readings[1:]
    listed = (_others(brief, others),) if others else ()
    said = join(" ", (advice.sentence, advice.whether.sentence))
    return (Heading(text="Whether to read once more"), Text(text=said), *listed)


def _others(brief: Brief, readings: Sequence[Worth]) -> Table:
    prices = brief.profile.prices
    columns = (
        Column(head="Or", share=1),
        Column(head="Minutes", align="right"),
        Column(head="Remake", align="right"),
        *((Column(head="Gain", unit=prices.money, align="right"),) if prices else ()),
    )
    rows = tuple(
        (
            capital(w.words),
            f"{w.minutes:g}",
            said_chance(w.remains),
            *((f"{w.gain:,.0f}",) if w.gain is not None else ()),
        )
        for w in readings
    )
    return Table(columns=columns, rows=rows)
