"""The steps of hanging, made for one layout from kinds of step and rules of what precedes what."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from hangtrue.check.wording import sentence
from hangtrue.fit.enclosure import Enclosure
from hangtrue.hang.cautions import applying, heavy_from
from hangtrue.hang.cure_time import Cure
from hangtrue.hang.graph import Activity, order
from hangtrue.hang.records import DrillPlan
from hangtrue.hang.subjects import Layout, Subject, layout
from hangtrue.job.brief import Brief
from hangtrue.phrase import Phrase
from hangtrue.tables import Table, table


@dataclass(frozen=True, slots=True, kw_only=True)
class Need:
    """What must be done before a step, and why."""

    step: str
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One piece of work that somebody does without being interrupted.

    Attributes
    ----------
    id
        Kind and what it is done to, as `set: fixed 1`.
    kind, subject
        Kind of step in the table; id of the pane, joint or bar, or `job`.
    panes
        Panes it has to do with.
    title
        What is done, in words.
    people
        Hands it takes at once; 0 while nobody works.
    minutes
        How long it takes those people.
    check
        What ends it: seen to be so, or it is not done.
    cautions
        Ids in the table of cautions of what belongs to this step.
    needs
        What must be done before, nearest first only.

    """

    id: str
    kind: str
    subject: str
    panes: frozenset[str]
    title: str
    people: int
    minutes: float
    tools: tuple[str, ...]
    consumables: tuple[str, ...]
    check: str
    cautions: tuple[str, ...]
    needs: tuple[Need, ...] = ()

    @property
    def activity(self) -> Activity:
        """The step as what the network sees of it."""
        return Activity(
            id=self.id,
            duration=self.minutes,
            people=self.people,
            after=tuple(need.step for need in self.needs),
        )


def steps(brief: Brief, enclosure: Enclosure, cure: Cure, drilling: DrillPlan) -> tuple[Step, ...]:
    """Return all steps of hanging an enclosure, in an order that respects what must precede what.

    Parameters
    ----------
    cure
        How long the sealant needs, from `cure_time`.
    drilling
        Which joints and bars have holes, and how many.

    """
    laid = layout(brief, enclosure, drilling)
    warned = frozenset(applying(brief, enclosure))
    made = [
        _step(kind, row, subject, cure, warned)
        for kind, row in _kinds(brief).items()
        for subject in laid.subjects
        if row["of"] in subject.roles and _wanted(row, laid)
    ]
    needed = _nearest([replace(s, needs=tuple(_needs(s, made, laid))) for s in made])
    by_id = {s.id: s for s in needed}
    return tuple(by_id[a.id] for a in order([s.activity for s in needed]))


def _kinds(brief: Brief) -> Table:
    """Kinds of step as shipped, with the minutes and hands of the shop."""
    said = brief.profile.habits.steps if brief.profile.habits else None
    own = {kind: habit.model_dump(exclude_none=True) for kind, habit in (said or {}).items()}
    shipped: Table = table("hang/steps")["steps"]
    return {kind: row | own.get(kind, {}) for kind, row in shipped.items()}


def _wanted(row: Table, laid: Layout) -> bool:
    """Whether a step of the whole job is done here: some only where there is something for it."""
    roles = row.get("when")
    return roles is None or any(s.roles.intersection(roles) for s in laid.subjects)


def _step(kind: str, row: Table, subject: Subject, cure: Cure, warned: frozenset[str]) -> Step:
    count = subject.screws if row["of"] == "drilled" else subject.count
    waits = row.get("wait") == "water"
    worked = row.get("base", 0.0) + row.get("each", 0.0) * count
    return Step(
        id=f"{kind}: {subject.id}",
        kind=kind,
        subject=subject.id,
        panes=subject.panes,
        title=sentence(Phrase.made(row["title"], {"it": subject.words})),
        people=0 if waits else _people(row, subject),
        minutes=cure.water_minutes if waits else round(worked),
        tools=tuple(row.get("tools", ())),
        consumables=tuple(row.get("consumables", ())),
        check=row["check"],
        cautions=tuple(_cautions(row, subject, warned)),
    )


def _people(row: Table, subject: Subject) -> int:
    people = int(row.get("people", 1))
    if subject.mass_kg > heavy_from():
        return max(people, int(row.get("heavy", 1)))
    return people


def _cautions(row: Table, subject: Subject, warned: frozenset[str]) -> Iterator[str]:
    """Cautions of a step that apply to this job, and of a heavy pane where one is moved."""
    for name in row.get("cautions", ()):
        light = name == "heavy" and subject.mass_kg <= heavy_from()
        elsewhere = name == "held-by-glass" and not subject.roles & {"bar", "carried door"}
        if name in warned and not light and not elsewhere:
            yield name


def _needs(step: Step, made: Sequence[Step], laid: Layout) -> Iterator[Need]:
    """Everything that the rules put before a step."""
    subjects = {s.id: s for s in laid.subjects}
    seen: set[str] = set()
    for rule in table("hang/steps")["rules"]:
        if step.kind not in rule["then"] or rule.get("unless") in laid.kinds:
            continue
        for other in made:
            if other.kind not in rule["first"] or other.id in seen | {step.id}:
                continue
            if laid.related(rule["where"], subjects[other.subject], subjects[step.subject]):
                seen.add(other.id)
                yield Need(step=other.id, why=rule["why"])


def _nearest(made: Sequence[Step]) -> list[Step]:
    """Leave out of the needs what another need already waits for."""
    before: dict[str, frozenset[str]] = {}
    kept = {}
    by_id = {s.id: s for s in made}
    for activity in order([s.activity for s in made]):
        step = by_id[activity.id]
        implied = frozenset[str]().union(*(before[need.step] for need in step.needs))
        before[step.id] = implied | {need.step for need in step.needs}
        kept[step.id] = tuple(need for need in step.needs if need.step not in implied)
    return [replace(s, needs=kept[s.id]) for s in made]
