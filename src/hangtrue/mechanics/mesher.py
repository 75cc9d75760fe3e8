"""The mesher, in a process of its own: a pane a line in, its triangles a line out.

The library keeps one state for a whole process, takes some tens of MB, and may not come back from a
pane that it dislikes. Here it can be given up without harm. Nothing of ours is imported, so that it
starts quickly.
"""

from __future__ import annotations

import json
import os
import sys
from collections.abc import Callable
from typing import Any

from netgen.geom2d import SplineGeometry  # type: ignore[import-untyped]


def triangles(request: dict[str, Any]) -> dict[str, Any]:
    """Mesh a pane.

    Parameters
    ----------
    request
        `rings`: corners (x, y, size there) of the outline and then of the holes, anticlockwise, mm;
        `size`: largest side, mm; `growth`: how fast sizes may change.

    Returns
    -------
    dict
        `nodes` (n, 2) in mm and `triangles` (m, 3), or `error` in the library's words.

    """
    try:
        geometry = SplineGeometry()
        for number, ring in enumerate(request["rings"]):
            ids = [geometry.AppendPoint(x, y, maxh=size) for x, y, size in ring]
            for start, end in zip(ids, ids[1:] + ids[:1], strict=True):
                geometry.Append(
                    ["line", start, end], leftdomain=int(not number), rightdomain=int(number > 0)
                )
        made = geometry.GenerateMesh(maxh=request["size"], grading=request["growth"])
    except Exception as error:  # noqa: BLE001 - the library raises its own kinds
        return {"error": str(error)}
    return {
        "nodes": made.Coordinates()[:, :2].tolist(),
        "triangles": (made.Elements2D().NumPy()["nodes"].astype(int) - 1).tolist(),
    }


def main() -> None:
    """Answer until the other end hangs up; what the library prints goes nowhere."""
    answers = os.fdopen(os.dup(1), "w", encoding="utf-8")
    os.dup2(os.open(os.devnull, os.O_WRONLY), 1)
    serve(sys.stdin.readline, answers.write, answers.flush)


def serve(
    read: Callable[[], str], write: Callable[[str], object], flush: Callable[[], object]
) -> None:
    """Read requests and write answers, a line each."""
    for line in iter(read, ""):
        write(json.dumps(triangles(json.loads(line))) + "\n")
        flush()


if __name__ == "__main__":
    main()
