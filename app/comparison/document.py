"""A comparison as a document: two mounts with where their cylinders are, what is asked of both, a name and a note."""

from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field, StringConstraints, TypeAdapter, ValidationError

from app.document.errors import BadDocument, Fault, SketcherError
from app.document.models import Mount, Title, as_document
from app.document.parts import EndName, Name
from app.document.reading import read_mount
from app.document.refusals import fault_of_shape
from app.document.words import LINES
from app.grading.settings import RunSettings
from app.solve.pose import MOST_STROKE_MM, moves_of

_Height = Annotated[float, Field(ge=-MOST_STROKE_MM, le=MOST_STROKE_MM, allow_inf_nan=False)]


_Works = Annotated[tuple[Name, ...], Field(strict=False, min_length=1, max_length=2)] | None


class Fixed(BaseModel):
    """A part of a comparison: fixed once read, and no key goes unnoticed."""

    model_config = ConfigDict(frozen=True, extra="forbid")


class Worked(Fixed):
    """A mount and where its cylinders are."""

    mount: Mount = Field(description="a mount document")
    command: dict[str, float] = Field(default={}, description="how much longer than drawn each cylinder is, mm, by id")


class EndsAsked(Fixed):
    """Where both mounts are asked to bring the ends."""

    left: _Height = Field(default=0.0, description="the left end above where drawn, mm")
    right: _Height = Field(default=0.0, description="the right end above where drawn, mm")


class Carried(Fixed):
    """What goes along with another width of the blade."""

    mass: Literal["metre", "stays"] = Field(default="metre", description="by length, or it stays")
    sensors: Literal["ends", "stay"] = Field(default="ends", description="with the ends, or they stay")
    members: Literal["stay", "width"] = Field(default="stay", description="cylinders and pins stay, or go with it")


class AtWork(Fixed):
    """Which cylinders work in the run, of mounts with more than two."""

    a: _Works = Field(default=None, description="the one or two of A, by id; null: the first two")
    b: _Works = Field(default=None, description="the same of B")


class ComparisonDocument(Fixed):
    """Two mounts side by side, format 1, for one customer."""

    format: Literal[1] = Field(default=1, description="version of this document")
    name: Title = Field(description="its name, 1 to 120 characters")
    note: Annotated[str, StringConstraints(strict=True, max_length=2000), LINES] = Field(
        default="", description="the note for this customer alone"
    )
    a: Worked = Field(description="the first mount")
    b: Worked = Field(description="the second")
    ends: EndsAsked = Field(default=EndsAsked(), description="where the ends are asked to be")
    end: EndName = Field(default="right", description="the end whose correction is asked for")
    rise: _Height = Field(default=20.0, description="how far up, mm")
    carry: Carried = Field(default=Carried(), description="what goes along with another width")
    worn: Annotated[float, Field(ge=0, le=500, allow_inf_nan=False)] = Field(
        default=1.0, description="the clearance at least of every joint where both are shown worn, mm"
    )
    run: RunSettings | None = Field(
        default=None, description="the run both make; null: from as far off as the correction that is asked for"
    )
    works: AtWork = Field(default=AtWork(), description="which cylinders work in it")


def read_comparison(document: object) -> ComparisonDocument:
    """Read a decoded document. Raises BadDocument with every fault, its place in the document."""
    if not isinstance(document, dict):
        raise BadDocument([Fault("comparison", "is no JSON object; give a comparison with its two mounts, a and b")])
    faults: list[Fault] = []
    for name in ("a", "b"):
        worked = document.get(name)
        if not isinstance(worked, dict) or "mount" not in worked:
            faults.append(Fault(name, "has no mount; give {mount, command}"))
            continue
        try:
            moves_of(read_mount(worked["mount"], f"{name}.mount"), worked.get("command") or {})
        except BadDocument as error:
            faults += error.faults
        except SketcherError as error:
            faults += [Fault(f"{name}.{each.place}", each.text, each.values, each.code) for each in error.faults]
    if faults:
        raise BadDocument(faults)
    try:
        return TypeAdapter(ComparisonDocument).validate_python(document)
    except ValidationError as error:
        found = [fault_of_shape(each) for each in error.errors(include_url=False, include_context=True)]
        raise BadDocument(found) from None


def as_comparison(read: ComparisonDocument) -> dict[str, Any]:
    """The document as plain JSON values."""
    plain: dict[str, Any] = read.model_dump(mode="json", by_alias=True, exclude={"a": {"mount"}, "b": {"mount"}})
    for name, worked in (("a", read.a), ("b", read.b)):
        plain[name] = {"mount": as_document(worked.mount), "command": worked.command}
    return plain
