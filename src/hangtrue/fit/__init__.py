"""Opening to Enclosure: panes, joints and gaps of every way to build it, or why nothing fits."""

from hangtrue.fit.alternatives import fit

__all__ = ["fit"]
