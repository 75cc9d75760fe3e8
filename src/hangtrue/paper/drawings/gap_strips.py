"""Every joint as a strip along its length: allowed gap, predicted gap, target."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from hangtrue.fit.enclosure import Enclosure, Gap, Joint
from hangtrue.geometry import Point
from hangtrue.job.brief import Brief
from hangtrue.paper import lettering
from hangtrue.paper.dimensions import LINE_FEED, Rung, ladder, spread
from hangtrue.paper.drawings import frame
from hangtrue.paper.joint_words import joint_name
from hangtrue.paper.language import told
from hangtrue.paper.lengths import Units, units_of
from hangtrue.paper.scene import LETTER, Hatch, Line, Path, Primitive, Sheet, Text
from hangtrue.paper.tables import capital
from hangtrue.paper.words import figure, units_line
from hangtrue.phrase import join, phrase

UPRIGHT = 100.0
"""Length of the longest upright strip, mm of paper."""
LEVEL = 150.0
"""Length of the longest level strip."""
BROAD = 20.0
"""Greatest breadth of a strip."""
TIMES = (10.0, 5.0, 2.0, 1.0, 0.5)
"""A gap is drawn this many times as large."""
PLATE = 3.0
"""Length of the allowed range drawn at a fitting, mm of paper."""
WORDS = 5 * LINE_FEED
"""Room for the words under an upright strip."""
LADDER = 5.0
ABREAST = 4
"""Upright strips side by side on a sheet."""
BESIDE = 3
"""Level strips that have room below upright ones."""
MOST_BESIDE = 4
"""As many where upright strips are drawn shorter."""
SHORTER = 68.0
"""Length of upright strips then, mm of paper."""
ALONE = 6
"""Level strips on a sheet of their own."""
KEY = (
    "Thick: edge of the glass",
    "grey: allowed",
    "line: predicted (hatched: 9 in 10)",
    "ticks: target",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Strip:
    """Where one joint is drawn: its corner on paper and its two scales."""

    joint: Joint
    corner: Point
    along: float
    times: float
    start: float

    def at(self, place: float, gap: float) -> Point:
        """Point on paper of a gap at a place along the joint."""
        far, off = (place - self.start) * self.along, gap * self.times
        x, y = self.corner
        return (x + off, y + far) if self.joint.upright else (x + far, y + off)

    @property
    def broad(self) -> float:
        """Breadth of the strip on paper."""
        return self.times * _most(self.joint)


def gap_strips(brief: Brief, made: Enclosure) -> tuple[Sheet, ...]:
    """Draw a strip for every joint, upright ones above level ones, on as many sheets as it takes.

    Each strip is 0 at the edge of the glass on its left or lower side.
    """
    units = units_of(brief)
    up = [j for j in made.joints if j.upright and len(j.gaps) > 1]
    flat = [j for j in made.joints if not j.upright and len(j.gaps) > 1]
    sheets = _shared_out(up, flat)
    return tuple(_sheet(number, up, flat, units) for number, (up, flat) in enumerate(sheets, 1))


def _shared_out(up: list[Joint], flat: list[Joint]) -> list[tuple[list[Joint], list[Joint]]]:
    """Joints for each sheet: upright ones in even shares, level ones below them where room is."""
    count = -(-len(up) // ABREAST)
    share = -(-len(up) // count) if count else 1
    sheets: list[tuple[list[Joint], list[Joint]]] = [
        (up[i : i + share], []) for i in range(0, len(up), share)
    ]
    below_each = BESIDE if len(flat) <= BESIDE * len(sheets) else MOST_BESIDE
    rest = list(flat)
    for _, below in sheets:
        below.extend(rest[:below_each])
        rest = rest[below_each:]
    return [*sheets, *(([], rest[i : i + ALONE]) for i in range(0, len(rest), ALONE))]


def _sheet(number: int, up: Sequence[Joint], flat: Sequence[Joint], units: Units) -> Sheet:
    """Lay out one sheet of strips."""
    lows = _level_strips(flat)
    base = max((s.corner[1] + s.broad for s in lows), default=frame.CAPTION) + 2 * LINE_FEED + 1.0
    long = UPRIGHT if len(flat) <= BESIDE else SHORTER
    deep = _deep(up, units)
    highs = _upright_strips(up, base + deep, long)
    height = (base + deep + long + 4.0) if up else base
    parts = (
        *(p for s in (*highs, *lows) for p in _strip(s, units)),
        *(p for s in highs for p in _upright_words(s, _pitch(up) - 3.0, units)),
        *(p for s in lows for p in _level_words(s, units)),
    )
    return Sheet(
        name="gaps" if number == 1 else f"gaps-{number}",
        width=frame.WIDTH,
        height=height,
        title="Gaps along every joint",
        description=join(" ", (_told(j, units) for j in (*up, *flat))),
        primitives=(*parts, *frame.caption((*KEY, units_line(units)))),
    )


def _deep(joints: Sequence[Joint], units: Units) -> float:
    """Room for the words under upright strips, however many lines they take."""
    room = _pitch(joints) - 3.0
    lines = [
        sum(
            len(lettering.wrapped(told(line), room, LETTER, bold=i == 0))
            for i, line in enumerate(_said(joint, _times(joint), units))
        )
        for joint in joints
    ]
    return max(WORDS, (max(lines, default=0) + 1) * LINE_FEED)


def _told(joint: Joint, units: Units) -> str:
    """Say a joint to somebody who cannot see its strip."""
    first, last = joint.gaps[0].predicted.value, joint.gaps[-1].predicted.value
    return phrase(
        "{joint}: {first} at one end, {last} at the other, {allowed}.",
        joint=_name(joint),
        first=units.small(first),
        last=units.small(last),
        allowed=_allowed(joint, units),
    )


def _name(joint: Joint) -> str:
    return capital(joint_name(joint))


def _allowed(joint: Joint, units: Units) -> str:
    """Range of the hardware; at the fittings where it differs there."""
    plain = [g for g in joint.gaps if not g.at_fitting] or list(joint.gaps)
    least, most = min(g.least for g in plain), max(g.most for g in plain)
    low, high = figure(units, least, fine=True), figure(units, most, fine=True)
    if not low.second:
        return phrase("allowed {low} to {high}", low=low.words, high=high.words)
    return phrase(
        "allowed {low} to {high} [{low_other} to {high_other}]",
        low=low.words,
        high=high.words,
        low_other=low.second.strip("[]"),
        high_other=high.second.strip("[]"),
    )


def _most(joint: Joint) -> float:
    return max(max(g.most, g.predicted.band()[1]) for g in joint.gaps)


def _times(joint: Joint) -> float:
    """Greatest usual enlargement at which a strip is no broader than it may be."""
    return next((t for t in TIMES if t * _most(joint) <= BROAD), TIMES[-1])


def _upright_strips(joints: Sequence[Joint], low: float, long: float) -> tuple[Strip, ...]:
    if not joints:
        return ()
    ends = [g.at for j in joints for g in j.gaps]
    along = long / (max(ends) - min(ends))
    pitch = _pitch(joints)
    return tuple(
        Strip(
            joint=joint,
            corner=(i * pitch + 2.0, low),
            along=along,
            times=_times(joint),
            start=min(ends),
        )
        for i, joint in enumerate(joints)
    )


def _pitch(joints: Sequence[Joint]) -> float:
    """From one upright strip to the next."""
    return frame.WIDTH / max(len(joints), 3)


def _level_strips(joints: Sequence[Joint]) -> tuple[Strip, ...]:
    """One above the other, words above each."""
    if not joints:
        return ()
    along = LEVEL / max(j.gaps[-1].at - j.gaps[0].at for j in joints)
    strips: list[Strip] = []
    y = frame.CAPTION + LINE_FEED
    for joint in reversed(joints):
        strip = Strip(
            joint=joint, corner=(2.0, y), along=along, times=_times(joint), start=joint.gaps[0].at
        )
        strips.append(strip)
        y += strip.broad + 3 * LINE_FEED
    return tuple(reversed(strips))


def _strip(strip: Strip, units: Units) -> Iterable[Primitive]:
    """Allowed range, predicted band and line, targets, and the edge the gap is measured from."""
    gaps = strip.joint.gaps
    plain = [g for g in gaps if not g.at_fitting] or list(gaps)
    yield _area(strip, [(g.at, g.least, g.most) for g in plain])
    for gap in (g for g in gaps if g.at_fitting):
        half = PLATE / 2 / strip.along
        yield _area(strip, [(gap.at + s * half, gap.least, gap.most) for s in (-1, 1)])
    band = [(g.at, *g.predicted.band()) for g in gaps]
    yield Hatch(
        outline=_ring(strip, band), layer="uncertainty", slant_deg=135.0, spacing=1.0, tone="cool"
    )
    yield Path(
        points=tuple(strip.at(g.at, g.predicted.value) for g in gaps),
        closed=False,
        layer="dimension",
        weight="middle",
        tone="cool",
    )
    yield from (_tick(strip, g) for g in gaps)
    ends = (strip.at(gaps[0].at, 0.0), strip.at(gaps[-1].at, 0.0))
    yield Line(start=ends[0], end=ends[1], layer="outline", weight="thick")
    yield from _figures(strip, units)


def _ring(strip: Strip, band: Sequence[tuple[float, float, float]]) -> tuple[Point, ...]:
    lows = [strip.at(place, low) for place, low, _ in band]
    highs = [strip.at(place, high) for place, _, high in reversed(band)]
    return (*lows, *highs)


def _area(strip: Strip, band: Sequence[tuple[float, float, float]]) -> Path:
    return Path(points=_ring(strip, band), layer="hardware", fill="tint")


def _tick(strip: Strip, gap: Gap) -> Line:
    """Target at one place: a short line along the strip."""
    half = 1.6 / strip.along
    return Line(
        start=strip.at(gap.at - half, gap.usual),
        end=strip.at(gap.at + half, gap.usual),
        layer="dimension",
        weight="middle",
    )


def _figures(strip: Strip, units: Units) -> Iterable[Primitive]:
    """Predicted gap at both ends and where the margin is least."""
    gaps = strip.joint.gaps
    shown = {g.at: g for g in (gaps[0], min(gaps, key=lambda g: g.margin), gaps[-1])}
    edge = strip.corner[0 if strip.joint.upright else 1] + strip.broad
    rungs = []
    for gap in shown.values():
        x, y = strip.at(gap.at, 0.0)
        words = str(figure(units, gap.predicted.value, fine=True))
        rungs.append(Rung(at=(edge, y) if strip.joint.upright else (x, edge), words=words))
    if strip.joint.upright:
        yield from ladder(rungs, edge + LADDER, "right", strip.corner[1])
        return
    wide = max(lettering.width(rung.words, LETTER) for rung in rungs)
    rungs.sort(key=lambda rung: rung.at[0])
    places = spread([rung.at[0] for rung in rungs], wide + 2.0)
    for i, (rung, x) in enumerate(zip(rungs, places, strict=True)):
        half = lettering.width(rung.words, LETTER) / 2
        at = (max(x, half + i * (wide + 2.0)), edge + 1.0)
        yield Text(at=at, words=rung.words, anchor="middle", layer="dimension")


def _upright_words(strip: Strip, room: float, units: Units) -> Iterable[Primitive]:
    x, y = strip.corner[0], strip.corner[1] - LINE_FEED - 1.0
    for i, line in enumerate(_words(strip, units)):
        lines = frame.paragraph(line, (x, y), room, bold=i == 0)
        yield from lines
        y -= LINE_FEED * len(lines)


def _level_words(strip: Strip, units: Units) -> Iterable[Primitive]:
    name, *rest = map(told, _words(strip, units))
    y = strip.corner[1] + strip.broad + LINE_FEED + 1.5
    yield Text(at=(strip.corner[0], y), words=name, bold=True)
    after = strip.corner[0] + lettering.width(name, LETTER, bold=True) + 3.0
    yield Text(at=(after, y), words=" · ".join(rest))


def _words(strip: Strip, units: Units) -> tuple[str, ...]:
    return _said(strip.joint, strip.times, units)


def _said(joint: Joint, times: float, units: Units) -> tuple[str, ...]:
    """Name of a joint, how much larger its gap is drawn, and what its hardware allows."""
    drawn = phrase("{kind}, gap drawn {times:g}:1", kind=joint.kind, times=times)
    return (_name(joint), drawn, _allowed(joint, units))
