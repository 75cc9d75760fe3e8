"""The plan as JSON with a published schema: rounded, in a fixed order, always the same bytes."""

from __future__ import annotations

import json
import math
from collections.abc import Iterable, Sequence
from typing import Any

from hangtrue import __version__
from hangtrue.check.finding import Finding
from hangtrue.check.verdict import Judged, Verdict
from hangtrue.estimate import Estimate
from hangtrue.fit.enclosure import Bar, Chain, Corner, Enclosure, Gap, Joint, Lite, NoFit, Run
from hangtrue.job.problems import Problem
from hangtrue.job.readings import Reading
from hangtrue.measure.opening import (
    Agreement,
    NextReading,
    Opening,
    Residual,
    StepShape,
    Suspect,
)
from hangtrue.paper.odds_model import odds_part
from hangtrue.paper.opening_model import (
    AgreementPart,
    CornerMarkPart,
    Known,
    NextReadingPart,
    OpeningPart,
    ResidualPart,
    StandingPart,
    SuspectPart,
)
from hangtrue.paper.plan_model import (
    PLAN_FORMAT,
    AlternativePart,
    BarPart,
    ChainPart,
    ChoicePart,
    ClashPart,
    CornerPart,
    EdgePart,
    EnclosurePart,
    FindingPart,
    GapPart,
    HeadPart,
    HolePart,
    JointPart,
    Made,
    MarginPart,
    NoFitPart,
    NotchPart,
    PanePart,
    PlanDocument,
    ProblemPart,
    RunPart,
    StepPart,
    VerdictPart,
)
from hangtrue.plan import Plan
from hangtrue.source import source

PLACES = 6
"""Lengths are written to a millionth of a mm."""
FINE_PLACES = 12
"""Variances, in which a slope of a millionth of a rad counts."""


def plan_json(plan: Plan, problems: Sequence[Problem] = ()) -> dict[str, Any]:
    """Return the plan as plain values that JSON can hold."""
    said: dict[str, Any] = _rounded(_document(plan, problems).model_dump(mode="json"), PLACES)
    said["opening"]["covariance"] = _rounded(plan.opening.covariance.tolist(), FINE_PLACES)
    said["opening"]["shape"] = _rounded(plan.opening.shape.tolist(), FINE_PLACES)
    return said


def plan_json_text(plan: Plan, problems: Sequence[Problem] = ()) -> str:
    """Return the plan as JSON text, ending in a line feed."""
    text = json.dumps(plan_json(plan, problems), indent=2, ensure_ascii=False, allow_nan=False)
    return text + "\n"


def plan_schema() -> dict[str, Any]:
    """Return the JSON Schema (draft 2020-12) of the plan document."""
    schema = PlanDocument.model_json_schema(mode="serialization")
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", **schema}


def _rounded(value: Any, places: int) -> Any:  # noqa: ANN401 - any JSON value
    if isinstance(value, float):
        return round(value, places) + 0.0
    if isinstance(value, dict):
        return {key: _rounded(part, places) for key, part in value.items()}
    if isinstance(value, list):
        return [_rounded(part, places) for part in value]
    return value


def _finite(value: float) -> float | None:
    return value if math.isfinite(value) else None


def _document(plan: Plan, problems: Sequence[Problem]) -> PlanDocument:
    return PlanDocument(
        hangtrue_plan=PLAN_FORMAT,
        program=__version__,
        job=HeadPart(**plan.brief.job.job.model_dump()),
        verdict=_verdict(plan.verdict),
        opening=_opening(plan.opening, plan.brief.job.readings),
        best=_alternative(plan.best),
        others=tuple(map(_alternative, plan.others)),
        odds=odds_part(plan),
        problems=tuple(_problem(p) for p in problems),
    )


def _problem(p: Problem) -> ProblemPart:
    return ProblemPart(line=p.line, field=p.field, wrong=p.wrong, do=p.do, level=p.level)


