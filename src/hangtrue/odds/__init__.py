"""Enclosure to odds: the chance that the glass goes in on the day, why not, and what would help."""

from hangtrue.odds.odds import odds

__all__ = ["odds"]
