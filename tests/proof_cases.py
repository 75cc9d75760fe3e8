"""One thing broken for every rule of strength, swing and carrying, and what makes each pass."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from hangtrue.check.case import Case
from hangtrue.check.finding import Level
from hangtrue.fit.enclosure import Hole
from tests import corner_case as k
from tests import good_job as g

PASS, NOTE, ASK, WARN, FAIL = Level
Row = tuple[str, str, Level, Callable[[Case], Case], str]


def hinge(**changes: Any) -> Callable[[Case], Case]:
    """Give the hinge other data."""

    def changed(c: Case) -> Case:
        row = g.good().brief.items["plain-wall-hinge"].model_dump(mode="json", by_alias=True)
        return g.job(c, "items", [row | changes])

    return changed


def screw(**changes: Any) -> Callable[[Case], Case]:
    """Give the hinge another screw."""
    return hinge(screw={"kind": "wood-screw", "size": "10"} | changes)


def answer(field: str, value: Any) -> Callable[[Case], Case]:
    """Give another answer in the job document."""
    return lambda c: g.job(c, field, value)


def dwelling_or_not(jurisdiction: str) -> Callable[[Case], Case]:
    """Let another building code bind."""

    def changed(c: Case) -> Case:
        profile = c.brief.profile.model_copy(update={"jurisdiction": jurisdiction})
        return replace(c, brief=replace(c.brief, profile=profile))

    return changed


def heavy(kg: float) -> Callable[[Case], Case]:
    return lambda c: g.pane(c, "door", mass_kg=kg)


def far_wood(c: Case) -> Case:
    """Put two inches of board between tile and thin wood."""
    layers = [
        {"material": "tile", "thickness": "10 mm"},
        {"material": "board", "thickness": "3 in"},
    ]
    return g.job(heavy(60.0)(c), "walls.left.layers", layers)


def board(side: str, thick: str) -> Callable[[Case], Case]:
    """Put a thick board between tile and wood."""
    layers = [
        {"material": "tile", "thickness": "10 mm"},
        {"material": "board", "thickness": thick},
    ]
    return answer(f"walls.{side}.layers", layers)


def overlapping(c: Case) -> Case:
    """Drill two holes into each other."""
    holes = tuple(Hole(centre=(400.0, 900.0 + y), diameter=40.0, fitting="clamp") for y in (0, 30))
    return g.pane(c, "fixed 1", holes=holes)


def sagging(c: Case) -> Case:
    """Hang a heavy door on a pane whose top nothing holds."""
    return heavy(60.0)(g.glass_hung(c, "no"))


def both_walls(c: Case) -> Case:
    """Stand one fixed pane between two walls."""
    fixed = c.fixed[0]
    edges = tuple(replace(e, meets=m) for e, m in zip(
        fixed.edges, ("curb", "right wall", "free", "left wall"), strict=True))  # fmt: skip
    alone = g.made(c, lites=(replace(fixed, edges=edges),))
    return g.job(g.choice(alone, order=("fixed",), hinge_side=None, hung_on=None),
                 "wanted.lites", ["fixed"])  # fmt: skip


def way(width: str, height: str) -> Callable[[Case], Case]:
    door = {"name": "bathroom door", "width": width, "height": height}
    return answer("way_in", {"doorways": [door]})


BROKEN: list[Row] = [
    ("hinge-screws", "hollow", FAIL, answer("walls.left.behind", "hollow"), "blocking"),
    ("hinge-screws", "masonry", ASK, answer("walls.left.behind", "masonry"), "working load"),
    ("hinge-screws", "nobody knows", ASK, answer("walls.left.behind", "unknown"), "What is behind"),
    ("hinge-screws", "acrylic", ASK, answer("walls.left.behind", "acrylic"), "behind the acrylic"),
    ("hinge-screws", "thin steel", ASK, answer("walls.left.behind", "steel stud"), "wood put in"),
    ("hinge-screws", "layers not known", ASK, answer("walls.left.layers", []), "How thick"),
    ("hinge-screws", "heavier than these screws hold", FAIL,
     lambda c: heavy(55.0)(screw(length="2-1/4 in")(c)), "Take No. 12 screws"),
    ("hinge-screws", "wood too far behind the tile", FAIL, far_wood, "engineer"),
    ("hinge-screws", "too short to count", ASK, screw(length="1-1/2 in"), "data"),
    ("hinge-screws", "no such screw", ASK, screw(size="11"), "data"),
    ("hinge-screws", "one column of screws", ASK, hinge(screw_columns="0 in"), "engineer"),
    ("hinge-screws", "factors from memory decide nothing", ASK,
     lambda c: metric_rules(
         screw(kind="lag-screw", size="1/4")(g.job(c, "walls.left.blocking.0.depth", "3 in"))),
     "confirm"),
    ("hinge-screws", "no rule covers its thread", ASK,
     lambda c: metric_rules(screw(size="14")(g.job(c, "walls.left.blocking.0.depth", "3 in"))),
     "approval"),
    ("screw-length", "too short", FAIL, screw(length="1-1/2 in"), '2-1/8"'),
    ("screw-length", "comes out behind the wood", WARN, screw(length="4 in"), '2-3/8"'),
    ("screw-length", "where is the wood", ASK,
     lambda c: g.job(screw(length="2 in")(c), "walls.left.blocking", []), "How thick"),
    ("hinge-grade", "a heavy door", NOTE, heavy(60.0), "maker"),
    ("door-rests", "leans out", ASK, lambda c: g.room(c, lean_left=-12.0), "What torque"),
    ("door-rests", "leans across", ASK, lambda c: g.room(c, across_left=12.0), "upper plate"),
    ("door-rests", "more than its hinges hold", WARN,
     lambda c: hinge(holding_torque=0.1)(g.room(c, lean_left=12.0)), "rests shut"),
    ("door-rests", "one hinge", ASK, lambda c: g.with_hinges(c, 990.6), "How many hinges"),
    ("door-foot-clears", "a curb that climbs outward", FAIL,
     lambda c: g.job(g.room(g.gaps(c, "door to curb", 4.0), pitch=0.08),
                     "threshold.width", "8 in"), "shorter"),
    ("door-foot-clears", "one hinge", ASK, lambda c: g.with_hinges(c, 990.6), "under the door"),
    ("door-top-clears", "a light in its way", FAIL,
     lambda c: k.thing(g.room(c, lean_left=30.0), name="light", x="15 in", y="-20 in",
                       width="20 in", depth="20 in", bottom="78.05 in", top="90 in"), "lower"),
    ("door-top-clears", "one hinge", ASK, lambda c: g.with_hinges(c, 990.6), "How many hinges"),
    ("carrier-sag", "a heavy door on a loose pane", ASK, sagging, "header"),
    ("fixed-screws", "nobody knows", ASK,
     answer("walls.right.behind", "unknown"), "What is behind"),
    ("fixed-screws", "masonry", ASK, answer("walls.right.behind", "masonry"), "working load"),
    ("fixed-screws", "acrylic", ASK, answer("walls.right.behind", "acrylic"), "behind the acrylic"),
    ("fixed-screws", "thin steel", ASK, answer("walls.right.behind", "steel stud"), "wood put in"),
    ("fixed-screws", "hollow", WARN, answer("walls.right.behind", "hollow"), "solid wood"),
    ("fixed-screws", "layers not known", ASK, answer("walls.right.layers", []), "How thick"),
    ("fixed-screws", "wood only below", ASK,
     answer("walls.right.blocking.0.to", "40 in"), "from 5"),
    ("fixed-screws", "thin wood", WARN,
     answer("walls.right.blocking.0.depth", "1/2 in"), "thick put in"),
    ("fixed-screws", "the usual screw is too thin", NOTE, board("right", "1 in"), "Take No."),
    ("fixed-screws", "no screw of the shops", WARN, dwelling_or_not("ipc"), "fixings"),
    ("fixed-screws", "too far behind the tile", WARN, board("right", "2-1/4 in"), "by a bar"),
    ("fixed-screws", "no tables for thin screws", ASK,
     lambda c: metric_rules(g.job(c, "unit", "in")), "approval"),
    ("fixed-screws", "holes in each other", ASK, overlapping, "solved"),
    ("glass-stress", "glass of no class", ASK,
     lambda c: g.pane(c, "fixed 1", thickness=4.0), "engineer"),
    ("glass-stress", "holes in each other", ASK, overlapping, "engineer"),
    ("glass-stress", "a hinge beside the glass", ASK,
     lambda c: g.pane(c, "door", hinge_heights=(-500.0, 1700.0)), "engineer"),
    ("glass-movement", "a dwelling", NOTE, lambda c: c, "bar"),
    ("glass-movement", "another building", ASK, dwelling_or_not("ipc"), "wide keeps to it"),
    ("glass-twist", "between two walls that lean apart", FAIL,
     lambda c: g.room(both_walls(c), across_left=400.0, across_right=-400.0), "plumb plane"),
    ("carrying", "a heavy pane", NOTE, heavy(60.0), "lifter"),
    ("carrying", "textured glass", NOTE,
     lambda c: g.job(heavy(40.0)(c), "wanted.texture", "textured"), "cups do not hold"),
    ("way-in", "nobody said", NOTE, lambda c: c, "doorway"),
    ("way-in", "a hatch", FAIL, way("16 in", "30 in"), "another way"),
    ("way-in", "stairs under a low beam", FAIL,
     answer("way_in", {"stairs": [{"width": "30 in", "headroom": "30 in"}]}), "divide"),
]  # fmt: skip


def metric_rules(c: Case) -> Case:
    """Prove by the rules of the metric shop."""
    profile = c.brief.profile.model_copy(update={"strength_rules": "en"})
    return replace(c, brief=replace(c.brief, profile=profile))


def no_door(c: Case) -> Case:
    alone = g.made(c, lites=c.fixed)
    return g.choice(alone, order=("fixed",), hinge_side=None, hung_on=None)


def light(c: Case) -> Case:
    """Make both panes light enough for one."""
    return g.pane(heavy(15.0)(c), "fixed 1", mass_kg=15.0)


def narrow(c: Case) -> Case:
    """Make the fixed pane so narrow that its free edge hardly moves."""
    wide = 10 * g.INCH
    return g.pane(c, "fixed 1", corners=((0.0, 0.0), (wide, 0.0), (wide, 1978.0), (0.0, 1978.0)),
                  outline=((0.0, 0.0), (wide, 0.0), (wide, 1978.0), (0.0, 1978.0)))  # fmt: skip


PASSES: dict[str, Callable[[Case], Case]] = {
    "clear-opening": answer("hardware", {"handle": "none"}),
    "hinge-grade": no_door,
    "glass-movement": narrow,
    "carrying": light,
    "way-in": way("30 in", "80 in"),
}
"""Rules of which most jobs get a note, and what makes them pass."""
