"""Strength: a pane uncached, every proof of the demo jobs warm, another program beside ours."""

from __future__ import annotations

import shutil
import statistics
import subprocess
import tempfile
import time
from collections.abc import Callable, Iterator
from pathlib import Path

from hangtrue.check.case import Case
from hangtrue.check.rules import RULES
from hangtrue.fit import fit
from hangtrue.geometry import Point
from hangtrue.job.read import read_job
from hangtrue.measure import measure
from hangtrue.mechanics import plate_mesh
from hangtrue.mechanics.plate import forget, solve
from hangtrue.mechanics.plate_model import (
    EdgeSupport,
    LineLoad,
    PatchSupport,
    Plate,
    PointLoad,
)

LODGE = Path(__file__).parents[1] / "examples" / "lodge"
PROOFS = (
    "hinge-screws", "screw-length", "hinge-grade", "door-rests", "door-foot-clears",
    "door-top-clears", "carrier-sag", "fixed-screws",
    "glass-stress", "glass-movement", "glass-twist", "carrying", "way-in",
)  # fmt: skip
WIDTH, HEIGHT, THICK = 900.0, 2000.0, 9.02
MODULUS, POISSON = 71_700.0, 0.22
CORNER: Point = (WIDTH, HEIGHT)
LOADS = (LineLoad(start=(5.0, 1066.8), end=(895.0, 1066.8), load_N_per_mm=0.73),)


def pane(size: float = 0.0) -> Plate:
    """A door 0.9 x 2.0 m with two hinge cut-outs, held by plates around them."""
    cut = [(0.0, 1850.0), (41.0, 1850.0), (41.0, 1786.0), (0.0, 1786.0)]
    low = [(0.0, 214.0), (41.0, 214.0), (41.0, 150.0), (0.0, 150.0)]
    ring = ((0.0, 0.0), (WIDTH, 0.0), (WIDTH, HEIGHT), (0.0, HEIGHT), *cut, *low)
    grips = tuple(
        ((41.0, y), (66.0, y), (66.0, y + 90.0), (41.0, y + 90.0)) for y in (137.0, 1773.0)
    )
    return Plate(
        outline=ring,
        thickness=THICK,
        youngs_modulus_MPa=MODULUS,
        poisson=POISSON,
        supports=tuple(PatchSupport(outline=g, stiffness_N_per_mm3=20.0) for g in grips),
        mesh_size=size,
    )


def start_afresh() -> None:
    """Let go of every mesh and every pane that was solved."""
    forget()
    plate_mesh.forget()


def uncached(plate: Plate, at: Point = CORNER) -> float:
    """Deflection at a place, meshing included."""
    start_afresh()
    return solve(plate, LOADS).deflection(at)


def median_ms(call: Callable[[], object], repeats: int) -> float:
    """Median time of a call in ms, after one to warm up."""
    call()
    times = []
    for _ in range(repeats):
        start = time.perf_counter()
        call()
        times.append(time.perf_counter() - start)
    return 1000 * statistics.median(times)


def proofs(name: str) -> Callable[[], object]:
    """Every rule of strength, swing and carrying on every way of a demo job."""
    brief, _ = read_job(LODGE / f"{name}.yaml")
    if brief is None:
        raise SystemExit(f"{name} does not read")
    opening = measure(brief)
    cases = [Case(brief=brief, opening=opening, alternative=way) for way in fit(brief, opening)]
    rules = [rule for rule in RULES if rule.id in PROOFS]
    return lambda: [rule.apply(case) for case in cases for rule in rules]


# ------------------------------------------------------------------------ another program beside


def cantilever(size: float) -> Plate:
    """A plate clamped along its left edge: the same for both programs."""
    ring = ((0.0, 0.0), (WIDTH, 0.0), (WIDTH, HEIGHT), (0.0, HEIGHT))
    return Plate(
        outline=ring,
        thickness=THICK,
        youngs_modulus_MPa=MODULUS,
        poisson=POISSON,
        supports=(EdgeSupport(start=(0.0, 0.0), end=(0.0, HEIGHT), rotation_N=float("inf")),),
        mesh_size=size,
    )


def ours(size: float) -> float:
    """Deflection of the loaded corner of the cantilever by this project."""
    start_afresh()
    return solve(cantilever(size), [PointLoad(at=CORNER, force_N=100.0)]).deflection(CORNER)


