"""Enclosure to findings: every limit it must keep and every proof it needs; met, missed or open."""

from hangtrue.check.judging import check, prove

__all__ = ["check", "prove"]
