"""Runs that are ready to make: what a practitioner asks first."""

from typing import Any

from app.grading.reading import read_settings
from app.grading.settings import RunSettings
from app.results.answer import answer


@answer
class ReadyRun:
    """A run that is ready to make."""

    name: str
    """Its name in addresses."""
    title: str
    """What it is called."""
    run: RunSettings
    """Its settings."""


def _ready(name: str, title: str, settings: dict[str, Any]) -> ReadyRun:
    return ReadyRun(name, title, read_settings(settings))


READY: tuple[ReadyRun, ...] = (
    _ready("disturb", "Disturb one end", {"seconds": 12, "start": {"right": 20}}),
    _ready("rut", "A rut under one wheel", {"seconds": 20, "ground": {"kind": "bump", "height": -30, "at": 4}}),
    _ready(
        "rough",
        "Rough ground, class C",
        {"ground": {"kind": "rough"}, "load": "wandering", "sensing": {"noise": 0.5}},
    ),
)
"""In the order in which they are offered; the first is made when the page opens."""
