"""A lesson as a document: a short list of steps, each a mount, what stands on the wall and what the class is asked.

A lesson holds no figures of its own: whatever number is shown comes from the mount of its step.
"""

from typing import Annotated, Any, Literal, TypeAlias

from pydantic import BaseModel, ConfigDict, Field, StringConstraints, ValidationError

from app.document.errors import BadDocument, Fault, SketcherError
from app.document.models import Mount, Title, as_document
from app.document.parts import EndName
from app.document.reading import read_mount
from app.document.refusals import fault_of_shape
from app.document.words import LINES
from app.shipped import shipped_mounts
from app.solve.pose import moves_of

MOST_STEPS = 40
LONGEST_WORDS = 200
"""Characters of a sentence that still reads from the back row beside a sum."""

View: TypeAlias = Literal[
    "ratio", "lever", "play", "oil", "error", "turns", "numbers", "budget", "dial", "working", "plane", "run"
]
"""What takes the wall."""
QuestionKind: TypeAlias = Literal["ends", "lever", "slop", "load", "dial", "oil", "worst", "turns"]
"""What a class may be asked."""
Reveal: TypeAlias = Literal["line by line", "at once"]
"""How what takes the wall is revealed."""
Moves: TypeAlias = Literal["stroke", "slop", "in turn", "together"]
"""What moves on the drawing: the cylinder, the play from stop to stop, or both ends brought to grade."""


class _Fixed(BaseModel):
    """A part of a lesson: fixed once read, and no key goes unnoticed."""

    model_config = ConfigDict(frozen=True, extra="forbid")


class LessonStep(_Fixed):
    """One thing that is shown."""

    mount: str | Mount = Field(description="the mount on the sheet: name of a shipped one, or a mount document")
    in_inches: str | Mount | None = Field(
        default=None, description="the mount instead of it on a page in inches; null: the same"
    )
    command: dict[str, float] = Field(
        default={}, description="how much longer than drawn each cylinder of the mount is, mm, by id"
    )
    cylinder: str | None = Field(default=None, description="the cylinder in hand; null: the first that tilts most")
    end: EndName = Field(default="right", description="the end that is corrected")
    say: Annotated[str, StringConstraints(strict=True, max_length=LONGEST_WORDS), LINES] = Field(
        default="", description="what stands above it on the wall, in a sentence"
    )
    view: View = Field(description="what takes the wall")
    question: QuestionKind | None = Field(default=None, description="what the class is asked first; null: nothing")
    reveal: Reveal = Field(default="line by line", description="whether it comes line by line or at once")
    moves: Moves | None = Field(default=None, description="what moves on the drawing; null: nothing")
    minutes: Annotated[float, Field(gt=0, le=60, allow_inf_nan=False)] = Field(
        default=1.0, description="how long it is meant to take, minutes"
    )


class Lesson(_Fixed):
    """A lesson, format 1."""

    format: Literal[1] = Field(default=1, description="version of this document")
    title: Title = Field(description="its title, 1 to 120 characters")
    note: Annotated[str, StringConstraints(strict=True, max_length=2000), LINES] = Field(
        default="", description="what it teaches, for the one who teaches"
    )
    steps: tuple[LessonStep, ...] = Field(
        min_length=1, max_length=MOST_STEPS, description=f"its steps in order, 1 to {MOST_STEPS}"
    )


def read_lesson(document: object) -> Lesson:
    """Read a decoded document. Raises BadDocument with every fault, its place in the document."""
    if not isinstance(document, dict):
        raise BadDocument([Fault("lesson", "is no JSON object; give a lesson with its title and steps")])
    steps = document.get("steps")
    known = [each for each in steps[:MOST_STEPS] if isinstance(each, dict)] if isinstance(steps, list) else []
    faults: list[Fault] = []
    read = []
    for number, step in enumerate(known):
        found, wrong = _mounts_of(step, f"steps[{number}]")
        faults += wrong
        read.append({**step, **found})
    sound = len(known) == len(steps) if isinstance(steps, list) else False
    try:
        lesson = Lesson.model_validate({**document, "steps": read} if sound else document)
    except ValidationError as error:
        faults += [
            _fault(each) for each in error.errors(include_url=False, include_context=True) if not _is_mount(each)
        ]
        raise BadDocument(faults) from None
    if faults:
        raise BadDocument(faults)
    return lesson


