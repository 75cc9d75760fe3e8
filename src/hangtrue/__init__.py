"""From site readings to a proven, drawn glass enclosure."""

__version__ = "0.1.0"
