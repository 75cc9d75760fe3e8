"""What leaves the shop before there is glass: for builder and tiler, for measuring, for signing."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Literal

from hangtrue.check.wording import off_line, the_wall
from hangtrue.estimate import Estimate
from hangtrue.fit.enclosure import Enclosure, Joint
from hangtrue.fit.wording import said
from hangtrue.hang.bars import off_the_line
from hangtrue.hang.diagnosis import has
from hangtrue.job.brief import Brief
from hangtrue.job.document import Job, Site
from hangtrue.job.hardware import Clamp, Hinge
from hangtrue.job.readings import Side
from hangtrue.job.room import Answer, Wall
from hangtrue.phrase import phrase
from hangtrue.tables import table

SIDES: tuple[Side, Side] = ("left", "right")
Covered = Literal["yes", "no", "unknown"]


@dataclass(frozen=True, slots=True, kw_only=True)
class WantedBlocking:
    """Solid wood asked for behind a wall.

    Attributes
    ----------
    low, high
        Heights above the datum, mm.
    each_side
        How far it reaches each side of the glass line, mm.
    depth
        Thickness of the wood, mm.
    carries
        What will be screwed to it, in words.
    there
        Whether the job says that it is there.
    off
        How far its middle lies from the glass line, mm, + into the shower.

    """

    wall: Side
    low: float
    high: float
    each_side: float
    depth: float
    carries: str
    there: Covered
    off: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class WallAsked:
    """What is asked of the face of a wall: most out of plumb over `over`, most out of flat; mm."""

    wall: Side
    name: str
    plumb_most: float
    across_most: float | None
    flat_most: float | None
    over: float


@dataclass(frozen=True, slots=True, kw_only=True)
class CurbAsked:
    """What is asked of the curb: pitch inward as rise over run, and most out of level, mm."""

    pitch_least: float
    pitch_usual: float
    pitch_most: float
    level_most: float
    flat_width: float


@dataclass(frozen=True, slots=True, kw_only=True)
class BuilderSheet:
    """The sheet for builder and tiler."""

    blocking: tuple[WantedBlocking, ...]
    walls: tuple[WallAsked, ...]
    curb: CurbAsked
    keep_clear: tuple[tuple[str, str], ...]
    photographs: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadyLine:
    """One question of the ready-to-measure list, and what the job answers so far."""

    question: str
    answer: Answer

    @property
    def open(self) -> bool:
        """Anything but yes is asked for."""
        return self.answer != "yes"


@dataclass(frozen=True, slots=True, kw_only=True)
class GapSeen:
    """A gap that the customer will see.

    Attributes
    ----------
    least, most
        Of what is planned along the joint, mm.
    spread
        How far off it may come out on the day: one standard deviation, mm.

    """

    joint: str
    between: tuple[str, str]
    least: float
    most: float
    spread: float


@dataclass(frozen=True, slots=True, kw_only=True)
class SignOff:
    """What the customer signs.

    Attributes
    ----------
    row
        Kinds of the panes from left to right, as seen from outside.
    hinges
        For each door: its id, hinge side, and what it hangs on.
    swing
        `out`, `in` or `both`.
    sizes
        Id, width and height of each pane, mm.

    """

    lead: str
    row: tuple[str, ...]
    hinges: tuple[tuple[str, str, str], ...]
    swing: str
    sizes: tuple[tuple[str, float, float], ...]
    gaps: tuple[GapSeen, ...]
    cannot_promise: tuple[str, ...]


# ------------------------------------------------------------------------------- builder and tiler


def builder_sheet(brief: Brief, enclosure: Enclosure | None) -> BuilderSheet:
    """Return what builder and tiler must know; before anything is fitted, from the wishes."""
    data, limit = table("hang/before"), brief.profile.limit
    job = brief.job
    return BuilderSheet(
        blocking=tuple(_blocking(brief, enclosure)),
        walls=tuple(_wall_asked(brief, enclosure, side) for side in SIDES if job.wall(side)),
        curb=CurbAsked(
            pitch_least=limit("curb-pitch-least").value,
            pitch_usual=limit("curb-pitch-usual").value,
            pitch_most=limit("curb-pitch-most").value,
            level_most=limit("curb-level-most").value,
            flat_width=float(job.threshold.width),
        ),
        keep_clear=tuple((row["what"], row["where"]) for row in data["keep_clear"]),
        photographs=tuple(data["photographs"]["take"]),
    )


def _blocking(brief: Brief, enclosure: Enclosure | None) -> Iterator[WantedBlocking]:
    """Wood behind every wall that carries glass, and at the walls that bars go to."""
    for side in SIDES:
        wall = brief.job.wall(side)
        if wall is None:
            continue
        joints = _at_wall(enclosure, side)
        top = float(brief.job.wanted.height)
        if not joints:
            yield _wood(brief, wall, side, (0.0, top), "what hangs or stands here")
        for joint in joints:
            yield _wood(brief, wall, side, _reach(brief, joint), _carries(joint))
    beside = float(table("hang/before")["blocking"]["beside_bar"])
    for bar in enclosure.bars if enclosure else ():
        for side in SIDES:
            wall = brief.job.wall(side)
            if bar.to == f"{side} wall" and wall is not None:
                z = bar.ends[1][2]
                off = off_the_line(enclosure, bar.ends[1], side) if enclosure else 0.0
                words = phrase("the {bar} of {pane}", bar=bar.kind, pane=bar.holds)
                wood = _wood(brief, wall, side, (z - beside, z + beside), words)
                yield wood if abs(off) < wood.each_side else _off(brief, wood, off)


def _off(brief: Brief, wood: WantedBlocking, off: float) -> WantedBlocking:
    """Ask for wood out in the shower; what the job says of wood is about the glass line."""
    where = off_line(said(round(abs(off)), brief.job.unit), off)
    carries = phrase("{what}; its middle {where} the glass line", what=wood.carries, where=where)
    return replace(wood, carries=carries, there="unknown", off=off)


def _at_wall(enclosure: Enclosure | None, side: Side) -> tuple[Joint, ...]:
    joints = enclosure.joints if enclosure else ()
    screwed = ("hinge", "clamp", "channel")
    return tuple(j for j in joints if f"{side} wall" in j.between and j.kind in screwed)


def _reach(brief: Brief, joint: Joint) -> tuple[float, float]:
    """From the floor of the glass to above the uppermost plate or the top of a channel, mm."""
    over = float(table("hang/before")["blocking"]["above_top_hinge"])
    item = brief.items.get(joint.hardware)
    half = float(item.plate_height) / 2 if isinstance(item, Hinge | Clamp) else 0.0
    fitted = [gap.at for gap in joint.gaps if gap.at_fitting]
    top = max(fitted) + half + over if fitted else max(gap.at for gap in joint.gaps)
    return 0.0, top


def _carries(joint: Joint) -> str:
    pane = next(end for end in joint.between if not end.endswith(" wall"))
    return phrase("the {fitting} of {pane}", fitting=joint.kind, pane=pane)


def _wood(
    brief: Brief, wall: Wall, side: Side, span: tuple[float, float], carries: str
) -> WantedBlocking:
    each_side = brief.profile.limit("blocking-width-least").value / 2
    depth = brief.profile.limit("blocking-depth-least").value
    return WantedBlocking(
        wall=side,
        low=span[0],
        high=span[1],
        each_side=each_side,
        depth=depth,
        carries=carries,
        there=_there(wall, span, each_side, depth),
    )


def _there(wall: Wall, span: tuple[float, float], each_side: float, depth: float) -> Covered:
    """Whether the wood that the job names covers a stretch of wall; what nobody knows is asked."""
    if wall.behind == "unknown":
        return "unknown"
    reach = span[0]
    for wood in sorted(wall.blocking, key=lambda b: b.from_):
        fits = wood.each_side >= each_side - 1.0 and wood.depth >= depth - 1.0
        if fits and wood.from_ <= reach + 1.0:
            reach = max(reach, float(wood.to))
    return "yes" if reach >= span[1] - 1.0 else "no"


def _wall_asked(brief: Brief, enclosure: Enclosure | None, side: Side) -> WallAsked:
    """Hinge walls are asked for more than walls of fixed glass; all where nothing is fitted."""
    limit, wall = brief.profile.limit, brief.job.wall(side)
    joints = _at_wall(enclosure, side)
    hinged = not joints or any(j.kind == "hinge" for j in joints)
    lean = "hinge-wall-lean-most" if hinged else "fixed-wall-lean-most"
    return WallAsked(
        wall=side,
        name=wall.name if wall else "",
        plumb_most=limit(lean).value,
        across_most=limit("hinge-wall-across-most").value if hinged else None,
        flat_most=limit("hinge-bow-most").value if hinged else None,
        over=float(brief.job.wanted.height),
    )


# --------------------------------------------------------------------------------- ready to measure


def ready_to_measure(job: Job) -> tuple[ReadyLine, ...]:
    """Return every question that must be answered yes before anybody measures."""
    site = [
        ReadyLine(question=str(info.description), answer=getattr(job.site, name))
        for name, info in Site.model_fields.items()
    ]
    walls = [line for side in SIDES for line in _wall_ready(job, side)]
    others = [
        ReadyLine(question=row["asks"], answer="unknown") for row in table("hang/before")["ready"]
    ]
    return (*site, *walls, *others)


def _wall_ready(job: Job, side: Side) -> Iterator[ReadyLine]:
    wall = job.wall(side)
    if wall is None:
        return
    known: Answer = "unknown" if wall.behind == "unknown" else "yes"
    yield ReadyLine(
        question=phrase("Is it known what is behind {wall}?", wall=the_wall(side)), answer=known
    )
    yield ReadyLine(
        question=phrase(
            "Does the tile of {wall} sound solid where fittings land?", wall=the_wall(side)
        ),
        answer=wall.solid_bedded,
    )


# ---------------------------------------------------------------------------------------- sign-off


def sign_off(brief: Brief, enclosure: Enclosure) -> SignOff:
    """Return what the customer signs: layout, swing, gaps to be seen, what cannot be promised."""
    data = table("hang/before")
    boxed = enclosure.choice.cut == "boxed"
    return SignOff(
        lead="" if boxed else data["signoff"]["lead"],
        row=tuple(pane.id for pane in enclosure.lites),
        hinges=tuple(
            (pane.id, str(pane.hinge_side), str(pane.hung_on)) for pane in enclosure.doors
        ),
        swing=brief.job.wanted.swing,
        sizes=tuple(
            (
                pane.id,
                max(pane.width_bottom, pane.width_top),
                max(pane.height_left, pane.height_right),
            )
            for pane in enclosure.lites
        ),
        gaps=tuple(_seen(joint) for joint in enclosure.joints if joint.kind != "channel"),
        cannot_promise=tuple(
            row["text"] for row in data["cannot_promise"] if has(enclosure, row["needs"])
        ),
    )


def _seen(joint: Joint) -> GapSeen:
    gaps: list[Estimate] = [gap.predicted for gap in joint.gaps]
    return GapSeen(
        joint=joint.id,
        between=joint.between,
        least=min(g.value for g in gaps),
        most=max(g.value for g in gaps),
        spread=max(g.sd for g in gaps),
    )
