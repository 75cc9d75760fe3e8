"""`compare`, the verb: fit and check every alternative, rank them, and say why the others lost.

By verdict first, then by the chance of a remake, then by how many findings are as bad as the worst,
then by cost, then by how even the gaps are.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import islice

from hangtrue.check import check, prove
from hangtrue.check.finding import Finding, Level
from hangtrue.check.verdict import Judged, Verdict
from hangtrue.compare.left_open import LeftOpen, Variant, left_open, of_width
from hangtrue.fit import fit
from hangtrue.fit.enclosure import Alternative, Enclosure, NoFit
from hangtrue.job.brief import Brief
from hangtrue.job.hardware import BoxedSet
from hangtrue.measure import measure
from hangtrue.measure.opening import Opening
from hangtrue.odds.drawing import chance
from hangtrue.odds.margins import system
from hangtrue.odds.model import model
from hangtrue.odds.odds import odds_of
from hangtrue.odds.sizes import Curve, curve
from hangtrue.odds.wording import said_area, said_chance
from hangtrue.tables import table
from hangtrue.units import Length

MORE = {
    Level.PASS: "more that is merely good",
    Level.NOTE: "more to mind",
    Level.NOT_CHECKED: "more questions to answer first",
    Level.WARN: "more to put right first",
    Level.FAIL: "more that stops it",
}
"""What an option has more of than the best, by the level of its worst findings."""

NEAR = 1.25
"""Within this ratio, and within a step, a chance is but a little larger than another."""

PROVED_MOST = 12
"""Proofs take a while each; where so many of the best fail theirs, the next would hardly pass."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Option:
    """One alternative with what it is ranked by.

    Attributes
    ----------
    words
        What it decides that was left open, beside its choice.
    remake
        Chance of a remake; None where nothing goes in, or where it decides nothing because the
        verdict is worse than that of the best few.
    glass
        Area of its panes, m2.
    cost
        Glass and expected remake by the shop's prices; None where it states none.
    uneven
        Largest distance of an upright gap from usual, as a share of its range.
    checked
        The same before strength, motion and carrying were proved and its odds drawn as for a plan;
        None until then.

    """

    brief: Brief
    words: tuple[str, ...]
    judged: Judged
    remake: float | None
    glass: float
    cost: float | None
    uneven: float
    checked: Option | None = None

    @property
    def title(self) -> str:
        """The choice in words."""
        return "; ".join([str(self.judged.alternative.choice), *self.words])

    @property
    def worst(self) -> int:
        """How many findings there are of the worst level; notes of one rule are one."""
        count = self.judged.rank[1]
        notes = {f.rule for f in self.judged.findings if f.level is Level.NOTE}
        return len(notes) if self.judged.verdict is Verdict.GOES and notes else count

    @property
    def rank(self) -> tuple[int, int, int, int, int, int, str]:
        """Sort key, the best first; chance, cost and evenness count in steps.

        Of those that tie, what differs least from what is written.
        """
        steps = table("odds")["compare"]
        chance_ = 1.0 if self.remake is None else self.remake
        return (
            int(self.judged.verdict),
            round(chance_ / steps["odds_step"]),
            self.worst,
            self._cost_steps,
            round(self.uneven / steps["uneven_step"]),
            len(self.words),
            self.title,
        )

    @property
    def _cost_steps(self) -> int:
        prices, steps = self.brief.profile.prices, table("odds")["compare"]
        if prices is None or self.cost is None:
            return round(self.glass / float(steps["glass_step_m2"]))
        return round(self.cost / max(float(steps["cost_step"]) * prices.remake, 1.0))


@dataclass(frozen=True, slots=True, kw_only=True)
class Lost:
    """One alternative that is not among the best, and why in one line."""

    title: str
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Comparison:
    """Everything that was left open, compared.

    Attributes
    ----------
    best
        The best few, best first.
    lost
        All others in order, with what speaks against each.
    looked_at, possible
        How many variants of the brief were looked at, and how many there are; each may have several
        hinge sides, rows, glasses and cuts.
    curves
        For each pane of the best: the chance of a remake over its width.
    priced
        Whether cost counted in money; by glass area otherwise.

    """

    brief: Brief
    opening: Opening
    best: tuple[Option, ...]
    lost: tuple[Lost, ...]
    looked_at: int
    possible: int
    curves: tuple[Curve, ...]
    priced: bool


