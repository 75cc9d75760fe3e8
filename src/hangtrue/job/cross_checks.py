"""What no single field can tell: that names exist, and that the parts of a job suit each other."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from difflib import get_close_matches

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
from hangtrue.job.problems import Fault, Path
from hangtrue.job.readings import (
    Bow,
    CornerAngle,
    Diagonal,
    Fall,
    Height,
    Lean,
    Offset,
    Pitch,
    Reading,
    Width,
)
from hangtrue.job.slips import within
from hangtrue.source import source

SUITS: dict[str, tuple[str, ...]] = {
    "width": ("tape", "rule", "laser distance"),
    "lean": ("level", "digital level", "plumb line", "laser line"),
    "offset": ("laser line", "plumb line", "tape", "rule"),
    "bow": ("rule", "tape", "level", "laser line"),
    "diagonal": ("tape", "laser distance"),
    "fall": ("level", "digital level", "laser line"),
    "pitch": ("level", "digital level", "laser line"),
    "height": ("tape", "rule", "laser distance", "laser line"),
    "angle": ("angle finder", "digital level"),
    "corner": ("angle finder",),
    "triangle": ("tape", "rule", "laser distance"),
    "square": ("angle finder",),
}
"""Kinds of instrument that can take each kind of reading."""


def cross_checks(brief: Brief) -> Iterator[Fault]:
    """Yield what does not go together in a job."""
    job = brief.job
    yield from _own(job)
    for side, wall in (("left", job.walls.left), ("right", job.walls.right)):
        if wall is not None:
            yield from _wall(wall, ("walls", side))
    yield from _layout(job)
    yield from _make(brief)
    yield from _hardware(brief)
    yield from _readings(brief)


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
        wrong = f"{wall.behind} behind the wall, and yet blocking"
        do = "write `behind: blocking` if the screws land in it"
        yield Fault(path=(*path, "behind"), wrong=wrong, do=do, level="sure?")


def _layout(job: Job) -> Iterator[Fault]:
    """Check the row of panes against the walls it stands between."""
    doors = [i for i, lite in enumerate(job.wanted.lites) if lite.kind == "door"]
    if len(doors) > 1:
        wrong, do = "more than one door: double doors come later", "plan one door"
        yield Fault(path=("wanted", "lites"), wrong=wrong, do=do)
    if not doors and job.wanted.hinge_side != "free":
        wrong = "a hinge side, but no door among the panes"
        do = "leave it out, or add a door to `lites`"
        yield Fault(path=("wanted", "hinge_side"), wrong=wrong, do=do)
    if job.walls.left is None and job.walls.right is None:
        wrong = "no wall at either end"
        yield Fault(path=("walls",), wrong=wrong, do="describe the wall that carries the glass")
    yield from _free_ends(job)
    if job.datum == "mark" and not any(
        isinstance(r, Height) and r.of == "curb" for r in job.readings
    ):
        wrong = "heights count from a mark, but nobody read the curb's height above it"
        do = "add a reading `{what: height, of: curb, value: …}`, negative where the curb is below"
        yield Fault(path=("datum",), wrong=wrong, do=do)


def _free_ends(job: Job) -> Iterator[Fault]:
    lites = job.wanted.lites
    for side, wall, i in (("left", job.walls.left, 0), ("right", job.walls.right, len(lites) - 1)):
        if wall is not None:
            continue
        if lites[i].kind == "door":
            wrong = f"no {side} wall, and a door at that end with nothing to hang on or close to"
            do = f"describe `walls: {side}:`, or put a fixed pane at that end"
            yield Fault(path=("wanted", "lites", i), wrong=wrong, do=do)
        elif lites[i].width is None:
            wrong = f"no {side} wall: this pane ends free, and nobody says how wide it is"
            do = f"write `{{kind: fixed, width: 34 in}}`, or describe `walls: {side}:`"
            yield Fault(path=("wanted", "lites", i), wrong=wrong, do=do)


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
        yield Fault(path=path, wrong=wrong, do=_suggest(item_id, fitting))
    elif sort_of(item) not in sorts:
        wrong = f"{item_id} is a {sort_of(item)}; {place} takes a {' or '.join(sorts)}"
        yield Fault(path=path, wrong=wrong.replace("; ", ", but "), do=_suggest("", fitting))


def _suggest(typed: str, known: Iterable[str]) -> str:
    known = list(known)
    near = get_close_matches(typed, known, n=1, cutoff=0.6) if typed else []
    return f"did you mean {near[0]}?" if near else f"write {', '.join(known)}"


def _readings(brief: Brief) -> Iterator[Fault]:
    if not brief.job.readings:
        yield Fault(path=("readings",), wrong="there are no readings", do="add a width at least")
    for i, reading in enumerate(brief.job.readings):
        path = ("readings", i)
        yield from _with(brief, reading, path)
        yield from _ends(brief.job, reading, path)
        yield from _heights(reading, path)
        yield from _signs(reading, path)
    yield from _lonely_lines(brief.job)
    yield from _datum(brief.job)


def _with(brief: Brief, reading: Reading, path: Path) -> Iterator[Fault]:
    """Check that the instrument exists and can take such a reading."""
    instrument = brief.instruments.get(reading.with_)
    kinds = SUITS[reading.what]
    suited = [key for key, other in brief.instruments.items() if other.kind in kinds]
    if instrument is None:
        wrong = f"nobody knows an instrument {reading.with_!r}"
        yield Fault(path=(*path, "with"), wrong=wrong, do=_suggest(reading.with_, suited))
    elif instrument.kind not in kinds:
        wrong = f"a {reading.what} is not read with a {instrument.kind}"
        yield Fault(path=(*path, "with"), wrong=wrong, do=_suggest("", suited))


def _ends(job: Job, reading: Reading, path: Path) -> Iterator[Fault]:
    """Check that the walls exist that a reading is of."""
    if isinstance(reading, Width | Diagonal):
        for side, wall in (("left", job.walls.left), ("right", job.walls.right)):
            if wall is None:
                wrong = f"a {reading.what} goes from wall to wall, and there is no {side} wall"
                yield Fault(path=path, wrong=wrong, do=f"describe `walls: {side}:`, or take it out")
    elif isinstance(reading, Lean | Offset | Bow | CornerAngle) and job.wall(reading.wall) is None:
        wrong = f"there is no {reading.wall} wall"
        do = f"describe `walls: {reading.wall}:`, or correct the side"
        yield Fault(path=(*path, "wall"), wrong=wrong, do=do)


def _heights(reading: Reading, path: Path) -> Iterator[Fault]:
    """Check that `from` is below `to`, and a bow's height between them."""
    if not isinstance(reading, Lean | Bow):
        return
    if reading.from_ >= reading.to:
        wrong = f"from {reading.from_.typed} to {reading.to.typed} does not go up"
        yield Fault(path=(*path, "from"), wrong=wrong, do="write the lower height as `from`")
    elif isinstance(reading, Bow) and reading.at and not reading.from_ < reading.at < reading.to:
        wrong = f"{reading.at.typed} is not on the straightedge"
        do = f"write a height between {reading.from_.typed} and {reading.to.typed}"
        yield Fault(path=(*path, "at"), wrong=wrong, do=do)


