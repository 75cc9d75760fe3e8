"""Proofs: the enclosure as a structure, put through the formulas of `mechanics`, written down."""
