"""What is published of the documents: the commented blank job, and the JSON Schemas."""

from __future__ import annotations

import re
from textwrap import fill
from typing import Any, Literal

from hangtrue.job.document import Job
from hangtrue.job.hardware import BoxedSet
from hangtrue.job.library import shipped_instruments
from hangtrue.job.profile import Profile
from hangtrue.job.quantity import Model

SAID = ("title", "description", "default", "examples")
DIALECT = "https://json-schema.org/draft/2020-12/schema"

SIZES: dict[str, dict[str, str]] = {
    "in": {
        "profile": "inch-shop",
        "like": "58-1/2, 58 1/2 in, 4' 10 1/2\", 1486 mm",
        "foot": "0",
        "low": "4",
        "mid": "40",
        "high": "76",
        "wood": "1-1/2",
        "tile": "3/8",
        "board": "1/2",
        "curb_height": "4",
        "curb_width": "4-1/2",
        "top": "78",
        "glass": "3/8 in",
        "handle": "40",
        "pane": "28",
        "width_low": "58-1/2",
        "width_mid": "58-7/16",
        "width_high": "58-3/8",
        "lean": "1/8",
        "bow": "1/16",
        "gap": "6-1/8",
        "diagonal_high": "92-3/8",
        "fall": "1/16",
        "pitch": "1/4 in per ft",
        "ceiling": "94",
        "mid_up": "41",
        "knee": "36",
        "toilet_x": "14",
        "toilet_y": "32",
        "toilet_w": "15",
        "toilet_d": "28",
        "toilet_h": "26",
        "away": "72",
        "leaf": "30",
        "return_w": "32-1/4",
        "leg_3": "24",
        "leg_4": "32",
        "leg_5": "40",
    },
    "mm": {
        "profile": "metric-shop",
        "like": "1486, 148.6 cm, 1486 mm, 58-1/2 in",
        "foot": "0",
        "low": "100",
        "mid": "1000",
        "high": "1900",
        "wood": "45",
        "tile": "10",
        "board": "12.5",
        "curb_height": "100",
        "curb_width": "110",
        "top": "1980",
        "glass": "10 mm",
        "handle": "1000",
        "pane": "700",
        "width_low": "1486",
        "width_mid": "1484",
        "width_high": "1483",
        "lean": "3",
        "bow": "1.5",
        "gap": "155",
        "diagonal_high": "2333",
        "fall": "1.5",
        "pitch": "20 mm/m",
        "ceiling": "2400",
        "mid_up": "1025",
        "knee": "900",
        "toilet_x": "360",
        "toilet_y": "800",
        "toilet_w": "380",
        "toilet_d": "700",
        "toilet_h": "660",
        "away": "1800",
        "leaf": "760",
        "return_w": "820",
        "leg_3": "600",
        "leg_4": "800",
        "leg_5": "1000",
    },
}
"""What the blank job is filled in with, in either unit."""

