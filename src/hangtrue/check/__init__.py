"""Enclosure to findings: every limit it must keep, met, missed or not decided."""

from hangtrue.check.judging import check

__all__ = ["check"]
