"""What no single field can tell: that names exist, and that the parts of a job suit each other."""

from __future__ import annotations

from collections.abc import Iterator

from hangtrue.job.below_zero import below_zero
from hangtrue.job.brief import Brief
from hangtrue.job.document import Job, Wall
from hangtrue.job.hardware import (
    Channel,
    GapRange,
    Hinge,
    Item,
    Seal,
)
from hangtrue.job.instruments import Instrument
from hangtrue.job.problems import Fault, Path, suggest
from hangtrue.job.reading_checks import instrument_checks, reading_checks
from hangtrue.job.readings import Height
from hangtrue.job.room_checks import room_checks
from hangtrue.job.row_checks import row_checks
from hangtrue.job.slips import within
from hangtrue.phrase import phrase
from hangtrue.source import source


def cross_checks(brief: Brief) -> Iterator[Fault]:
    """Yield what does not go together in a job."""
    job = brief.job
    yield from _own(job)
    yield from below_zero(job)
    for side, wall in (("left", job.walls.left), ("right", job.walls.right)):
        if wall is not None:
            yield from _wall(wall, ("walls", side))
    yield from row_checks(job)
    yield from room_checks(job)
    yield from _mark(job)
    yield from _make(brief)
    yield from _hardware(brief)
    yield from reading_checks(brief)
    yield from _bars(brief)
    for i, step in enumerate(brief.job.steps):
        yield from instrument_checks(brief, step.with_, "step", ("steps", i))


def _own(job: Job) -> Iterator[Fault]:
    """Check the instruments and the hardware that the job brings along."""
    yield from _twice("instruments", [instrument.id for instrument in job.instruments])
    yield from _twice("items", [item.id for item in job.items])
    for i, instrument in enumerate(job.instruments):
        yield from _instrument(instrument, ("instruments", i))
    for i, item in enumerate(job.items):
        yield from _item(item, ("items", i))


def _twice(key: str, ids: list[str]) -> Iterator[Fault]:
    for i, name in enumerate(ids):
        if name in ids[:i]:
            yield Fault(
                path=(key, i, "id"), wrong=f"{name} stands here twice", do="give each its own id"
            )


def _instrument(instrument: Instrument, path: Path) -> Iterator[Fault]:
    try:
        source(instrument.source)
    except KeyError:
        wrong = f"{instrument.source!r} is in no table of sources"
        yield Fault(path=(*path, "source"), wrong=wrong, do="write own, and say more in `note`")
    lengths = [longest for longest, _ in instrument.error_up_to]
    if lengths != sorted(set(lengths)):
        wrong = "the steps do not grow"
        yield Fault(path=(*path, "error_up_to"), wrong=wrong, do="write the shortest length first")


def _item(item: Item, path: Path) -> Iterator[Fault]:
    """Check that the numbers of a fitting can belong to one fitting."""
    for name in type(item).model_fields:
        value = getattr(item, name)
        if isinstance(value, GapRange) and not 0 <= value.least <= value.usual <= value.most:
            wrong = f"least {value.least.typed}, usual {value.usual.typed}, most {value.most.typed}"
            yield Fault(path=(*path, name), wrong=f"{wrong} do not grow", do="write them in order")
    if item.glass_least > item.glass_most:
        wrong = f"takes glass from {item.glass_least.typed} to {item.glass_most.typed}"
        yield Fault(path=(*path, "glass_least"), wrong=wrong, do="write the thinner one as least")
    if isinstance(item, Channel) and item.depth < item.bite_least + item.floor_gap_least:
        wrong = "least bite and gap to the floor are more than the channel is deep"
        yield Fault(path=(*path, "depth"), wrong=wrong, do="look at the maker's drawing again")


def _wall(wall: Wall, path: Path) -> Iterator[Fault]:
    for i, blocking in enumerate(wall.blocking):
        if blocking.from_ >= blocking.to:
            wrong = f"it runs from {blocking.from_.typed} up to {blocking.to.typed}"
            yield Fault(
                path=(*path, "blocking", i), wrong=wrong, do="write the lower height as `from`"
            )
    if wall.behind == "blocking" and not wall.blocking:
        wrong = "there is blocking, but nobody says from where to where"
        do = "add it, like `blocking: [{from: 0 in, to: 80 in, depth: 1-1/2 in}]`"
        yield Fault(path=(*path, "behind"), wrong=wrong, do=do, level="sure?")
    if wall.behind in {"hollow", "acrylic"} and wall.blocking:
        wrong = phrase("{behind} behind the wall, and yet blocking", behind=wall.behind)
        do = "write `behind: blocking` if the screws land in it"
        yield Fault(path=(*path, "behind"), wrong=wrong, do=do, level="sure?")


