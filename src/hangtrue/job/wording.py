"""What the models complain about, said again in words for the person who filled in the document."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from difflib import get_close_matches
from itertools import groupby
from types import UnionType
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from pydantic import BaseModel, ValidationError
from pydantic.fields import FieldInfo
from pydantic_core import ErrorDetails

from hangtrue.job.problems import Fault, Path
from hangtrue.job.text import Value

KINDS = ("what", "kind")
"""Keys that say of which kind a reading or a fitting is."""

SHAPES = {
    "model_type": ("a block of `key: value` lines", "{}"),
    "model_attributes_type": ("a block of `key: value` lines", "{}"),
    "dict_type": ("a block of `key: value` lines", "{}"),
    "tuple_type": ("a list", "[…]"),
    "string_type": ("a word or a sentence", "a word"),
    "bool_parsing": ("yes or no", "true or false"),
    "bool_type": ("yes or no", "true or false"),
    "int_parsing": ("a whole number", "1"),
    "int_type": ("a whole number", "1"),
    "float_parsing": ("a number", "1.5"),
    "float_type": ("a number", "1.5"),
    "finite_number": ("a finite number", "1.5"),
}


def faults(error: ValidationError, values: Value, model: type[BaseModel]) -> Iterator[Fault]:
    """Yield one fault for each place that is wrong, in the order of the document.

    Parameters
    ----------
    error
        All complaints about `values`.
    values
        The document as it was handed to `model`.

    """
    details = error.errors(include_url=False)
    placed = [(path_of(detail["loc"], values), detail) for detail in details]
    for path, group in groupby(placed, key=lambda pair: pair[0]):
        yield _fault(path, [detail for _, detail in group], values, model)


def path_of(loc: Iterable[str | int], values: Value) -> Path:
    """Return the place in the document, without the names of kinds that the models add to it."""
    steps = list(loc)
    path: list[str | int] = []
    here: Value = values
    for position, step in enumerate(steps):
        last = position == len(steps) - 1
        if isinstance(here, list) and isinstance(step, int) and step < len(here):
            here = here[step]
            path.append(step)
        elif isinstance(here, dict) and isinstance(step, str) and (step in here or last):
            here = here.get(step)
            path.append(step)
    return tuple(path)


def _fault(path: Path, details: list[ErrorDetails], values: Value, model: type[BaseModel]) -> Fault:
    """Say one complaint; several about one place are the alternatives that a value may take."""
    detail = next((d for d in details if d["type"] == "value_error"), details[0])
    kind = detail["type"]
    if kind == "missing":
        return _missing(path, field_at(model, path, values))
    if kind == "extra_forbidden":
        return _unknown_key(path, keys_at(model, path[:-1], values))
    if kind in {"literal_error", "union_tag_invalid"}:
        return _wrong_word(path, detail)
    if kind == "union_tag_not_found":
        return _no_kind(path, detail)
    if kind == "value_error":
        words = [d["ctx"]["expected"] for d in details if d["type"] == "literal_error"]
        return _bad_value(path, str(detail["ctx"]["error"]), words)
    return _wrong_shape(path, detail)


def _missing(path: Path, info: FieldInfo | None) -> Fault:
    key = path[-1] if path else ""
    example = f", like `{key}: {_example(info)}`" if info and info.examples else ""
    means = f" ({info.description})" if info and info.description else ""
    return Fault(path=path, wrong=f"`{key}` is missing{means}", do=f"write it{example}")


def _example(info: FieldInfo) -> str:
    return _flow((info.examples or [""])[0])


def _flow(example: Any) -> str:
    """Write an example on one line, as it may stand in the document."""
    if isinstance(example, dict):
        return "{" + ", ".join(f"{key}: {_flow(value)}" for key, value in example.items()) + "}"
    if isinstance(example, list):
        return "[" + ", ".join(map(_flow, example)) + "]"
    return str(example)


def _unknown_key(path: Path, keys: list[str]) -> Fault:
    key = str(path[-1])
    if key[:1].isdigit():
        wrong = f"{key!r} stands here alone: inside braces a comma begins the next key"
        return Fault(
            path=path, wrong=wrong, do="write a point for the comma, or put the value in quotes"
        )
    near = get_close_matches(key, keys, n=1, cutoff=0.6)
    do = f"did you mean `{near[0]}`?" if near else f"known here: {', '.join(keys)}"
    return Fault(path=path, wrong=f"nobody reads a key `{key}` here", do=do)


def _wrong_word(path: Path, detail: ErrorDetails) -> Fault:
    context = detail.get("ctx", {})
    listed = str(context.get("expected") or context.get("expected_tags"))
    typed = str(context.get("tag", detail["input"]))
    if "discriminator" in context:
        path = (*path, str(context["discriminator"]).strip("'"))
    words = [word.strip(" '") for word in listed.replace(" or ", ", ").split(", ")]
    near = get_close_matches(typed.lower(), words, n=1, cutoff=0.5)
    mean = f"; did you mean {near[0]}?" if near else ""
    return Fault(
        path=path, wrong=f"{_short(typed)} is not a word for this", do=f"write {_or(words)}{mean}"
    )


def _no_kind(path: Path, detail: ErrorDetails) -> Fault:
    key = str(detail["ctx"]["discriminator"]).strip("'")
    examples = {"what": "width", "kind": "hinge"}
    wrong = f"`{key}` is missing: nothing says what this is"
    return Fault(
        path=(*path, key), wrong=wrong, do=f"write it, like `{key}: {examples.get(key, '')}`"
    )


def _bad_value(path: Path, message: str, expected: list[str]) -> Fault:
    wrong, _, do = message.partition("; ")
    words = [word.strip(" '") for listed in expected for word in listed.split(" or ")]
    also = f", or {_or(words)}" if words else ""
    return Fault(path=path, wrong=wrong, do=(do or "write another value") + also)


def _wrong_shape(path: Path, detail: ErrorDetails) -> Fault:
    kind, context, typed = detail["type"], detail.get("ctx", {}), _short(detail["input"])
    if kind in SHAPES:
        shape, example = SHAPES[kind]
        return Fault(
            path=path, wrong=f"{typed} is not {shape}", do=f"write {shape}, like `{example}`"
        )
    if kind in {"too_short", "too_long"}:
        bound = context.get("min_length", context.get("max_length"))
        few = "at least" if kind == "too_short" else "at most"
        wrong = f"{context.get('actual_length')} here; there must be {few} {bound}"
        return Fault(path=path, wrong=wrong.replace("; ", ", "), do="look at the list")
    if kind in {"greater_than", "greater_than_equal", "less_than", "less_than_equal"}:
        wrong = detail["msg"].replace("Input should be", f"{typed} must be")
        return Fault(path=path, wrong=wrong, do="correct the number")
    wrong = detail["msg"][:1].lower() + detail["msg"][1:]
    return Fault(path=path, wrong=f"{typed}: {wrong}", do="correct it")


def _short(value: Any) -> str:
    text = "nothing" if value is None else repr(value)
    if isinstance(value, dict | list):
        text = "a block" if isinstance(value, dict) else "a list"
    return text if len(text) <= 40 else f"{text[:37]}…"  # noqa: PLR2004 -- a line on a terminal


def _or(words: list[str]) -> str:
    return f"{', '.join(words[:-1])} or {words[-1]}" if len(words) > 1 else words[0]


def field_at(model: type[BaseModel], path: Path, values: Value) -> FieldInfo | None:
    """Return the model's field for a place in the document; None where there is none."""
    for candidate in models_at(model, path[:-1], values):
        for key, info in _fields(candidate):
            if path and key == path[-1]:
                return info
    return None


