"""The numbers two mounts are compared by over their travel, cause by cause: a ``Row`` a number, as at one position."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import TypeAlias

from app.comparison.overside import Names, OverSide, inside_of, most_of
from app.comparison.row import ERROR_HANGS, Cause, Row
from app.strokes.over import AtWorst, Travel


@dataclass(frozen=True)
class FoundOver:
    """A number over the travel: its value, None where there is none, of what, and where it is worst."""

    value: float | None
    about: str = ""
    at: AtWorst | None = None


NOTHING = FoundOver(None)


OverRow: TypeAlias = Row[OverSide, FoundOver, Travel]
OverCause: TypeAlias = Cause[OverSide, FoundOver, Travel]


def _named(*names: str) -> Names:
    return lambda layer: layer in names


def _of_layers(names: Names) -> Callable[[OverSide], FoundOver]:
    def find(side: OverSide) -> FoundOver:
        found = most_of(side.over, names)
        if found is None:
            return NOTHING
        layer, worst = found
        return FoundOver(worst.value, _about(layer), worst)

    return find


def _size(names: Names) -> Callable[[Travel], float | None]:
    def find(over: Travel) -> float | None:
        found = most_of(over, names)
        return abs(found[1].value) if found else None

    return find


def _about(layer: str) -> str:
    """What a layer is of: a cylinder, an end, or the whole mount."""
    if layer.startswith("coupling:"):
        return layer.removeprefix("coupling:")
    return next((f"{end} end" for end in ("left", "right") if layer.endswith(f"_{end}")), "")


def _worst(side: OverSide) -> FoundOver:
    found = most_of(side.over, _ENDS)
    if found is None or side.worst is None:
        return NOTHING
    return FoundOver(side.worst, _about(found[0]), found[1])


_ENDS = _named("worst_left", "worst_right")
_MOVED = _named("worst_under_load_left", "worst_under_load_right")
_RELIEF = _named("relief")
_COUPLING: Names = lambda layer: layer.startswith("coupling:")  # noqa: E731


def _inside(side: OverSide) -> FoundOver:
    return FoundOver(side.inside)


def _reached(side: OverSide) -> FoundOver:
    return FoundOver(side.reached)


OVER_CAUSES: tuple[OverCause, ...] = (
    OverCause(
        "over-errors",
        "What slop and oil do to the edge",
        (
            OverRow("over-worst", "Worst edge error", "the worst edge error", "error", _worst, ERROR_HANGS,
                    again=_size(_ENDS), absent=("budget",)),
            OverRow("over-under-load", "Worst, play as the load moves it", "the worst with play as the load moves it",
                    "error", _of_layers(_MOVED), (*ERROR_HANGS, "mass", "weights"), again=_size(_MOVED),
                    absent=("budget.left.worst_under_load",), held=True),
            OverRow("over-inside", "Share of it inside the tolerance", "the share inside the tolerance", "percent",
                    _inside, (*ERROR_HANGS, "tolerance"), again=inside_of, absent=("budget.inside",), better="more"),
        ),
    ),
    OverCause(
        "over-ends",
        "What the cylinders do to the ends",
        (
            OverRow("over-coupling", "Coupling, worst cylinder", "the coupling", "ratio", _of_layers(_COUPLING),
                    ("blade",), absent=("coupling.worst",), signed=True, alone=True),
            OverRow("over-residual", "Left of an error, ends in turn", "what each round leaves", "percent",
                    _of_layers(_named("residual")), ("blade", "sensors"), absent=("coupling.residual",), alone=True),
        ),
    ),
    OverCause(
        "over-load",
        "What the load asks of it",
        (
            OverRow("over-load-ratio", "Cylinder load for edge load", "the load on the cylinder", "ratio",
                    _of_layers(_named("load_ratio")), ("blade", "load"), absent=("actuators.load_ratio",)),
            OverRow("over-relief", "Relief pressure used, weight and load", "the use of the relief pressure", "percent",
                    _of_layers(_RELIEF), ("blade", "load", "mass", "weights", "oil"), again=_size(_RELIEF),
                    absent=("actuators.relief_share",)),
        ),
    ),
    OverCause(
        "over-can",
        "What it can do",
        (
            OverRow("over-reached", "Share of its strokes it can go", "the share of its strokes", "percent", _reached,
                    (), better="more"),
        ),
    ),
)  # fmt: skip
"""In the order in which they are told: the verdict's own cause first."""
