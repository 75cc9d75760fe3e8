"""Plan to hung: what to drill, cut, pack, set, bring, and in which order."""

from hangtrue.hang.hanging import hang, placed

__all__ = ["hang", "placed"]