def _verdict(verdict: Verdict) -> VerdictPart:
    return VerdictPart.model_validate(
        {"code": verdict.name, "sentence": verdict.sentence, "may_order": not verdict.stops}
    )


def _known(estimate: Estimate) -> Known:
    return Known(value=estimate.value, sd=estimate.sd)


def _opening(opening: Opening, readings: Iterable[Reading]) -> OpeningPart:
    by_id = {r.id: r for r in readings}
    aside = frozenset(opening.set_aside)
    return OpeningPart(
        unknowns=opening.unknowns,
        walls=opening.walls,
        heights=opening.heights,
        shape=tuple(opening.shape.tolist()),
        covariance=tuple(tuple(row) for row in opening.covariance.tolist()),
        residuals=tuple(
            _residual(r, by_id[r.reading], aside=r.reading in aside) for r in opening.residuals
        ),
        agreement=_agreement(opening.agreement),
        advice=tuple(map(_next, opening.advice)),
        corners=tuple(_corner_mark(opening, k) for k in range(1, opening.corners + 1)),
        steps=tuple(_standing(opening, step) for step in opening.standing),
    )


def _corner_mark(opening: Opening, number: int) -> CornerMarkPart:
    return CornerMarkPart(
        number=number,
        x=_known(opening.estimate(opening.corner(number))),
        angle=_known(opening.estimate(opening.angle(number))),
    )


def _standing(opening: Opening, step: StepShape) -> StandingPart:
    return StandingPart(
        name=step.name,
        run=step.run,
        left=_known(opening.estimate(step.left)),
        right=_known(opening.estimate(step.right)),
        top_left=_known(opening.estimate(step.top_left)),
        top_right=_known(opening.estimate(step.top_right)),
        overhang_left=step.overhang_left,
        overhang_right=step.overhang_right,
    )


def _residual(residual: Residual, reading: Reading, *, aside: bool) -> ResidualPart:
    return ResidualPart(
        reading=residual.reading,
        what=reading.what,
        typed=reading.value.typed,
        observed=residual.observed,
        adjusted=residual.adjusted,
        sigma=residual.sigma,
        redundancy=residual.redundancy,
        normalised=residual.normalised,
        detectable=_finite(residual.detectable),
        set_aside=aside,
    )


def _agreement(agreement: Agreement) -> AgreementPart:
    return AgreementPart(
        chi_square=agreement.chi_square,
        degrees_of_freedom=agreement.degrees_of_freedom,
        probability=agreement.probability,
        level=agreement.level,
        alarm=agreement.alarm,
        named=_suspect(agreement.named) if agreement.named else None,
        suspects=tuple(map(_suspect, agreement.suspects)),
        decider=_next(agreement.decider) if agreement.decider else None,
    )


def _suspect(s: Suspect) -> SuspectPart:
    return SuspectPart(
        reading=s.reading, slip=s.slip, corrected=s.corrected, probability=s.probability
    )


def _next(reading: NextReading) -> NextReadingPart:
    return NextReadingPart(words=reading.words, why=reading.why, gain=reading.gain)


def _alternative(way: Judged) -> AlternativePart:
    squared = way.alternative.squared
    return AlternativePart(
        verdict=_verdict(way.verdict),
        made=_made(way.alternative.made),
        squared=None if squared is None else _made(squared),
        findings=tuple(map(_finding, sorted(way.findings, key=lambda f: -f.level))),
    )


def _finding(f: Finding) -> FindingPart:
    return FindingPart.model_validate(
        {
            "rule": f.rule,
            "level": f.level.name,
            "where": f.where,
            "found": f.found,
            "means": f.means,
            "do": f.do,
            "unit": f.unit,
            "value": _known(f.value) if f.value else None,
            "limit": f.limit,
            "at_most": f.at_most,
            "margin": f.margin,
            "probability": f.probability,
            "source": f.source,
            "source_text": str(source(f.source)) if f.source else "",
        }
    )


