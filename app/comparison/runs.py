"""Two mounts over the same run: the same ground, the same settings, the same seeds, and in what either is the better.

Both are said as they come; one is called the better only where both were given the same task, and where the seeds, if
there are many, tell them apart.
"""

from collections.abc import Mapping, Sequence

from app.comparison.compare import Compared
from app.comparison.inputs import unlike
from app.comparison.ownbest import AtOwnBest, at_own_best
from app.comparison.runrows import rows_of
from app.comparison.runside import RunSide, RunVerdict, off_end, verdict_of
from app.document.models import Mount
from app.document.parts import EndName
from app.grading.answer import Ran, ran
from app.grading.grade import Run
from app.grading.reading import read_settings
from app.grading.settings import RunSettings
from app.results.answer import answer


@answer
class RunsCompared:
    """Two mounts over the same run."""

    a: RunVerdict
    """A by itself."""
    b: RunVerdict
    """B by itself."""
    unlike: list[str]
    """Groups of inputs in which they differ."""
    rows: list[Compared]
    """Time to grade, what the other end did, rms, worst and share inside; of many seeds their means."""
    a_better: list[str]
    """In what A is the better, by name of the row."""
    b_better: list[str]
    """The same of B."""
    off: EndName | None
    """The end that starts off grade where the other starts on it; null otherwise."""
    run: RunSettings
    """The settings of both, every default put in."""
    ran: list[Ran | None]
    """Both runs as ``POST /run`` has them; null where one was not made."""
    own_best: list[AtOwnBest]
    """The same with each at its own best, a way of controlling after the other; empty where that was not asked for."""


def compare_runs(
    a: Mount,
    b: Mount,
    settings: Mapping[str, object] | RunSettings | None = None,
    works: Mapping[str, Sequence[str] | None] | None = None,
    *,
    best: bool = False,
) -> RunsCompared:
    """Drive both over the same ground with the same settings, as ``run`` takes them.

    ``works``: the one or two cylinders that work, by id, of ``a`` and of ``b``. ``best``: drive each
    at its own best too. Raises BadSettings.
    """
    read = read_settings(settings or {})
    known = works or {}
    sides = [RunSide(mount, _with(read, known.get(name))) for name, mount in (("a", a), ("b", b))]
    differing = unlike(a, b)
    rows = rows_of(sides, differing)
    return RunsCompared(
        a=verdict_of(sides[0]),
        b=verdict_of(sides[1]),
        unlike=differing,
        rows=rows,
        a_better=[row.name for row in rows if row.better == "a"],
        b_better=[row.name for row in rows if row.better == "b"],
        off=off_end(read),
        run=read,
        ran=[ran(side.made) if isinstance(side.made, Run) else None for side in sides],
        own_best=at_own_best(sides, differing) if best else [],
    )


def _with(settings: RunSettings, works: Sequence[str] | None) -> RunSettings:
    """The settings with the cylinders that work."""
    if not works:
        return settings
    control = settings.control.model_copy(update={"cylinders": tuple(works)})
    return settings.model_copy(update={"control": control})
