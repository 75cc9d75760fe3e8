"""What is shipped and what a shop adds: instruments, hardware, shop profiles, boxed sets, by id."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable, Iterator
from functools import cache
from importlib.resources import files
from pathlib import Path as FilePath
from typing import Any, TypeVar

from pydantic import BaseModel, TypeAdapter, ValidationError

from hangtrue.job.hardware import BoxedSet, Item
from hangtrue.job.instruments import Instrument
from hangtrue.job.own_hands import hand_slips
from hangtrue.job.problems import Fault, Path, Problem, dotted
from hangtrue.job.profile import Profile
from hangtrue.job.shop_tables import SECTIONS, laid, section_slips
from hangtrue.job.text import MOST_BYTES, Value, read_text
from hangtrue.job.toml_lines import line_of, lines_of
from hangtrue.job.wording import faults, trimmed
from hangtrue.source import source
from hangtrue.tables import Table, table
from hangtrue.units import UNITS

Read = TypeVar("Read", bound=BaseModel)

LONGEST_NAME = 200
FAMILIES = ("hinges", "fixings", "seals", "handles")
"""The files of `data/hardware`."""


@cache
def shipped_instruments() -> dict[str, Instrument]:
    """Return the shipped instruments by id."""
    rows = table("instruments")
    return {key: Instrument.model_validate({"id": key, **row}) for key, row in rows.items()}


@cache
def shipped_items() -> dict[str, Item]:
    """Return the shipped family of hardware by id."""
    adapter: TypeAdapter[Item] = TypeAdapter(Item)
    rows = [row for family in FAMILIES for row in table(f"hardware/{family}").items()]
    return {key: adapter.validate_python({"id": key, **row}) for key, row in rows}


@cache
def shipped_profiles() -> dict[str, Profile]:
    """Return the shipped shop profiles by id."""
    names = sorted(
        path.name.removesuffix(".toml")
        for path in files("hangtrue").joinpath("data", "profiles").iterdir()
        if path.name.endswith(".toml")
    )
    return {
        name: Profile.model_validate(_profile_rows(table(f"profiles/{name}"))) for name in names
    }


def instruments(own: Iterable[Instrument]) -> dict[str, Instrument]:
    """Return the shipped instruments with a job's own on top."""
    return shipped_instruments() | {instrument.id: instrument for instrument in own}


def items(own: Iterable[Item]) -> dict[str, Item]:
    """Return the shipped hardware with a job's own on top."""
    return shipped_items() | {item.id: item for item in own}


def find_profile(
    name: str, folder: FilePath, own: Iterable[Instrument] = ()
) -> tuple[Profile | None, tuple[Fault, ...]]:
    """Return the shipped profile of that name, or the one in a TOML file beside the job.

    Parameters
    ----------
    own
        The job's own instruments, which a profile may say something of.

    """
    if name in shipped_profiles():
        return shipped_profiles()[name], ()
    if not name.endswith(".toml"):
        known = ", ".join(shipped_profiles())
        wrong = f"there is no shop profile {name!r}"
        return None, (
            _at(
                "profile",
                wrong,
                f"write one of {known}, or the name of a .toml file beside the job",
            ),
        )
    path, missing = _beside(name, folder, "profile")
    if path is None:
        return None, missing
    try:
        text = path.read_text(encoding="utf-8")
        rows = tomllib.loads(text)
    except (tomllib.TOMLDecodeError, UnicodeDecodeError, RecursionError) as error:
        return None, (_at("profile", f"{name} is not TOML: {error}", "correct that file"),)
    return _checked_profile(rows, name, lines_of(text), instruments(own))


def read_boxed_set(path: FilePath) -> tuple[BoxedSet | None, tuple[Problem, ...]]:
    """Read the document of a boxed set; the problems carry the lines of that file."""
    text, problems = read_text(path)
    if text is None:
        return None, problems
    found, faulty = _validated(BoxedSet, trimmed(text.values, BoxedSet))
    found_problems = tuple(
        Problem(line=text.line(f.path), field=dotted(f.path), wrong=f.wrong, do=f.do)
        for f in faulty
    )
    return found, problems + found_problems


def find_boxed_set(name: str, folder: FilePath) -> tuple[BoxedSet | None, tuple[Fault, ...]]:
    """Return the boxed set in a file beside the job."""
    path, missing = _beside(name, folder, "wanted", "boxed_set")
    if path is None:
        return None, missing
    found, problems = read_boxed_set(path)
    return found, tuple(
        _at(("wanted", "boxed_set"), f"in {name}: {_within(problem)}", problem.do)
        for problem in problems
    )


def _within(problem: Problem) -> str:
    line = f"line {problem.line}: " if problem.line else ""
    return f"{line}{problem.field}: {problem.wrong}" if problem.field else f"{line}{problem.wrong}"


def _at(path: str | tuple[str, ...], wrong: str, do: str) -> Fault:
    return Fault(path=(path,) if isinstance(path, str) else path, wrong=wrong, do=do)


