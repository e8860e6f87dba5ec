"""The routes of the user's own comparisons."""

from fastapi import APIRouter
from pydantic import BaseModel, Field

from app.comparison.document import ComparisonDocument
from app.library.folder import Folder, Kept
from app.web.kept_routes import CHANGED, ID, KeptAt, Spoken
from app.web.kept_routes import routes as kept_routes


class NewComparison(BaseModel):
    """What ``POST /comparisons`` takes."""

    comparison: ComparisonDocument = Field(description="the comparison")


class ComparisonStep(NewComparison):
    """What ``PUT /comparisons/{id}`` takes."""

    revision: int = Field(ge=1, description="the revision the change was made from")


class ComparisonEntry(BaseModel):
    """One comparison of the list."""

    id: str = ID
    name: str = Field(description="its name")
    mounts: list[str] = Field(description="the titles of its two mounts")
    changed: str = CHANGED


class ComparisonInFull(KeptAt):
    """One comparison in full."""

    changed: str = CHANGED
    comparison: ComparisonDocument = Field(description="the comparison")


ASKED: tuple[type[BaseModel], ...] = (NewComparison, ComparisonStep)
"""The bodies these routes take."""


def routes(kept: Folder[ComparisonDocument]) -> APIRouter:
    """The routes over one folder."""
    return kept_routes(kept, Spoken(NewComparison, ComparisonStep, ComparisonEntry, ComparisonInFull, _entry))


def _entry(each: Kept[ComparisonDocument]) -> dict[str, object]:
    found = each.document
    mounts = [found.a.mount.title, found.b.mount.title]
    return {"id": each.id, "name": found.name, "mounts": mounts, "changed": each.changed}
