"""`measure`, the verb of the stage: from the readings of a job to its opening."""

from __future__ import annotations

import numpy as np

from hangtrue.job.brief import Brief
from hangtrue.job.room import Step
from hangtrue.measure.adjusting import Fit, bowed, fit, network
from hangtrue.measure.agreement import Tests, residual_of_left_out, residuals, tests
from hangtrue.measure.layout import Equation, Layout
from hangtrue.measure.length import Linear
from hangtrue.measure.linear import Array
from hangtrue.measure.next_reading import deciding, narrowing, once_more
from hangtrue.measure.opening import Agreement, NextReading, Opening, Residual, StepShape, Suspect
from hangtrue.measure.suspects import Explained, Others, explain, without_each
from hangtrue.tables import table


def measure(brief: Brief) -> Opening:
    """Estimate the opening from the readings, and say what disagrees.

    Too few readings are no error: the covariance is wide, and `advice` says what to read next.
    Where a slip can be named, that reading is left out of the estimate, so that planning goes on.
    Walls that all readings agree to be bowed raise no alarm.
    """
    everything = fit(network(brief))
    level = brief.profile.limit("alarm-level").value
    tested = tests(everything, level)
    if not tested.alarm:
        return _opening(everything, tested, _agrees(tested))
    others = without_each(everything)
    rough = fit(bowed(everything.network, table("misreadings")["bowed"]["times"]))
    explained = explain(everything, others, rough)
    if explained.walls_are_bowed and not (again := tests(rough, level)).alarm:
        return _opening(rough, again, _agrees(again))
    named = explained.named
    if named is not None:
        rest = fit(everything.network, frozenset({named.reading}))
        if not tests(rest, level * table("misreadings")["naming"]["several"]).alarm:
            return _opening(rest, tested, _names(tested, explained, named), named.reading)
    return _opening(everything, tested, _ties(everything, tested, explained, others, named))


def _agrees(tested: Tests) -> Agreement:
    return _agreement(tested, (), None, None)


def _names(tested: Tests, explained: Explained, named: Suspect) -> Agreement:
    return _agreement(tested, explained.suspects, named, None)


def _ties(
    everything: Fit,
    tested: Tests,
    explained: Explained,
    others: tuple[Others, ...],
    named: Suspect | None,
) -> Agreement:
    """Nothing stands out, or what stands out does not settle it: say which reading would."""
    by_id = {o.seen.reading.id: o for o in others}
    top = [by_id[reading] for reading, _ in explained.by_reading[:2]]
    if len(top) > 1 and explained.by_reading[1][1] > explained.bowed:
        decider = deciding(everything, top[0], top[1])
    else:
        decider = once_more(everything, top[0]) if top else None
    return _agreement(tested, explained.suspects, None, decider, several=named is not None)


def _agreement(
    tested: Tests,
    suspects: tuple[Suspect, ...],
    named: Suspect | None,
    decider: NextReading | None,
    *,
    several: bool = False,
) -> Agreement:
    return Agreement(
        chi_square=tested.chi_square,
        degrees_of_freedom=tested.freedom,
        probability=tested.probability,
        level=tested.level,
        alarm=tested.alarm,
        named=named,
        suspects=suspects,
        decider=decider,
        several=several,
    )


def _opening(result: Fit, tested: Tests, agreement: Agreement, left_out: str = "") -> Opening:
    layout = result.network.layout
    shape, covariance = _whole_shape(result, layout)
    found = residuals(result, tested)
    if left_out:
        found[left_out] = residual_of_left_out(result, left_out, tested)
    return Opening(
        unknowns=layout.names[: layout.shape_size],
        walls=layout.walls,
        heights=layout.heights,
        shape=shape,
        covariance=covariance,
        residuals=_in_order(result.network.brief, found),
        agreement=agreement,
        set_aside=(left_out,) if left_out else (),
        advice=narrowing(result),
        standing=tuple(_step(layout, key, step) for key, step in layout.steps),
        reach=_reach(layout),
    )


def _step(layout: Layout, key: str, step: Step) -> StepShape:
    """Place one step: its risers, or the ends of its run; its cap."""
    ends = [layout.station(name, step.height) for name in layout.ends(step.run)]
    if step.from_ is not None:
        ends[0] = Equation(layout.entry(f"step {key} left"))
    if step.to is not None:
        ends[1] = Equation(layout.entry(f"step {key} right"))
    left, right = (_linear(layout, end) for end in ends)
    top_left, top_right = (
        _linear(layout, Equation(layout.entry(f"step {key} top {end}")))
        for end in ("left", "right")
    )
    return StepShape(
        name=key,
        run=step.run,
        left=left,
        right=right,
        top_left=top_left,
        top_right=top_right,
        overhang_left=float(step.overhang) if step.from_ is not None else 0.0,
        overhang_right=float(step.overhang) if step.to is not None else 0.0,
        riser_left=step.from_ is not None,
        riser_right=step.to is not None,
    )


def _linear(layout: Layout, length: Equation) -> Linear:
    """Write a length over the unknowns as one over the whole shape."""
    names = list(layout.place)
    row = np.zeros(layout.shape_size)
    for i, a in length.terms:
        row[layout.names.index(names[i])] += a
    return Linear(coefficients=row, constant=length.constant)


def _reach(layout: Layout) -> tuple[float, float]:
    """Lengths of the runs that end free; one without any wall or corner starts at 0."""
    left = 0.0 if "left" in layout.walls or _loose(layout) else layout.reach("left")
    return left, 0.0 if "right" in layout.walls else layout.reach("right")


def _loose(layout: Layout) -> bool:
    return layout.runs == 1 and not layout.walls


def _in_order(brief: Brief, found: dict[str, Residual]) -> tuple[Residual, ...]:
    return tuple(found[r.id] for r in brief.job.readings if r.id in found)


def _whole_shape(result: Fit, layout: Layout) -> tuple[Array, Array]:
    """Put what the frame fixes at exactly 0 back in, and leave out plumb and laser lines."""
    size = layout.shape_size
    kept = [(k, layout.place[n]) for k, n in enumerate(layout.names[:size]) if n in layout.place]
    whole = np.array([k for k, _ in kept])
    place = np.array([i for _, i in kept])
    shape, covariance = np.zeros(size), np.zeros((size, size))
    shape[whole] = result.adjustment.x[place]
    covariance[np.ix_(whole, whole)] = result.adjustment.covariance[np.ix_(place, place)]
    shape.flags.writeable = covariance.flags.writeable = False
    return shape, covariance
