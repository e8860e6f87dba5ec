"""Reading the settings of a run: from a decoded JSON value, refused with every fault it has."""

from collections.abc import Mapping
from typing import Any

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

from app.document.errors import BadSettings, Fault
from app.document.messages import Value, word
from app.grading.settings import MOST_STEPS, Control, Machine, RunSettings, Sensing, Start

_KINDS = ("flat", "step", "bump", "waves", "rough")
_PARTS: dict[str, type[BaseModel]] = {"machine": Machine, "start": Start, "sensing": Sensing, "control": Control}


def read_settings(given: object, at: str = "run") -> RunSettings:
    """Settings as they come, ``{}`` for all defaults. Raises BadSettings."""
    if isinstance(given, RunSettings):
        settings = given
    else:
        try:
            settings = RunSettings.model_validate(given)
        except ValidationError as error:
            raise BadSettings([_fault(each, at) for each in error.errors(include_url=False)]) from None
        except RecursionError:
            raise BadSettings([Fault(at, "is nested too deeply to be settings of a run")]) from None
    faults = list(_together(settings, at))
    if faults:
        raise BadSettings(faults)
    return settings


def _together(settings: RunSettings, at: str) -> list[Fault]:
    """What cannot be together."""
    faults = []
    steps = settings.seconds / settings.step
    if steps > MOST_STEPS:
        least = settings.seconds / MOST_STEPS
        text = "is too fine for a run of {seconds}; give {least} or more, or a shorter run"
        values: dict[str, Value] = {"seconds": (settings.seconds, "time"), "least": (least, "time")}
        faults.append(Fault(f"{at}.step", text, values))
    machine = settings.machine
    if machine.blade_behind < -machine.wheelbase:
        text = "puts the blade ahead of the front axle; give no less than {least}"
        faults.append(Fault(f"{at}.machine.blade_behind", text, {"least": (-machine.wheelbase, "length")}))
    control = settings.control
    if control.valve == "pulsed" and settings.sensing.period == 0:
        text = "is 0, but a pulsed valve gives a pulse a reading; give a time between readings, such as {such}"
        faults.append(Fault(f"{at}.sensing.period", text, {"such": (0.05, "time")}))
    if settings.passes > 1 and settings.speed == 0:
        faults.append(Fault(f"{at}.speed", "is 0, and a machine that stands makes no second pass; give a speed"))
    return faults


def _fault(detail: ErrorDetails, at: str) -> Fault:
    steps = [str(each) for number, each in enumerate(detail["loc"]) if not _is_tag(detail["loc"], number)]
    place = ".".join([at, *steps])[:200]
    found, limits = _shown(detail["input"]), detail.get("ctx", {})
    values: dict[str, Value] = {"found": word(found)}
    match detail["type"]:
        case "extra_forbidden":
            known = _known(detail["loc"])
            return Fault(place, "is no setting of a run here; known are {known}", {"known": word(known)})
        case "union_tag_not_found" | "union_tag_invalid":
            text = "has no kind that is known; give one of {kinds}"
            return Fault(place, text, {"kinds": word(", ".join(f"'{each}'" for each in _KINDS))})
        case "missing":
            return Fault(place, "is missing; give it")
        case "literal_error":
            return Fault(place, "found {found}, expected {wanted}", values | {"wanted": word(str(limits["expected"]))})
        case "greater_than_equal" | "greater_than" | "less_than_equal":
            key = next(key for key in ("ge", "gt", "le") if key in limits)
            text = {"ge": "{limit} or more", "gt": "more than {limit}", "le": "{limit} or less"}[key]
            return Fault(place, f"found {{found}}, expected {text}", values | {"limit": word(f"{limits[key]:g}")})
        case "finite_number" | "float_type":
            return Fault(place, "found {found}, expected a finite number", values)
        case "int_type":
            return Fault(place, "found {found}, expected a whole number", values)
        case _:
            wanted = detail["msg"].removeprefix("Input should be ")
            return Fault(place, "found {found}, expected {wanted}", values | {"wanted": word(wanted)})


def _is_tag(steps: tuple[int | str, ...], number: int) -> bool:
    """Whether a step is the kind of ground, which pydantic puts after ``ground``."""
    return number == 1 and steps[0] == "ground" and steps[1] in _KINDS


def _known(steps: tuple[int | str, ...]) -> str:
    if len(steps) == 1:
        return ", ".join(RunSettings.model_fields)
    part = _PARTS.get(str(steps[0]))
    return ", ".join(part.model_fields) if part else "those of that kind of ground"


def _shown(found: Any) -> str:  # noqa: ANN401 - any JSON value
    text = f"{found:g}" if isinstance(found, float) else str(found)
    if isinstance(found, Mapping | list):
        text = "an object" if isinstance(found, Mapping) else "a list"
    whole = text.encode("utf-8", "replace").decode()
    return whole if len(whole) <= 60 else whole[:57] + "..."