def compare(brief: Brief, shelf: tuple[BoxedSet, ...] = (), most: int | None = None) -> Comparison:
    """Fit and check every way to build what was asked for, and rank them.

    Parameters
    ----------
    shelf
        Boxed sets that could be had instead.
    most
        Options looked at, at most; as many as the table says if not given. What differs least
        from what is written comes first.

    """
    opening = measure(brief)
    open_ = left_open(brief, fit(brief, opening), shelf)
    bound = most or int(table("odds")["compare"]["most"])
    better = int(table("odds")["compare"]["better"])
    options, looked_at = _looked_at(opening, open_, bound)
    drawn = _with_odds(_unlike(options), opening, better)
    ranked = _proved(sorted(drawn, key=lambda o: o.rank), opening, better)
    first = ranked[0]
    curves = tuple(_curves(first, opening)) if first.judged.verdict < Verdict.NO_FIT else ()
    sized = [_proved_alone(o, opening) for o in _best_sized(first, opening, curves)]
    ranked = sorted([*sized, *ranked[:better]], key=lambda o: o.rank) + ranked[better:]
    best = tuple(option for option in ranked[:better] if option.judged.verdict < Verdict.NO_FIT)
    return Comparison(
        brief=brief,
        opening=opening,
        best=best,
        lost=tuple(Lost(title=o.title, why=_why(o, ranked[0])) for o in ranked[len(best) :]),
        looked_at=looked_at,
        possible=open_.possible,
        curves=curves if not best or best[0] is first else tuple(_curves(best[0], opening)),
        priced=brief.profile.prices is not None,
    )


def _looked_at(opening: Opening, open_: LeftOpen, bound: int) -> tuple[list[Option], int]:
    options: list[Option] = []
    looked_at = 0
    for variant in islice(open_.variants, bound):
        options += islice(_options(variant, opening), bound - len(options))
        looked_at += 1
        if len(options) >= bound:
            break
    return options, looked_at


def _options(variant: Variant, opening: Opening) -> Iterator[Option]:
    for way in fit(variant.brief, opening):
        yield _option(variant, opening, way)
        if isinstance(way.squared, Enclosure):
            yield _option(variant, opening, Alternative(made=way.squared))


def _option(variant: Variant, opening: Opening, way: Alternative) -> Option:
    brief, made = variant.brief, way.made
    judged = check(brief, opening, way)
    if isinstance(made, NoFit):
        glass, uneven = 0.0, 1.0
    else:
        glass, uneven = sum(lite.area for lite in made.lites) / 1e6, _uneven(made)
    return Option(
        brief=brief, words=variant.words, judged=judged, remake=None, glass=glass, cost=None,
        uneven=uneven,
    )  # fmt: skip


def _with_odds(options: list[Option], opening: Opening, better: int) -> list[Option]:
    """Draw where it decides: not for a verdict that is worse than that of the best few."""
    verdicts = sorted(option.judged.verdict for option in options)
    last = verdicts[min(better, len(verdicts)) - 1]
    return [_drawn(o, opening) if o.judged.verdict <= last else o for o in options]


def _proved(ranked: list[Option], opening: Opening, better: int) -> list[Option]:
    """Add strength, motion and carrying, best first, until the best few are proved.

    Proofs only add findings, so none that waits with a worse rank can come before those.
    """
    waiting, proved = list(ranked), list[Option]()
    while waiting and len(proved) < PROVED_MOST:
        last = sorted(o.rank for o in proved)[better - 1] if len(proved) >= better else None
        if last is not None and waiting[0].rank >= last:
            break
        option = waiting.pop(0)
        proved.append(_proved_alone(option, opening))
    # What was not proved comes after what was: nothing unproved is offered.
    return [*sorted(proved, key=lambda o: o.rank), *waiting]


def _with_proof(option: Option, judged: Judged) -> Option:
    """Take over what was proved: its odds are drawn more often, and where failing is rare there."""
    proved = replace(option, judged=judged, checked=option)
    if judged.odds is None:
        return proved
    remake = judged.odds.remake.value
    return replace(proved, remake=remake, cost=_cost(option.brief, option.glass, remake))


def _drawn(option: Option, opening: Opening) -> Option:
    made = option.judged.alternative.made
    if isinstance(made, NoFit):
        return option
    remake = _remake(option.brief, opening, made)
    return replace(option, remake=remake, cost=_cost(option.brief, option.glass, remake))


def _remake(brief: Brief, opening: Opening, made: Enclosure) -> float:
    of, draws = model(brief, opening, made), int(table("odds")["draws"]["alternative"])
    found = system(of)
    if found.circuits is None:
        return odds_of(of, brief.job.seed, draws).remake.value
    return chance(of, found, brief.job.seed, draws)


def _cost(brief: Brief, glass: float, remake: float) -> float | None:
    prices = brief.profile.prices
    if prices is None:
        return None
    return glass * (prices.glass_m2 or 0.0) + remake * prices.remake


def _uneven(made: Enclosure) -> float:
    return max(
        (
            abs(gap.predicted.value - gap.usual) / max(gap.most - gap.least, 1e-3)
            for joint in made.joints
            if joint.upright
            for gap in joint.gaps
        ),
        default=0.0,
    )


def _unlike(options: list[Option]) -> list[Option]:
    """Leave out what another option builds already, pane by pane and fitting by fitting."""
    known: dict[tuple[object, ...], Option] = {}
    for option in options:
        known.setdefault(_built(option), option)
    return list(known.values())


