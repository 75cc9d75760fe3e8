"""The table of rules, in the order in which a fitter would ask; what is not here is not applied."""

from __future__ import annotations

from hangtrue.check.rule import Rule
from hangtrue.check.rules.blocking import blocking
from hangtrue.check.rules.boxed_set_range import boxed_set_range
from hangtrue.check.rules.clear_opening import clear_opening
from hangtrue.check.rules.compartment_area import compartment_area
from hangtrue.check.rules.compartment_circle import compartment_circle
from hangtrue.check.rules.curb_level import curb_level
from hangtrue.check.rules.curb_pitch import curb_pitch
from hangtrue.check.rules.cut_out_rules import cut_out_rules
from hangtrue.check.rules.door_on_panel import door_on_panel
from hangtrue.check.rules.door_width import door_width
from hangtrue.check.rules.fits import fits
from hangtrue.check.rules.fixed_pane_fixings import fixed_pane_fixings
from hangtrue.check.rules.fixed_wall_in_channel import fixed_wall_in_channel
from hangtrue.check.rules.foot_radius import foot_radius
from hangtrue.check.rules.free_edge_width import free_edge_width
from hangtrue.check.rules.glass_thickness_hardware import glass_thickness_hardware
from hangtrue.check.rules.hardware_data import hardware_data
from hangtrue.check.rules.hinge_rating import hinge_rating
from hangtrue.check.rules.hinge_wall_bow import hinge_wall_bow
from hangtrue.check.rules.hinge_wall_plumb import hinge_wall_plumb
from hangtrue.check.rules.hinge_wall_plumb_across import hinge_wall_plumb_across
from hangtrue.check.rules.hole_rules import hole_rules
from hangtrue.check.rules.hollow_backing import hollow_backing
from hangtrue.check.rules.narrowest_strip import narrowest_strip
from hangtrue.check.rules.opens_outward import opens_outward
from hangtrue.check.rules.rake_plant import rake_plant
from hangtrue.check.rules.readings_agree import readings_agree
from hangtrue.check.rules.readings_enough import readings_enough
from hangtrue.check.rules.registered_professional import registered_professional
from hangtrue.check.rules.safety_glazing import safety_glazing
from hangtrue.check.rules.site_ready import site_ready

RULES: tuple[Rule, ...] = (
    readings_agree,
    readings_enough,
    site_ready,
    fits,
    boxed_set_range,
    hinge_wall_plumb,
    hinge_wall_plumb_across,
    hinge_wall_bow,
    fixed_wall_in_channel,
    curb_level,
    curb_pitch,
    foot_radius,
    hollow_backing,
    blocking,
    fixed_pane_fixings,
    hinge_rating,
    door_on_panel,
    free_edge_width,
    door_width,
    clear_opening,
    opens_outward,
    compartment_area,
    compartment_circle,
    safety_glazing,
    hole_rules,
    cut_out_rules,
    narrowest_strip,
    rake_plant,
    glass_thickness_hardware,
    hardware_data,
    registered_professional,
)
"""Every rule in force."""

RETIRED: dict[str, str] = {}
"""Ids that were in force once, and what took their place; they are never used again."""
