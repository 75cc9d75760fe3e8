"""Every drawing of a plan, by name."""