def deck(columns: int, rows: int) -> str:
    """Input of the other program: eight-noded shells clamped at the left, a force at a corner."""
    step = (WIDTH / columns / 2, HEIGHT / rows / 2)
    numbers: dict[tuple[int, int], int] = {}
    for j in range(2 * rows + 1):
        for i in range(2 * columns + 1):
            if i % 2 == 0 or j % 2 == 0:
                numbers[i, j] = len(numbers) + 1
    nodes = [f"{n}, {i * step[0]:.6f}, {j * step[1]:.6f}, 0" for (i, j), n in numbers.items()]
    around = ((0, 0), (2, 0), (2, 2), (0, 2), (1, 0), (2, 1), (1, 2), (0, 1))
    shells = [
        ", ".join(str(numbers[2 * c + i, 2 * r + j]) for i, j in around)
        for r in range(rows)
        for c in range(columns)
    ]
    left = ",\n".join(str(n) for (i, _), n in numbers.items() if i == 0)
    tip = numbers[2 * columns, 2 * rows]
    return "\n".join(
        [
            "*NODE, NSET=ALL", *nodes,
            "*ELEMENT, TYPE=S8R, ELSET=PANE", *(f"{n}, {s}" for n, s in enumerate(shells, 1)),
            "*MATERIAL, NAME=GLASS", "*ELASTIC", f"{MODULUS}, {POISSON}",
            "*SHELL SECTION, ELSET=PANE, MATERIAL=GLASS", f"{THICK}",
            "*NSET, NSET=LEFT", left, f"*NSET, NSET=TIP\n{tip}",
            "*BOUNDARY", "LEFT, 1, 6",
            "*STEP", "*STATIC", "*CLOAD", f"{tip}, 3, 100", "*NODE PRINT, NSET=TIP", "U",
            "*END STEP", "",
        ]
    )  # fmt: skip


def theirs(program: str, columns: int, rows: int) -> float:
    """Deflection of the same corner by the other program, its process and files included."""
    with tempfile.TemporaryDirectory() as folder:
        (Path(folder) / "pane.inp").write_text(deck(columns, rows), "utf-8")
        subprocess.run([program, "pane"], cwd=folder, check=True, capture_output=True)
        last = (Path(folder) / "pane.dat").read_text("utf-8").split()
        return float(last[-1])


def beside() -> Iterator[tuple[str, str]]:
    """Time both programs at the coarsest mesh with which each is within 0.5 % of its own limit."""
    program = shutil.which("ccx") or shutil.which("calculix-ccx")
    if program is None:
        yield (
            "NOT COMPARED with another finite-element program",
            "ccx is not on this machine: install calculix-ccx and run again",
        )
        return
    limit = ours(18.0)
    size = next(s for s in (300.0, 200.0, 140.0, 100.0, 70.0, 50.0)
                if abs(ours(s) / limit - 1) < 0.005)  # fmt: skip
    fine = theirs(program, 36, 80)
    count = next(n for n in (2, 3, 4, 6, 9, 12, 18, 24, 36)
                 if abs(theirs(program, n, 2 * n) / fine - 1) < 0.005)  # fmt: skip
    mine = median_ms(lambda: ours(size), 7)
    other = median_ms(lambda: theirs(program, count, 2 * count), 7)
    apart = 100 * (limit / fine - 1)
    quicker = f"{mine:.0f} ms beside {other:.0f} ms, {other / mine:.1f} times faster"
    yield (
        "cantilever plate, corner force, both within 0.5 % of their limits",
        f"{quicker}; limits {limit:.3f} and {fine:.3f} mm ({apart:+.2f} %)",
    )


def run() -> Iterator[tuple[str, str]]:
    """Yield one row a figure."""
    fine = uncached(pane(16.0))
    found = uncached(pane())
    yield (
        "pane 0.9 x 2.0 m, two cut-outs, uncached (at most 250 ms, 0.5 %)",
        f"{median_ms(lambda: uncached(pane()), 9):.0f} ms, {100 * (found / fine - 1):+.2f} %",
    )
    for name in ("gull", "tern", "skua", "wren", "plover"):
        call = proofs(name)
        start = time.perf_counter()
        call()
        first = time.perf_counter() - start
        yield (
            f"every proof of {name}, all its ways, warm (at most 400 ms)",
            f"{median_ms(call, 9):.1f} ms; the first time {1000 * first:.0f} ms",
        )
    yield from beside()