def _beside(name: str, folder: FilePath, *field: str) -> tuple[FilePath | None, tuple[Fault, ...]]:
    """Return a readable file of that plain name in the job's folder."""
    if FilePath(name).name != name or "\\" in name or len(name) > LONGEST_NAME:
        return None, (
            _at(field, f"{name!r} is not a plain file name", "put the file beside the job"),
        )
    path = folder / name
    if not path.is_file():
        return None, (_at(field, f"there is no file {name!r} beside the job", "put it there"),)
    if path.stat().st_size > MOST_BYTES:
        return None, (_at(field, f"{name!r} is too large", "is it the right file?"),)
    return path, ()


def _profile_rows(rows: Table) -> Table:
    """Lay a profile over the shipped one it is based on: plant and limits row by row."""
    if "based_on" not in rows:
        return rows
    below = _profile_rows(table(f"profiles/{rows['based_on']}"))
    plant = below["plant"] | rows.get("plant", {})
    limits = below["limits"] | {
        key: _limit_row(row, below["limits"].get(key, {}))
        for key, row in rows.get("limits", {}).items()
    }
    sections = {
        key: laid(below.get(key, {}), rows[key])
        for key in SECTIONS
        if isinstance(rows.get(key), dict)
    }
    return below | rows | {"plant": plant, "limits": limits} | sections


def _limit_row(row: Any, below: Table) -> Any:
    """Keep what a limit is good for; another number has another origin."""
    return {"why": below.get("why", "")} | row if isinstance(row, dict) else row


def _checked_profile(
    rows: Table, name: str, lines: dict[Path, int], known: dict[str, Instrument]
) -> tuple[Profile | None, tuple[Fault, ...]]:
    """Validate a shop's own profile; a limit no rule knows is a slip of the pen."""
    if rows.get("based_on", "inch-shop") not in shipped_profiles():
        line = line_of(lines, ("based_on",))
        wrong = f"in {name}, line {line}: based_on {rows['based_on']!r} is no shipped profile"
        return None, (_at("profile", wrong, f"write one of {', '.join(shipped_profiles())}"),)
    whole = _profile_rows({"based_on": "inch-shop", **_tables_only(rows)})
    profile, faulty = _validated(Profile, whole)
    slips: list[tuple[Path, str, str]] = [(f.path, f.wrong, _as_toml(f.do)) for f in faulty]
    slips += _limit_slips(rows)
    slips += hand_slips(rows, known)
    if not any(path[:1] and path[0] in SECTIONS for path, _, _ in slips):
        slips += section_slips(rows)
    slips.sort(key=lambda slip: line_of(lines, slip[0]) or 0)
    return profile, tuple(
        _at("profile", f"{_in_file(name, line_of(lines, path))}: {dotted(path)}: {wrong}", do)
        for path, wrong, do in slips
    )


def _as_toml(do: str) -> str:
    """Write the example of a remedy as it stands in this kind of file."""
    return re.sub(r"like `(\w+): ([^`]*)`$", r'like `\1 = "\2"`', do)


def _in_file(name: str, line: int | None) -> str:
    return f"in {name}, line {line}" if line else f"in {name}"


def _tables_only(rows: Table) -> Table:
    """Leave out a `plant` or `limits` that is no table; the shipped one stands in for it."""
    return {k: v for k, v in rows.items() if k not in {"plant", "limits"} or isinstance(v, dict)}


def _limit_slips(rows: Table) -> Iterator[tuple[Path, str, str]]:
    known = shipped_profiles()["inch-shop"].limits
    for key in ("plant", "limits"):
        if key in rows and not isinstance(rows[key], dict):
            yield (key,), "is not a table", f"write [{key}.…] tables"
    limits = rows.get("limits", {})
    for key, row in limits.items() if isinstance(limits, dict) else ():
        if key not in known:
            do = f"known: {', '.join(known)}"
            yield ("limits", key), "no rule uses a limit of this name", do
        elif isinstance(row, dict) and not _is_source(row.get("source", "own")):
            yield (
                ("limits", key, "source"),
                f"{row['source']!r} is no known source",
                "write own or practice",
            )
        elif key.startswith("prior-") and isinstance(row, dict) and not _over_zero(row):
            wrong = "a wall is never known before it is read"
            yield ("limits", key, "value"), wrong, "write a number over 0"


def _over_zero(row: Table) -> bool:
    """Whether the number of a limit is over 0; what is no number is said elsewhere."""
    value = row.get("value", 1.0)
    return not isinstance(value, int | float) or value > 0


def _is_source(source_id: Any) -> bool:
    try:
        return bool(source(str(source_id)))
    except KeyError:
        return False


def _validated(model: type[Read], values: Value | Table) -> tuple[Read | None, tuple[Fault, ...]]:
    unit = values.get("unit") if isinstance(values, dict) else None
    context = {"unit": unit if unit in UNITS else None}
    try:
        return model.model_validate(values, context=context), ()
    except ValidationError as error:
        return None, tuple(faults(error, values, model))
