"""The settings of a run as a form: groups of fields with their labels, what they measure and what they may be."""

from typing import Any, get_args

from pydantic import BaseModel

from app.document.units import Measure
from app.grading.origins import ORIGINS
from app.grading.settings import Control, Machine, Obstacle, Rough, RunSettings, Sensing, Start, Waves
from app.results.answer import answer

_GROUND: tuple[tuple[tuple[str, ...], type[BaseModel]], ...] = (
    (("step", "bump"), Obstacle),
    (("waves",), Waves),
    (("rough",), Rough),
)
_GROUND_NAMES = {"flat": "level", "step": "a step", "bump": "a bump or rut", "waves": "waves", "rough": "rough"}


@answer
class SettingField:
    """One setting on a form."""

    path: str
    """Where it stands in the settings, such as ``sensing.noise``."""
    label: str
    """Its label."""
    meaning: str
    """What it is, with its default."""
    origin: str
    """Where the default comes from."""
    measure: Measure | None
    """What its number measures; null for a choice."""
    choices: dict[str, str]
    """What it may be, with the words for it; empty for a number."""
    grounds: list[str]
    """The kinds of ground it belongs to; empty where it belongs to all."""


@answer
class SettingGroup:
    """Settings that stand together."""

    title: str
    """What heads them."""
    fields: list[SettingField]
    """The settings."""


def form() -> list[SettingGroup]:
    """Every setting a person sets, in the order of the trade."""
    kinds = SettingField(
        "ground.kind", "ground", "what it runs on; default level", ORIGINS["ground.kind"], None, _GROUND_NAMES, []
    )
    ground = [kinds, *_ground()]
    way = _fields(RunSettings, "", ("speed", "seconds", "load", "passes"))
    return [
        SettingGroup("Ground", [*ground, *way]),
        SettingGroup("Start, off grade", _fields(Start, "start.")),
        SettingGroup("Receivers", _fields(Sensing, "sensing.")),
        SettingGroup("Valves and channels", [f for f in _fields(Control, "control.") if f.measure or f.choices]),
        SettingGroup("Machine", _fields(Machine, "machine.")),
        SettingGroup("Reckoning", _fields(RunSettings, "", ("step", "seed", "seeds"))),
    ]


def _ground() -> list[SettingField]:
    """The fields of every kind of ground; one that several kinds have stands once."""
    found: dict[str, SettingField] = {}
    for kinds, model in _GROUND:
        for each in _fields(model, "ground."):
            known = found.setdefault(each.path, each)
            known.grounds = [*known.grounds, *kinds]
    found.pop("ground.kind", None)
    return list(found.values())


_LABELS = {
    "what": "reads", "way": "works", "valve": "valves", "load": "load on the edge", "side": "under",
    "roughness": "class", "passes": "passes", "seed": "seed", "seeds": "seeds",
}  # fmt: skip


def _fields(model: type[BaseModel], prefix: str, keys: tuple[str, ...] = ()) -> list[SettingField]:
    found = []
    for key, field in model.model_fields.items():
        if keys and key not in keys:
            continue
        extra: dict[str, Any] = field.json_schema_extra if isinstance(field.json_schema_extra, dict) else {}
        choices = [each for each in get_args(field.annotation) if isinstance(each, str)]
        label = str(extra.get("label") or _LABELS.get(key, key))
        whole: Measure | None = "count" if field.annotation is int else None
        measure: Measure | None = extra.get("measure") or whole
        path = prefix + (field.alias or key)
        meaning = str(extra.get("meaning") or field.description or "")
        found.append(
            SettingField(path, label, meaning, ORIGINS.get(path, ""), measure, {each: each for each in choices}, [])
        )
    return found
