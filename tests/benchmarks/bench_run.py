"""How long a grading run takes, against a loop of readouts at the same poses, and against its targets.

    python -m tests.benchmarks.bench_run

The plain way: a readout at every pose of the runs, and beside it the pose of that alone, ``Analysis(mount,
strokes).ends``; valves and ground cost nothing there. Targets: 32 seeds of 60 s at 100 points a second in 2 s of one
core for one moving body, at least thirty times faster than that loop, and the first piece drawn within 0.3 s.
"""

import time
from collections.abc import Callable
from typing import Any

import numpy as np

from app.analysis import Analysis
from app.document.models import Mount
from app.grading.answer import live
from app.grading.grade import run
from app.grading.reading import read_settings
from app.results.readout import readout
from app.shipped import shipped_mounts

SEEDS, LOOPED = 32, 300
SETTINGS: dict[str, Any] = {"seeds": SEEDS, "ground": {"kind": "rough"}, "load": "wandering"}


def main() -> None:
    """Print the ratios."""
    for name in ("3-twin-cylinders", "2-pivot-on-carriage"):
        mount = shipped_mounts()[name]
        made = run(mount, {**SETTINGS, "seeds": 1})
        begun = time.process_time()
        run(mount, SETTINGS)
        batch = time.process_time() - begun
        drawn = {each.id: each.drawn_length for each in mount.cylinders}
        steps = np.linspace(0, len(made.times) - 1, LOOPED).astype(int)
        strokes = [{each: float(made.lengths[each][step]) - own for each, own in drawn.items()} for step in steps]
        looped = [_loop(way, mount, strokes) * len(made.times) * SEEDS for way in (_readout, _pose)]
        one = {"seconds": 20, "start": {"right": 20}}
        begun = time.process_time()
        run(mount, one)
        first = time.process_time() - begun
        begun = time.process_time()
        next(live(mount, read_settings(one)))
        piece = time.process_time() - begun
        print(f"{name}: {SEEDS} seeds of 60 s in {batch:.2f} s of one core; a loop of readouts {looped[0] / batch:.0f} "
              f"times as long, of poses alone {looped[1] / batch:.0f}; one run of 20 s in {first:.2f} s, its first "
              f"piece in {piece:.3f} s")  # fmt: skip


def _readout(mount: Mount, strokes: dict[str, float]) -> None:
    readout(mount, strokes)


def _pose(mount: Mount, strokes: dict[str, float]) -> None:
    _ = Analysis(mount, strokes).ends


def _loop(way: Callable[[Mount, dict[str, float]], None], mount: Mount, strokes: list[dict[str, float]]) -> float:
    """Seconds a pose takes."""
    begun = time.process_time()
    for each in strokes:
        way(mount, each)
    return (time.process_time() - begun) / len(strokes)


if __name__ == "__main__":
    main()
