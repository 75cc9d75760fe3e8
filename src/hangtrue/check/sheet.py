"""A calculation sheet: what went in, each formula with its clause, and what came out.

It can be followed by hand.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Given:
    """One input: what it is, its symbol, its value in a unit, and where it is from.

    Attributes
    ----------
    value
        A number, or a word such as the kind of wood.
    origin
        Source id, or words such as `the job`.

    """

    what: str
    symbol: str
    value: float | str
    unit: str = ""
    origin: str = "the job"


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One intermediate value: the formula that gives it, in symbols, and its clause.

    Attributes
    ----------
    formula
        In the symbols of the inputs and of the steps above it.
    source, clause
        Source id, and the clause, equation or table in it.

    """

    what: str
    symbol: str
    formula: str
    value: float
    unit: str = ""
    source: str = "own"
    clause: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class CalculationSheet:
    """One check as an engineer would write it down.

    Attributes
    ----------
    title
        What is shown: `Screws of the upper hinge, door`.
    basis
        What is assumed and which set of rules is used, in sentences.
    result
        Value against limit in one sentence.

    """

    title: str
    basis: tuple[str, ...]
    given: tuple[Given, ...]
    steps: tuple[Step, ...]
    result: str
