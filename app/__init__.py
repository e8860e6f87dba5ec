"""Blade Mount Sketcher: how a blade mount's layout turns play, oil and load into error at the cutting edge.

What scripts need is found here by its own name, ``from app import read_file, readout``, and loaded when it is first
asked for. No name here is that of a module of the package.
"""

from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from app.analysis import Analysis
    from app.arrays import Swept, sweep
    from app.comparison.compare import compare
    from app.comparison.over import compare_over
    from app.comparison.runs import compare_runs
    from app.document.edit import with_change
    from app.document.errors import BadDocument, BadSettings, NoSuchName, SketcherError
    from app.document.models import Mount, as_document
    from app.document.reading import read_file, read_mount
    from app.grading.grade import Run, run
    from app.results.detail import detail
    from app.results.readout import readout
    from app.search.boxes import read_free
    from app.search.goals import Goal
    from app.search.search import Problem, search_front
    from app.search.suggest import suggest
    from app.shipped import shipped_mounts
    from app.strokes.over import Travel, travel

__version__ = "0.1.0"

__all__ = [
    "Analysis",
    "BadDocument",
    "BadSettings",
    "Goal",
    "Mount",
    "NoSuchName",
    "Problem",
    "Run",
    "SketcherError",
    "Swept",
    "Travel",
    "as_document",
    "compare",
    "compare_over",
    "compare_runs",
    "detail",
    "read_file",
    "read_free",
    "read_mount",
    "readout",
    "run",
    "search_front",
    "shipped_mounts",
    "suggest",
    "sweep",
    "travel",
    "with_change",
]

_HOMES = {
    "Analysis": "app.analysis",
    "BadDocument": "app.document.errors",
    "BadSettings": "app.document.errors",
    "Goal": "app.search.goals",
    "Mount": "app.document.models",
    "NoSuchName": "app.document.errors",
    "Problem": "app.search.search",
    "Run": "app.grading.grade",
    "SketcherError": "app.document.errors",
    "Swept": "app.arrays",
    "Travel": "app.strokes.over",
    "as_document": "app.document.models",
    "compare": "app.comparison.compare",
    "compare_over": "app.comparison.over",
    "compare_runs": "app.comparison.runs",
    "detail": "app.results.detail",
    "read_file": "app.document.reading",
    "read_free": "app.search.boxes",
    "read_mount": "app.document.reading",
    "readout": "app.results.readout",
    "run": "app.grading.grade",
    "search_front": "app.search.search",
    "shipped_mounts": "app.shipped",
    "suggest": "app.search.suggest",
    "sweep": "app.arrays",
    "travel": "app.strokes.over",
    "with_change": "app.document.edit",
}


def __dir__() -> list[str]:
    """What a notebook offers behind the dot: the public names."""
    return list(__all__)


if not TYPE_CHECKING:  # a name that is not there is a mistake to the type checker too

    def __getattr__(name: str) -> object:
        """A public name, from the module it stands in. Raises AttributeError for any other."""
        if name not in _HOMES:
            raise AttributeError(f"module 'app' has no attribute '{name}'; it offers {', '.join(__all__)}")
        return getattr(import_module(_HOMES[name]), name)
