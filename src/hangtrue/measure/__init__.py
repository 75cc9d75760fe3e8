"""Readings to Opening: the shape, how well it is known, what disagrees and what to read next."""
