"""How a drawing looks on a screen and in a packet, as CSS that is written into each SVG file."""

from importlib.resources import files

DRAWING = files(__name__).joinpath("drawing.css").read_text(encoding="utf-8")
