"""What changed between two job documents, field by field, in the words they were written in."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import Any

from hangtrue.job.document import Job
from hangtrue.job.quantity import Model
from hangtrue.job.readings import Reading
from hangtrue.units import Angle, Length, Slope, Unit

Said = tuple[str, str]
"""Where, and what."""

GIVEN_ID = re.compile(r"r\d+\+*")
"""Id of a reading that nobody named: it only counts the readings."""
BARE = re.compile(r"[-+]?[\d.,/ ½¼¾⅛⅜⅝⅞-]+")
SIGNED = ("toward", "falls")
CARRIED = ("id", "what", "value", "with_", "by", "on", "note", *SIGNED)
"""Fields of a reading that do not say what it is of."""
ONE_OF = {
    "lites": "pane",
    "layers": "layer",
    "bars": "bar",
    "steps": "step",
    "obstacles": "obstacle",
    "projections": "projection",
    "items": "fitting",
    "instruments": "instrument",
}
"""What one entry of a list is called."""


def among(old: Sequence[str] | dict[str, Any], new: Sequence[str] | dict[str, Any]) -> list[str]:
    """Return the names of both in the order of the new, those that are gone last."""
    return list(dict.fromkeys([*new, *old]))


def reading_changes(old: Job, new: Job) -> Iterator[Said]:
    """Compare the readings by their ids; those that nobody named, by what they are of."""
    was, now = _named(old), _named(new)
    for name in among(was, now):
        before, after = was.get(name), now.get(name)
        if before is None and after is not None:
            yield _called(after, new.unit), f"new, {_read(after, new.unit)}"
        elif after is None and before is not None:
            yield _called(before, old.unit), f"gone, was {_read(before, old.unit)}"
        elif before is not None and after is not None:
            yield from _reread(before, after, (old.unit, new.unit))


def document_changes(old: Job, new: Job) -> Iterator[Said]:
    """Compare all that is neither a reading nor in the title block."""
    for path, words in _differences(old, new, (old.unit, new.unit), skip=("job", "readings")):
        yield ", ".join(path), words


def _named(job: Job) -> dict[str, Reading]:
    """Readings by id, or by what they are of; a repeat is counted."""
    named: dict[str, Reading] = {}
    for reading in job.readings:
        name = reading.id
        if GIVEN_ID.fullmatch(name):
            name = place = _of(reading, job.unit)
            count = 1
            while name in named:
                count += 1
                name = f"{place}, {count}"
        named[name] = reading
    return named


def _reread(old: Reading, new: Reading, units: tuple[Unit, Unit]) -> Iterator[Said]:
    where = _called(new, units[1])
    signs = any(getattr(old, word, None) != getattr(new, word, None) for word in SIGNED)
    if old.value != new.value or signs:
        yield where, to(_read(old, units[0]), _read(new, units[1]))
    if type(old) is not type(new):
        yield where, to(old.what, new.what)
        return
    for path, words in _differences(old, new, units, skip=("id", "value", *SIGNED)):
        yield where, f"{', '.join(path)} {words}"


def _called(reading: Reading, unit: Unit) -> str:
    of = _of(reading, unit)
    return of if GIVEN_ID.fullmatch(reading.id) else f"{reading.id}, {of}"


def _of(reading: Reading, unit: Unit) -> str:
    """Say what a reading is of: `lean, wall left, from 0 in, to 72 in`."""
    known = type(reading).model_fields
    written = [n for n in known if n in reading.model_fields_set and n not in CARRIED]
    fields = [(n, getattr(reading, n)) for n in written]
    fields = [(n, v) for n, v in fields if n == "at" or v != known[n].default]
    return ", ".join([reading.what, *(f"{_name(n)} {_say(v, unit)}" for n, v in fields)])


def _read(reading: Reading, unit: Unit) -> str:
    """Say the value as it was written, with the word that carries its sign."""
    words = [getattr(reading, word, None) for word in SIGNED]
    return " ".join([_say(reading.value, unit), *(word for word in words if word)])


def _differences(
    old: Model, new: Model, units: tuple[Unit, Unit], skip: Sequence[str] = ()
) -> Iterator[tuple[tuple[str, ...], str]]:
    """Walk two models of one kind side by side."""
    for name in type(new).model_fields:
        before, after = getattr(old, name), getattr(new, name)
        if name in skip or before == after:
            continue
        yield from _compared(name, before, after, units)


def _compared(
    name: str, before: object, after: object, units: tuple[Unit, Unit]
) -> Iterator[tuple[tuple[str, ...], str]]:
    key = _name(name)
    if isinstance(before, Model) and type(before) is type(after):
        for path, words in _differences(before, after, units):
            yield (key, *path), words
    elif isinstance(before, tuple) and isinstance(after, tuple) and _models(before + after):
        was, now = _entries(name, before), _entries(name, after)
        for entry in among(was, now):
            for path, words in _compared(entry, was.get(entry), now.get(entry), units):
                yield ((key, *path) if name not in ONE_OF else path), words
    elif before is None and isinstance(after, Model):
        yield (key,), f"new, {_say(after, units[1])}"
    elif after is None and isinstance(before, Model):
        yield (key,), f"gone, was {_say(before, units[0])}"
    else:
        yield (key,), to(_say(before, units[0]), _say(after, units[1]))


def _models(values: tuple[Any, ...]) -> bool:
    return all(isinstance(value, Model) for value in values)


def _entries(name: str, values: tuple[Any, ...]) -> dict[str, Any]:
    """Entries of a list by id or name where they have one that is theirs alone, else by number."""
    one = ONE_OF.get(name, name)
    ids = [str(getattr(v, "id", "") or getattr(v, "name", "")) for v in values]
    own = all(ids) and len(set(ids)) == len(ids)
    names = [f"{one} {ids[i] if own else i + 1}" for i in range(len(values))]
    return dict(zip(names, values, strict=True))


def _name(field: str) -> str:
    return field.strip("_").replace("_", " ")


def _say(value: object, unit: Unit) -> str:
    """Write a value as it stands in the document; a bare length gets the unit of the job."""
    if isinstance(value, Length) and BARE.fullmatch(value.typed):
        return f"{value.typed} {unit}"
    if isinstance(value, Length | Slope | Angle):
        return value.typed
    if isinstance(value, Model):
        fields = [(n, getattr(value, n)) for n in type(value).model_fields]
        said = (f"{_name(n)} {_say(v, unit)}" for n, v in fields if n in value.model_fields_set)
        return ", ".join(said)
    if isinstance(value, tuple):
        return ", ".join(_say(v, unit) for v in value) or "none"
    return "not written" if value is None or value == "" else str(value)


def to(old: object, new: object) -> str:
    """Say a change: `left -> right`."""
    return f"{old} -> {new}"
