"""The words and numbers that server, page and exports share: quantities, kinds of member, source and goal, limits.

The page is served all of it with itself (``templates/_vocabulary.html``) and writes none of it a second time.
"""

from functools import lru_cache

from pydantic_core import to_json

from app.document.models import MOST_BODIES, MOST_MEMBERS, Allowance, Mount
from app.document.parts import Part
from app.document.units import CUSTOMS, LENGTH_STEPS, QUANTITIES, TYPED, Customs, Measure, System, Unit
from app.grading.best import OFF_MM, STARTS
from app.members import KINDS as MEMBERS
from app.members import Joint
from app.results.answer import answer
from app.search.boxes import MOST_FREE
from app.search.goals import LABELS, LACKS, MEASURES, WHATS, What
from app.search.search import FEWEST, MOST, USUAL
from app.solve.pose import MOST_STROKE_MM
from app.sources import KINDS as SOURCES


@answer
class Field:
    """A number of the document that has a place on a form."""

    key: str
    """Its name in the document."""
    label: str
    """Its label on a form."""
    measure: Measure
    """What it measures."""
    axes: list[str]
    """What each of its numbers is called where it has several, such as x and y; empty for a single number."""


@answer
class MemberKind:
    """A kind of member."""

    kind: str
    """Its name in the document."""
    title: str
    """What several of its kind are called."""
    on: str
    """What heads the bodies it joins."""
    ends: list[str]
    """What each of its ends is called, ``{on}`` being the body there; empty for a member at one point."""
    short_ends: list[str]
    """The same where the member is named beside it."""
    fields: list[Field]
    """Its own numbers, besides those of its joints."""
    joint_fields: list[Field]
    """The numbers of each of its joints."""


@answer
class SourceWords:
    """A kind of source of error."""

    kind: str
    """Its name in answers."""
    label: str
    """What one of its sources is."""
    short: str
    """The same where there is little room."""
    title: str
    """What heads several of its kind."""
    step: str
    """The step of the working that sums it up."""


@answer
class Limits:
    """What a document holds at the most."""

    members: int
    """Members."""
    bodies: int
    """Bodies besides the blade."""
    title: int
    """Characters of a title."""
    note: int
    """Characters of a note."""
    name: int
    """Characters of a name."""
    stroke: float
    """Largest change of a cylinder's length that may be asked for, mm."""


@answer
class GoalKind:
    """A kind of goal."""

    what: What
    """Its name in questions and answers."""
    label: str
    """Its label on a form."""
    measure: Measure
    """What it measures."""
    lacks: str
    """Why a mount has no such number."""


@answer
class SearchLimits:
    """How much a search may be asked to do."""

    fewest: int
    """Geometries tried at the least."""
    usual: int
    """Geometries tried where nothing else is asked for."""
    most: int
    """Geometries tried at the most."""
    free: int
    """Free numbers at the most."""


@answer
class Tuning:
    """What settings are tried from that are to be a mount's own best."""

    starts: int
    """How many starts."""
    off: float
    """How far off grade an end is in them, mm."""


@answer
class Vocabulary:
    """Words and numbers that server, page and exports share."""

    quantities: dict[Measure, dict[System, Unit]]
    """How every quantity is shown: unit, how many document units one of it is, decimals."""
    typed: dict[str, dict[str, float]]
    """Units that may be typed after a number, by the unit it is shown in (metric): how many document units each is."""
    systems: dict[System, Customs]
    """Every system of units: what it is called, and what is round in it."""
    length_steps: dict[System, dict[str, float]]
    """Steps offered for grids, mm, by their label."""
    members: list[MemberKind]
    """Kinds of member, in the order of tables."""
    sources: list[SourceWords]
    """Kinds of source, in the order in which they are added up."""
    limits: Limits
    """What a document holds at the most."""
    goals: list[GoalKind]
    """Kinds of goal, in the order of forms."""
    search: SearchLimits
    """How much a search may be asked to do."""
    tuning: Tuning
    """What settings are tried from that are to be a mount's own best."""


@lru_cache(maxsize=1)
def vocabulary() -> Vocabulary:
    """All of it."""
    return Vocabulary(
        quantities=QUANTITIES,
        typed=TYPED,
        systems=CUSTOMS,
        length_steps=LENGTH_STEPS,
        members=[_member(kind) for kind in MEMBERS],
        sources=[SourceWords(each.KIND, each.LABEL, each.SHORT, each.TITLE, each.SYMBOL) for each in SOURCES.values()],
        limits=Limits(
            members=MOST_MEMBERS,
            bodies=MOST_BODIES,
            title=_longest(Mount, "title"),
            note=_longest(Mount, "note"),
            name=_longest(Allowance, "label"),
            stroke=MOST_STROKE_MM,
        ),
        goals=[GoalKind(each, LABELS[each], MEASURES[each], LACKS[each]) for each in WHATS],
        search=SearchLimits(fewest=FEWEST, usual=USUAL, most=MOST, free=MOST_FREE),
        tuning=Tuning(starts=len(STARTS), off=OFF_MM),
    )


@lru_cache(maxsize=1)
def vocabulary_json() -> str:
    """The same as JSON text that may stand inside an HTML element."""
    return to_json(vocabulary()).decode().replace("<", "\\u003c")


def _member(kind: str) -> MemberKind:
    member = MEMBERS[kind]
    shared = set(Joint.model_fields)
    own = [each for each in _fields(member) if each.key not in shared and each.key != "at"]
    ended = bool(member.END_WORDS)
    at = Field("at", "", "fine", ["x", "y"])
    return MemberKind(
        kind=kind,
        title=member.TITLE,
        on=member.ON,
        ends=list(member.END_WORDS),
        short_ends=list(member.SHORT_END_WORDS),
        fields=own if ended else [],
        joint_fields=[at, *([] if ended else own), *_fields(Joint)],
    )


def _fields(part: type[Part]) -> list[Field]:
    """The fields of a part that have a place on a form."""
    found = []
    for key, field in part.model_fields.items():
        extra = field.json_schema_extra
        if isinstance(extra, dict) and extra.get("label"):
            axes = ["x", "y"] if "tuple" in str(field.annotation) else []
            found.append(Field(key, str(extra["label"]), extra["measure"], axes))  # type: ignore[arg-type]
    return found


def _longest(part: type[Part], key: str) -> int:
    """How many characters a field takes."""
    schema = part.model_json_schema()["properties"][key]
    return int(next(each["maxLength"] for each in (schema, *schema.get("anyOf", [])) if "maxLength" in each))
