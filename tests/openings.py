"""Openings and briefs written down by hand, so that a fit can be held against arithmetic.

room = opening(width=800.0, lean_right=6.0)
enclosure = made(fit(brief("door"), room))
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any, Literal

import numpy as np

from hangtrue.fit.enclosure import Alternative, Enclosure
from hangtrue.job import library
from hangtrue.job.brief import Brief
from hangtrue.job.document import Chosen, Head, Job, Threshold, Wall, Walls, Wanted, WantedLite
from hangtrue.job.hardware import BoxedPane, BoxedSet, Item
from hangtrue.job.readings import Side
from hangtrue.measure.below import StepShape
from hangtrue.measure.length import Linear
from hangtrue.measure.opening import Agreement, Opening
from hangtrue.units import Length

TOP = 1900.0
"""Top of the glass, mm."""

HEIGHTS = (-50.0, 0.0, 500.0, 1000.0, 1500.0, 2000.0)
AGREED = Agreement(
    chi_square=0.0, degrees_of_freedom=1.0, probability=1.0, level=0.01,
    alarm=False, named=None, suspects=(), decider=None,
)  # fmt: skip


def opening(
    *,
    width: float = 1500.0,
    lean_left: float = 0.0,
    lean_right: float = 0.0,
    bow_left: float = 0.0,
    bow_right: float = 0.0,
    curb: tuple[float, float] = (0.0, 0.0),
    walls: tuple[Side, ...] = ("left", "right"),
    sd: float = 0.0,
    x: float = 0.0,
) -> Opening:
    """Make an opening that leans and bows by so much over the height of the glass, mm.

    `sd` is the standard deviation of every node and of the curb, each on its own; `x` moves all.
    """
    z = np.array(HEIGHTS)
    bulge = 4.0 * z / TOP * (1.0 - z / TOP)
    left = x + lean_left * z / TOP + bow_left * bulge
    right = x + width - lean_right * z / TOP - bow_right * bulge
    faces = {"left": left, "right": right}
    shape = [v for side in walls for v in faces[side]]
    names = [f"{side} {h:.1f}" for side in walls for h in HEIGHTS]
    names += [f"across {side}" for side in walls] + ["curb left", "curb right", "pitch"]
    values = np.array([*shape, *(0.0 for _ in walls), *curb, 0.0])
    spread = np.array([sd] * len(shape) + [0.0] * len(walls) + [sd, sd, 0.0])
    return Opening(
        unknowns=tuple(names),
        walls=walls,
        heights=HEIGHTS if walls else (),
        shape=values,
        covariance=np.diag(spread**2),
        residuals=(),
        agreement=AGREED,
        set_aside=(),
        advice=(),
    )


def brief(
    *lites: str | WantedLite,
    walls: tuple[Side, ...] = ("left", "right"),
    exact: bool = False,
    shop: str = "metric-shop",
    items: Sequence[Item] = (),
    box: BoxedSet | None = None,
    hardware: dict[str, Any] | None = None,
    **wanted: Any,
) -> Brief:
    """Make a brief in mm; `exact` leaves out what the plant and the fitter may be off."""
    profile = library.shipped_profiles()[shop]
    if exact:
        plant = profile.plant.model_copy(update={"size_tolerance": Length(0.0)})
        profile = profile.model_copy(update={"plant": plant, "setting_sd": Length(0.0)})
    wish = {"hinge_side": "left", "height": Length(TOP), "thickness": Length(10.0), **wanted}
    if all((lite if isinstance(lite, str) else lite.kind) != "door" for lite in lites):
        wish["hinge_side"] = "free"
    if box:
        wish["make"] = "boxed set"
    job = Job(
        hangtrue=1,
        job=Head(id="by-hand"),
        unit="mm",
        walls=Walls(
            left=Wall() if "left" in walls else None, right=Wall() if "right" in walls else None
        ),
        threshold=Threshold(height=Length(100.0), width=Length(110.0)),
        wanted=Wanted(lites=lites, **wish),  # type: ignore[arg-type]
        hardware=Chosen(**(hardware or {})),
        readings=(),
    )
    return Brief(
        job=job,
        profile=profile,
        items={**library.shipped_items(), **{item.id: item for item in items}},
        instruments={},
        boxed_set=box,
    )


def on_grid(given: Brief, grid: float) -> Brief:
    """The same with a plant that cuts to another grid."""
    plant = given.profile.plant.model_copy(update={"grid": Length(grid)})
    return replace(given, profile=given.profile.model_copy(update={"plant": plant}))


def made(alternatives: Sequence[Alternative]) -> Enclosure:
    """Return the enclosure of the only alternative."""
    (only,) = alternatives
    assert isinstance(only.made, Enclosure), only.made.why
    return only.made


def boxed(
    *panes: tuple[Literal["door", "fixed"], float, float],
    least: float,
    most: float,
    plumb: float = 50.0,
) -> BoxedSet:
    """Make a boxed set of such panes for openings from `least` to `most`, mm."""
    return BoxedSet(
        boxed_set=1,
        id="by-hand-set",
        title="A set",
        panes=tuple(
            BoxedPane(kind=kind, width=Length(w), height=Length(h), thickness=Length(8.0))
            for kind, w, h in panes
        ),
        opening_least=Length(least),
        opening_most=Length(most),
        out_of_plumb_most=Length(plumb),
        hinge="set-hinge",
        wall="channel-set",
        strike="strike-seal-round",
        sweep="sweep-drip",
    )


# ------------------------------------------------------------------ lines that turn, steps, slopes

Step = tuple[str, int, float | None, float | None, float, float]
"""Name, run, left and right riser from the left end of the run (None: its end), top left, right."""


def turned(
    *lengths: float,
    angles: Sequence[float] = (),
    curb: Sequence[float] | None = None,
    ceiling: Sequence[float] | None = None,
    steps: Sequence[Step] = (),
    walls: tuple[Side, ...] = ("left", "right"),
    leans: tuple[float, float] = (0.0, 0.0),
    sd: float = 0.0,
) -> Opening:
    """Make an opening of several runs: inside angles in degrees, heights at ends and corners."""
    straight = opening(
        width=sum(lengths), lean_left=leans[0], lean_right=leans[1], walls=walls, sd=sd
    )
    stations = ["left", *(f"corner {k + 1}" for k in range(len(angles))), "right"]
    marks = [sum(lengths[:k]) for k in range(len(lengths) + 1)]
    more: dict[str, tuple[float, float]] = {}
    for k, angle in enumerate(angles, 1):
        more |= {f"corner {k}": (marks[k], sd), f"angle {k}": (np.radians(angle), sd / 200.0)}
    for name, height in zip(stations, curb or [0.0] * len(stations), strict=True):
        more[f"curb {name}"] = (height, sd)
    for name, height in zip(stations, ceiling or [], strict=False):
        more[f"ceiling {name}"] = (height, sd)
    for name, run, low, high, left, right in steps:
        for side, at in (("left", low), ("right", high)):
            if at is not None:
                more[f"step {name} {side}"] = (marks[run - 1] + at, sd)
        more |= {f"step {name} top left": (left, sd), f"step {name} top right": (right, sd)}
    values = dict(zip(straight.unknowns, straight.shape, strict=True))
    spread = dict(zip(straight.unknowns, straight.covariance.diagonal(), strict=True))
    values |= {name: value for name, (value, _) in more.items()}
    spread |= {name: sigma**2 for name, (_, sigma) in more.items()}
    bare = replace(
        straight,
        unknowns=tuple(values),
        shape=np.array(list(values.values())),
        covariance=np.diag(list(spread.values())),
        reach=(lengths[0], lengths[-1]),
    )
    return replace(bare, standing=tuple(_standing(bare, marks, step) for step in steps))


def _standing(bare: Opening, marks: Sequence[float], step: Step) -> StepShape:
    name, run, low, high, *_ = step

    def end(side: Side, at: float | None, k: int) -> Linear:
        if at is not None:
            return bare.entry(f"step {name} {side}")
        if 0 < k < len(marks) - 1:
            return bare.corner(k)
        return bare.end(side)

    return StepShape(
        name=name,
        run=run,
        left=end("left", low, run - 1),
        right=end("right", high, run),
        top_left=bare.entry(f"step {name} top left"),
        top_right=bare.entry(f"step {name} top right"),
        riser_left=low is not None,
        riser_right=high is not None,
    )
