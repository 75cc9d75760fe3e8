"""How a drawing looks, as CSS that is written into each SVG file.

A file by itself is black on white; set into a page, a drawing takes the ink of
the page, light or dark.
"""

from importlib.resources import files

DRAWING = files(__name__).joinpath("drawing.css").read_text(encoding="utf-8")
