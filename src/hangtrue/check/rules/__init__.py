"""The table of rules, in the order in which a fitter would ask; what is not here is not applied.

Limits are looked up and compared, and every way to build is held against them. Proofs are worked
out (statics, plates, motion) and cost a hundred times as much: they are for the way to be built.
"""

from __future__ import annotations

from hangtrue.check.rule import Rule
from hangtrue.check.rules.above_clear import above_clear
from hangtrue.check.rules.bar_reach import bar_reach
from hangtrue.check.rules.blocking import blocking
from hangtrue.check.rules.bow_followed import bow_followed
from hangtrue.check.rules.boxed_set_range import boxed_set_range
from hangtrue.check.rules.carrier_sag import carrier_sag
from hangtrue.check.rules.carrying import carrying
from hangtrue.check.rules.clear_opening import clear_opening_rule
from hangtrue.check.rules.compartment_area import compartment_area
from hangtrue.check.rules.compartment_circle import compartment_circle
from hangtrue.check.rules.corner_joint import corner_joint
from hangtrue.check.rules.corner_known import corner_known
from hangtrue.check.rules.curb_level import curb_level
from hangtrue.check.rules.curb_pitch import curb_pitch
from hangtrue.check.rules.cut_out_rules import cut_out_rules
from hangtrue.check.rules.door_closes_on import door_closes_on
from hangtrue.check.rules.door_foot_clears import door_foot_clears
from hangtrue.check.rules.door_on_panel import door_on_panel
from hangtrue.check.rules.door_rests import door_rests
from hangtrue.check.rules.door_swing import door_swing
from hangtrue.check.rules.door_top_clears import door_top_clears
from hangtrue.check.rules.door_width import door_width
from hangtrue.check.rules.doors_meet import doors_meet
from hangtrue.check.rules.fits import fits
from hangtrue.check.rules.fixed_pane_fixings import fixed_pane_fixings
from hangtrue.check.rules.fixed_screws import fixed_screws
from hangtrue.check.rules.fixed_wall_in_channel import fixed_wall_in_channel
from hangtrue.check.rules.foot_radius import foot_radius
from hangtrue.check.rules.free_edge_width import free_edge_width
from hangtrue.check.rules.glass_movement import glass_movement
from hangtrue.check.rules.glass_stress import glass_stress
from hangtrue.check.rules.glass_thickness_hardware import glass_thickness_hardware
from hangtrue.check.rules.glass_twist import glass_twist
from hangtrue.check.rules.hardware_data import hardware_data
from hangtrue.check.rules.head_aim import head_aim
from hangtrue.check.rules.hinge_grade import hinge_grade_rule
from hangtrue.check.rules.hinge_rating import hinge_rating
from hangtrue.check.rules.hinge_screws import hinge_screws
from hangtrue.check.rules.hinge_wall_bow import hinge_wall_bow
from hangtrue.check.rules.hinge_wall_plumb import hinge_wall_plumb
from hangtrue.check.rules.hinge_wall_plumb_across import hinge_wall_plumb_across
from hangtrue.check.rules.hole_rules import hole_rules
from hangtrue.check.rules.hollow_backing import hollow_backing
from hangtrue.check.rules.narrowest_strip import narrowest_strip
from hangtrue.check.rules.notch_depth import notch_depth
from hangtrue.check.rules.notch_leg import notch_leg
from hangtrue.check.rules.notch_radius import notch_radius
from hangtrue.check.rules.odds import odds
from hangtrue.check.rules.opens_outward import opens_outward
from hangtrue.check.rules.projections_asked import projections_asked
from hangtrue.check.rules.rake_plant import rake_plant
from hangtrue.check.rules.readings_agree import readings_agree
from hangtrue.check.rules.readings_enough import readings_enough
from hangtrue.check.rules.registered_professional import registered_professional
from hangtrue.check.rules.safety_glazing import safety_glazing
from hangtrue.check.rules.screw_length import screw_length
from hangtrue.check.rules.site_ready import site_ready
from hangtrue.check.rules.steam_closed import steam_closed
from hangtrue.check.rules.wall_square_in_plan import wall_square_in_plan
from hangtrue.check.rules.way_in import way_in

LIMITS: tuple[Rule, ...] = (
    readings_agree,
    readings_enough,
    corner_known,
    site_ready,
    fits,
    boxed_set_range,
    hinge_wall_plumb,
    hinge_wall_plumb_across,
    hinge_wall_bow,
    fixed_wall_in_channel,
    bow_followed,
    wall_square_in_plan,
    curb_level,
    curb_pitch,
    foot_radius,
    projections_asked,
    hollow_backing,
    blocking,
    fixed_pane_fixings,
    corner_joint,
    hinge_rating,
    door_on_panel,
    free_edge_width,
    steam_closed,
    bar_reach,
    above_clear,
    door_width,
    clear_opening_rule,
    door_closes_on,
    opens_outward,
    door_swing,
    doors_meet,
    head_aim,
    compartment_area,
    compartment_circle,
    safety_glazing,
    hole_rules,
    cut_out_rules,
    notch_depth,
    notch_leg,
    notch_radius,
    narrowest_strip,
    rake_plant,
    glass_thickness_hardware,
    hardware_data,
    registered_professional,
)
"""Rules that look up and compare."""

PROOFS: tuple[Rule, ...] = (
    odds,
    hinge_screws,
    screw_length,
    hinge_grade_rule,
    door_rests,
    door_foot_clears,
    door_top_clears,
    carrier_sag,
    fixed_screws,
    glass_stress,
    glass_movement,
    glass_twist,
    carrying,
    way_in,
)
"""Rules that work out the odds of the day, strength, motion and carrying."""

RULES = LIMITS + PROOFS
"""Every rule in force."""

RETIRED: dict[str, str] = {}
"""Ids that were in force once, and what took their place; they are never used again."""
