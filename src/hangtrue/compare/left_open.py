"""What the wishes leave open, as briefs that decide it: hardware, swing, widths, boxed sets."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from itertools import combinations, product
from math import prod

from hangtrue.fit.enclosure import Alternative, Enclosure, Lite
from hangtrue.job.brief import Brief
from hangtrue.job.document import Job
from hangtrue.job.hardware import BoxedSet, Channel, Clamp, Hinge, Item, Joint, Seal
from hangtrue.odds.wording import written
from hangtrue.phrase import phrase
from hangtrue.tables import table
from hangtrue.units import Length, Unit

TWO, THREE = 2, 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Variant:
    """A brief in which something is decided that the wishes leave open; `words` say what."""

    brief: Brief
    words: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """One thing decided differently: what it is in words, and how the job says it."""

    words: str
    made: Callable[[Job], Job]


@dataclass(frozen=True, slots=True, kw_only=True)
class LeftOpen:
    """Variants to look at, those that differ least from what is written first, and all there are.

    Attributes
    ----------
    possible
        How many variants there would be.

    """

    variants: Iterator[Variant]
    possible: int


def left_open(
    brief: Brief, fitted: tuple[Alternative, ...], shelf: tuple[BoxedSet, ...]
) -> LeftOpen:
    """List what may be decided differently.

    Parameters
    ----------
    fitted
        The brief as it is written, fitted: only hardware that is on it is worth changing.
    shelf
        Boxed sets that could be had instead; looked at where the wishes do not say how the glass
        is had.

    """
    made = [a.made for a in fitted if isinstance(a.made, Enclosure)]
    changes = [*_hardware(brief, made), *_hinges(brief, made), *_swing(brief, made)]
    changes += _widths(brief, made)
    open_ = [some for some in changes if some]
    sets = tuple(_sets(brief, shelf))
    possible = prod(len(some) + 1 for some in open_) + len(sets)
    return LeftOpen(variants=_variants(brief, open_, sets), possible=possible)


def _variants(
    brief: Brief, changes: list[tuple[Change, ...]], sets: tuple[BoxedSet, ...]
) -> Iterator[Variant]:
    """The brief as written, then boxed sets, then one thing changed, then two, and so on."""
    yield Variant(brief=brief)
    for box in sets:
        yield _boxed(brief, box)
    for count in range(1, len(changes) + 1):
        for some in combinations(changes, count):
            for chosen in product(*some):
                yield _changed(brief, chosen)


def _changed(brief: Brief, chosen: tuple[Change, ...]) -> Variant:
    job = brief.job
    for change in chosen:
        job = change.made(job)
    return Variant(brief=replace(brief, job=job), words=tuple(c.words for c in chosen))


# ------------------------------------------------------------------------------ hardware


def _hardware(brief: Brief, made: list[Enclosure]) -> Iterator[tuple[Change, ...]]:
    """Fittings that nobody chose and that this enclosure has, with what else would do there."""
    own, on_it = brief.job.hardware, {j.hardware for m in made for j in m.joints}
    for name in table("odds")["compare"]["hardware"]:
        now = getattr(own, name)
        if name in own.model_fields_set or now not in on_it:
            continue
        yield tuple(
            _fitting(name, item) for item in brief.items.values()
            if item.id != now and _does(name, item, brief.items[now])
        )  # fmt: skip


def _fitting(name: str, item: Item) -> Change:
    def made(job: Job) -> Job:
        hardware = job.hardware.model_copy(update={name: item.id})
        return job.model_copy(update={"hardware": hardware})

    where = name.replace("_", " ")
    return Change(words=phrase("{where}: {item}", where=where, item=item.id), made=made)


def _hinges(brief: Brief, made: list[Enclosure]) -> Iterator[tuple[Change, ...]]:
    """A third hinge, where nobody says how many and there are two."""
    own = brief.job.hardware
    doors = [m for m in made if m.door and m.choice.cut != "boxed"]
    if "hinges" in own.model_fields_set or not doors or _hung_by(doors[0]) != TWO:
        return

    def with_three(job: Job) -> Job:
        hardware = job.hardware.model_copy(update={"hinges": THREE})
        return job.model_copy(update={"hardware": hardware})

    yield (Change(words=phrase("three hinges"), made=with_three),)


def _hung_by(made: Enclosure) -> int:
    """Number of plates on the first hinge joint; nought without one."""
    hinged = next((j for j in made.joints if j.kind == "hinge"), None)
    return sum(g.at_fitting for g in hinged.gaps) if hinged else 0


def _swing(brief: Brief, made: list[Enclosure]) -> Iterator[tuple[Change, ...]]:
    """Other ways to open, where nobody says which."""
    wanted = brief.job.wanted
    if "swing" in wanted.model_fields_set or not any(m.door for m in made):
        return
    others = [way for way in table("odds")["compare"]["swings"] if way != wanted.swing]
    yield tuple(_opening(way) for way in others)


def _opening(way: str) -> Change:
    def made(job: Job) -> Job:
        return job.model_copy(update={"wanted": job.wanted.model_copy(update={"swing": way})})

    words = {
        "out": phrase("door opens outward"),
        "in": phrase("door opens inward"),
        "both": phrase("door opens both ways"),
    }
    return Change(words=words[way], made=made)


def _does(name: str, item: Item, now: Item) -> bool:
    """Whether an item can stand where `now` does; made for another angle it cannot."""
    if _angle(item) != _angle(now):
        return False
    match name:
        case "hinge" | "glass_hinge":
            return isinstance(item, Hinge) and isinstance(now, Hinge) and item.mount == now.mount
        case "strike" | "sweep":
            return isinstance(item, Seal) and item.use == name
        case "between":
            return isinstance(item, Joint)
        case _:
            return isinstance(item, Channel | Clamp | Joint)


def _angle(item: Item) -> float:
    """Angle of the panes that an item is made for; nought where it does not matter."""
    return float(item.angle) if isinstance(item, Hinge | Clamp) else 0.0


# ------------------------------------------------------------------------------ sizes and sets


def _widths(brief: Brief, made: list[Enclosure]) -> Iterator[tuple[Change, ...]]:
    """Widths beside those that were chosen, where the wishes name none.

    Of the door, if there is one; and of the first fixed pane, if another takes up what it leaves.
    """
    lites = brief.job.wanted.lites
    first = next((m for m in made if m.choice.cut != "boxed"), None)
    if first is None or brief.boxed_set or len(lites) == 1:
        return
    doors = [k for k, lite in enumerate(lites) if lite.kind == "door"]
    fixed = [k for k, lite in enumerate(lites) if lite.kind == "fixed" and lite.width is None]
    if len(doors) == 1 and lites[doors[0]].width is None and first.door:
        yield _steps(brief, doors[0], first.door, "door")
    panes = {lite.id: lite for lite in first.lites}
    if len(fixed) > 1 and "fixed 1" in panes and fixed[0] == _first_fixed(brief):
        yield _steps(brief, fixed[0], panes["fixed 1"], "fixed 1")


def _first_fixed(brief: Brief) -> int:
    """Place of the first fixed pane in the row that is wished for."""
    return next(k for k, lite in enumerate(brief.job.wanted.lites) if lite.kind == "fixed")


def _steps(brief: Brief, place: int, pane: Lite, name: str) -> tuple[Change, ...]:
    grid, unit = float(brief.profile.plant.grid), brief.job.unit
    widths = [
        Length(pane.width_bottom + steps * grid)
        for steps in table("odds")["compare"]["width_steps"]
    ]
    least = float(brief.profile.plant.width_least)
    return tuple(of_width(place, width, name, unit) for width in widths if width > least)


def of_width(place: int, width: Length, name: str, unit: Unit) -> Change:
    """Wish for a width of the pane at a place of the row."""

    def made(job: Job) -> Job:
        lites = tuple(
            lite.model_copy(update={"width": width}) if k == place else lite
            for k, lite in enumerate(job.wanted.lites)
        )
        return job.model_copy(update={"wanted": job.wanted.model_copy(update={"lites": lites})})

    words = phrase("{pane} {width} wide", pane=name, width=written(width, unit))
    return Change(words=words, made=made)


def _sets(brief: Brief, shelf: tuple[BoxedSet, ...]) -> Iterator[BoxedSet]:
    if "make" in brief.job.wanted.model_fields_set or brief.boxed_set:
        return
    kinds = sorted(lite.kind for lite in brief.job.wanted.lites)
    for box in shelf:
        known = {box.hinge, box.wall, box.strike, box.sweep} <= brief.items.keys()
        if known and sorted(pane.kind for pane in box.panes) == kinds:
            yield box


def _boxed(brief: Brief, box: BoxedSet) -> Variant:
    wanted = brief.job.wanted.model_copy(update={"make": "boxed set", "boxed_set": box.id})
    job = brief.job.model_copy(update={"wanted": wanted})
    return Variant(
        brief=replace(brief, job=job, boxed_set=box), words=(phrase("boxed set {id}", id=box.id),)
    )
