"""Stage: check."""
