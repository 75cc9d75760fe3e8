"""From readings to the opening: its shape, how well it is known, and which reading disagrees."""

from hangtrue.measure.measuring import measure

__all__ = ["measure"]
