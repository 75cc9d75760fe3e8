"""Strength, motion and lifting: published formulas as plain functions, one thin-plate solver."""