BLANK = """\
# A job for hangtrue: one enclosure. Change what is filled in; what you leave out, or leave empty,
# counts as not known. What follows a # is not read; take the # away where you want the line.
#
# Seen from outside: stand in the bathroom, facing the glass. Left and right are as you see them.
# Heights count from the datum, upward. Lengths as you write them: {like}
# A bare number is in the job's unit. Where you do not know, write unknown: it is never a pass.

hangtrue: 1                       # version of this format
unit: {unit}                          # unit of bare numbers: in, mm or cm
profile: {profile}              # inch-shop, metric-shop, or your own .toml file beside this job
seed: 1                           # where made-up cases start; leave it
datum: curb left                  # height 0: top of curb left, curb right, or a levelled mark

job:
  id: my-first-job                # short name, on every sheet
  title: Seaside lodge refit      # the whole piece of work
  room: Gull room, first floor    # where it is
  version: 1                      # one more at every change that somebody was sent
  date: 2026-05-04                # date of this version
  made_by: Ines                   # who answers for it
  customer: The lodge             # who it is for

site:                             # ready to measure? yes, no or unknown
  tile_and_grout_done: yes        # tile and grout finished
  pan_clean: yes                  # pan clean, its edge bare
  valve_and_head_in_place: yes    # valve and shower head in place
  vanity_and_toilet_in_place: yes # vanity and toilet in place

walls:                            # leave a wall out where the glass ends free
  left:
    name: head wall               # what people call it
    layers:                       # from the face inward
      - {{material: porcelain tile, thickness: {tile}}}
      - {{material: cement board, thickness: {board}}}
    behind: blocking              # blocking, stud, masonry, steel stud, acrylic, hollow or unknown
    blocking:                     # where the solid wood is, in heights; each_side of the glass line
      - {{from: {foot}, to: {top}, depth: {wood}, each_side: 70 mm, species: spruce-pine-fir}}
    solid_bedded: yes             # does the tile sound solid where fittings land?
    foot_radius: 0                # radius where wall meets curb or pan lip
    edge: straight                # fixed pane here: straight, or scribed to the wall's bow
    # projections:                # what stands out at the glass line; cut glass, tile or ask
    #   - {{name: pencil tile, from: {mid}, to: {mid_up}, stands_out: {tile}, cut: ask}}
    # tiles:                      # any level joint, and the upright one next to the glass line
    #   width: {leg_3}
    #   height: {leg_3}
    #   joint: 3 mm
    #   first_joint_up: {low}
    #   first_joint_across: -50 mm  # + into the shower
    #   bond: half                # stacked or half
    # keep_out:                   # pipes and cables that nobody drills into
    #   - {{name: hot pipe, from: {mid}, to: {mid_up}, each_side: 2 in, deeper_than: {board}}}
  right:
    name: bench wall
    behind: unknown
    solid_bedded: unknown

threshold:                        # what the glass stands on
  kind: curb                      # curb, floor or pan lip
  height: {curb_height}                       # above the bathroom floor
  width: {curb_width}                    # across, of the flat that the glass stands on
  material: tile                  # tile, stone, solid surface, acrylic, fibreglass or unknown

# What stands under the glass besides: knee wall, bench, buttress, tub deck or raised base; from
# riser to riser along its run (a straight part of the glass line, counted from the left), `height`
# to the top of its cap at the left end. Leave out from or to where it reaches the end of the run.
# steps:
#   - {{name: knee wall, kind: knee wall, run: 2, height: {knee}, width: {curb_width}, cap_fall: 0,
#      overhang: {bow}}}

above:
  kind: open                      # what the glass meets at its top: open, ceiling or soffit

inside:
  depth:                          # from the middle of the glass to the finished wall behind it

# What the door could hit, and what is inside: its middle along the front of the glass (x) and from
# it (y: + into the shower, - into the room), its size, and its lower and upper end as heights.
# obstacles:
#   - {{name: toilet, kind: toilet, x: {toilet_x}, y: -{toilet_y}, width: {toilet_w},
#      depth: {toilet_d}, top: {toilet_h}}}
#   - {{name: room door, kind: door, x: {toilet_x}, y: -{away}, width: {leaf}, top: {top},
#      swing: {{hinge: left, width: {leaf}}}}}

# What the glass must pass between van and room: clear doorways, stairs, and right-angled turns.
# way_in:
#   doorways:
#     - {{name: bathroom door, width: {leaf}, height: {top}}}
#   stairs:
#     - {{name: stairs, width: {leaf}, headroom: {top}, slope: 42°}}
#   turns:
#     - {{name: landing, before: {leaf}, after: {leaf}, headroom: {top}}}

wanted:
  lites:                          # one to eight panes from left to right: door or fixed
    - door
    - kind: fixed                 # a pane may say more:
      width:                      #   its width, like {pane}; left free if empty
      head_support: unknown       #   fixed: held at the top? yes, no or unknown
      head: level                 #   its top: level, ceiling, or transom (a door under a transom)
      hinge:                      #   a door's own side: left, right or free
      stop:                       #   where a stop holds a door, like 105°; none if empty
    # - kind: fixed
    #   turn:                     #   the glass line turns before this pane
    #     angle: 90°              #     inside angle, 60° to less than 180°
    #     way: in                 #     from left to right: in to the shower, or out
    #     joint: butt             #     butt, mitre, clamp or hinge
    #     laps: before            #     butt: the pane before or after covers the other's edge
  order: as written               # may the row be mirrored? as written or free
  hinge_side: left                # left, right or free
  swing: out                      # out, in or both
  height: {top}                      # top of the glass above the datum
  transom_at:                     # top of a door under a transom, above the datum
  transom: fixed                  # pane above that door: fixed or tilting
  # bars:                         # header or support, to left wall, right wall, ceiling or across
  #   - {{kind: support, holds: fixed 1, to: right wall}}
  thickness: {glass}               # nominal, or free
  make: made to measure           # made to measure or boxed set
  boxed_set:                      # file of the boxed set beside this job, like wren-set.yaml
  texture: clear                  # clear, or textured: cups do not hold, and it bears less
  edge: flat polished             # flat polished, pencil polished or seamed
  handle_height: {handle}               # handle centre above the bathroom floor
  safety_mark: unknown            # the plant's mark, like 16 CFR 1201 category II

hardware:                         # by id; generic until you enter your maker's data under items
  hinge: plain-wall-hinge         # door to wall
  glass_hinge: plain-glass-hinge  # door to fixed pane
  hinges: free                    # 2, 3 or free
  wall: channel-deep              # fixed pane to wall
  curb: channel-shallow           # fixed pane to curb
  strike: strike-seal-round       # door at the strike side
  sweep: sweep-drip               # under the door
  between: butt-joint             # fixed pane to fixed pane
  corner: butt-joint              # pane to pane where the glass line turns
  ceiling: channel-deep           # fixed pane or transom to ceiling
  transom: clear-joint            # door to the transom above it
  handle: handle-bow              # or none

# Hardware of your own, from its maker's drawing, and then chosen above by its id:
# items:
#   - id: our-sweep
#     title: Sweep, tall
#     kind: seal                  # hinge, channel, clamp, seal, joint, handle or head bar
#     use: sweep
#     gap: {{least: 3/8 in, usual: 1/2 in, most: 3/4 in}}
#     source: maker's drawing of 2025

# Instruments of your own, with what they can be trusted to, plus or minus, in mm:
# instruments:
#   - {{id: our-level, title: "Level, 6 ft", kind: level, error: 0.3, resolution: 0.5, source: own}}

# Every measurement one by one; a repeat is a reading of its own. Any reading may also carry
#   id: w1, with: tape, by: Ines, on: 2026-05-04 10:20, note: over the raised grout
# Without `with` the usual instrument for such a reading counts, in the job's unit. To be had:
{instruments}
readings:
  # clear width, wall to wall, level, along the glass line: bottom, middle and top
  - {{what: width, at: {low}, value: {width_low}, by: Ines}}
  - {{what: width, at: {mid}, value: {width_mid}}}
  - {{what: width, at: {high}, value: {width_high}}}
  # out of plumb from a lower to an upper height; toward: the top leans into the opening or out
  - {{what: lean, wall: left, from: {foot}, to: {high}, toward: in, value: {lean}}}
  - {{what: lean, wall: right, from: {foot}, to: {high}, toward: out, value: 0}}
  # the same across the glass; in: the top leans into the shower
  - {{what: lean, wall: left, plane: across, from: {foot}, to: {high}, toward: in, value: {bow}}}
  # gap under a straightedge; toward in: the wall bellies into the opening
  - {{what: bow, wall: left, from: {low}, to: {high}, at: {mid}, toward: in, value: {bow}}}
  # of the curb: the lower end along the glass, and which way its top runs across
  - {{what: fall, falls: right, value: {fall}}}
  - {{what: pitch, falls: in, value: {pitch}}}
  # height of curb or ceiling above the datum, at left, middle or right
  - {{what: height, of: ceiling, at: left, value: {ceiling}}}
  # more kinds, where you have them:
  # - {{what: diagonal, left_at: {foot}, right_at: {high}, value: {diagonal_high}}}
  # - {{what: offset, wall: left, line: laser 1, at: {low}, value: {gap}}}
  # - {{what: angle, wall: left, value: 89.9°}}
  # where the glass line turns: the run of a width, diagonal, fall or pitch; corners in three ways;
  # whether a wall is square to the glass line; and heights at a corner
  # - {{what: width, run: 2, at: {low}, value: {return_w}}}
  # - {{what: corner, corner: 1, value: 90.2°}}
  # - {{what: triangle, corner: 1, before: {leg_3}, after: {leg_4}, value: {leg_5}}}
  # - {{what: square, wall: right, value: 90.1°}}
  # - {{what: height, of: curb, at: corner 1, value: 0}}
"""


