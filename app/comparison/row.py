"""What two mounts are compared by: numbers, gathered under the cause they follow from, at a pose or over the travel."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import Generic, TypeVar

from app.comparison.ranking import BetterWhen
from app.document.units import Measure

Side = TypeVar("Side")
Found = TypeVar("Found")
Again = TypeVar("Again")


@dataclass(frozen=True)
class Row(Generic[Side, Found, Again]):
    """A number two mounts are compared by.

    ``noun`` what one has so many times of; ``of`` finds it; ``again`` finds it at another load, for rows whose ratio
    may swing with it; ``absent`` the paths at which the readout says why it is not there; ``hangs`` the inputs it
    hangs on; ``signed`` whether its sign is shown; ``held`` whether it needs every side to be held; ``alone`` whether
    it is no praise for a mount that corrects no end alone.
    """

    name: str
    label: str
    noun: str
    quantity: Measure
    of: Callable[[Side], Found]
    hangs: Sequence[str]
    again: Callable[[Again], float | None] | None = None
    absent: Sequence[str] = ()
    better: BetterWhen = "less"
    signed: bool = False
    held: bool = False
    alone: bool = False


@dataclass(frozen=True)
class Cause(Generic[Side, Found, Again]):
    """Numbers that follow from one cause."""

    name: str
    title: str
    rows: Sequence[Row[Side, Found, Again]] = field(default_factory=tuple)


ERROR_HANGS = ("blade", "load", "oil", "valve", "sensors", "allowances", "clearances", "tyres", "lugs")
"""The inputs that an error at the edge hangs on."""