def _made(made: Enclosure | NoFit) -> Made:
    choice = ChoicePart(
        order=made.choice.order,
        hinge_side=made.choice.hinge_side,
        hung_on=made.choice.hung_on,
        thickness=made.choice.thickness,
        cut=made.choice.cut,
        mirrored=made.choice.mirrored,
        second=made.choice.second,
        split=made.choice.split,
    )
    if isinstance(made, NoFit):
        clashes = tuple(
            ClashPart(requirement=c.requirement, joint=c.joint, at=c.at) for c in made.clashes
        )
        return NoFitPart(choice=choice, missing=made.missing, clashes=clashes, why=made.why)
    margin = made.margin
    return EnclosurePart(
        choice=choice,
        panes=tuple(map(_pane, made.lites)),
        joints=tuple(map(_joint, made.joints)),
        margin=MarginPart(
            sigmas=_finite(margin.sigmas), mm=margin.mm, joint=margin.joint, at=margin.at
        ),
        runs=tuple(map(_run, made.runs)),
        bars=tuple(map(_bar, made.bars)),
    )


def _run(run: Run) -> RunPart:
    return RunPart(
        number=run.number, start=run.start, end=run.end, origin=run.origin, heading=run.heading
    )


def _bar(bar: Bar) -> BarPart:
    return BarPart(
        id=bar.id,
        kind=bar.kind,
        hardware=bar.hardware,
        run=bar.run,
        holds=bar.holds,
        to=bar.to,
        ends=bar.ends,
        length=_known(bar.length),
        chain=_chain(bar.chain),
    )


def _pane(lite: Lite) -> PanePart:
    return PanePart(
        id=lite.id,
        kind=lite.kind,
        run=lite.run,
        thickness=lite.thickness,
        corners=lite.corners,
        width_bottom=lite.width_bottom,
        width_top=lite.width_top,
        height_left=lite.height_left,
        height_right=lite.height_right,
        inside_corners=lite.inside_corners,
        outline=lite.outline,
        lower=lite.lower,
        holes=tuple(
            HolePart(centre=h.centre, diameter=h.diameter, fitting=h.fitting) for h in lite.holes
        ),
        notches=tuple(
            NotchPart(corners=n.corners, radius=n.radius, fitting=n.fitting, of=n.of)
            for n in lite.notches
        ),
        edges=tuple(
            EdgePart(
                where=e.where,
                length=e.length,
                rake=e.rake,
                finish=e.finish,
                meets=e.meets,
                bevel=e.bevel,
                points=e.points,
            )
            for e in lite.edges
        ),
        chains=tuple(map(_chain, lite.chains)),
        origin=lite.origin,
        shifts=lite.shifts,
        hinge_side=lite.hinge_side,
        hung_on=lite.hung_on,
        hinge_heights=lite.hinge_heights,
        area=lite.area,
        centroid=lite.centroid,
        mass_kg=lite.mass_kg,
    )


def _chain(chain: Chain) -> ChainPart:
    return ChainPart(
        size=chain.size,
        at_height=chain.at_height,
        opening=chain.opening,
        steps=tuple(StepPart(what=d.what, amount=d.amount) for d in chain.deductions),
        glass=chain.glass,
    )


def _joint(joint: Joint) -> JointPart:
    return JointPart(
        id=joint.id,
        kind=joint.kind,
        between=joint.between,
        hardware=joint.hardware,
        gaps=tuple(map(_gap, joint.gaps)),
        level=joint.level,
        corner=_corner(joint.corner) if joint.corner else None,
    )


def _corner(corner: Corner) -> CornerPart:
    return CornerPart(
        number=corner.number,
        angle=corner.angle,
        way=corner.way,
        joint=corner.joint,
        laps=corner.laps,
    )


def _gap(gap: Gap) -> GapPart:
    return GapPart(
        at=gap.at,
        mean=gap.predicted.value,
        sd=gap.predicted.sd,
        least=gap.least,
        usual=gap.usual,
        most=gap.most,
        margin=gap.margin,
        at_fitting=gap.at_fitting,
    )