def as_lesson(read: Lesson) -> dict[str, Any]:
    """The document as plain JSON values."""
    plain: dict[str, Any] = read.model_dump(mode="json", exclude={"steps"})
    plain["steps"] = [_as_step(step) for step in read.steps]
    return plain


def _as_step(step: LessonStep) -> dict[str, Any]:
    """A step without what it does not say."""
    mounts = {name: getattr(step, name) for name in ("mount", "in_inches")}
    plain = step.model_dump(mode="json", exclude=set(mounts), exclude_defaults=True)
    given = {
        name: as_document(mount) if isinstance(mount, Mount) else mount
        for name, mount in mounts.items()
        if mount is not None
    }
    return {**given, **plain}


def _mounts_of(step: dict[str, Any], at: str) -> tuple[dict[str, Mount | str], list[Fault]]:
    """The mounts of a step, read, and what is wrong with them or with what is asked of their cylinders."""
    found: dict[str, Mount | str] = {}
    faults: list[Fault] = []
    for name in ("mount", "in_inches"):
        given = step.get(name)
        if given is None:
            continue
        try:
            found[name] = _mount(given, f"{at}.{name}")
        except BadDocument as error:
            faults += error.faults
            continue
        faults += _faults_of_cylinders(step, _drawn(found[name]), at)
    return found, faults


def _mount(given: object, at: str) -> Mount | str:
    """A shipped mount's name, or a mount that was read. Raises BadDocument."""
    if not isinstance(given, str):
        return read_mount(given, at)
    if given not in shipped_mounts():
        names = ", ".join(shipped_mounts())
        text = f"is no shipped mount; give one of {names}, or a whole mount document"
        raise BadDocument([Fault(at, text)])
    return given


def _drawn(mount: Mount | str) -> Mount:
    return shipped_mounts()[mount] if isinstance(mount, str) else mount


def _faults_of_cylinders(step: dict[str, Any], mount: Mount, at: str) -> list[Fault]:
    """What is wrong with the command and the cylinder in hand."""
    names = [each.id for each in mount.members if each.kind == "cylinder"]
    cylinder, faults = step.get("cylinder"), []
    if isinstance(cylinder, str) and cylinder not in names:
        said = f"name one of its cylinders: {', '.join(names)}" if names else "leave it out: the mount has no cylinder"
        faults.append(Fault(f"{at}.cylinder", f"is no cylinder of this mount; {said}"))
    command = step.get("command")
    try:
        moves_of(mount, command if isinstance(command, dict) else {})
    except SketcherError as error:
        faults += [Fault(f"{at}.{each.place}", each.text, each.values, each.code) for each in error.faults]
    return faults


def _is_mount(detail: Any) -> bool:  # noqa: ANN401 - one of pydantic's details
    """Whether a fault is one of a mount that was given: those are found, with their places, when it is read."""
    where = detail["loc"]
    inside = len(where) > 2 and where[2] in ("mount", "in_inches")
    return inside and (len(where) > 3 or detail["type"] != "missing")


def _fault(detail: Any) -> Fault:  # noqa: ANN401 - one of pydantic's details
    """What is wrong with the shape, with what may stand there."""
    found = fault_of_shape(detail)
    if detail["type"] != "extra_forbidden":
        return found
    part = LessonStep if detail["loc"][0] == "steps" else Lesson
    text = f"is no key of a lesson here; known keys are {', '.join(part.model_fields)}"
    return Fault(found.place, text, {}, found.code)
