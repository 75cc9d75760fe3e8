"""Everything the wishes leave open, side by side: the best three, and why every other lost."""

from hangtrue.compare.ranking import compare

__all__ = ["compare"]
