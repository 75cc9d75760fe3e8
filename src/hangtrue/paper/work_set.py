"""Everything that the work papers are made from: the plan, what is hung by it, and its steps."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, datetime, time, timedelta

from hangtrue.fit.enclosure import Enclosure
from hangtrue.hang.before import BuilderSheet, builder_sheet
from hangtrue.hang.cure_time import Cure, air_of, cure, sealant_of
from hangtrue.hang.handover import HandOver, handover
from hangtrue.hang.hanging import hang
from hangtrue.hang.records import HangPlan
from hangtrue.hang.shop import shop_for
from hangtrue.hang.steps import Step, steps
from hangtrue.hang.timetable import Timetable, clock, timetable
from hangtrue.paper import cautions
from hangtrue.paper.cautions import Caution
from hangtrue.paper.lengths import Units, units_of
from hangtrue.plan import Plan

CREWS = (1, 2, 3)


@dataclass(frozen=True, slots=True, kw_only=True)
class Hanging:
    """What there is where glass may be hung.

    Attributes
    ----------
    made
        The enclosure with its panes as they must be ordered.
    numbers
        Number of each step, as on the list of steps.
    times
        One timetable for each crew of CREWS.

    """

    made: Enclosure
    hung: HangPlan
    cure: Cure
    steps: tuple[Step, ...]
    numbers: dict[str, int]
    times: tuple[Timetable, ...]
    handover: HandOver


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkSet:
    """What the work papers say.

    Attributes
    ----------
    builder
        What is asked of builder and tiler, before there is anything to hang as well.
    hanging
        None where nothing may be hung as things stand, and `why` says why.

    """

    plan: Plan
    units: Units
    cautions: tuple[Caution, ...]
    builder: BuilderSheet
    hanging: Hanging | None
    why: str = ""

    def caution(self, name: str) -> str:
        """Words of a caution by its id; empty where it does not apply."""
        return next((c.text for c in self.cautions if c.id == name), "")


def work_set(plan: Plan, first: date | None = None) -> WorkSet:
    """Gather what the papers are made from; nothing to work by while glass must not be ordered.

    Parameters
    ----------
    first
        First day of the work, where it is known: then the hand-over has its dates.

    """
    made = plan.best.alternative.made
    units = units_of(plan.brief)
    fitted = made if isinstance(made, Enclosure) else None
    hanging, why = _hanging(plan, first)
    return WorkSet(
        plan=plan,
        units=units,
        cautions=cautions.cautions(plan, units),
        builder=builder_sheet(plan.brief, fitted),
        hanging=hanging,
        why=why,
    )


def _hanging(plan: Plan, day: date | None) -> tuple[Hanging | None, str]:
    made = plan.best.alternative.made
    if plan.verdict.stops or not isinstance(made, Enclosure):
        return None, plan.verdict.sentence
    hung = hang(plan)
    if not isinstance(hung, HangPlan):
        return None, hung.why
    profile = plan.brief.profile
    cured = cure(made, sealant_of(profile), air_of(profile), shop_for(profile))
    work = steps(plan.brief, made, cured, hung.drilling)
    first = timetable(work, CREWS[1])
    order = {slot.id: place for place, slot in enumerate(first.slots)}
    ordered = tuple(sorted(work, key=lambda s: order[s.id]))
    found = Hanging(
        made=replace(made, lites=hung.panes),
        hung=hung,
        cure=cured,
        steps=ordered,
        numbers={s.id: n for n, s in enumerate(ordered, 1)},
        times=tuple(timetable(work, crew) for crew in CREWS),
        handover=handover(made, cured, _sealed(day, first)),
    )
    return found, ""


def _sealed(first: date | None, times: Timetable) -> datetime | None:
    """When the last joint is sealed and the cure begins, where the first day is known."""
    if first is None:
        return None
    day, hour, minute = clock(times.sealed)
    return datetime.combine(first + timedelta(days=day - 1), time(hour, minute))
