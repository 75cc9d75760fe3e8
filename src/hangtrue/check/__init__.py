"""Enclosure to findings: every limit that a glass enclosure must keep, met, missed or not decided."""

from hangtrue.check.judging import check

__all__ = ["check"]
