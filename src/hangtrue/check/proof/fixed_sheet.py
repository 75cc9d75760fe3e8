"""The calculation sheet of fixings that hold fixed glass to a wall, from the pane to the screw."""

from __future__ import annotations

from collections.abc import Iterator

from hangtrue.check.proof.fixed_row import Demand, Row
from hangtrue.check.proof.fixed_wood import Borne
from hangtrue.check.proof.hanging_sheet import wood_given, wood_steps
from hangtrue.check.sheet import CalculationSheet, Given, Step
from hangtrue.phrase import phrase

GUIDED = (
    "A channel guides the glass: its seal lets the edge tilt as much as it wants to. Only where a "
    "pane stands by the grip of its channel alone, the grip is counted."
)
SHARING = (
    "The forces of the bent plate on its edge go to the fixings on either side of them, as in a "
    "beam from fixing to fixing; adhesive, sealant and the pressure on the tile are not counted on."
)


def sheet(
    row: Row, called: str, demand: Demand, borne: Borne | None, factor: float
) -> CalculationSheet:
    """Write down what the worst fixing must bear and, in wood, what it does bear."""
    result = (
        phrase(
            "The worst screw uses {use:.3f} of what it bears, at most 1: it {verdict}.",
            use=borne.use,
            verdict="holds" if borne.use <= 1 else "does not hold",
        )
        if borne
        else phrase(
            "Each screw must bear a working load of {pull:.0f} N out and {slide:.0f} N sideways; "
            "what the wall bears is not known here.",
            pull=demand.tension_N,
            slide=demand.shear_N,
        )
    )
    return CalculationSheet(
        title=phrase("Fixings of {what}", what=called),
        basis=(GUIDED, SHARING, phrase("Governs: {load}.", load=demand.what)),
        given=(
            *_given(row, demand),
            *(wood_given(borne.fixing, "the shop profile") if borne else ()),
        ),
        steps=(
            *_steps(row, demand),
            *_factor(factor, borne),
            *(wood_steps(borne.fixing, borne.capacity, borne.use) if borne else ()),
        ),
        result=result,
    )


def _given(row: Row, demand: Demand) -> Iterator[Given]:
    of = "the shop profile" if row.holder == "channel" else "hardware data"
    yield Given(what="Fixings", symbol="n_f", value=float(len(row.heights)), origin=of)
    yield Given(what="Screws in each", symbol="n", value=float(row.screws), origin="hardware data")
    yield Given(what="Height of the worst fixing above the datum", symbol="z", value=demand.height,
                unit="mm", origin="the enclosure")  # fmt: skip
    yield Given(what="Push of the glass on it, across the glass", symbol="F", value=demand.push_N,
                unit="N", origin=demand.source)  # fmt: skip
    yield Given(what="Couple of the glass on it, about an upright line", symbol="C",
                value=demand.couple_Nmm, unit="N·mm", origin=demand.source)  # fmt: skip
    if row.holder == "bar":
        yield Given(what="Pull of the bar out of the wall for each newton of push", symbol="k",
                    value=row.pull, origin="the enclosure")  # fmt: skip
    else:
        yield Given(what="From the wall's face to where the glass pushes", symbol="a",
                    value=row.arm, unit="mm", origin="hardware data")  # fmt: skip
        yield Given(what="From a screw to the edge that the fitting turns about", symbol="l",
                    value=row.lever, unit="mm", origin="hardware data")  # fmt: skip


def _steps(row: Row, demand: Demand) -> Iterator[Step]:
    bar = row.holder == "bar"
    yield Step(what="Pull on a screw", symbol="T",
               formula="k F / n" if bar else "(F a + C) / (l n)", value=demand.tension_N,
               unit="N")  # fmt: skip
    yield Step(what="Shear on it", symbol="R", formula="F / n", value=demand.shear_N, unit="N")


def _factor(factor: float, borne: Borne | None) -> Iterator[Step]:
    if borne and factor != 1:
        yield Step(what="Factor on loads", symbol="γ", formula="", value=factor)