def _mark(job: Job) -> Iterator[Fault]:
    """Check that a mark that heights count from is tied to the curb."""
    if job.datum == "mark" and not any(
        isinstance(r, Height) and r.of == "curb" for r in job.readings
    ):
        wrong = "heights count from a mark, but nobody read the curb's height above it"
        do = "add a reading `{what: height, of: curb, value: …}`, negative where the curb is below"
        yield Fault(path=("datum",), wrong=wrong, do=do)


def _make(brief: Brief) -> Iterator[Fault]:
    """Check made to measure or boxed set, and the glass against what is to be had."""
    wanted, boxed = brief.job.wanted, brief.boxed_set
    path = ("wanted", "boxed_set")
    if wanted.make == "boxed set" and not wanted.boxed_set:
        do = "write `boxed_set:` with the name of its file beside the job"
        yield Fault(path=path, wrong="a boxed set is wanted, but which one?", do=do)
    if wanted.make != "boxed set" and wanted.boxed_set:
        wrong = "a boxed set is named, but the glass is made to measure"
        yield Fault(path=path, wrong=wrong, do="write `make: boxed set`, or leave the set out")
    if boxed is not None:
        yield from _boxed(brief)
    if wanted.thickness == "free":
        return
    offered = [pane.thickness for pane in boxed.panes] if boxed else list(brief.profile.plant.glass)
    if all(abs(wanted.thickness - glass) > within("same-glass") for glass in offered):
        wrong = f"glass of {wanted.thickness.typed} is not to be had"
        do = f"write {', '.join(dict.fromkeys(glass.typed for glass in offered))} or free"
        yield Fault(path=("wanted", "thickness"), wrong=wrong, do=do)


def _boxed(brief: Brief) -> Iterator[Fault]:
    """Check a boxed set by itself and against the row that is wanted."""
    boxed, path = brief.boxed_set, ("wanted", "boxed_set")
    if boxed is None:
        return
    row = [pane.kind for pane in boxed.panes]
    wanted = [lite.kind for lite in brief.job.wanted.lites]
    if wanted != row and not (boxed.reversible and wanted == row[::-1]):
        wrong = f"the set is {' + '.join(row)}, wanted is {' + '.join(wanted)}"
        yield Fault(
            path=path, wrong=wrong, do="write the set's row as `lites`, or take another set"
        )
    if not 0 < boxed.opening_least <= boxed.opening_most:
        wrong = (
            f"openings from {boxed.opening_least.typed} to {boxed.opening_most.typed} in the set"
        )
        yield Fault(path=path, wrong=wrong, do="correct opening_least and opening_most in its file")
    for key, item_id in (("hinge", boxed.hinge), ("wall", boxed.wall), ("strike", boxed.strike)):
        yield from _fitting(brief, f"the set's {key}", item_id, FITS[key], path)
    yield from _fitting(brief, "the set's sweep", boxed.sweep, FITS["sweep"], path)


FITS: dict[str, tuple[str, ...]] = {
    "hinge": ("wall hinge",),
    "glass_hinge": ("glass hinge",),
    "wall": ("channel", "clamp", "joint"),
    "curb": ("channel", "clamp", "joint"),
    "strike": ("strike seal", "joint"),
    "sweep": ("sweep", "joint"),
    "between": ("joint",),
    "corner": ("joint", "clamp"),
    "ceiling": ("channel", "clamp", "joint"),
    "transom": ("joint", "strike seal"),
    "handle": ("handle",),
}
"""What sort of fitting each place takes."""


def sort_of(item: Item) -> str:
    """Return the sort of a fitting, in the word that says where it may go."""
    if isinstance(item, Hinge):
        return f"{item.mount} hinge"
    if isinstance(item, Seal):
        return "strike seal" if item.use == "strike" else "sweep"
    return item.kind


def _hardware(brief: Brief) -> Iterator[Fault]:
    for place, sorts in FITS.items():
        item_id = getattr(brief.job.hardware, place)
        if place != "handle" or item_id != "none":
            yield from _fitting(brief, place, item_id, sorts, ("hardware", place))


def _fitting(
    brief: Brief, place: str, item_id: str, sorts: tuple[str, ...], path: Path
) -> Iterator[Fault]:
    item = brief.items.get(item_id)
    fitting = [key for key, other in brief.items.items() if sort_of(other) in sorts]
    if item is None:
        wrong = f"nobody knows a fitting {item_id!r}"
        yield Fault(path=path, wrong=wrong, do=suggest(item_id, fitting))
    elif sort_of(item) not in sorts:
        wrong = f"{item_id} is a {sort_of(item)}; {place} takes a {' or '.join(sorts)}"
        yield Fault(path=path, wrong=wrong.replace("; ", ", but "), do=suggest("", fitting))


def _bars(brief: Brief) -> Iterator[Fault]:
    for i, bar in enumerate(brief.job.wanted.bars):
        path = ("wanted", "bars", i, "item")
        yield from _fitting(brief, f"a {bar.kind} bar", bar.fitting, ("head bar",), path)