def keys_at(model: type[BaseModel], path: Path, values: Value) -> list[str]:
    """Return the keys that may stand at a place of the document."""
    return [key for candidate in models_at(model, path, values) for key, _ in _fields(candidate)]


def models_at(model: type[BaseModel], path: Path, values: Value) -> list[type[BaseModel]]:
    """Return the models that may describe a place; the key for the kind picks one of several."""
    candidates: list[type[BaseModel]] = [model]
    named: list[type[BaseModel]] = []
    here: Value = values
    for step in path:
        if isinstance(step, int):
            here = here[step] if isinstance(here, list) and step < len(here) else None
        else:
            fields = [info for c in candidates for key, info in _fields(c) if key == step]
            candidates = named or [
                m for info in fields for m in _models(info.annotation, *info.metadata)
            ]
            named = [m for info in fields for m in _named_models(info.annotation)]
            here = here.get(step) if isinstance(here, dict) else None
        candidates = [c for c in candidates if _suits(c, here)]
    return candidates


def _fields(model: type[BaseModel]) -> Iterator[tuple[str, FieldInfo]]:
    for name, info in model.model_fields.items():
        yield info.alias or name, info


def _models(*annotations: Any) -> Iterator[type[BaseModel]]:
    """Yield every model that an annotation names."""
    for annotation in annotations:
        if isinstance(annotation, type) and issubclass(annotation, BaseModel):
            yield annotation
        elif get_origin(annotation) in {Annotated, Union, UnionType, tuple}:
            yield from _models(*get_args(annotation))


def _named_models(*annotations: Any) -> Iterator[type[BaseModel]]:
    """Yield every model that stands under names of the writer's choice."""
    for annotation in annotations:
        if get_origin(annotation) is dict:
            yield from _models(get_args(annotation)[1])
        elif get_origin(annotation) in {Annotated, Union, UnionType}:
            yield from _named_models(*get_args(annotation))


def _suits(model: type[BaseModel], here: Value) -> bool:
    """Tell whether a value says that it is of the model's kind, or says nothing of it."""
    for key in KINDS:
        info = model.model_fields.get(key)
        if info and isinstance(here, dict) and get_origin(info.annotation) is Literal:
            return here.get(key) in {None, *get_args(info.annotation)}
    return True


def trimmed(values: dict[str, Value], model: type[BaseModel]) -> Value:
    """Leave out known keys with nothing after them: the same as not written.

    An unknown key stays and is complained of; it may be the rest of a value cut by a comma.
    """

    def rest(value: Value, path: Path) -> Value:
        if isinstance(value, list):
            return [rest(below, (*path, i)) for i, below in enumerate(value)]
        if not isinstance(value, dict):
            return value
        empty = [key for key, below in value.items() if below is None]
        known = keys_at(model, path, values) if empty else []
        gone = {key for key in empty if key in known}
        return {k: rest(below, (*path, k)) for k, below in value.items() if k not in gone}

    return rest(values, ())