def _signs(reading: Reading, path: Path) -> Iterator[Fault]:
    """Check that a sign is written once: before the value or as a word."""
    key = "toward" if isinstance(reading, Lean | Bow) else "falls"
    if not isinstance(reading, Lean | Bow | Fall | Pitch):
        return
    word = getattr(reading, key)
    if word is not None and reading.value < 0:
        wrong = f"{reading.value.typed} has a sign, and `{key}: {word}` says it again"
        yield Fault(path=(*path, "value"), wrong=wrong, do="keep the word and take the sign off")


def _datum(job: Job) -> Iterator[Fault]:
    """Ask about a curb that is said to be above or below itself."""
    for i, reading in enumerate(job.readings):
        if not isinstance(reading, Height) or reading.of != "curb" or not reading.value:
            continue
        if job.datum == f"curb {reading.at}":
            wrong = f"heights count from the curb at the {reading.at}, so there it is 0"
            do = "correct `datum` or `at`"
            yield Fault(path=("readings", i, "value"), wrong=wrong, do=do, level="sure?")


def _lonely_lines(job: Job) -> Iterator[Fault]:
    """Ask about a line with one offset: alone it says nothing of the wall."""
    lines = [r.line for r in job.readings if isinstance(r, Offset)]
    for i, reading in enumerate(job.readings):
        if isinstance(reading, Offset) and lines.count(reading.line) == 1:
            wrong = f"the only offset from line {reading.line!r}: alone it says nothing"
            do = "read a second one, or correct the name of the line"
            yield Fault(path=("readings", i, "line"), wrong=wrong, do=do, level="sure?")
