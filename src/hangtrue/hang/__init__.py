"""Plan to hung: what to drill, cut, pack, set, bring, and in which order."""

from hangtrue.hang.hanging import hang

__all__ = ["hang"]
