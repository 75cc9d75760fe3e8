"""What the wishes leave open, as briefs that decide it: hardware, door width, boxed sets."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import combinations, product
from math import prod

from hangtrue.fit.enclosure import Alternative, Enclosure
from hangtrue.job.brief import Brief
from hangtrue.job.hardware import BoxedSet, Channel, Clamp, Hinge, Item, Joint, Seal
from hangtrue.tables import table
from hangtrue.units import Length, Unit, inches, millimetres


@dataclass(frozen=True, slots=True, kw_only=True)
class Variant:
    """A brief in which something is decided that the wishes leave open; `words` say what."""

    brief: Brief
    words: tuple[str, ...] = ()


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
    options = dict(_hardware(brief, made))
    widths = tuple(_widths(brief, made))
    sets = tuple(_sets(brief, shelf))
    possible = prod(len(items) + 1 for items in options.values()) * (len(widths) + 1) + len(sets)
    return LeftOpen(variants=_variants(brief, options, widths, sets), possible=possible)


def _variants(
    brief: Brief,
    options: dict[str, tuple[Item, ...]],
    widths: tuple[Length, ...],
    sets: tuple[BoxedSet, ...],
) -> Iterator[Variant]:
    """The brief as written, then boxed sets, then one thing changed, then two, and so on."""
    yield Variant(brief=brief)
    for box in sets:
        yield _boxed(brief, box)
    changes: dict[str, tuple[Item | Length, ...]] = {**options}
    if widths:
        changes[WIDTH] = widths
    for count in range(1, len(changes) + 1):
        for names in combinations(changes, count):
            for chosen in product(*(changes[name] for name in names)):
                yield _changed(brief, dict(zip(names, chosen, strict=True)))


WIDTH = "door width"


def _changed(brief: Brief, chosen: dict[str, Item | Length]) -> Variant:
    job, words = brief.job, []
    for name, choice in chosen.items():
        if isinstance(choice, Length):
            lites = tuple(
                lite.model_copy(update={"width": choice}) if lite.kind == "door" else lite
                for lite in job.wanted.lites
            )
            job = job.model_copy(update={"wanted": job.wanted.model_copy(update={"lites": lites})})
            words.append(f"door {_said(choice, job.unit)} wide")
        else:
            hardware = job.hardware.model_copy(update={name: choice.id})
            job = job.model_copy(update={"hardware": hardware})
            words.append(f"{name.replace('_', ' ')}: {choice.id}")
    return Variant(brief=replace(brief, job=job), words=tuple(words))


def _said(width: float, unit: Unit) -> str:
    return inches(width) if unit == "in" else millimetres(width)


# ------------------------------------------------------------------------------ hardware


def _hardware(brief: Brief, made: list[Enclosure]) -> Iterator[tuple[str, tuple[Item, ...]]]:
    """Fittings that nobody chose and that this enclosure has, with what else would do there."""
    own, on_it = brief.job.hardware, {j.hardware for m in made for j in m.joints}
    for name in table("odds")["compare"]["hardware"]:
        now = getattr(own, name)
        if name in own.model_fields_set or now not in on_it:
            continue
        others = tuple(
            item for item in brief.items.values()
            if item.id != now and _does(name, item, brief.items[now])
        )  # fmt: skip
        if others:
            yield name, others


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


def _widths(brief: Brief, made: list[Enclosure]) -> Iterator[Length]:
    """Door widths beside the one that was chosen, where the wishes name none."""
    doors = [lite for lite in brief.job.wanted.lites if lite.kind == "door"]
    door = next((m.door for m in made if m.door), None)
    if door is None or len(doors) != 1 or doors[0].width is not None or brief.boxed_set:
        return
    if len(brief.job.wanted.lites) == 1:
        return
    grid = float(brief.profile.plant.grid)
    for steps in table("odds")["compare"]["width_steps"]:
        yield Length(door.width_bottom + steps * grid)


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
    return Variant(brief=replace(brief, job=job, boxed_set=box), words=(f"boxed set {box.id}",))
