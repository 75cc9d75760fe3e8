"""Stage: fit."""
