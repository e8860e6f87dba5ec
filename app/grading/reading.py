"""Reading the settings of a run: from a decoded JSON value, refused with every fault it has."""

import math
from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from typing import Any

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

from app.document.errors import BadSettings, Fault
from app.document.messages import Value, word
from app.grading.settings import (
    FINEST_S,
    MOST_READINGS_LATE,
    MOST_STEPS,
    Control,
    Machine,
    RunSettings,
    Sensing,
    Start,
    grid,
    soonest,
    way_ahead,
)

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
    found = [*_too_many_steps(settings), *_too_coarse(settings)]
    machine, sensing = settings.machine, settings.sensing
    if machine.blade_behind < -machine.wheelbase:
        text = "puts the blade ahead of the front axle; give no less than {least}"
        found.append(Fault("machine.blade_behind", text, {"least": (-machine.wheelbase, "length")}))
    if settings.control.valve == "pulsed" and sensing.period == 0:
        text = "is 0, but a pulsed valve gives a pulse a reading; give a time between readings, such as {such}"
        found.append(Fault("sensing.period", text, {"such": (_SUCH_PERIOD, "time")}))
    if settings.passes > 1 and settings.speed == 0:
        found.append(Fault("speed", "is 0, and a machine that stands makes no second pass; give a speed"))
    return [replace(each, place=f"{at}.{each.place}") for each in found]


_SUCH_PERIOD = 0.05


def _two_figures(seconds: float, round_to: Callable[[float], int]) -> Value:
    """A time that would do, to the two figures it is shown with: rounded to the side on which it still does."""
    unit = 10.0 ** (math.floor(math.log10(seconds)) - 1)
    return round(round_to(round(seconds / unit, 6)) * unit, 9), "time"


def _too_many_steps(settings: RunSettings) -> Iterator[Fault]:
    """Steps that take too long to go through, or readings that take too long to reach a valve."""
    _, step = grid(settings)
    seconds, least = settings.seconds, settings.seconds / MOST_STEPS
    values: dict[str, Value] = {"seconds": (seconds, "time"), "least": _two_figures(least, math.ceil)}
    if settings.step < least:
        yield Fault("step", "is too fine for a run of {seconds}; give {least} or more, or a shorter run", values)
        return
    if step < least:
        text = "is too short for a run of {seconds}; give {least} or more, 0 to read all the time, or a shorter run"
        yield Fault("sensing.period", text, values)
        return
    if settings.passes > 1 and settings.speed:
        longer = way_ahead(settings.machine) / settings.speed
        if seconds + longer > MOST_STEPS * step:
            text = (
                "is too slow for more than one pass: until the blade is where the front wheels stand takes {longer}; "
                "give more speed or one pass"
            )
            yield Fault("speed", text, {"longer": (longer, "time")})
    late = settings.sensing.delay + max(settings.control.on_delay, settings.control.off_delay)
    apart = settings.sensing.period or step
    if late > MOST_READINGS_LATE * apart:
        text = "with its valves is {late} late beside readings {apart} apart; give {most} in all or less"
        most = _two_figures(MOST_READINGS_LATE * apart, math.floor)
        yield Fault("sensing.delay", text, {"late": (late, "time"), "apart": (apart, "time"), "most": most})


def _too_coarse(settings: RunSettings) -> Iterator[Fault]:
    """A valve that follows its reading within a step: what it then does is lost between two points."""
    late = soonest(settings)
    if settings.sensing.period or settings.control.valve == "pulsed" or settings.step <= late * (1 + 1e-9):
        return
    if late < FINEST_S:
        text = "is 0, but no step is as fine as a valve {late} late asks; give a time between readings, such as {such}"
        yield Fault("sensing.period", text, {"late": (late, "time"), "such": (_SUCH_PERIOD, "time")})
        return
    text = (
        "is too coarse for a valve that follows a reading after {late}; give {most} or less, or a time between "
        "readings (sensing.period)"
    )
    yield Fault("step", text, {"late": (late, "time"), "most": _two_figures(late, math.floor)})


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