def _built(option: Option) -> tuple[object, ...]:
    made = option.judged.alternative.made
    if isinstance(made, NoFit):
        return option.title, made.why
    panes = tuple((lite.id, lite.corners, lite.thickness) for lite in made.lites)
    wanted, plates = option.brief.job.wanted, sum(g.at_fitting for j in made.joints for g in j.gaps)
    hardware = tuple(j.hardware for j in made.joints)
    return made.choice.hinge_side, wanted.swing, plates, panes, hardware


def _curves(option: Option, opening: Opening) -> Iterator[Curve]:
    made = option.judged.alternative.made
    if isinstance(made, Enclosure) and made.choice.cut != "boxed":
        for lite in made.lites:
            yield curve(option.brief, opening, made, lite.id)


def _best_sized(option: Option, opening: Opening, curves: tuple[Curve, ...]) -> Iterator[Option]:
    """The same with each pane as wide as has clearly better odds, where the wishes leave it open.

    Sizes are chosen for the least margin counted in deviations; where failures add up from both
    sides another width may do better.
    """
    made, lites = option.judged.alternative.made, option.brief.job.wanted.lites
    order = [lite.id for lite in made.lites] if isinstance(made, Enclosure) else []
    written = tuple(lite.kind for lite in lites)
    if len(order) != len(lites) or option.judged.alternative.choice.order != written:
        return  # mirrored, or with a pane that nobody wished for: no wish is about it
    for found in curves:
        place = order.index(found.pane)
        if found.best == found.chosen or lites[place].width is not None:
            continue
        change = of_width(place, Length(found.best), found.pane, option.brief.job.unit)
        brief = replace(option.brief, job=change.made(option.brief.job))
        variant = Variant(brief=brief, words=(*option.words, change.words))
        yield from (o for o in _options(variant, opening) if _alike(o, option))


def _alike(one: Option, other: Option) -> bool:
    """Whether two options differ by their sizes alone."""
    return one.judged.alternative.choice == other.judged.alternative.choice


def _proved_alone(option: Option, opening: Opening) -> Option:
    return _with_proof(option, prove(option.brief, opening, option.judged))


# ------------------------------------------------------------------------------ why it lost


def _why(lost: Option, best: Option) -> str:
    """Say the first thing in which an option is worse than the best."""
    made = lost.judged.alternative.made
    if lost.judged.verdict is Verdict.READ_AGAIN:
        return lost.judged.verdict.sentence
    if isinstance(made, NoFit):
        return made.why
    if lost.checked is None and best.checked is not None:
        best = best.checked  # alike with alike: neither proved, and as few draws for both
    mine, theirs = lost.rank, best.rank
    if mine[0] != theirs[0]:
        return _against(speaks_against(lost.judged, best.judged))
    if mine[1] != theirs[1] and lost.remake is not None and best.remake is not None:
        step = float(table("odds")["compare"]["odds_step"])
        near = lost.remake - best.remake < step and lost.remake < NEAR * best.remake
        how = "a little " if near else ""
        chances = f"{said_chance(lost.remake)} against {said_chance(best.remake)}"
        return f"remade {how}more often: {chances}"
    if mine[2] != theirs[2]:
        worse = speaks_against(lost.judged, best.judged)
        return f"{MORE[worse.level]}: {worse.where}: {_told(worse)}"
    if mine[3] != theirs[3]:
        return _dearer(lost, best)
    if mine[4] != theirs[4]:
        step = float(table("odds")["compare"]["uneven_step"])
        how = "less" if lost.uneven - best.uneven >= step else "hardly less"
        own, other = f"{lost.uneven:.0%}", f"{best.uneven:.0%}"
        return f"{how} even gaps: up to {own} of their range from usual, against {other}"
    return "as good as the best, within what can be told"


def _dearer(lost: Option, best: Option) -> str:
    prices = lost.brief.profile.prices
    if prices is None or lost.cost is None or best.cost is None:
        unit = lost.brief.job.unit
        return f"more glass: {said_area(lost.glass, unit)} against {said_area(best.glass, unit)}"
    return f"costs {lost.cost - best.cost:,.0f} {prices.money}".rstrip() + " more"


def speaks_against(judged: Judged, best: Judged) -> Finding:
    """The first of its worst findings that the best does not share, at this place or another."""
    worst = max(finding.level for finding in judged.findings)
    mine, theirs = ([f for f in of.findings if f.level is worst] for of in (judged, best))
    places = {(f.rule, f.where) for f in mine} & {(f.rule, f.where) for f in theirs}
    own = [f for f in mine if (f.rule, f.where) not in places]
    elsewhere = Counter(f.rule for f in theirs if (f.rule, f.where) not in places)
    for finding in own:
        elsewhere[finding.rule] -= 1
    only_here = (f for f in own if elsewhere[f.rule] < 0)
    return next(only_here, (own or mine)[0])


def _against(finding: Finding) -> str:
    words = "not checked: " if finding.level is Level.NOT_CHECKED else ""
    return f"{words}{finding.where}: {_told(finding)}"


def _told(finding: Finding) -> str:
    return " ".join(filter(None, (finding.found, finding.means)))
