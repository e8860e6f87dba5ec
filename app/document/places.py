"""Places of a document by name: ``oil.bulk_modulus``, ``left cylinder.bore``, ``left cylinder / 2.clearance``.

A place names a part of the document and then its keys, with ``[0]`` for one of several numbers: ``blade.left[0]``,
``load.force[1]``. Members and joints go by their names; ``members[2].bore`` says the same by number.
"""

import re
from collections.abc import Sequence
from types import NoneType
from typing import Any, get_args

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from app.document.errors import Fault, NoSuchName
from app.document.models import Mount
from app.document.names import no_entry, no_such
from app.document.units import Measure

Step = str | int
_STEP = re.compile(r"\.?([^.\[\]]+)|\[(\d+)\]")


def joint_named(mount: Mount, name: str) -> str:
    """The name of a joint as the mount writes it; blanks about the slash may be left out. Raises NoSuchName."""
    known = [each.name for each in mount.joints]
    tidy = re.sub(r"\s*/\s*", " / ", name.strip())
    if tidy in known:
        return tidy
    raise no_such("", "joint", name, known)


def steps_of_joint(mount: Mount, name: str) -> list[Step]:
    """Where a joint stands in the document. Raises NoSuchName."""
    name = joint_named(mount, name)
    for number, member in enumerate(mount.members):
        names = [each for each, _, _ in member.joints]
        if name in names:
            return ["members", number] if len(names) == 1 else ["members", number, "ends", names.index(name)]
    raise no_such("", "joint", name, [])  # never: the name is one of these


def steps_to(mount: Mount, place: str) -> tuple[list[Step], Measure | None]:
    """The keys and numbers that lead to a place, and what the number there measures. Raises NoSuchName."""
    start, rest = _start(mount, place.strip())
    steps = start + _split(rest, place)
    return steps, _checked(mount, steps, place, len(start))


def _start(mount: Mount, place: str) -> tuple[list[Step], str]:
    """The part a place begins with, and what is left of the place. Parts of the document come before names."""
    if re.split(r"[.\[]", place, maxsplit=1)[0].strip() in Mount.model_fields:
        return [], place
    tidy = re.sub(r"\s*/\s*", " / ", place)
    owners: dict[str, list[Step]] = {each.name: steps_of_joint(mount, each.name) for each in mount.joints}
    owners |= {each.id: ["members", number] for number, each in enumerate(mount.members)}
    for name in sorted(owners, key=len, reverse=True):
        if tidy.startswith((f"{name}.", f"{name}[")):
            return owners[name], tidy[len(name) :]
    if tidy in owners:
        raise NoSuchName(
            [Fault(place, f"is a whole member or joint; say which value of it, such as '{place}.clearance'")]
        )
    wanted = place.rpartition(".")[0] or place
    raise no_such(place, "part or name", wanted, [*(each.id for each in mount.members), *Mount.model_fields, *owners])


def _split(rest: str, place: str) -> list[Step]:
    """The steps a piece of a place is made of."""
    steps: list[Step] = []
    at = 0
    while at < len(rest):
        found = _STEP.match(rest, at)
        if not found:
            raise NoSuchName(
                [Fault(place, f"cannot be read from '{rest[at : at + 20]}' on; write it like oil.bulk_modulus")]
            )
        steps.append(int(found[2]) if found[2] else found[1].strip())
        at = found.end()
    return steps


def _checked(mount: Mount, steps: Sequence[Step], place: str, known: int) -> Measure | None:
    """What a place measures, after looking at every step on the way to it. Raises NoSuchName."""
    value: Any = mount
    model: type[BaseModel] | None = Mount
    field: FieldInfo | None = None
    for step in steps:
        if isinstance(step, int):
            count = len(value) if isinstance(value, tuple) else None
            if count is None or step >= count:
                raise no_entry(place, str(step), count or 0)
            value = value[step]
            model = type(value) if isinstance(value, BaseModel) else None
            continue
        if model is None or step not in model.model_fields:
            raise no_such(place, "value", step, model.model_fields if model else [])
        field = model.model_fields[step]
        value = getattr(value, step, None)
        model = type(value) if isinstance(value, BaseModel) else _model_in(field.annotation)
    if len(steps) == known or field is None:
        raise NoSuchName([Fault(place, "names no value; write it like oil.bulk_modulus or left cylinder.bore")])
    extra = field.json_schema_extra
    return extra["measure"] if isinstance(extra, dict) and "measure" in extra else None  # type: ignore[return-value]


def _model_in(annotation: object) -> type[BaseModel] | None:
    """The model of a part that may be left out."""
    found = [each for each in (annotation, *get_args(annotation)) if each is not NoneType]
    return next((each for each in found if isinstance(each, type) and issubclass(each, BaseModel)), None)
