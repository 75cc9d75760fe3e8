"""From a job document to a brief, with everything that is wrong in it at once."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import takewhile
from pathlib import Path as FilePath

from pydantic import ValidationError

from hangtrue.job import library
from hangtrue.job.brief import Brief
from hangtrue.job.cross_checks import cross_checks
from hangtrue.job.document import Job
from hangtrue.job.hardware import BoxedSet
from hangtrue.job.problems import Fault, Level, Path, Problem, any_wrong, dotted
from hangtrue.job.reading_names import named
from hangtrue.job.slips import slips
from hangtrue.job.text import Text, Value, parse, read_text
from hangtrue.job.wording import faults, field_at, trimmed
from hangtrue.units import UNITS

SPARABLE = (
    "readings",
    "items",
    "instruments",
    "layers",
    "blocking",
    "projections",
    "steps",
    "obstacles",
    "bars",
)
"""Lists whose entries a job can do without."""

NEEDED = (
    ("walls", "left"),
    ("walls", "right"),
    ("wanted", "lites"),
    ("wanted", "make"),
    ("wanted", "boxed_set"),
)
"""What cannot be left out without changing what is asked for."""

ROUNDS = 6
MOST_PROBLEMS = 200


@dataclass(frozen=True, slots=True, kw_only=True)
class _Found:
    """What reading has come to so far; nothing in it changes."""

    job: Job | None
    faults: tuple[Fault, ...]
    dropped: frozenset[Path]


def read_job(path: FilePath | str) -> tuple[Brief | None, tuple[Problem, ...]]:
    """Read a job document from a file.

    Returns
    -------
    The brief, where a plan is possible with what is right; and every problem, in the order of
    the document.

    """
    place = FilePath(path)
    text, problems = read_text(place)
    return _brief(text, problems, place.parent)


def read_job_text(
    text: str, folder: FilePath | str = "."
) -> tuple[Brief | None, tuple[Problem, ...]]:
    """Read a job document from its text; files it names are looked for in `folder`."""
    read, problems = parse(text)
    return _brief(read, problems, FilePath(folder))


def _brief(
    text: Text | None, problems: tuple[Problem, ...], folder: FilePath
) -> tuple[Brief | None, tuple[Problem, ...]]:
    if text is None:
        return None, problems
    if "boxed_set" in text.values and "hangtrue" not in text.values:
        do = "plan a job that names it: `make: boxed set` and `boxed_set:` under `wanted`"
        return None, (Problem(line=1, field="", wrong="this is a boxed set, not a job", do=do),)
    values, name_faults = named(trimmed(text.values, Job))
    brief, found = _settle(values, folder)
    said = (_problem(fault, text) for fault in (*name_faults, *found))
    every = sorted({*problems, *said}, key=lambda p: (p.line or 0, p.field, p.wrong))
    return brief, _cut(tuple(every))


def _cut(problems: tuple[Problem, ...]) -> tuple[Problem, ...]:
    """Cut a list that nobody would read to its end."""
    more = len(problems) - MOST_PROBLEMS
    if more <= 0:
        return problems
    level: Level = "wrong" if any_wrong(problems) else "sure?"
    do = "correct these first"
    last = Problem(line=None, field="", wrong=f"and {more} more", do=do, level=level)
    return (*problems[:MOST_PROBLEMS], last)


def _settle(values: Value, folder: FilePath) -> tuple[Brief | None, tuple[Fault, ...]]:
    """Leave out what is wrong, round by round, until the rest stands or cannot."""
    found = _Found(job=None, faults=(), dropped=frozenset())
    brief: Brief | None = None
    for _ in range(ROUNDS):
        rest, places = _without(values, found.dropped)
        job, faulty = _validated(rest, places, found.dropped)
        if job is not None:
            brief, absent = _looked_up(job, folder)
            crossed = (*absent, *cross_checks(brief), *slips(brief))
            placed = (_placed(fault, places) for fault in crossed)
            faulty = tuple(fault for fault in placed if not _follows(fault, found.dropped))
        wrong = [fault for fault in faulty if fault.level == "wrong"]
        refused = {fault.path for fault in wrong}
        faulty = tuple(f for f in faulty if f.level == "wrong" or f.path not in refused)
        spared = frozenset(p for fault in wrong if (p := _spare(fault.path)))
        found = _Found(job=job, faults=found.faults + faulty, dropped=found.dropped | spared)
        if not wrong and job is not None:
            return brief, _once(found.faults)
        if not spared:
            break
    late = () if found.job else _with_stand_ins(values, found, folder)
    return None, _once((*found.faults, *late))


def _with_stand_ins(values: Value, found: _Found, folder: FilePath) -> tuple[Fault, ...]:
    """Put the examples of the models where something needed is missing, to check all the rest.

    No plan is made from it: it only lets a person hear of everything at once.
    """
    wrong = {fault.path for fault in found.faults if fault.level == "wrong"}
    gone = found.dropped | {_keys(path) for path in wrong if not _spare(path)}
    rest, places = _without(values, gone)
    for path in sorted(gone, key=len):
        info = field_at(Job, path, rest)
        if info is not None and info.is_required() and info.examples:
            _put(rest, path, info.examples[0])
    job, _ = _validated(rest, places, frozenset())
    if job is None:
        return ()
    brief, absent = _looked_up(job, folder)
    sizes = () if ("unit",) in gone else slips(brief)  # in a wrong unit every size would be odd
    placed = (_placed(fault, places) for fault in (*absent, *cross_checks(brief), *sizes))
    return tuple(f for f in placed if not any(f.path[: len(p)] == p for p in gone))


def _follows(fault: Fault, dropped: frozenset[Path]) -> bool:
    """Tell whether a question only arises because something beside it was left out."""
    around = fault.path[:-1]
    return (
        fault.level == "sure?"
        and around != ()
        and any(path[: len(around)] == around for path in dropped)
    )


def _keys(path: Path) -> Path:
    """Return the path down to the first list."""
    return tuple(takewhile(lambda step: isinstance(step, str), path))


def _put(values: Value, path: Path, example: Value) -> None:
    """Put an example into the values, where there is a mapping to take it."""
    here: Value = values
    for step in path[:-1]:
        here = here.get(str(step)) if isinstance(here, dict) else None
    if isinstance(here, dict):
        here[str(path[-1])] = example


def _once(faults_: Iterable[Fault]) -> tuple[Fault, ...]:
    return tuple(dict.fromkeys(faults_))


def _validated(
    values: Value, places: dict[Path, tuple[int, ...]], dropped: frozenset[Path]
) -> tuple[Job | None, tuple[Fault, ...]]:
    unit = values.get("unit") if isinstance(values, dict) else None
    # A wrong unit is one problem; inches take whole numbers, decimals and fractions alike, which
    # keeps every bare number from being another.
    context = {"unit": unit if unit in UNITS else "in"}
    try:
        return Job.model_validate(values, context=context), ()
    except ValidationError as error:
        placed = (_placed(fault, places) for fault in faults(error, values, Job))
        return None, tuple(fault for fault in placed if fault.path not in dropped)


def _looked_up(job: Job, folder: FilePath) -> tuple[Brief, tuple[Fault, ...]]:
    """Look up everything the job names; a profile that is not there is stood in for."""
    profile, faulty = library.find_profile(job.profile, folder, job.instruments)
    boxed_set: BoxedSet | None = None
    set_faults: tuple[Fault, ...] = ()
    if job.wanted.boxed_set:
        boxed_set, set_faults = library.find_boxed_set(job.wanted.boxed_set, folder)
    if profile is None:
        profile = library.shipped_profiles()[Job.model_fields["profile"].default]
    brief = Brief(
        job=job,
        profile=profile,
        items=library.items(job.items),
        instruments=library.instruments(job.instruments),
        boxed_set=boxed_set,
    )
    return brief, (*faulty, *set_faults)


def _spare(path: Path) -> Path | None:
    """Return what can be left out for a fault at `path`: the entry of a list, or the key itself."""
    for end, step in enumerate(path):
        if isinstance(step, int) and path[end - 1] in SPARABLE:
            return path[: end + 1]
    if not path or isinstance(path[-1], int) or path in NEEDED:
        return None
    return None if path[-1] == "turn" and path[-2] else path


def _without(
    value: Value,
    dropped: frozenset[Path],
    path: Path = (),
    places: dict[Path, tuple[int, ...]] | None = None,
) -> tuple[Value, dict[Path, tuple[int, ...]]]:
    """Return the values without what was dropped, and for each list the places its entries had."""
    places = {} if places is None else places
    if isinstance(value, dict):
        kept = {k: v for k, v in value.items() if (*path, k) not in dropped}
        return {k: _without(v, dropped, (*path, k), places)[0] for k, v in kept.items()}, places
    if isinstance(value, list):
        stay = tuple(i for i in range(len(value)) if (*path, i) not in dropped)
        places[path] = stay
        return [_without(value[i], dropped, (*path, i), places)[0] for i in stay], places
    return value, places


def _placed(fault: Fault, places: dict[Path, tuple[int, ...]]) -> Fault:
    """Return the fault with its path in the document as typed."""
    path: Path = ()
    for step in fault.path:
        stay = places.get(path, ())
        moved = isinstance(step, int) and step < len(stay)
        path = (*path, stay[step] if moved and isinstance(step, int) else step)
    return Fault(path=path, wrong=fault.wrong, do=fault.do, level=fault.level)


def _problem(fault: Fault, text: Text) -> Problem:
    return Problem(
        line=text.line(fault.path),
        field=dotted(fault.path),
        wrong=fault.wrong,
        do=fault.do,
        level=fault.level,
    )