def blank_job(unit: Literal["in", "mm"]) -> str:
    """Return a job to fill in, in that unit; as it stands it can be planned."""
    listed = ", ".join(shipped_instruments())
    known = fill(
        listed, width=96, initial_indent="#   ", subsequent_indent="#   ", break_on_hyphens=False
    )
    return _aligned(BLANK.format(unit=unit, instruments=known, **SIZES[unit]))


def _aligned(text: str) -> str:
    """Put the remarks beside the keys in one column."""
    remark = re.compile(r"^( *[^# \n][^#\n]*?) +# (.*)$", re.MULTILINE)
    return remark.sub(lambda found: f"{found[1]:<34}# {found[2]}", text)


def job_schema() -> dict[str, Any]:
    """Return the JSON Schema of the job document."""
    return _schema(Job, "hangtrue job")


def boxed_set_schema() -> dict[str, Any]:
    """Return the JSON Schema of the document of a boxed set."""
    return _schema(BoxedSet, "hangtrue boxed set")


def profile_schema() -> dict[str, Any]:
    """Return the JSON Schema of a whole shop profile; a shop's own needs only what differs."""
    return _schema(Profile, "hangtrue shop profile")


def _schema(model: type[Model], title: str) -> dict[str, Any]:
    whole = model.model_json_schema(by_alias=True)
    for part in (whole, *whole["$defs"].values()):
        _or_empty(part)
    return {"$schema": DIALECT} | whole | {"title": title}


def _or_empty(part: dict[str, Any]) -> None:
    """Let a key that may be left out also be left empty: the reader takes both alike."""
    for key, written in part.get("properties", {}).items():
        if key not in part.get("required", []):
            said = {k: written.pop(k) for k in SAID if k in written}
            part["properties"][key] = {"anyOf": [written, {"type": "null"}], **said}
